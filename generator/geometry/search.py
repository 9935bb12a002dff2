"""Many searches at once along shapes, for the point of each that is nearest to tyre and wheel.

A search starts at a point of a shape in one pose of the wheel and goes on with halving steps along
the shape itself. On a straight line or a flat face the distance to a convex section has one
minimum, so the search ends at it; on a bent line it ends at the minimum next to the start.
"""

from collections.abc import Iterator, Sequence
from itertools import product
from math import ceil, fsum, log2, sqrt
from typing import Protocol

import numpy as np

from generator.frozen import dataclass
from generator.geometry.distance import SLACK, TIE, distances, first_least
from generator.geometry.floors import floors
from generator.geometry.frames import Floats, Indices
from generator.geometry.outline import Outline
from generator.geometry.shapes import Shape
from generator.geometry.straight import ShapeRows, rows_of
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

    parameters: along the shape, 0 to 1. rotation (n, 3, 3) and translation (n, 3) mm take a point
    of the wheel, counted from the middle of its own centre plane, to the body that carries the
    shape: then one outline serves all wheels that differ only in where they stand.
    """

    owner: Indices
    parameters: Floats
    rotation: Floats
    translation: Floats

    def __len__(self) -> int:
        return len(self.owner)


@dataclass(frozen=True, eq=False)
class Field:
    """Shapes and the outlines they are held against, put into rows once for several searches.

    runs: stretches of targets that are held against the same outline, from one target to the one
    after the last. bent: the targets whose shapes are asked themselves. moves: by the number of
    dimensions, the steps of one millimetre of each target (t, c, 3) in all directions.
    """

    shapes: tuple[Shape, ...]
    rows: ShapeRows
    runs: tuple[tuple[Outline, int, int], ...]
    bent: tuple[int, ...]
    moves: dict[int, Floats]

    def __len__(self) -> int:
        return len(self.shapes)


def field_of(targets: Sequence[Target]) -> Field:
    """Put targets into rows.

    Source: own derivation: none needed: a change of form.
    """
    rows = rows_of([target.shape for target in targets])
    moves = {count: _moves(rows, count) for count in (1, 2, 3) if count in rows.dimensions}
    bent = tuple(np.flatnonzero(~rows.straight).tolist())
    return Field(tuple(target.shape for target in targets), rows, _runs(targets), bent, moves)


def _moves(rows: ShapeRows, dimensions: int) -> Floats:
    """Give the steps of a millimetre; none for shapes of another number of dimensions."""
    signs = np.array([each for each in product((-1.0, 0.0, 1.0), repeat=dimensions) if any(each)])
    alike = np.flatnonzero(rows.dimensions == dimensions)
    moves = np.zeros((len(rows.dimensions), len(signs), 3))
    for place, axis in enumerate(rows.used[alike].T[:dimensions]):
        moves[alike, :, axis] = signs[:, place] / rows.sizes[alike, axis][:, None]
    return moves


def _runs(targets: Sequence[Target]) -> tuple[tuple[Outline, int, int], ...]:
    runs, first = [], 0
    for place in range(1, len(targets) + 1):
        outline = targets[first].outline.centred
        if place == len(targets) or targets[place].outline.centred is not outline:
            runs.append((outline, first, place))
            first = place
    return tuple(runs)


@dataclass(frozen=True, eq=False)
class Found:
    """Where searches ended: gaps (n,) mm, shape parameters (n, 3), (u, r) (n, 2) mm.

    u counts from the wheel's own centre plane.
    """

    gaps: Floats
    parameters: Floats
    points_ur: Floats


def searched(field: Field, rows: Rows, *, first_step: Mm) -> Found:
    """Take every search to its end. The gap is that of the points, without a bar's thickness.

    first_step: mm along the shape, from LAST_STEP up.
    Source: own derivation: see the head of the module.
    """
    found = _begun(field, rows)
    for dimensions, which in _alike(field, rows.owner):
        for step in _steps(first_step):
            _stepped(field, rows, found, which=which, step=step, dimensions=dimensions)
    return found


def searched_for_least(field: Field, rows: Rows, *, first_step: Mm, known: Floats) -> Found:
    """Take those searches to their end that can find the least gap of their target.

    known: a gap of each target (t,) that was found elsewhere, mm; only less counts. What is
    found by a search that was given up is a gap, and not the least one.
    Source: own derivation: a gap changes by no more than the point's way, so a search with that
    way left to go cannot fall further; on a flat shape not below its floor (see `floors`).
    """
    found = _begun(field, rows)
    least = known.copy()
    np.minimum.at(least, rows.owner, found.gaps)
    for dimensions, which in _alike(field, rows.owner):
        alive = which
        left = fsum(_steps(first_step))
        for step in _steps(first_step):
            lowest = _lowest(field, rows, found, which=alive, left=left, dimensions=dimensions)
            alive = alive[lowest <= least[rows.owner[alive]] + SLACK]
            _stepped(field, rows, found, which=alive, step=step, dimensions=dimensions)
            np.minimum.at(least, rows.owner[alive], found.gaps[alive])
            left -= step
    return found


def _lowest(
    field: Field,
    rows: Rows,
    found: Found,
    *,
    which: Indices,
    left: Mm,
    dimensions: int,
) -> Floats:
    """Give numbers that the named searches cannot fall below with so much way left on each axis."""
    lowest: Floats = found.gaps[which] - sqrt(dimensions) * left
    owner = rows.owner[which]
    for outline, part in _parts(field, owner):
        here = which[part]
        floor = floors(
            field.rows,
            owner[part],
            outline,
            found.parameters[here],
            rotation=rows.rotation[here],
            translation=rows.translation[here],
            left=left,
        )
        np.maximum(lowest[part], floor, out=lowest[part])
    return lowest


def _parts(field: Field, owner: Indices) -> Iterator[tuple[Outline, slice]]:
    """Give the stretches of rows that are held against the same outline."""
    bounds = [first for _, first, _ in field.runs] + [len(field)]
    ends = np.searchsorted(owner, bounds).tolist()
    for place, (outline, _, _) in enumerate(field.runs):
        if ends[place] < ends[place + 1]:
            yield outline, slice(ends[place], ends[place + 1])


def _steps(first: Mm) -> tuple[Mm, ...]:
    return tuple(first / 2.0**halving for halving in range(ceil(log2(first / LAST_STEP)) + 1))


def _begun(field: Field, rows: Rows) -> Found:
    gaps, places = _gaps(field, rows, rows.parameters[:, None, :])
    if not np.isfinite(gaps).all():
        raise ValueError("a gap needs finite points and poses")
    return Found(gaps[:, 0].copy(), rows.parameters.copy(), places[:, 0].copy())


def _alike(field: Field, owner: Indices) -> Iterator[tuple[int, Indices]]:
    """Give the rows whose shapes have as many dimensions, for each number above none."""
    counts = field.rows.dimensions[owner]
    for dimensions in field.moves:
        which = np.flatnonzero(counts == dimensions)
        if len(which):
            yield dimensions, which


def _stepped(
    field: Field,
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
    tried = found.parameters[which][:, None, :] + step * field.moves[dimensions][owner]
    np.minimum(np.maximum(tried, 0.0, out=tried), 1.0, out=tried)
    gaps, places = _gaps(field, part, tried)
    chosen = first_least(gaps)
    every = np.arange(len(which))
    better = gaps[every, chosen] < found.gaps[which] - TIE
    taken, best = which[better], chosen[better]
    found.gaps[taken] = gaps[better, best]
    found.parameters[taken] = tried[better, best]
    found.points_ur[taken] = places[better, best]


def _gaps(field: Field, rows: Rows, tried: Floats) -> tuple[Floats, Floats]:
    """Give gaps (n, c) and places (n, c, 2) of points (n, c, 3), each row in its own pose."""
    choices = tried.shape[1]
    points = field.rows.points(rows.owner, tried)
    for place in field.bent:
        first, end = np.searchsorted(rows.owner, (place, place + 1)).tolist()
        if first < end:
            flat = tried[first:end].reshape(-1, 3)
            points[first:end] = field.shapes[place].at(flat).reshape(-1, choices, 3)
    points -= rows.translation[:, None, :]
    local = np.einsum("pji,pcj->pci", rows.rotation, points)
    u = np.ascontiguousarray(local[..., 1])
    r = np.hypot(local[..., 0], local[..., 2])
    gaps = np.empty(u.shape)
    for outline, part in _parts(field, rows.owner):
        found = distances(u[part].ravel(), r[part].ravel(), outline)
        gaps[part] = found.reshape(-1, choices)
    return gaps, np.stack((u, r), axis=-1)
