"""How likely a car's entries are, given the mean correction of a site and its spread between cars.

The correction on one car is c = μ + b with b ~ N(0, τ²); all entries of the car share b. An entry
is right with probability 1 − ε and then follows its own blur u:

    measured x      density of N(c, u²) at x
    more than a     Φ((c − a)/u)
    at most b       Φ((b − c)/u)
    between a, b    Φ((b − c)/u) − Φ((a − c)/u)

or it is wrong and then says nothing of c: a wrong measured or interval entry follows the wide
normal of the prior, a wrong bound is the toss of a coin. With probability ρ the whole record is
wrong: its entries still agree with each other, about a c of their own that follows the wide normal.

For a car with one entry the integral over b is closed (u² becomes u² + τ²); for more it is a sum
of positive terms by the trapezoid rule, or by Gauss–Hermite where τ is small against u; for normal
shapes both err by less than 1e-8.
"""

from collections.abc import Iterator, Sequence
from functools import cache
from math import ceil, exp, expm1, floor, hypot, inf, log, log1p, pi, sqrt

import numpy as np
from numpy.typing import NDArray

from generator.evidence.lattice import Lattice, Slice
from generator.evidence.normal import (
    LOG_ROOT_TWO_PI,
    Array,
    log_normal_cdf,
    log_normal_density,
    normal_cdf,
)
from generator.evidence.observation import Kind, Observation
from generator.evidence.prior import SitePrior
from generator.frozen import dataclass
from generator.quantities.units import Mm, Probability, Ratio

LEAST_U: Mm = 0.5
"""No entry is taken to know a correction better than a feeler does (common practice)."""

_TINY = 1e-300  # keeps a logarithm finite; far below any likelihood that can count
_NEAR = 0.6  # τ from this share of the least blur on: one grid of corrections serves all τ
_FINE = 0.5  # step of the grid in widths of what is summed; the trapezoid rule errs by 1e-9
_HERMITE_POINTS = 12  # at most, for τ below _NEAR, where they err by 1e-10
_HERMITE_ERROR = 1e-12  # of fewer points, where τ is smaller still
_LEAST_RATIO = 1e-3  # of τ to the blur that points are counted for
_REACH = 8.0  # of the normal kernel, in τ
_BESIDE = 21.0  # natural logarithms below what counts, where 1e-9 of it is left
_NOTHING_LEFT = -100.0  # ln of a share of a car's likelihood that no sum can notice
_BLOCK = 8192  # numbers worked on at once; larger arrays leave the processor's cache
_SUM_BLOCK = 4 * _BLOCK  # the same for sums, where each number costs less


@dataclass(frozen=True)
class Entries:
    """The observations of a site as columns: low, high, u (n, 1) mm, their kinds and records.

    log_right: ln(1 − ε). log_wrong: (n, 1), ln of ε times the likelihood when wrong.
    log_record_right: ln(1 − ρ). log_off: (n, 1), ln of ρ times the likelihood of the entry in a
    record that is wrong and says nothing else here. centre, wide: of what wrong numbers follow.
    """

    low: Array
    high: Array
    u: Array
    kinds: tuple[Kind, ...]
    records: tuple[str, ...]
    log_right: float
    log_wrong: Array
    log_record_right: float
    log_off: Array
    centre: Mm
    wide: Mm

    def by_record(self, rows: Sequence[int]) -> list[tuple[int, ...]]:
        """Give the rows apart by the record they stand in, in the order of first rows."""
        found: dict[str, tuple[int, ...]] = {}
        for row in rows:
            found[self.records[row]] = (*found.get(self.records[row], ()), row)
        return list(found.values())


def coded(observations: Sequence[Observation], prior: SitePrior) -> Entries:
    """Give observations as columns, with the density or probability each has when wrong."""
    low = np.array([[o.low] for o in observations])
    high = np.array([[o.high] for o in observations])
    u = np.maximum(np.array([[o.u] for o in observations]), LEAST_U)
    kinds = tuple(o.kind for o in observations)
    records = tuple(o.origin.record for o in observations)
    share, off = prior.wrong_share, prior.record_wrong_share
    nothing = np.full_like(u, -np.inf)
    ends = (prior.mean, prior.wrong_sd)
    blind = Entries(low, high, u, kinds, records, 0.0, nothing, 0.0, nothing, *ends)
    wide = _right(blind, np.arange(len(kinds)), np.array([prior.mean]), np.array([prior.wrong_sd]))
    bound = np.array([[kind in (Kind.LOWER, Kind.UPPER)] for kind in kinds])
    log_wrong = _log(share) + np.where(bound, log(0.5), wide)
    log_off = _log(off) + np.logaddexp(log1p(-share) + wide, log_wrong)
    right = (log1p(-share), log_wrong, log1p(-off), log_off)
    return Entries(low, high, u, kinds, records, *right, *ends)


