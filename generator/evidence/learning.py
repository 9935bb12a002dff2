"""From observations to what is known of a site: the posterior of μ and τ on a lattice of nodes.

Model: correction on car i is μ + b_i, b_i ~ N(0, τ²); μ as prior.py has it, τ half-normal; the
likelihood is that of likelihood.py. No sampling: a coarse survey finds where the posterior lives,
then the nodes are laid there. Along τ they are Gauss–Legendre nodes in ln(τ + δ); along μ equal
steps of at most 0.7 of the narrowest width the posterior can have, for which the trapezoid rule
errs by less than 1e-8, and longer ones in the tails (lattice.py). Since the sheet may be wrong the
posterior can have two modes far apart; the survey finds both. Observations are sorted by content
first, so that the order of files changes no bit of the result.
"""

from collections.abc import Sequence
from functools import cache
from math import ceil, log, log2

import numpy as np

from generator.evidence.lattice import RESOLUTION, Lattice, Run, laid, runs
from generator.evidence.likelihood import (
    Entries,
    car_log_likelihoods,
    cars_of,
    coded,
    entry_log_likelihoods,
)
from generator.evidence.normal import Array
from generator.evidence.observation import Observation
from generator.evidence.prior import SitePrior
from generator.frozen import dataclass
from generator.quantities.units import Mm

_DEPTH = 30.0  # natural logarithms below the peak where the posterior is cut off
_EDGE = 14.0  # what the finished nodes must reach down to at their ends, else they are widened
_SURVEY_SPREADS = 18  # values of τ in the survey
_SPREADS = 24  # values of τ in the result
_TOP_SPREAD = 8.0  # largest τ, in scales of its prior: there the prior is e⁻³²
_REACH = 8.5  # standard deviations of the next car kept inside the lattice
_LEAST_SIZE, _MOST_SIZE = 2**10, 2**14
_NODE_BUDGET = 6_000  # nodes of one slice times cars
_SURVEY_NODES = 96.0  # of one slice in a second survey
_MANY_NODES = 6000  # from which a second survey pays, where cars have several entries
_WIDENINGS = (1.0, 1.6, 2.5)
_SHARP = 5.0  # standard deviations of the sheet and of the entries about which all is fine
_TAIL_POINTS = 14  # of the survey on either side of what the sheet and the entries speak of


@dataclass(frozen=True)
class Learned:
    """The posterior of (μ, τ): masses at the nodes of the lattice, and what they were made of.

    masses: (nodes,) summing to 1. car_logs: (cars, nodes) ln likelihood of each car, cars in the
    order of `cars`, whose members are rows of `observations`.
    """

    prior: SitePrior
    observations: tuple[Observation, ...]
    entries: Entries
    cars: tuple[tuple[int, ...], ...]
    lattice: Lattice
    spread_nodes: "SpreadNodes"
    masses: Array
    car_logs: Array


@dataclass(frozen=True)
class SpreadNodes:
    """Gauss–Legendre nodes of τ between two ends, in v = ln(τ + δ); weights carry dτ/dv."""

    low: Mm
    high: Mm
    shift: Mm
    values: Array
    weights: Array


@dataclass(frozen=True)
class _Case:
    """What is to be learned from: the entries as columns (None: there are none), their cars."""

    entries: Entries | None
    cars: tuple[tuple[int, ...], ...]
    prior: SitePrior


@dataclass(frozen=True)
class _Survey:
    """For each surveyed τ, the range of μ worth a node; `alive` where there is one at all."""

    spreads: Array
    low: Array
    high: Array
    alive: Array


def learn(observations: Sequence[Observation], prior: SitePrior) -> Learned:
    """Give the posterior of a site's mean correction μ and its spread τ between cars.

    observations: all of one site in one state, in any order; none leaves the prior.

    Limits: the blurs of different cars are taken as independent; ±15 mm and ±0.5 mm alike are
    resolved, but no entry is taken as better than 0.5 mm.

    Source: [GELMAN-HIER] hierarchical normal model with half-normal spread; [TOBIN] censored
    likelihood; own derivation of the nodes.

    >>> from generator.evidence.observation import Origin, exact
    >>> entry = exact(6.0, 1.0, Origin("car", "member", "record"))
    >>> known = learn([entry], SitePrior(0.0, 10.0))
    >>> round(float(known.masses.sum()), 9)
    1.0
    """
    ordered = tuple(sorted(observations, key=lambda o: o.sort_key))
    entries = coded(ordered, prior) if ordered else None
    cars = tuple(cars_of(ordered).values())
    case = _Case(entries, cars, prior)
    survey = _narrowed(_surveyed(case), case)
    for widening in _WIDENINGS:
        lattice, nodes = _laid(survey, case, widening, _most_nodes(case.cars))
        logs = _car_logs(case, lattice)
        height = np.sum(logs, axis=0) + _log_prior(prior, lattice.means(), lattice.spreads())
        height += lattice.log_shares()
        if _reaches_down(height, lattice, nodes):
            break
    masses = np.exp(height - np.max(height)) * lattice.volumes()
    return Learned(
        prior, ordered, entries or _NOTHING, cars, lattice, nodes, masses / np.sum(masses), logs
    )


