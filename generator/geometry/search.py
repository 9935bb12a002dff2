"""Many searches at once along shapes, for the point of each that is nearest to tyre and wheel.

A search starts at a point of a shape in one pose of the wheel and goes on with halving steps along
the shape itself. On a straight line or a flat face the distance to a convex section has one
minimum, so the search ends at it; on a bent line it ends at the minimum next to the start.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from math import ceil, fsum, log2, sqrt
from typing import Protocol

import numpy as np

from generator.geometry.distance import SLACK, distances
from generator.geometry.floors import floors
from generator.geometry.frames import Floats, Indices
from generator.geometry.outline import Outline
from generator.geometry.shapes import Shape
from generator.quantities.units import Mm

LAST_STEP: Mm = 1.5
"""Where the search along a shape stops: by d² / 8ρ the gap is then within 0.012 mm at ρ = 25 mm."""


class Target(Protocol):
    """What a search needs of a shape and the wheel that it is held against."""

    @property
    def shape(self) -> Shape:
        """Give the shape."""
        ...

    @property
    def outline(self) -> Outline:
        """Give the section of tyre and rim."""
        ...


@dataclass(frozen=True, eq=False)
class Rows:
    """Searches, one a row: whose shape, (n,) rising; the start (n, 3); the wheel's pose.

    parameters: along the shape, 0 to 1. rotation (n, 3, 3) and translation (n, 3) mm take a
    wheel-frame point to the body that carries the shape.
    """

    owner: Indices
    parameters: Floats
    rotation: Floats
    translation: Floats

    def __len__(self) -> int:
        return len(self.owner)


@dataclass(frozen=True, eq=False)
class Found:
    """Where searches ended: gaps (n,) mm, shape parameters (n, 3), (u, r) (n, 2) mm."""

    gaps: Floats
    parameters: Floats
    points_ur: Floats


def searched(targets: Sequence[Target], rows: Rows, *, first_step: Mm) -> Found:
    """Take every search to its end. The gap is that of the points, without a bar's thickness.

    first_step: mm along the shape, from LAST_STEP up.
    Source: own derivation: see the head of the module.
    """
    found = _begun(targets, rows)
    for dimensions, which in _alike(targets, rows.owner):
        for step in _steps(first_step):
            _stepped(targets, rows, found, which=which, step=step, dimensions=dimensions)
    return found


def searched_for_least(
    targets: Sequence[Target], rows: Rows, *, first_step: Mm, known: Floats
) -> Found:
    """Take those searches to their end that can find the least gap of their target.

    known: a gap of each target (targets,) that was found elsewhere, mm; only less counts. What is
    found by a search that was given up is a gap, and not the least one.
    Source: own derivation: a gap changes by no more than the point's way, so a search with that
    way left to go cannot fall further; on a flat shape not below its floor (see `floors`).
    """
    found = _begun(targets, rows)
    least = known.copy()
    np.minimum.at(least, rows.owner, found.gaps)
    for dimensions, which in _alike(targets, rows.owner):
        alive = which
        left = fsum(_steps(first_step))
        for step in _steps(first_step):
            lowest = _lowest(targets, rows, found, which=alive, left=left, dimensions=dimensions)
            alive = alive[lowest <= least[rows.owner[alive]] + SLACK]
            _stepped(targets, rows, found, which=alive, step=step, dimensions=dimensions)
            np.minimum.at(least, rows.owner[alive], found.gaps[alive])
            left -= step
    return found


def _lowest(
    targets: Sequence[Target],
    rows: Rows,
    found: Found,
    *,
    which: Indices,
    left: Mm,
    dimensions: int,
) -> Floats:
    """Give numbers that the named searches cannot fall below with so much way left on each axis."""
    lowest: Floats = found.gaps[which] - sqrt(dimensions) * left
    ends = np.searchsorted(rows.owner[which], np.arange(len(targets) + 1)).tolist()
    for place, target in enumerate(targets):
        part = slice(ends[place], ends[place + 1])
        here = which[part]
        if len(here):
            floor = floors(
                target.shape,
                target.outline,
                found.parameters[here],
                rotation=rows.rotation[here],
                translation=rows.translation[here],
                left=left,
            )
            np.maximum(lowest[part], floor, out=lowest[part])
    return lowest


def _steps(first: Mm) -> tuple[Mm, ...]:
    return tuple(first / 2.0**halving for halving in range(ceil(log2(first / LAST_STEP)) + 1))


def _begun(targets: Sequence[Target], rows: Rows) -> Found:
    gaps, places = _gaps(targets, rows, rows.parameters[:, None, :])
    if not np.isfinite(gaps).all():
        raise ValueError("a gap needs finite points and poses")
    return Found(gaps[:, 0].copy(), rows.parameters.copy(), places[:, 0].copy())


def _alike(targets: Sequence[Target], owner: Indices) -> Iterator[tuple[int, Indices]]:
    """Give the rows whose shapes have as many dimensions, for each number above none."""
    counts = np.array([_dimensions(target.shape) for target in targets])[owner]
    for dimensions in (1, 2, 3):
        which = np.flatnonzero(counts == dimensions)
        if len(which):
            yield dimensions, which


def _stepped(
    targets: Sequence[Target],
    rows: Rows,
    found: Found,
    *,
    which: Indices,
    step: Mm,
    dimensions: int,
) -> None:
    """Try one step in all directions from where the named searches stand; take what is nearer."""
    if not len(which):
        return
    owner = rows.owner[which]
    whole = len(which) == len(rows)
    part = rows if whole else Rows(
        owner, found.parameters[which], rows.rotation[which], rows.translation[which]
    )  # fmt: skip
    moves = np.array([
        _moves(target.shape)
        if _dimensions(target.shape) == dimensions
        else np.zeros((3**dimensions - 1, 3))
        for target in targets
    ])  # fmt: skip
    tried = found.parameters[which][:, None, :] + step * moves[owner]
    np.minimum(np.maximum(tried, 0.0, out=tried), 1.0, out=tried)
    gaps, places = _gaps(targets, part, tried)
    chosen = gaps.argmin(axis=1)
    every = np.arange(len(which))
    better = gaps[every, chosen] < found.gaps[which]
    taken, best = which[better], chosen[better]
    found.gaps[taken] = gaps[better, best]
    found.parameters[taken] = tried[better, best]
    found.points_ur[taken] = places[better, best]


@lru_cache(maxsize=4096)
def _dimensions(shape: Shape) -> int:
    return len([size for size in shape.sizes() if size > 0.0])


@lru_cache(maxsize=4096)
def _moves(shape: Shape) -> Floats:
    """Give the steps of one millimetre along the used parameters, in all directions (c, 3)."""
    sizes = np.asarray(shape.sizes())
    used = np.flatnonzero(sizes > 0.0)
    rows = []
    for signs in product((-1.0, 0.0, 1.0), repeat=len(used)):
        if any(signs):
            row = np.zeros(3)
            row[used] = np.asarray(signs) / sizes[used]
            rows.append(row)
    return np.asarray(rows)


def _gaps(targets: Sequence[Target], rows: Rows, tried: Floats) -> tuple[Floats, Floats]:
    """Give gaps (n, c) and places (n, c, 2) of points (n, c, 3), each row in its own pose."""
    count, choices = tried.shape[:2]
    points = np.empty((count, choices, 3))
    ends = np.searchsorted(rows.owner, np.arange(len(targets) + 1)).tolist()
    for place, target in enumerate(targets):
        part = slice(ends[place], ends[place + 1])
        if part.start < part.stop:
            flat = tried[part].reshape(-1, 3)
            points[part] = target.shape.at(flat).reshape(-1, choices, 3)
    points -= rows.translation[:, None, :]
    local = np.einsum("pji,pcj->pci", rows.rotation, points)
    u = np.ascontiguousarray(local[..., 1])
    r = np.hypot(local[..., 0], local[..., 2])
    gaps = np.empty((count, choices))
    for outline, part in _runs(targets, ends):
        found = distances(u[part].ravel(), r[part].ravel(), outline)
        gaps[part] = found.reshape(-1, choices)
    return gaps, np.stack((u, r), axis=-1)


def _runs(targets: Sequence[Target], ends: list[int]) -> Iterator[tuple[Outline, slice]]:
    """Give stretches of rows that are held against the same outline."""
    first = 0
    for place in range(1, len(targets) + 1):
        if place == len(targets) or targets[place].outline is not targets[first].outline:
            if ends[first] < ends[place]:
                yield targets[first].outline, slice(ends[first], ends[place])
            first = place
