"""The censored likelihood against scipy's statistics and numerical integration."""

from itertools import groupby
from math import inf, log, sqrt

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import minimize
from scipy.stats import CensoredData, norm

from generator.evidence.likelihood import LEAST_U, log_likelihood
from generator.evidence.observation import (
    Kind,
    Observation,
    Origin,
    exact,
    lower_bound,
    upper_bound,
)
from generator.evidence.prior import SitePrior

CARELESS = SitePrior(1.0, 10.0)
HONEST = SitePrior(1.0, 10.0, wrong_share=0.0, record_wrong_share=0.0)


def origin(car, record=0):
    return Origin(f"car {car}", f"member {car}", f"record {car}.{record}")


def given_correction(entry, prior, c):
    """The likelihood of one entry for a given correction, written out with scipy.stats.norm."""
    u = max(entry.u, LEAST_U)
    wide = sqrt(prior.wrong_sd**2 + u**2)
    if entry.kind is Kind.EXACT:
        right, wrong = norm.pdf(entry.low, c, u), norm.pdf(entry.low, prior.mean, wide)
    elif entry.kind is Kind.LOWER:
        right, wrong = norm.cdf((c - entry.low) / u), 0.5
    elif entry.kind is Kind.UPPER:
        right, wrong = norm.cdf((entry.high - c) / u), 0.5
    else:
        right = norm.cdf((entry.high - c) / u) - norm.cdf((entry.low - c) / u)
        wrong = norm.cdf(entry.high, prior.mean, wide) - norm.cdf(entry.low, prior.mean, wide)
    return (1.0 - prior.wrong_share) * right + prior.wrong_share * wrong


def integrated(entries, prior, mean, car_spread):
    """The likelihood of one car by scipy.integrate.quad."""
    records = [list(found) for _, found in groupby(entries, lambda e: e.origin.record)]
    share = prior.record_wrong_share
    off = [share * integral(found, prior, prior.mean, prior.wrong_sd) for found in records]

    def integrand(c):
        right = [np.prod([given_correction(e, prior, c) for e in found]) for found in records]
        terms = [(1.0 - share) * r + w for r, w in zip(right, off, strict=True)]
        return norm.pdf(c, mean, car_spread) * np.prod(terms)

    return log(by_quad(integrand, entries, mean, car_spread))


def integral(entries, prior, mean, spread):
    """The likelihood of entries that are all of one right record."""

    def integrand(c):
        return norm.pdf(c, mean, spread) * np.prod([given_correction(e, prior, c) for e in entries])

    return by_quad(integrand, entries, mean, spread)


def by_quad(integrand, entries, mean, car_spread):
    marks = sorted({x for e in entries for x in (e.low, e.high) if np.isfinite(x)} | {mean})
    reach = 12.0 * car_spread
    ends = (mean - reach, mean + reach)
    inside = [x for x in marks if ends[0] < x < ends[1]]
    value, _ = quad(integrand, *ends, points=inside, limit=400, epsabs=0.0, epsrel=1e-11)
    return value


ENTRIES = {
    "measured": [exact(3.0, 2.0, origin("a"))],
    "more than": [lower_bound(3.0, 2.0, origin("a"))],
    "at most": [upper_bound(-2.0, 2.0, origin("a"))],
    "between": [Observation(-1.0, 4.0, 3.0, origin("a"))],
    "two measured": [exact(1.0, 0.5, origin("a", 1)), exact(3.0, 2.0, origin("a", 2))],
    "all kinds": [
        exact(1.0, 0.5, origin("a", 1)),
        lower_bound(2.0, 1.0, origin("a", 2)),
        upper_bound(3.5, 4.0, origin("a", 3)),
        Observation(0.0, 4.0, 6.0, origin("a", 4)),
    ],
    "one record": [exact(1.0, 0.5, origin("a")), exact(3.0, 2.0, origin("a"))],
    "one record and another": [
        exact(1.0, 0.5, origin("a")),
        lower_bound(2.0, 1.0, origin("a")),
        exact(-4.0, 4.0, origin("a", 2)),
    ],
    "one record far off": [exact(60.0, 1.0, origin("a")), exact(61.0, 1.0, origin("a"))],
    "contradiction": [exact(0.0, 0.5, origin("a", 1)), exact(25.0, 0.5, origin("a", 2))],
}


@pytest.mark.parametrize("car_spread", [0.02, 0.2, 0.3, 1.0, 4.0, 15.0])
@pytest.mark.parametrize("name", ENTRIES)
def test_one_car_agrees_with_numerical_integration(name, car_spread):
    for mean in (-4.0, 1.5, 9.0):
        expected = integrated(ENTRIES[name], CARELESS, mean, car_spread)  # scipy.integrate.quad
        found = log_likelihood(ENTRIES[name], CARELESS, mean=mean, car_spread=car_spread)
        assert found == pytest.approx(expected, abs=1e-8)


