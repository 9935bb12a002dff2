"""Where a site comes in the wheel's half-plane over all that the wheel does, once for all wheels.

The poses of a wheel and the points of a site do not depend on rim and tyre. So the points are put
into the half-plane (u, r) once, and only those are kept that can be nearest to some section with
its centre plane in a given range. The least gap of a wheel is then the least distance of few
points to its outline, and another offset only shifts them.
"""

from collections.abc import Sequence
from math import inf
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from generator.frozen import dataclass
from generator.geometry.clearance import Floats, poses_to_ur
from generator.geometry.distance import lower_bound, signed_distance
from generator.geometry.frames import Poses
from generator.geometry.outline import Outline
from generator.quantities.units import Mm

Indices: TypeAlias = npt.NDArray[np.intp]

COLUMN: Mm = 0.1
"""Points closer together than this along u count as one column; the gap errs by no more."""
ROW: Mm = 0.5
"""The same along r, where lip and sidewall make hollows and no rule says which is nearer."""
_AT_ONCE = 16_384
"""Points looked at together, so that the work stays in the processor's cache."""


@dataclass(frozen=True)
class Band:
    """The sections that a trace serves: range of the centre plane u, radius of the widest point."""

    centre_low: Mm
    centre_high: Mm
    widest: Mm


@dataclass(frozen=True, eq=False)
class Trace:
    """Points of which one is nearest to any section of the band.

    points: (k, 8), the place u and r in mm, then how it comes there: travel (mm), steer (deg), the
    other side's travel (mm), and the three parameters along the site's shape.
    """

    points: Floats
    thickness: Mm


