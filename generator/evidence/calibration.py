"""Whether the statistics are honest: simulated sites, and scores of forecasts against outcomes.

Simulation-based calibration: draw the truth from the prior, draw entries from the truth, learn
from the entries, ask where the truth lies. Over many sites its place in the posterior must be
spread evenly from 0 to 1, and the 90 % range must hold it nine times in ten.
"""

from collections.abc import Sequence

import numpy as np

from generator.evidence.limits import SitePosterior, site_posterior
from generator.evidence.normal import Array
from generator.evidence.observation import Observation, Origin, exact, lower_bound, upper_bound
from generator.evidence.prior import SitePrior
from generator.frozen import dataclass
from generator.quantities.units import Mm, Probability, Ratio

_LEAST_SITES = 2
_BINS = 10


@dataclass(frozen=True)
class Simulation:
    """What to simulate: sites with entries of both kinds on a random number of cars.

    prior: what is held when learning. truth: what sites and entries are drawn from; None: `prior`.
    cars: least and most number per site. entries: most entries per car. together: share of entries
    that stand in the record of the car's last entry. blurs: the u that entries
    have, each as likely. measured: share of measured entries, the rest are bounds at computed gaps
    spread by `bound_spread` about the prior mean.
    """

    prior: SitePrior
    cars: tuple[int, int] = (1, 12)
    entries: int = 2
    together: Ratio = 0.5
    blurs: tuple[Mm, ...] = (0.5, 2.0, 4.0, 8.0)
    measured: Ratio = 0.4
    bound_spread: Mm = 10.0
    truth: SitePrior | None = None

    @property
    def drawn_from(self) -> SitePrior:
        """The distributions of the truth."""
        return self.truth or self.prior


@dataclass(frozen=True)
class SimulatedSite:
    """A true mean and spread, the entries drawn from them, and the correction of the next car.

    wrong: which entries are, by themselves or with their record. sheet_wrong: whether the mean
    was drawn as that of a wrong sheet.
    """

    mean: Mm
    car_spread: Mm
    next_car: Mm
    observations: tuple[Observation, ...]
    wrong: tuple[bool, ...]
    sheet_wrong: bool


@dataclass(frozen=True)
class Calibration:
    """What came out: how often the 90 % ranges held the truth, and the places of the truth.

    place: for each site the posterior probability of a next car below the true one; even on 0 to 1
    when the statistics are honest. coverage_* : shares of sites whose range held the truth.
    standard_error: of those shares, for the number of sites simulated. sheets: how often a sheet
    was said to be wrong, and how often it was, by bins of probability.
    """

    sites: int
    coverage_next_car: Ratio
    coverage_mean: Ratio
    coverage_car_spread: Ratio
    standard_error: Ratio
    place: tuple[Probability, ...]
    brier: Ratio
    reliability: tuple["ReliabilityBin", ...]
    sheets: tuple["ReliabilityBin", ...]

    def counts(self, bins: int) -> tuple[int, ...]:
        """Count the places of the truth in equal bins from 0 to 1."""
        counted, _ = np.histogram(self.place, bins=bins, range=(0.0, 1.0))
        return tuple(int(n) for n in counted)


@dataclass(frozen=True)
class ReliabilityBin:
    """Forecasts between two probabilities: how many, their mean, and how often it came true."""

    low: Probability
    high: Probability
    count: int
    forecast: Probability
    came_true: Ratio


def simulate_site(plan: Simulation, rng: np.random.Generator) -> SimulatedSite:
    """Draw one site from the model.

    Source: [TALTS] section 3: parameters from the prior, data from the likelihood.

    >>> site = simulate_site(Simulation(SitePrior(0.0, 8.0)), np.random.default_rng(1))
    >>> len(site.observations) == len(site.wrong) > 0
    True
    """
    prior = plan.drawn_from
    sheet_wrong = bool(rng.random() < prior.sheet_wrong_share)
    mean = float(rng.normal(prior.mean, prior.sheet_wrong_sd if sheet_wrong else prior.sd))
    car_spread = float(abs(rng.normal(0.0, prior.car_spread)))
    observations, wrong = [], []
    for car in range(int(rng.integers(plan.cars[0], plan.cars[1] + 1))):
        correction = float(rng.normal(mean, car_spread))
        record, told, is_off = 0, correction, False
        for entry in range(int(rng.integers(1, plan.entries + 1))):
            if entry == 0 or rng.random() >= plan.together:
                record, is_off = entry, bool(rng.random() < prior.record_wrong_share)
                told = float(rng.normal(prior.mean, prior.wrong_sd)) if is_off else correction
            origin = Origin(f"car {car}", f"member {car}", f"record {car}.{record}")
            observation, slipped = _entry(plan, rng, told, origin)
            observations.append(observation)
            wrong.append(slipped or is_off)
    next_car = float(rng.normal(mean, car_spread))
    return SimulatedSite(mean, car_spread, next_car, tuple(observations), tuple(wrong), sheet_wrong)


