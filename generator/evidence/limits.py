"""Limits of a site: what the next car's correction will be, what it rests on, what looks wrong.

The next car's correction is μ + b with a new b. Its distribution function is built on the lattice
with the fast Fourier transform: the nodes hold the posterior of μ as samples hold a wave of
limited frequency, and the spread between cars is a factor exp(−τ²ω²/2). It is then kept as a
table, from which every published probability is computed.
"""

from collections.abc import Sequence
from functools import cache
from math import exp

import numpy as np

from generator.evidence.distribution import RANGE, Blurred, Distribution, Range, tabulated
from generator.evidence.lattice import Lattice
from generator.evidence.learning import Learned, SpreadNodes, learn
from generator.evidence.likelihood import car_log_likelihoods, log_off
from generator.evidence.normal import Array
from generator.evidence.observation import Kind, Observation
from generator.evidence.prior import SitePrior
from generator.frozen import dataclass
from generator.quantities.estimate import Estimate
from generator.quantities.units import Mm, Probability

DOUBTFUL: Probability = 0.5
"""An entry more likely wrong than right is shown as in question."""
_FINE_SPREADS = 401  # places at which the distribution of τ is looked at


@dataclass(frozen=True)
class Tally:
    """How many cars spoke, and how many entries of each kind (an interval bounds both sides)."""

    cars: int
    exact: int
    lower: int
    upper: int
    between: int

    @property
    def entries(self) -> int:
        """How many entries there are of all kinds."""
        return self.exact + self.lower + self.upper + self.between


@dataclass(frozen=True)
class SitePosterior:
    """What is known of the correction of one site in one state.

    next_car: distribution of the next car's correction. mean: range of μ, the correction of the
    average car. car_spread: range of τ, the spread between cars. records: sorted names. exact,
    lower, upper, between: how many entries of each kind. sheet_wrong: probability that the sheet
    has the site in the wrong place. upheld: the tally without the entries in question, where it
    was asked which ones are.
    """

    next_car: Distribution
    limits: Range
    mean: Range
    car_spread: Range
    cars: int
    members: int
    records: tuple[str, ...]
    exact: int
    lower: int
    upper: int
    between: int
    sheet_wrong: Probability
    upheld: Tally

    @property
    def entries(self) -> int:
        """How many entries there are, those in question among them."""
        return self.exact + self.lower + self.upper + self.between

    @property
    def prior_only(self) -> bool:
        """Whether the chassis sheet alone speaks: there is no record."""
        return not self.records

    def probability_above(self, x: Mm, u_extra: Mm = 0.0) -> Probability:
        """Give the chance that the next car's correction, blurred by u_extra, exceeds x."""
        return self.next_car.probability_above(x, u_extra)

    def clearance_probability(self, computed: Estimate, wanted: Mm) -> Probability:
        """Give the chance that computed gap + correction exceeds the wanted gap on the next car.

        Never falls when the computed gap rises. Exactly 0 or 1 only beyond 1e-7 of certainty.

        Source: own derivation: P(computed + c > wanted).
        """
        return self.next_car.probability_above(wanted - computed.value, computed.u)

    def chances(self, computed: Estimate, wanted: Mm) -> tuple[Probability, Probability]:
        """Give the chances of the wanted gap and of any gap at all on the next car.

        Source: own derivation: as `clearance_probability`, both in one go.
        """
        needed = np.array([wanted - computed.value, -computed.value])
        above = 1.0 - self.next_car.probability_below(needed, computed.u)
        return float(above[0]), float(above[1])

    def gap_range(self, computed: Estimate) -> Range:
        """Give the 5–95 % range of the next car's gap."""
        blurred = self.next_car.range(computed.u)
        return Range(*(q + computed.value for q in (blurred.low, blurred.median, blurred.high)))


@dataclass(frozen=True)
class Asked:
    """A computed gap at a site, the gap wanted there, and what is known of the site."""

    posterior: SitePosterior
    computed: Estimate
    wanted: Mm


@dataclass(frozen=True)
class Answer:
    """The chances of the wanted gap and of any gap at all on the next car, and the gap's range."""

    chance: Probability
    free: Probability
    gap: Range


def answered(asked: Sequence[Asked]) -> tuple[Answer, ...]:
    """Answer several questions at once; each answer is that of the single methods.

    Source: own derivation: see `SitePosterior`.
    """
    blurred = [each for each in asked if each.computed.u > 0.0]
    if not blurred:
        return tuple(map(_answered_alone, asked))
    rows = Blurred.of([(each.posterior.next_car, each.computed.u) for each in blurred])
    needed = np.array([(each.wanted, 0.0) for each in blurred])
    gaps = np.array([[each.computed.value] for each in blurred])
    above = 1.0 - rows.below(needed - gaps)
    found = {
        id(each): Answer(chance, free, Range(*ends))
        for each, (chance, free), ends in zip(
            blurred, above.tolist(), (rows.quantiles(RANGE) + gaps).tolist(), strict=True
        )
    }
    return tuple(found[id(each)] if id(each) in found else _answered_alone(each) for each in asked)