_EMPTY = np.empty((0, 1))
_NOTHING = Entries(_EMPTY, _EMPTY, _EMPTY, (), (), 0.0, _EMPTY, 0.0, _EMPTY, 0.0, 1.0)


def _car_logs(case: _Case, lattice: Lattice) -> Array:
    if case.entries is None:
        return np.zeros((0, len(lattice.means())))
    return car_log_likelihoods(case.entries, case.cars, lattice)


def _log_prior(prior: SitePrior, means: Array, spreads: Array) -> Array:
    t = spreads / prior.car_spread
    return np.asarray(prior.log_density(means) - 0.5 * t * t)


def _reaches_down(height: Array, lattice: Lattice, nodes: SpreadNodes) -> bool:
    """Tell whether the posterior has died away at all ends of the nodes (τ = 0 is none)."""
    ends = np.cumsum([part.count for part in lattice.slices])
    starts = ends - [part.count for part in lattice.slices]
    spreads = lattice.spreads()
    edges = [np.max(height[starts]), np.max(height[ends - 1])]
    edges.append(np.max(height[spreads == nodes.values[-1]]))
    if nodes.low > 0.0:
        edges.append(np.max(height[spreads == nodes.values[0]]))
    return bool(max(edges) < np.max(height) - _EDGE)


def _surveyed(case: _Case) -> _Survey:
    """Find where the posterior lives, the entries of a car tempered as they share it."""
    prior = case.prior
    shift = _shift(prior)
    top = _TOP_SPREAD * prior.car_spread
    spreads = np.exp(np.linspace(log(shift), log(top + shift), _SURVEY_SPREADS)) - shift
    points = _survey_means(case)
    means = np.tile(points, (len(spreads), 1))
    heights = _survey_heights(case, means, spreads)
    best = np.argmax(heights, axis=1)
    step = np.gradient(points)[best, None]
    closer = points[best, None] + step * np.linspace(-1.0, 1.0, 17)
    heights = np.hstack([heights, _survey_heights(case, closer, spreads)])
    means = np.hstack([means, closer])
    order = np.argsort(means, axis=1, kind="stable")
    means, heights = np.take_along_axis(means, order, 1), np.take_along_axis(heights, order, 1)
    kept = heights > np.max(heights) - _DEPTH
    alive = np.any(kept, axis=1)
    rows = np.arange(len(spreads))
    first = np.maximum(np.argmax(kept, axis=1) - 1, 0)
    last = kept.shape[1] - np.argmax(kept[:, ::-1], axis=1)
    last = np.minimum(last, kept.shape[1] - 1)
    return _Survey(spreads, means[rows, first], means[rows, last], alive)


def _narrowed(survey: _Survey, case: _Case) -> _Survey:
    """Survey again with the true likelihood where cars with many entries left the first wide."""
    if all(len(car) == 1 for car in case.cars):
        return survey
    lattice, _ = _laid(survey, case, 1.0, _most_nodes(case.cars))
    if len(lattice.means()) < _MANY_NODES:
        return survey
    lattice, nodes = _laid(survey, case, _WIDENINGS[0], _SURVEY_NODES)
    heights = np.sum(_car_logs(case, lattice), axis=0)
    heights += _log_prior(case.prior, lattice.means(), lattice.spreads())
    worth = heights > np.max(heights) - _DEPTH
    means, steps = lattice.means(), lattice.steps()
    low, high, alive = [], [], []
    for spread in nodes.values:
        here = lattice.spreads() == spread
        kept = here & worth
        alive.append(bool(np.any(kept)))
        kept = kept if alive[-1] else here
        low.append(float(np.min(means[kept] - steps[kept])))
        high.append(float(np.max(means[kept] + steps[kept])))
    spreads = np.array([nodes.low, *nodes.values.tolist(), nodes.high])
    ends = [0, *range(len(low)), -1]
    return _Survey(spreads, *(np.array(found)[ends] for found in (low, high, alive)))


def _most_nodes(cars: tuple[tuple[int, ...], ...]) -> float:
    return min(800.0, max(96.0, _NODE_BUDGET / max(1, len(cars))))


def _shift(prior: SitePrior) -> Mm:
    return prior.car_spread / 4.0


def _survey_means(case: _Case) -> Array:
    prior, entries = case.prior, case.entries
    low, high = prior.mean - 8.0 * prior.sd, prior.mean + 8.0 * prior.sd
    step = prior.sd / 2.0
    if entries is not None:
        margin = 8.0 * prior.wrong_sd
        ends = np.concatenate([entries.low - 4.0 * entries.u, entries.high + 4.0 * entries.u])
        ends = np.clip(ends[np.isfinite(ends)], low - margin, high + margin)
        low, high = min(low, float(np.min(ends))), max(high, float(np.max(ends)))
        step = min(step, 3.0 * float(np.min(entries.u)))
    core = np.linspace(low, high, min(400, max(33, ceil((high - low) / step))))
    reach = 8.0 * prior.widest
    below = np.linspace(prior.mean - reach, low, _TAIL_POINTS + 1)[:-1]
    above = np.linspace(high, prior.mean + reach, _TAIL_POINTS + 1)[1:]
    return np.concatenate([below[below < low], core, above[above > high]])