def trace(
    points: Floats, parameters: Floats, poses: Poses, *, band: Band, thickness: Mm = 0.0
) -> Trace:
    """Put a site's points (m, 3) mm into the half-plane in all poses, and keep those that count.

    parameters: (m, 3), where along its shape each is. thickness: of a bar around them, >= 0.
    Raises ValueError for numbers not finite.
    Limits: between points and between poses nothing is known.
    Source: own derivation: see `frontier`.
    >>> from generator.geometry.frames import labelled, positions, still
    >>> level = labelled(still(1), positions(0.0))
    >>> lip = np.array([[0.0, 92.0, 374.0], [0.0, 92.0, 380.0], [0.0, 99.0, 374.0]])
    >>> band = Band(-40.0, 10.0, 240.0)
    >>> trace(lip, np.zeros((3, 3)), level, band=band).points[:, :2].tolist()
    [[92.0, 374.0]]
    """
    kept = []
    states = np.column_stack((poses.travel, poses.steer, poses.other_travel))
    height = max(1, _AT_ONCE // len(points))
    for low in range(0, len(poses), height):
        part = slice(low, low + height)
        seen = poses_to_ur(points, poses.rotation[part], poses.translation[part]).reshape(-1, 2)
        chosen = frontier(seen, band)
        pose, point = np.divmod(chosen, len(points))
        kept.append(np.column_stack((seen[chosen], states[part][pose], parameters[point])))
    return joined([Trace(np.concatenate(kept), thickness)], band)


def joined(traces: Sequence[Trace], band: Band) -> Trace:
    """Give all traces of one site together, without what does not count.

    Source: own derivation: see `frontier`.
    >>> one = Trace(np.array([[92.0, 374.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0]]), 0.0)
    >>> len(joined([one, one], Band(-40.0, 10.0, 240.0)).points)
    1
    """
    points = np.concatenate([each.points for each in traces])
    return Trace(points[frontier(points[:, :2], band)], traces[0].thickness)


def least_gaps(
    seen: Trace, outline: Outline, shifts: Floats, *, deepest: Mm = -inf
) -> tuple[Floats, Indices]:
    """Give the least gap (n,) mm for the outline moved outboard by each shift (n,) mm.

    The second array is the place in `seen` of the point that has it. deepest: an overlap deeper
    than this is only known to be so.
    Source: own derivation: moving the outline out is moving the points in; bounds as in
    `lower_bound`.
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> rail = Trace(np.array([[-200.0, 230.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0]]), 0.0)
    >>> least_gaps(rail, section_outline(EXAMPLE), np.array([0.0, -10.0]))[0].round(1).tolist()
    [76.0, 66.1]
    """
    u = seen.points[:, 0] - shifts[:, None]
    r = np.broadcast_to(seen.points[:, 1], u.shape)
    bound = lower_bound(u, r, outline)
    rows = np.arange(len(u))
    nearest = bound.argmin(axis=1)
    start = np.column_stack((u[rows, nearest], r[rows, nearest]))
    known = signed_distance(start, outline)
    gaps = np.full(u.shape, np.inf)
    gaps[rows, nearest] = known
    chosen = (bound < known[:, None]) & np.isinf(gaps) & (known > deepest)[:, None]
    gaps[chosen] = signed_distance(np.column_stack((u[chosen], r[chosen])), outline)
    least = gaps.argmin(axis=1)
    return gaps[rows, least] - seen.thickness, least


def serving(seen: Trace, outlines: tuple[Outline, ...], shifts: Floats, *, slack: Mm) -> Trace:
    """Keep only the points that come within `slack` of the least gap of an outline and a shift.

    slack: >= 0. With shifts d apart, 2·d suffices for those between, since no gap changes faster
    than the shift.
    Source: own derivation: a distance to a shifted body changes by no more than the shift.
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> rail = np.array([[-200.0, 230.0], [-250.0, 230.0]])
    >>> seen = Trace(np.hstack((rail, np.zeros((2, 6)))), 0.0)
    >>> len(serving(seen, (section_outline(EXAMPLE),), np.array([0.0]), slack=5.0).points)
    1
    """
    keep = np.zeros(len(seen.points), dtype=bool)
    for outline in outlines:
        known = least_gaps(seen, outline, shifts)[0] + seen.thickness
        u = seen.points[:, 0] - shifts[:, None]
        bound = lower_bound(u, np.broadcast_to(seen.points[:, 1], u.shape), outline)
        keep |= (bound <= known[:, None] + slack).any(axis=0)
    return Trace(seen.points[keep], seen.thickness)


def frontier(points_ur: Floats, band: Band) -> Indices:
    """Give the places of those points (n, 2) mm that can be nearest to a section of the band.

    Model: above `widest` a section is convex, so that of points in one column the lower one is
    nearer, and beyond the range of the centre plane of points equally low the one closer in u.
    Below it, of points in one row the closest in u is nearest.
    Source: own derivation: the distance to a convex set is convex along a line.
    >>> tall = np.array([[0.0, 350.0], [0.02, 345.0], [150.0, 250.0], [140.0, 250.0]])
    >>> frontier(tall, Band(-40.0, 10.0, 240.0)).tolist()
    [1, 3]
    """
    u, r = points_ur[:, 0], points_ur[:, 1]
    above = np.flatnonzero(r >= band.widest)
    below = np.flatnonzero(r < band.widest)
    parts = []
    if len(above):
        parts.append(above[_stairs(u[above], r[above], band)])
    if len(below):
        parts.append(below[_rows(u[below], r[below], band)])
    return np.concatenate(parts)


def _stairs(u: Floats, r: Floats, band: Band) -> Indices:
    """Keep the lowest of each column, and beyond the centre's range those lower than all within."""
    order, u, r = _lowest(np.floor(u / COLUMN), r, u)
    keep = (u >= band.centre_low) & (u <= band.centre_high)
    for outside, way in ((u > band.centre_high, 1), (u < band.centre_low, -1)):
        side = np.flatnonzero(outside)[::way]
        if len(side):
            best = np.minimum.accumulate(r[side])
            keep[side] = np.concatenate(([True], r[side][1:] < best[:-1]))
    return order[keep]


def _rows(u: Floats, r: Floats, band: Band) -> Indices:
    """Keep the closest to the centre's range of each row, on either side, and all within."""
    beyond = np.maximum(np.maximum(u - band.centre_high, band.centre_low - u), 0.0)
    within = np.flatnonzero(beyond == 0.0)
    kept = [within]
    for side in (u > band.centre_high, u < band.centre_low):
        places = np.flatnonzero(side)
        if len(places):
            kept.append(places[_lowest(np.floor(r[places] / ROW), beyond[places], r[places])[0]])
    return np.concatenate(kept)


def _lowest(cells: Floats, by: Floats, other: Floats) -> tuple[Indices, Floats, Floats]:
    """Give the place of the least of each cell, cells rising, and both numbers there."""
    order = np.lexsort((by, cells))
    first = np.ones(len(order), dtype=bool)
    first[1:] = cells[order][1:] != cells[order][:-1]
    order = order[first]
    return order, other[order], by[order]