def _answered_alone(asked: Asked) -> Answer:
    known, computed = asked.posterior, asked.computed
    return Answer(*known.chances(computed, asked.wanted), known.gap_range(computed))


@dataclass(frozen=True)
class Influence:
    """What one entry and its record do to the limits, and whether the entry looks wrong.

    without: the limits of the next car had its record said nothing here. wrong: probability that
    the entry is wrong, by itself or with its record, all others considered. off_by: how far a
    measured value lies from the median of `without`, or a bound beyond it (0 when it holds there);
    signed, mm.
    """

    observation: Observation
    without: Range
    wrong: Probability
    off_by: Mm

    @property
    def doubtful(self) -> bool:
        """Whether the entry is more likely wrong than right."""
        return self.wrong > DOUBTFUL


def limits_of(learned: Learned, told: Sequence[Influence] = ()) -> SitePosterior:
    """Give the limits that follow from a posterior.

    told: what its entries do, from `influences`; with it `upheld` leaves doubtful entries out.
    The limits themselves are the same: they hold each entry's doubt in them already.

    Source: own derivation: mixture of N(μ, τ²) over the nodes.
    """
    lattice = learned.lattice
    points, masses = _points(lattice), learned.masses[None, :]
    next_car = next_car_of(learned)
    mean = np.interp(RANGE, _below(lattice, masses, np.zeros(len(lattice.slices)))[0], points)
    tally = _tally(learned.observations)
    origins = [o.origin for o in learned.observations]
    sheet_wrong = learned.masses @ learned.prior.sheet_wrong(lattice.means())
    return SitePosterior(
        next_car,
        next_car.range(),
        Range(*mean.tolist()),
        _spread_range(learned),
        tally.cars,
        len({o.member for o in origins}),
        tuple(sorted({o.record for o in origins})),
        tally.exact,
        tally.lower,
        tally.upper,
        tally.between,
        min(float(sheet_wrong), 1.0),
        _tally([i.observation for i in told if not i.doubtful]) if told else tally,
    )


def next_car_of(learned: Learned) -> Distribution:
    """Give what the correction on the next car will be, and nothing else of the limits.

    Source: own derivation: mixture of N(μ, τ²) over the nodes.
    """
    lattice = learned.lattice
    spreads = np.array([part.car_spread for part in lattice.slices])
    return tabulated(_points(lattice), _below(lattice, learned.masses[None, :], spreads)[0])


def _tally(observations: Sequence[Observation]) -> Tally:
    kinds = [o.kind for o in observations]
    return Tally(
        len({o.origin.car for o in observations}),
        kinds.count(Kind.EXACT),
        kinds.count(Kind.LOWER),
        kinds.count(Kind.UPPER),
        kinds.count(Kind.INTERVAL),
    )


def site_posterior(observations: Sequence[Observation], prior: SitePrior) -> SitePosterior:
    """Give the limits of a site from its observations; without any, from the sheet alone.

    Source: see learn and limits_of.

    >>> site_posterior([], SitePrior(2.0, 8.0)).prior_only
    True
    """
    return limits_of(learn(observations, prior))


def influences(learned: Learned) -> tuple[Influence, ...]:
    """Give what each entry and its record do to the limits, in the order of learned.observations.

    Leaving a record out divides its share from the likelihood at every node; since a record can
    change the posterior by no more than its odds of being wrong allow, the nodes still reach.
    The expected value of other cars is that of the next car, also where the record's own car has
    more records.

    Source: own derivation: with B the likelihood of the car's other records, A that of the car
    with the entry's record taken as right and the entry left out,
    P(wrong) = E[(ε·w·(1 − ρ)·A + ρ·W·B)/L(car)] over the posterior.
    """
    if not learned.observations:
        return ()
    lattice, points = learned.lattice, _points(learned.lattice)
    records = [record for car in learned.cars for record in learned.entries.by_record(car)]
    masses = learned.masses * _left_out(learned, records)
    totals = np.sum(masses, axis=1)
    spreads = np.array([part.car_spread for part in lattice.slices])
    below = _below(lattice, masses / totals[:, None], spreads)
    wrong = _wrong(learned, records, totals)
    result = {}
    for record, distribution in zip(records, below, strict=True):
        without = Range(*np.interp(RANGE, distribution, points).tolist())
        for row in record:
            observation = learned.observations[row]
            off_by = _off_by(observation, without.median)
            result[row] = Influence(observation, without, wrong[row], off_by)
    return tuple(result[row] for row in range(len(learned.observations)))


