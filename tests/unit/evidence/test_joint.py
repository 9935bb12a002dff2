"""All sites at once, against numerical integration and the multivariate normal."""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import multivariate_normal, norm

from generator.evidence.distribution import tabulated
from generator.evidence.joint import Demand, joint_clearance
from generator.quantities.estimate import Basis, Estimate

POINTS = np.linspace(-60.0, 60.0, 12_001)


def demand(mean, sd, computed, own_u=1.0, *, wanted=0.0, sensitivity=-0.5):
    table = tabulated(POINTS, norm.cdf(POINTS, mean, sd))
    return Demand(table, Estimate(computed, own_u, Basis.INFERRED), wanted, sensitivity)


def test_two_normal_sites_agree_with_the_multivariate_normal():
    shared_u = 6.0
    inner = demand(1.0, 3.0, 4.0, 1.0, wanted=2.0)
    outer = demand(-2.0, 4.0, 9.0, 2.0, wanted=5.0)
    # gaps less wanted: means 4+1−2 and 9−2−5; variances own + shared²/4; covariance shared²/4
    common = 0.25 * shared_u**2
    covariance = [[9.0 + 1.0 + common, common], [common, 16.0 + 4.0 + common]]
    expected = multivariate_normal.cdf([3.0, 2.0], mean=[0.0, 0.0], cov=covariance)  # scipy.stats
    found = joint_clearance([inner, outer], shared_u)
    assert found.probability == pytest.approx(expected, abs=2e-4)
    assert found.alone[0] == pytest.approx(norm.cdf(3.0 / np.sqrt(covariance[0][0])), abs=1e-4)


def test_sharp_sites_and_opposite_signs_agree_with_numerical_integration():
    sites = [
        demand(0.0, 0.5, 2.0, 0.0),
        demand(1.0, 2.0, 1.0, 0.5, sensitivity=-0.4),
        demand(0.0, 0.5, 3.0, 0.5, sensitivity=0.5),
    ]
    shape = [(2.0, 0.5, -0.5), (2.0, np.hypot(2.0, 0.5), -0.4), (3.0, np.hypot(0.5, 0.5), 0.5)]

    def integrand(t):
        return norm.pdf(t) * np.prod([norm.cdf((m + k * 8.0 * t) / s) for m, s, k in shape])

    expected, _ = quad(integrand, -9.0, 9.0, limit=400)  # scipy.integrate.quad
    assert joint_clearance(sites, 8.0).probability == pytest.approx(expected, abs=3e-4)


def test_nothing_shared_multiplies():
    sites = [demand(0.0, 3.0, 2.0, 0.0), demand(0.0, 2.0, 1.0, 0.0)]
    found = joint_clearance(sites, 0.0)
    assert found.probability == pytest.approx(found.alone[0] * found.alone[1], abs=1e-12)


def test_the_answer_lies_between_its_bounds_and_names_the_weakest():
    sites = [demand(0.0, 3.0, gap) for gap in (6.0, 1.0, 9.0)]
    found = joint_clearance(sites, 5.0)
    assert found.weakest == 1
    assert found.least <= found.probability <= found.most == min(found.alone)


def test_what_sites_share_makes_failures_come_together():
    sites = [demand(0.0, 2.0, 3.0, 0.0)] * 3
    found = joint_clearance(sites, 8.0)
    assert found.probability > np.prod(found.alone) + 0.05


def test_a_wider_gap_never_lowers_the_joint_chance():
    chances = [
        joint_clearance([demand(0.0, 3.0, gap), demand(0.0, 3.0, 4.0)], 4.0).probability
        for gap in np.linspace(-20.0, 20.0, 41)
    ]
    assert np.all(np.diff(chances) >= -1e-12)


@pytest.mark.parametrize("shared_u", [-1.0, float("nan"), float("inf")])
def test_a_spread_that_is_none_is_refused(shared_u):
    with pytest.raises(ValueError, match="joint"):
        joint_clearance([demand(0.0, 3.0, 1.0)], shared_u)


def test_no_site_is_no_statement():
    with pytest.raises(ValueError, match="joint"):
        joint_clearance([], 1.0)