def _survey_heights(
    case: _Case,
    means: Array,
    spreads: Array,
) -> Array:
    flat, wide = means.ravel(), np.repeat(spreads, means.shape[1])
    heights, entries = _log_prior(case.prior, flat, wide), case.entries
    if entries is not None:
        tempers = np.zeros(len(entries.kinds))
        for car in case.cars:
            tempers[list(car)] = min(len(car) ** -0.5, 2.0 / len(car))
        logs = entry_log_likelihoods(entries, np.arange(len(tempers)), flat, wide)
        heights = heights + np.sum(logs * tempers[:, None], axis=0)
    return np.asarray(heights.reshape(means.shape))


@cache
def _legendre() -> tuple[Array, Array]:
    points, weights = np.polynomial.legendre.leggauss(_SPREADS)
    return points, weights


def _spread_nodes(survey: _Survey, prior: SitePrior, widening: float) -> SpreadNodes:
    alive = np.flatnonzero(survey.alive)
    beyond = round(4.0 * widening) - 3
    low = survey.spreads[max(int(alive[0]) - beyond, 0)]
    high = survey.spreads[min(int(alive[-1]) + beyond, len(survey.spreads) - 1)]
    shift = _shift(prior)
    v_low, v_high = log(low + shift), log(high + shift)
    points, weights = _legendre()
    v = 0.5 * (v_low + v_high) + 0.5 * (v_high - v_low) * points
    values = np.exp(v) - shift
    return SpreadNodes(low, high, shift, values, weights * 0.5 * (v_high - v_low) * np.exp(v))


def _ranges(survey: _Survey, values: Array, widening: float) -> tuple[Array, Array]:
    """Give the range of μ at each τ: what both surveyed neighbours found, widened."""
    alive = np.flatnonzero(survey.alive)
    nearest = alive[np.argmin(np.abs(np.arange(len(survey.alive))[:, None] - alive), axis=1)]
    above = np.clip(np.searchsorted(survey.spreads, values), 1, len(survey.spreads) - 1)
    a, b = nearest[above - 1], nearest[above]
    low = np.minimum(survey.low[a], survey.low[b])
    high = np.maximum(survey.high[a], survey.high[b])
    middle, half = 0.5 * (low + high), 0.5 * widening * (high - low)
    return middle - half, middle + half


def _narrowest(case: _Case, values: Array) -> Array:
    """Give the least width (one sigma) that the posterior of μ can have at each τ."""
    information = np.full(len(values), case.prior.sd**-2.0)
    if case.entries is not None:
        for car in case.cars:
            blur = 1.0 / float(np.sum(case.entries.u[list(car)] ** -2.0))
            information = information + 1.0 / (values * values + blur)
    return np.asarray(information**-0.5)


def _laid(
    survey: _Survey, case: _Case, widening: float, most: float
) -> tuple[Lattice, SpreadNodes]:
    """Lay the nodes: every slice a run of lattice points, its stride a power of two."""
    nodes = _spread_nodes(survey, case.prior, widening)
    low, high = _ranges(survey, nodes.values, widening)
    steps = RESOLUTION * _narrowest(case, nodes.values)
    sharp_low, sharp_high = _sharp(case, nodes.values)
    found: list[tuple[int, Run]] = []
    for i, (a, b, step) in enumerate(zip(low, high, steps, strict=True)):
        sharp = (float(sharp_low[i]), float(sharp_high[i]))
        found += [(i, run) for run in runs(a, b, step=step, most=most, sharp=sharp)]
    start = float(np.min(low - _REACH * nodes.values))
    length = 1.02 * (float(np.max(high + _REACH * nodes.values)) - start)
    start -= 0.01 * length
    size = 2 ** ceil(log2(6.0 * length / min(run.step for _, run in found)))
    size = min(max(size, _LEAST_SIZE), _MOST_SIZE)
    step = length / size
    slices = tuple(
        laid(
            run,
            start,
            step,
            car_spread=float(nodes.values[i]),
            weight=float(nodes.weights[i]),
        )
        for i, run in found
    )
    return Lattice(start, step, size, slices), nodes


def _sharp(case: _Case, values: Array) -> tuple[Array, Array]:
    """Give the ends of what the sheet, where right, and the entries speak of, at each τ."""
    reach = _SHARP * case.prior.sd
    low, high = (np.full(len(values), case.prior.mean + way * reach) for way in (-1.0, 1.0))
    if case.entries is not None:
        blur = _SHARP * np.hypot(case.entries.u, values)
        for ends in (case.entries.low, case.entries.high):
            said = np.isfinite(ends[:, 0])
            low = np.minimum(low, np.min(ends[said] - blur[said], axis=0, initial=np.inf))
            high = np.maximum(high, np.max(ends[said] + blur[said], axis=0, initial=-np.inf))
    return low, high