def _entry(
    plan: Simulation, rng: np.random.Generator, correction: Mm, origin: Origin
) -> tuple[Observation, bool]:
    """Draw one entry; a wrong one as the model holds it: a wide normal, or the toss of a coin."""
    prior = plan.drawn_from
    u = float(rng.choice(plan.blurs))
    slipped = bool(rng.random() < prior.wrong_share)
    around, spread = (prior.mean, prior.wrong_sd) if slipped else (correction, 0.0)
    seen = float(rng.normal(around, float(np.hypot(spread, u))))
    if rng.random() < plan.measured:
        return exact(seen, u, origin), slipped
    bound = float(rng.normal(prior.mean, plan.bound_spread))
    above = bool(rng.random() < 0.5) if slipped else seen > bound
    return (lower_bound if above else upper_bound)(bound, u, origin), slipped


def calibrate(plan: Simulation, *, sites: int, seed: int) -> Calibration:
    """Simulate sites, learn from each, and compare what was said with the truth.

    sites: at least 2. seed: any integer ≥ 0; equal seeds give equal results. The forecasts scored
    are that the next car exceeds a bound drawn like those of the entries.

    Limits: a site takes 5 to 30 ms; 2,000 sites put a coverage within ± 1.3 points (95 %).

    Source: [TALTS] algorithm 2, with the exact posterior distribution in place of ranks of draws.
    """
    if sites < _LEAST_SITES:
        raise ValueError(f"calibration needs at least 2 sites, got {sites}")
    rng = np.random.default_rng(seed)
    held: list[tuple[bool, bool, bool]] = []
    places, forecasts, outcomes = [], [], []
    sheets: list[tuple[Probability, bool]] = []
    for _ in range(sites):
        site = simulate_site(plan, rng)
        bound = float(rng.normal(plan.prior.mean, plan.bound_spread))
        posterior = site_posterior(site.observations, plan.prior)
        held.append(_held(posterior, site))
        places.append(1.0 - posterior.probability_above(site.next_car))
        forecasts.append(posterior.probability_above(bound))
        outcomes.append(site.next_car > bound)
        sheets.append((posterior.sheet_wrong, site.sheet_wrong))
    next_car, mean, car_spread = np.mean(np.array(held), axis=0).tolist()
    error = float(np.sqrt(0.9 * 0.1 / sites))
    scored = brier_score(forecasts, outcomes)
    return Calibration(
        sites,
        next_car,
        mean,
        car_spread,
        error,
        tuple(places),
        scored,
        reliability(forecasts, outcomes),
        reliability([said for said, _ in sheets], [came for _, came in sheets]),
    )


def _held(posterior: SitePosterior, site: SimulatedSite) -> tuple[bool, bool, bool]:
    pairs = (
        (posterior.limits, site.next_car),
        (posterior.mean, site.mean),
        (posterior.car_spread, site.car_spread),
    )
    first, second, third = (limits.low <= truth <= limits.high for limits, truth in pairs)
    return first, second, third


def brier_score(forecasts: Sequence[Probability], outcomes: Sequence[bool]) -> Ratio:
    """Give the mean square of forecast − outcome: 0 is perfect, 0.25 is a coin.

    Raises ValueError when there is nothing to score or the lengths differ.

    Source: [BRIER], the two-outcome form.

    >>> brier_score([0.5, 0.5], [True, False])
    0.25
    """
    said, came = _paired(forecasts, outcomes)
    return float(np.mean((said - came) ** 2))


def reliability(
    forecasts: Sequence[Probability], outcomes: Sequence[bool], *, bins: int = _BINS
) -> tuple[ReliabilityBin, ...]:
    """Give forecasts and outcomes by equal bins of probability; empty bins are left out.

    Raises ValueError as brier_score does.

    Source: own derivation: counts.

    >>> reliability([0.9, 0.95], [True, False])[0].came_true
    0.5
    """
    said, came = _paired(forecasts, outcomes)
    place = np.minimum((said * bins).astype(int), bins - 1)
    result = []
    for b in sorted(set(place.tolist())):
        inside = place == b
        result.append(
            ReliabilityBin(
                b / bins,
                (b + 1) / bins,
                int(np.sum(inside)),
                float(np.mean(said[inside])),
                float(np.mean(came[inside])),
            )
        )
    return tuple(result)


def _paired(forecasts: Sequence[Probability], outcomes: Sequence[bool]) -> tuple[Array, Array]:
    if not forecasts or len(forecasts) != len(outcomes):
        raise ValueError("a score needs as many outcomes as forecasts, and at least one")
    return np.array(forecasts, dtype=np.float64), np.array(outcomes, dtype=np.float64)
