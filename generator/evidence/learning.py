"""From observations to what is known of a site: the posterior of μ and τ on a lattice of nodes.

Model: correction on car i is μ + b_i, b_i ~ N(0, τ²); μ ~ N(prior mean, prior sd²); τ half-normal;
the likelihood is that of likelihood.py. No sampling: a coarse survey finds where the posterior
lives, then the nodes are laid there. Along τ they are Gauss–Legendre nodes in ln(τ + δ); along μ
equal steps of at most 0.7 of the narrowest width the posterior can have, for which the trapezoid
rule errs by less than 1e-8. Observations are sorted by content first, so that the order of files
changes no bit of the result.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from math import ceil, floor, log, log2

import numpy as np

from generator.evidence.likelihood import (
    Entries,
    Lattice,
    SitePrior,
    Slice,
    car_log_likelihoods,
    cars_of,
    coded,
    entry_log_likelihoods,
)
from generator.evidence.normal import Array
from generator.evidence.observation import Observation
from generator.quantities.units import Mm

_DEPTH = 30.0  # natural logarithms below the peak where the posterior is cut off
_EDGE = 14.0  # what the finished nodes must reach down to at their ends, else they are widened
_SURVEY_SPREADS = 18  # values of τ in the survey
_SPREADS = 24  # values of τ in the result
_TOP_SPREAD = 8.0  # largest τ, in scales of its prior: there the prior is e⁻³²
_RESOLUTION = 0.7  # step of μ per narrowest possible posterior width
_REACH = 8.5  # standard deviations of the next car kept inside the lattice
_LEAST_SIZE, _MOST_SIZE = 2**10, 2**14
_NODE_BUDGET = 6_000  # nodes of one slice times cars
_SURVEY_NODES = 96.0  # of one slice in a second survey
_MANY_NODES = 3000  # from which a second survey pays, where cars have several entries
_WIDENINGS = (1.0, 1.6, 2.5)


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
        if _reaches_down(height, lattice, nodes):
            break
    masses = np.exp(height - np.max(height)) * _volumes(lattice, nodes)
    return Learned(
        prior, ordered, entries or _NOTHING, cars, lattice, nodes, masses / np.sum(masses), logs
    )


_EMPTY = np.empty((0, 1))
_NOTHING = Entries(_EMPTY, _EMPTY, _EMPTY, 0.0, _EMPTY, ())


def _car_logs(case: _Case, lattice: Lattice) -> Array:
    if case.entries is None:
        return np.zeros((0, len(lattice.means())))
    return car_log_likelihoods(case.entries, case.cars, lattice)


def _log_prior(prior: SitePrior, means: Array, spreads: Array) -> Array:
    z, t = (means - prior.mean) / prior.sd, spreads / prior.car_spread
    return np.asarray(-0.5 * (z * z + t * t))


def _volumes(lattice: Lattice, nodes: SpreadNodes) -> Array:
    sizes = [
        weight * part.stride * lattice.step
        for part, weight in zip(lattice.slices, nodes.weights, strict=True)
    ]
    return np.repeat(sizes, [part.count for part in lattice.slices])


def _reaches_down(height: Array, lattice: Lattice, nodes: SpreadNodes) -> bool:
    """Tell whether the posterior has died away at all ends of the nodes (τ = 0 is none)."""
    ends = np.cumsum([part.count for part in lattice.slices])
    starts = ends - [part.count for part in lattice.slices]
    edges = [np.max(height[starts]), np.max(height[ends - 1]), np.max(height[starts[-1] :])]
    if nodes.low > 0.0:
        edges.append(np.max(height[: ends[0]]))
    return bool(max(edges) < np.max(height) - _EDGE)


def _surveyed(case: _Case) -> _Survey:
    """Find where the posterior lives, the entries of a car tempered as they share it."""
    prior = case.prior
    shift = _shift(prior)
    top = _TOP_SPREAD * prior.car_spread
    spreads = np.exp(np.linspace(log(shift), log(top + shift), _SURVEY_SPREADS)) - shift
    means = np.tile(_survey_means(case), (len(spreads), 1))
    heights = _survey_heights(case, means, spreads)
    best = means[np.arange(len(spreads)), np.argmax(heights, axis=1)]
    step = means[0, 1] - means[0, 0]
    closer = best[:, None] + step * np.linspace(-1.0, 1.0, 17)
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
    if sum(part.count for part in lattice.slices) < _MANY_NODES:
        return survey
    lattice, nodes = _laid(survey, case, _WIDENINGS[0], _SURVEY_NODES)
    heights = np.sum(_car_logs(case, lattice), axis=0)
    heights += _log_prior(case.prior, lattice.means(), lattice.spreads())
    floor_height, low, high, alive, start = np.max(heights) - _DEPTH, [], [], [], 0
    for part in lattice.slices:
        kept = np.flatnonzero(heights[start : start + part.count] > floor_height)
        start += part.count
        alive.append(len(kept) > 0)
        first, last = (kept[0] - 1, kept[-1] + 1) if len(kept) else (0, part.count - 1)
        low.append(lattice.start + lattice.step * (part.first + first * part.stride))
        high.append(lattice.start + lattice.step * (part.first + last * part.stride))
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
    return np.linspace(low, high, min(400, max(33, ceil((high - low) / step))))


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
    steps = _RESOLUTION * _narrowest(case, nodes.values)
    steps = np.maximum(steps, (high - low) / most)
    start = float(np.min(low - _REACH * nodes.values))
    length = 1.02 * (float(np.max(high + _REACH * nodes.values)) - start)
    start -= 0.01 * length
    size = 2 ** ceil(log2(6.0 * length / float(np.min(steps))))
    size = min(max(size, _LEAST_SIZE), _MOST_SIZE)
    step = length / size
    slices = []
    for spread, a, b, wanted in zip(nodes.values, low, high, steps, strict=True):
        stride = 2 ** max(0, floor(log2(wanted / step)))
        first = floor((a - start) / (stride * step))
        count = ceil((b - start) / (stride * step)) - first + 1
        slices.append(Slice(float(spread), first * stride, stride, count))
    return Lattice(start, step, size, tuple(slices)), nodes