def _log(share: Probability) -> float:
    return log(share) if share > 0.0 else -inf


def _right(entries: Entries, rows: NDArray[np.intp], centre: Array, spread: Array) -> Array:
    """Give ln of the likelihood of right entries, (rows, nodes), for c ~ N(centre, spread²)."""
    result = np.empty((len(rows), len(centre)))
    kinds = [entries.kinds[row] for row in rows]
    for kind in sorted(set(kinds), key=lambda kind: kind.value):
        place = np.array([i for i, other in enumerate(kinds) if other is kind])
        chosen = rows[place]
        low, high, u = entries.low[chosen], entries.high[chosen], entries.u[chosen]
        scale = np.sqrt(spread * spread + u * u)
        if kind is Kind.EXACT:
            result[place] = log_normal_density((low - centre) / scale) - np.log(scale)
        elif kind is Kind.LOWER:
            result[place] = log_normal_cdf((centre - low) / scale)
        elif kind is Kind.UPPER:
            result[place] = log_normal_cdf((high - centre) / scale)
        else:
            result[place] = _log_between((low - centre) / scale, (high - centre) / scale)
    return result


def _right_itself(entries: Entries, rows: NDArray[np.intp], centre: Array, spread: Array) -> Array:
    """Give that likelihood itself, which may be 0 where its logarithm still is a number."""
    result = np.empty((len(rows), len(centre)))
    low, high, u = entries.low[rows], entries.high[rows], entries.u[rows]
    exact = (low == high)[:, 0]
    below, above = np.isinf(low)[:, 0], np.isinf(high)[:, 0]
    between = ~(exact | below | above)
    if np.any(exact):
        scale = np.sqrt(spread * spread + u[exact] ** 2)
        z = (low[exact] - centre) / scale
        result[exact] = np.exp(log_normal_density(z)) / scale
    if np.any(below | above):
        bound = below | above
        way = np.where(above[bound], 1.0, -1.0)[:, None]
        scale = way * np.sqrt(spread * spread + u[bound] ** 2)
        result[bound] = normal_cdf((centre - np.where(way > 0.0, low[bound], high[bound])) / scale)
    if np.any(between):
        scale = np.sqrt(spread * spread + u[between] ** 2)
        ends = ((low[between] - centre) / scale, (high[between] - centre) / scale)
        result[between] = _between(*ends)
    return result


def _log_between(low: Array, high: Array) -> Array:
    """Give ln(Φ(high) − Φ(low)), taken in the lower tail so that nothing cancels."""
    return np.asarray(np.log(np.maximum(_between(low, high), _TINY)))


def _between(low: Array, high: Array) -> Array:
    """Give Φ(high) − Φ(low), likewise."""
    flip = low > 0.0
    lower, upper = np.where(flip, -high, low), np.where(flip, -low, high)
    return np.asarray(normal_cdf(upper) - normal_cdf(lower))