def _wrong(
    learned: Learned, records: Sequence[tuple[int, ...]], totals: Array
) -> dict[int, Probability]:
    """Give for each row the chance that it is wrong; totals: E[B/L(car)] for each record."""
    entries, several = learned.entries, [record for record in records if len(record) > 1]
    single = [(row,) for record in several for row in record]
    shares = learned.masses * _left_out(learned, single) if single else np.zeros((0, 1))
    beside = {
        row: float(total) for (row,), total in zip(single, np.sum(shares, axis=1), strict=True)
    }
    result = {}
    for record, total in zip(records, totals.tolist(), strict=True):
        off = exp(log_off(entries, record)) * total
        for row in record:
            rest = tuple(other for other in record if other != row)
            right = beside.get(row, total) - exp(log_off(entries, rest)) * total
            chance = exp(float(entries.log_wrong[row, 0])) * max(right, 0.0) + off
            result[row] = min(chance, 1.0)
    return result


def _points(lattice: Lattice) -> Array:
    return np.asarray(lattice.start + lattice.step * np.arange(lattice.size))


def _left_out(learned: Learned, rows: Sequence[tuple[int, ...]]) -> Array:
    """Give the likelihood of a car without the given rows of it over with them, (rows, nodes)."""
    of_row = {row: place for place, car in enumerate(learned.cars) for row in car}
    places = [of_row[chosen[0]] for chosen in rows]
    rests = [
        tuple(row for row in learned.cars[place] if row not in chosen)
        for place, chosen in zip(places, rows, strict=True)
    ]
    logs = car_log_likelihoods(learned.entries, rests, learned.lattice)
    return np.exp(logs - learned.car_logs[places])


def _off_by(observation: Observation, expected: Mm) -> Mm:
    if observation.low > expected:
        return observation.low - expected
    return min(observation.high - expected, 0.0)


def _below(lattice: Lattice, masses: Array, spreads: Array) -> Array:
    """Give P(c ≤ x) at every lattice point, c ~ N(μ, spread²), (sets, points).

    masses: (sets, nodes). spreads: of c about μ, one for each slice.
    """
    size, step = lattice.size, lattice.step
    frequencies = 2.0 * np.pi * np.arange(size // 2 + 1) / (size * step)
    spectrum = np.zeros((len(masses), size // 2 + 1), dtype=np.complex128)
    start = 0
    for part, spread in zip(lattice.slices, spreads, strict=True):
        run = np.zeros((len(masses), size // part.stride))
        run[:, lattice.places(part) // part.stride] = masses[:, start : start + part.count]
        start += part.count
        kept = max(1, size // part.stride // 2)
        damping = np.exp(-0.5 * (spread * frequencies[:kept]) ** 2)
        spectrum[:, :kept] += np.fft.rfft(run, axis=1)[:, :kept] * damping
    totals = spectrum[:, :1].real.copy()
    spectrum[:, 0] = 0.0
    spectrum[:, 1:] /= 1j * frequencies[1:]
    wave = np.fft.irfft(spectrum, n=size, axis=1) / step
    below = totals * np.arange(size) / size + wave - wave[:, :1]
    return np.asarray(np.maximum.accumulate(np.clip(below, 0.0, 1.0), axis=1))


def _spread_range(learned: Learned) -> Range:
    """Give the range of τ: its density at the Legendre nodes, as a polynomial, integrated."""
    nodes: SpreadNodes = learned.spread_nodes
    place = np.searchsorted(nodes.values, learned.lattice.spreads())
    masses = np.bincount(place, weights=learned.masses, minlength=len(nodes.values))
    fine, integrals = _legendre_integrals(len(masses))
    below = np.maximum.accumulate(integrals @ masses)
    logs = np.log((nodes.low + nodes.shift, nodes.high + nodes.shift))
    at = np.interp(RANGE, below, fine)
    taus = np.exp(logs[0] + 0.5 * (at + 1.0) * (logs[1] - logs[0])) - nodes.shift
    return Range(*np.maximum(taus, 0.0).tolist())


@cache
def _legendre_integrals(count: int) -> tuple[Array, Array]:
    """Give places from −1 to 1, and for each how much of each node's mass lies below it."""
    points, _ = np.polynomial.legendre.leggauss(count)
    series = np.polynomial.legendre.legvander(points, count - 1).T
    series *= (np.arange(count) + 0.5)[:, None]
    integral = np.polynomial.legendre.legint(series, lbnd=-1.0, axis=0)
    fine = np.linspace(-1.0, 1.0, _FINE_SPREADS)
    return fine, np.polynomial.legendre.legvander(fine, count) @ integral