def test_maximum_for_censored_data_agrees_with_scipy():
    rng = np.random.default_rng(20)
    u = 1.5
    seen = rng.normal(4.0, 5.0, 40)
    bounds = rng.normal(3.0, 6.0, 40)
    entries, exact_values, left, right, between = [], [], [], [], []
    for i, (value, bound) in enumerate(zip(seen, bounds, strict=True)):
        if i % 4 == 0:
            entries.append(exact(value, u, origin(i)))
            exact_values.append(value)
        elif i % 4 == 1:
            entries.append(Observation(value - 2.0, value + 1.0, u, origin(i)))
            between.append((value - 2.0, value + 1.0))
        elif value > bound:
            entries.append(lower_bound(bound, u, origin(i)))
            right.append(bound)
        else:
            entries.append(upper_bound(bound, u, origin(i)))
            left.append(bound)
    data = CensoredData(uncensored=exact_values, left=left, right=right, interval=np.array(between))
    # scipy.stats.norm.fit on CensoredData; equal blurs widen the spread to √(τ² + u²)
    expected_mean, expected_scale = norm.fit(data, optimizer=tight)

    def loss(p):
        return -log_likelihood(entries, HONEST, mean=p[0], car_spread=abs(p[1]))

    best = minimize(loss, (0.0, 3.0), method="Nelder-Mead", options={"xatol": 1e-7, "fatol": 1e-10})
    assert best.x[0] == pytest.approx(expected_mean, abs=1e-4)
    assert np.hypot(best.x[1], u) == pytest.approx(expected_scale, abs=1e-4)


def tight(function, start, args, disp):
    del disp
    options = {"xatol": 1e-8, "fatol": 1e-11, "maxiter": 4000}
    return minimize(function, start, args=args, method="Nelder-Mead", options=options).x


def test_uncensored_normal_sample_has_the_textbook_maximum():
    values = np.array([1.0, 2.0, 4.0, 9.0, 11.0])
    entries = [exact(v, 1.0, origin(i)) for i, v in enumerate(values)]
    mean, scale = norm.fit(values)  # scipy.stats: mean and root of the mean square deviation
    top = log_likelihood(entries, HONEST, mean=mean, car_spread=sqrt(scale**2 - 1.0))
    assert top == pytest.approx(float(np.sum(norm.logpdf(values, mean, scale))), abs=1e-9)
    for shift, stretch in ((0.1, 1.0), (-0.1, 1.0), (0.0, 1.05), (0.0, 0.95)):
        spread = stretch * sqrt(scale**2 - 1.0)
        assert log_likelihood(entries, HONEST, mean=mean + shift, car_spread=spread) < top


def test_an_entry_far_off_costs_no_more_than_its_chance_of_being_wrong():
    entry = exact(500.0, 1.0, origin("a"))
    # 9.75 % of N(500; 1, 30² + 1²), by scipy.stats.norm
    expected = log(0.0975) + norm.logpdf(500.0, 1.0, sqrt(901.0))
    assert log_likelihood([entry], CARELESS, mean=0.0, car_spread=3.0) == pytest.approx(expected)


def test_a_bound_that_holds_for_sure_keeps_only_the_doubt():
    entry = lower_bound(-400.0, 1.0, origin("a"))
    # 0.95·1 + 0.05·½, by hand, and the same in a wrong record: 30 mm put nothing so low
    assert log_likelihood([entry], CARELESS, mean=0.0, car_spread=3.0) == pytest.approx(log(0.975))


def test_no_entry_is_taken_as_better_than_a_feeler():
    fine, feeler = exact(2.0, 0.0, origin("a")), exact(2.0, LEAST_U, origin("a"))
    assert log_likelihood([fine], CARELESS, mean=0.0, car_spread=1.0) == log_likelihood(
        [feeler], CARELESS, mean=0.0, car_spread=1.0
    )


@pytest.mark.parametrize(
    "numbers",
    [
        {"sd": 0.0},
        {"car_spread": 0.0},
        {"wrong_sd": -1.0},
        {"wrong_share": 0.6},
        {"wrong_share": -0.1},
        {"sheet_wrong_share": 0.6},
        {"sheet_wrong_share": float("nan")},
        {"sheet_wrong_sd": 0.0},
        {"mean": float("nan")},
        {"sd": inf},
    ],
)
def test_a_prior_out_of_range_is_refused(numbers):
    with pytest.raises(ValueError, match=r"prior|share"):
        SitePrior(**{"mean": 0.0, "sd": 5.0} | numbers)