def entry_log_likelihoods(
    entries: Entries,
    rows: NDArray[np.intp],
    centre: Array,
    spread: Array,
    *,
    alone: bool = True,
) -> Array:
    """Give ln of each entry's likelihood, right or wrong, for c ~ N(centre, spread²).

    rows: which entries. centre: (nodes,) mm. spread: (nodes,), or (1,) where it is the same for
    all, mm, ≥ 0 (0: c itself is `centre`). alone: each is all that its record says, so that the
    record's doubt is in it; else the record is taken to be right.
    The result is (rows, nodes).

    Source: own derivation: normal ∗ normal adds variances; mixture with shares ε and ρ.
    """
    result = np.empty((len(rows), len(centre)))
    log_share, log_wrong = entries.log_right, entries.log_wrong[rows]
    if alone:
        log_share += entries.log_record_right
        log_wrong = np.logaddexp(log_wrong + entries.log_record_right, entries.log_off[rows])
    wrong, share = np.exp(log_wrong), exp(log_share)
    width = max(1, _BLOCK // len(rows))
    for start in range(0, len(centre), width):
        part = slice(start, start + width)
        wide = spread if len(spread) == 1 else spread[part]
        mixed = _right_itself(entries, rows, centre[part], wide) * share + wrong
        if np.min(mixed) > _TINY:
            result[:, part] = np.log(mixed)
            continue
        # Without wrong entries nothing bounds the fall of a likelihood below the least double.
        right = _right(entries, rows, centre[part], wide) + log_share
        result[:, part] = np.where(mixed > _TINY, np.log(np.maximum(mixed, _TINY)), right)
    return result


def car_log_likelihoods(
    entries: Entries, cars: Sequence[tuple[int, ...]], lattice: Lattice
) -> Array:
    """Give ln of each car's likelihood at every node of the lattice, (cars, nodes).

    cars: for each car the rows of its entries; a car without entries counts as 0 everywhere.

    Source: own derivation: see the head of the module.
    """
    means, spreads = lattice.means(), lattice.spreads()
    result = np.zeros((len(cars), len(means)))
    single = [i for i, rows in enumerate(cars) if len(rows) == 1]
    if single:
        rows = np.array([cars[i][0] for i in single])
        result[single] = entry_log_likelihoods(entries, rows, means, spreads)
    shared = [i for i, rows in enumerate(cars) if len(rows) > 1]
    if shared:
        result[shared] = _shared(entries, [cars[i] for i in shared], lattice)
    return result


def _shared(entries: Entries, cars: list[tuple[int, ...]], lattice: Lattice) -> Array:
    """Give ln likelihood of cars whose several entries share one correction, (cars, nodes)."""
    information = [float(np.sum(entries.u[list(car)] ** -2.0)) for car in cars]
    blur = 1.0 / sqrt(max(information))
    wide = np.arange(0.0, lattice.size * lattice.step, _FINE * blur) + lattice.start
    given = _given_corrections(entries, cars, wide)
    own = {part: _own_corrections(part, lattice, blur) for part in lattice.slices}
    alone = _apart(entries, cars, [each for each in own.values() if each is not None])
    parts = []
    for part, corrections in own.items():
        means, spread = lattice.means_of(part), part.car_spread
        if corrections is None:
            reach = _REACH * spread
            first, end = np.searchsorted(wide, (means[0] - reach, means[-1] + reach))
            parts.append(_summed(means, spread, wide[first:end], given[:, first:end]))
        elif corrections.ndim > 1:
            parts.append(_by_hermite(next(alone), corrections.shape[1]))
        else:
            parts.append(_summed(means, spread, corrections, next(alone)))
    return np.concatenate(parts, axis=1)


def _own_corrections(part: Slice, lattice: Lattice, blur: Mm) -> Array | None:
    """Give the corrections a slice needs for itself; None where the grid of all serves it.

    They are (n,) in equal steps, or (nodes, points) for Gauss–Hermite where that takes fewer.
    """
    spread, means = part.car_spread, lattice.means_of(part)
    if spread >= _NEAR * blur:
        return None
    low, high = means[0] - _REACH * spread, means[-1] + _REACH * spread
    step = _FINE * blur * spread / hypot(blur, spread)
    count = _hermite_points(spread / blur)
    if high - low < count * len(means) * step:
        return np.arange(low, high, step)
    return np.asarray(means[:, None] + spread * _hermite(count)[0])


def _apart(
    entries: Entries, cars: list[tuple[int, ...]], corrections: list[Array]
) -> Iterator[Array]:
    """Give ln of the likelihood of each car's entries for several sets of corrections."""
    if corrections:
        flat = [each.ravel() for each in corrections]
        ends = np.cumsum([len(each) for each in flat])[:-1]
        yield from np.split(_given_corrections(entries, cars, np.concatenate(flat)), ends, axis=1)


def _summed(means: Array, spread: Mm, corrections: Array, given: Array) -> Array:
    """Give ln ∫ N(c; μ, τ²) exp(given(c)) dc at each μ by the trapezoid rule, (cars, nodes)."""
    step = (corrections[1] - corrections[0]) / spread
    top = np.max(given, axis=1, keepdims=True)
    least = np.min(given - top)
    kept = np.flatnonzero(np.max(given - top, axis=0) > _NOTHING_LEFT)
    corrections = corrections[kept[0] : kept[-1] + 1]
    shares = np.exp(given[:, kept[0] : kept[-1] + 1] - top).T.copy()
    # Where nothing falls low, what is far from μ cannot count beside what is near it.
    floored = least > _NOTHING_LEFT
    reach = spread * max(_REACH, sqrt(2.0 * (_BESIDE - least))) if floored else inf
    sums = np.empty((len(means), len(given)))
    height = max(1, _SUM_BLOCK // len(corrections))
    for start in range(0, len(means), height):
        block = means[start : start + height, None]
        first, end = np.searchsorted(corrections, (block[0, 0] - reach, block[-1, 0] + reach))
        z = (block - corrections[first:end]) * (1.0 / spread)
        z *= z
        z *= -0.5
        sums[start : start + height] = np.exp(z, out=z) @ shares[first:end]
    return np.asarray(np.log(np.maximum(sums.T, _TINY)) + top + (log(step) - LOG_ROOT_TWO_PI))


def _given_corrections(entries: Entries, cars: list[tuple[int, ...]], corrections: Array) -> Array:
    """Give ln of the likelihood of each car's entries for given corrections, (cars, n)."""
    records = {record for car in cars for record in entries.by_record(car)}
    given = {
        record: row
        for alone in (True, False)
        for record, row in _given_records(entries, sorted(records), corrections, alone=alone)
    }
    parts = [[given[record] for record in entries.by_record(car)] for car in cars]
    return np.array([np.sum(rows, axis=0) for rows in parts])


def _given_records(
    entries: Entries, records: list[tuple[int, ...]], corrections: Array, *, alone: bool
) -> Iterator[tuple[tuple[int, ...], Array]]:
    """Give the rows of each record, of one entry (alone) or of more, and ln of its likelihood."""
    chosen = [record for record in records if (len(record) == 1) is alone]
    rows = sorted({row for record in chosen for row in record})
    if not rows:
        return
    logs = entry_log_likelihoods(entries, np.array(rows), corrections, np.zeros(1), alone=alone)
    place = {row: i for i, row in enumerate(rows)}
    for record in chosen:
        likely = np.sum(logs[[place[row] for row in record]], axis=0)
        if not alone:
            off = log_off(entries, record)
            likely = np.logaddexp(likely + entries.log_record_right, off)
        yield record, likely


def log_off(entries: Entries, record: tuple[int, ...]) -> float:
    """Give ln of ρ times the likelihood of a record's entries where the whole record is wrong.

    record: its rows; without any it is ln ρ.

    Source: own derivation: ∫ N(c; centre, wide²) Π L(entry | c) dc by the trapezoid rule.
    """
    log_share = _log(-expm1(entries.log_record_right))
    if not record or log_share == -inf:
        return log_share
    if len(record) == 1:
        return float(entries.log_off[record[0], 0])
    reach, step = _REACH * entries.wide, _FINE * float(np.min(entries.u[list(record)]))
    corrections = np.arange(-reach, reach, step / sqrt(len(record))) + entries.centre
    rows = np.array(record)
    logs = entry_log_likelihoods(entries, rows, corrections, np.zeros(1), alone=False)
    z = (corrections - entries.centre) / entries.wide
    heights = np.sum(logs, axis=0) + log_normal_density(z)
    top = float(np.max(heights))
    area = float(np.sum(np.exp(heights - top))) * float(corrections[1] - corrections[0])
    return log_share + top + log(area / entries.wide)


def _hermite_points(ratio: Ratio) -> int:
    """Say how many points τ over the least blur takes: each makes the error ratio²/2 of it."""
    needed = ceil(log(_HERMITE_ERROR) / log(0.5 * max(ratio, _LEAST_RATIO) ** 2))
    return min(needed, _HERMITE_POINTS)


@cache
def _hermite(count: int) -> tuple[Array, Array]:
    points, weights = np.polynomial.hermite.hermgauss(count)
    return points * sqrt(2.0), weights / sqrt(pi)


def _by_hermite(given: Array, count: int) -> Array:
    """Give the same integral by Gauss–Hermite: for nodes far apart and τ below the blur."""
    given = given.reshape(len(given), -1, count)
    top = np.max(given, axis=2)
    weights = _hermite(count)[1]
    return np.asarray(np.log(np.exp(given - top[:, :, None]) @ weights) + top)


def log_likelihood(
    observations: Sequence[Observation], prior: SitePrior, *, mean: Mm, car_spread: Mm
) -> float:
    """Give ln of the likelihood of all observations for one μ and one τ.

    prior: only its shares and spread of wrong numbers enter. car_spread: τ > 0.

    Source: own derivation: see the head of the module.

    >>> from generator.evidence.observation import Origin, exact
    >>> entry = exact(0.0, 3.0, Origin("car", "member", "record"))
    >>> honest = SitePrior(0.0, 10.0, wrong_share=0.0, record_wrong_share=0.0)
    >>> round(log_likelihood([entry], honest, mean=0.0, car_spread=4.0), 6)
    -2.528376
    """
    ordered = sorted(observations, key=lambda o: o.sort_key)
    if not ordered:
        return 0.0
    entries = coded(ordered, prior)
    blur = float(np.min(entries.u)) / sqrt(len(ordered))
    step = min(blur, car_spread) / 4.0
    reach = max(8, floor(9.0 * car_spread / step))
    lattice = Lattice(mean - reach * step, step, 2 * reach + 1, (Slice(car_spread, reach, 1, 1),))
    cars = tuple(cars_of(ordered).values())
    return float(np.sum(car_log_likelihoods(entries, cars, lattice)))


def cars_of(ordered: Sequence[Observation]) -> dict[str, tuple[int, ...]]:
    """Give the rows of each car's entries, cars in the order of the observations."""
    cars: dict[str, tuple[int, ...]] = {}
    for row, observation in enumerate(ordered):
        cars[observation.origin.car] = (*cars.get(observation.origin.car, ()), row)
    return cars
