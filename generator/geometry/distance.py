"""Signed distance of points to the section of tyre and rim, exact to the polygon.

The section is a convex tyre, from bead to bead over the crown, on a rectangular rim (`outline`).
Outside a convex polygon the nearest edge is the one whose line the point lies furthest beyond, and
inside it the one whose line is nearest; so one product of numbers an edge finds the edge, and only
to that edge and the rim is a distance taken. What the rule does not cover (inside the rim, a
stretched tyre that is not convex) is measured against all edges.
"""

from functools import lru_cache
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from generator.frozen import dataclass
from generator.geometry.outline import Outline
from generator.quantities.units import Mm, Ratio

Floats: TypeAlias = npt.NDArray[np.float64]
Indices: TypeAlias = npt.NDArray[np.intp]
Flags: TypeAlias = npt.NDArray[np.bool_]

SLACK: Mm = 1e-9
"""Rounding allowed between a bound and a distance; far above that of doubles, far below a gap."""
TIE: Mm = 1e-10
"""Gaps no further apart count as equal, so that rounding does not choose between places."""
_BLOCK = 256
"""Points taken at once against all edges, so that the work stays in the processor's cache."""
_LIP = 2
"""Edges of the polygon that belong to the rim: so many at its start, one more at its end."""
_LEAST_TURN: Ratio = 1e-6
"""Sine of the angle between edges below which they count as one line, where no edge is nearest."""


@dataclass(frozen=True, eq=False)
class Edges:
    """The edges of an outline: start (k, 2), way to the next (k, 2), that way's square (k,).

    Start and way stand here once more as columns, which are quicker to pick from.
    lines: (3, t), the unit normals and the distances of the tyre's edges' lines, so that
    (u, r, 1) @ lines is how far a point lies beyond each. rim_low, rim_high: corners (u, r) of the
    rim. convex: whether the tyre is.
    """

    start: Floats
    along: Floats
    start_u: Floats
    start_r: Floats
    along_u: Floats
    along_r: Floats
    length: Floats
    lines: Floats
    rim: Indices
    rim_low: tuple[Mm, Mm]
    rim_high: tuple[Mm, Mm]
    convex: bool


def signed_distance(points_ur: Floats, outline: Outline) -> Floats:
    """Give the distance (n,) mm of points to the outline, negative inside it.

    Exact to the polygon. points_ur: (n, 2) mm, (u, r). The space under the closing radius is
    outside. Raises ValueError for a number that is not finite.
    Source: own derivation: for a convex body the largest of n·p − h over its edges is at the edge
    nearest to p, inside and outside; inside by the parity of crossings where that does not serve.
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> above_and_in = np.array([[-24.0, 310.0], [-24.0, 300.0]])
    >>> signed_distance(above_and_in, section_outline(EXAMPLE)).round(3).tolist()
    [5.5, -4.5]
    """
    if not np.isfinite(points_ur).all():
        raise ValueError("a distance needs finite points")
    u, r = np.ascontiguousarray(points_ur[:, 0]), np.ascontiguousarray(points_ur[:, 1])
    return distances(u, r, outline)


def first_least(gaps: Floats) -> Indices:
    """Give in each row of gaps (n, c) the place of the least, the first of equals.

    Source: own derivation: equal to rounding, see TIE.
    >>> first_least(np.array([[3.0, 1.0 + 1e-13, 1.0]])).tolist()
    [1]
    """
    least = gaps.min(axis=1)
    first: Indices = (gaps <= least[:, None] + TIE).argmax(axis=1)
    return first


def distances(u: Floats, r: Floats, outline: Outline) -> Floats:
    """Give the signed distance (n,) mm of finite points, u and r (n,) mm.

    Source: own derivation: see `signed_distance`.
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> distances(np.array([-24.0]), np.array([310.0]), section_outline(EXAMPLE)).round(3).tolist()
    [5.5]
    """
    edges = edges_of(outline)
    if not edges.convex:
        return _to_all(u, r, edges)
    rows = np.column_stack((u, r, np.ones(len(u))))
    beyond = rows @ edges.lines
    nearest = beyond.argmax(axis=1)
    furthest = beyond[np.arange(len(u)), nearest]
    found, within = _to_edge(u, r, nearest, edges)
    in_rim = _in_rim(u, r, edges)
    near_rim = np.flatnonzero(_from_rim(u, r, edges) < found)
    if len(near_rim):
        to_rim = _squares(u[near_rim, None], r[near_rim, None], edges, edges.rim)
        found[near_rim] = np.minimum(found[near_rim], np.sqrt(to_rim.min(axis=1)))
    inside = (furthest <= 0.0) & (r >= edges.rim_high[1])
    found[inside] *= -1.0
    doubtful = np.flatnonzero(in_rim | (inside & ~within))
    if len(doubtful):
        found[doubtful] = _to_all(u[doubtful], r[doubtful], edges)
    return found


def _to_edge(u: Floats, r: Floats, nearest: Indices, edges: Edges) -> tuple[Floats, Flags]:
    """Give the distance to one edge each, and whether its foot lies between the edge's ends.

    That is the distance to the tyre: where the foot lies beyond an end, the point lies in the
    corner between two normals, and of the lines of all edges those beside the corner are furthest.
    """
    which = nearest + _LIP
    along_u, along_r = edges.along_u[which], edges.along_r[which]
    du, dr = u - edges.start_u[which], r - edges.start_r[which]
    share = (du * along_u + dr * along_r) / edges.length[which]
    within = (share > 0.0) & (share < 1.0)
    np.minimum(np.maximum(share, 0.0, out=share), 1.0, out=share)
    off_u, off_r = du - share * along_u, dr - share * along_r
    return np.sqrt(off_u * off_u + off_r * off_r), within


def _squares(u: Floats, r: Floats, edges: Edges, which: Indices) -> Floats:
    """Give squared distances to the edges named."""
    along_u, along_r = edges.along_u[which], edges.along_r[which]
    du, dr = u - edges.start_u[which], r - edges.start_r[which]
    share = (du * along_u + dr * along_r) / edges.length[which]
    np.minimum(np.maximum(share, 0.0, out=share), 1.0, out=share)
    off_u, off_r = du - share * along_u, dr - share * along_r
    squares: Floats = off_u * off_u + off_r * off_r
    return squares


def _in_rim(u: Floats, r: Floats, edges: Edges) -> Flags:
    (low_u, low_r), (high_u, high_r) = edges.rim_low, edges.rim_high
    return (u >= low_u) & (u <= high_u) & (r >= low_r) & (r <= high_r)


def _from_rim(u: Floats, r: Floats, edges: Edges) -> Floats:
    """Give a number that the distance to the rim is never below."""
    (low_u, low_r), (high_u, high_r) = edges.rim_low, edges.rim_high
    across = np.maximum(low_u - u, u - high_u)
    up: Floats = np.maximum(low_r - r, r - high_r)
    return np.maximum(across, up)


def _to_all(u: Floats, r: Floats, edges: Edges) -> Floats:
    found = np.empty(len(u))
    for low in range(0, len(u), _BLOCK):
        part = slice(low, low + _BLOCK)
        du, dr = u[part, None] - edges.start[:, 0], r[part, None] - edges.start[:, 1]
        share = np.clip((du * edges.along[:, 0] + dr * edges.along[:, 1]) / edges.length, 0.0, 1.0)
        off = (du - share * edges.along[:, 0]) ** 2 + (dr - share * edges.along[:, 1]) ** 2
        found[part] = np.sqrt(off.min(axis=1))
        found[part][_inside(du, dr, edges.along)] *= -1.0
    return found


@lru_cache(maxsize=64)
def edges_of(outline: Outline) -> Edges:
    """Give the edges of an outline; kept, since each outline is asked about many times.

    Source: own derivation: see the head of the module.
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> edges_of(section_outline(EXAMPLE)).convex
    True
    """
    start = outline.points
    along = np.concatenate((start[1:], start[:1])) - start
    length = np.maximum((along**2).sum(axis=1), SLACK**2)
    tyre = slice(_LIP, len(start) - _LIP - 1)
    normals = np.column_stack((-along[tyre, 1], along[tyre, 0])) / np.sqrt(length[tyre, None])
    distance = (normals * start[tyre]).sum(axis=1)
    beads = start[tyre.start], start[tyre.stop]
    before, after = along[tyre][:-1], along[tyre][1:]
    turns = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    sizes = np.sqrt(length[tyre])
    convex = bool((turns < -_LEAST_TURN * sizes[:-1] * sizes[1:]).all())
    last = len(start) - 1
    return Edges(
        start, along,
        start[:, 0].copy(), start[:, 1].copy(), along[:, 0].copy(), along[:, 1].copy(),
        length,
        lines=np.ascontiguousarray(np.column_stack((normals, -distance)).T),
        rim=np.array([*range(_LIP), *range(tyre.stop, last + 1)]),
        rim_low=(float(start[0, 0]), float(start[0, 1])),
        rim_high=(float(start[-1, 0]), float(start[1, 1])),
        convex=convex and bool(beads[0][0] < beads[1][0]),
    )  # fmt: skip


@lru_cache(maxsize=64)
def lines_of(outline: Outline) -> tuple[Floats, Floats]:
    """Give supporting lines of an outline: normals (t, 2) of the tyre's edges, and h (t,) mm.

    No vertex of the outline has n·p above h, the rim's among them.
    Source: own derivation: h is the largest n·p of all vertices.
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> normals, _ = lines_of(section_outline(EXAMPLE))
    >>> bool(np.allclose(np.hypot(*normals.T), 1.0))
    True
    """
    normals = np.ascontiguousarray(edges_of(outline).lines[:2].T)
    return normals, (normals @ outline.points.T).max(axis=1)


def _inside(du: Floats, dr: Floats, along: Floats) -> Flags:
    """Tell by the parity of edges crossed on the way outboard; du, dr from each edge's start."""
    spans = (dr < 0.0) != (dr < along[:, 1])
    left = along[:, 0] * dr - along[:, 1] * du > 0.0
    crossed = spans & (left == (along[:, 1] > 0.0))
    inside: Flags = crossed.sum(axis=1) % 2 == 1
    return inside


def lower_bound(u: Floats, r: Floats, outline: Outline) -> Floats:
    """Give a number that the signed distance is never below, cheaply.

    u, r: mm, any one shape.
    Source: own derivation: the outline lies behind each of its supporting lines, so the distance
    to its convex hull, and with it to the outline, is at least the largest n·p − h.
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> bound = lower_bound(np.array([-24.0]), np.array([310.0]), section_outline(EXAMPLE))
    >>> bound.round(6).tolist()
    [5.5]
    """
    best = np.full(u.shape, -np.inf)
    for (along, out), distance in zip(
        outline.support_normals, outline.support_distances, strict=True
    ):
        np.maximum(best, along * u + (out * r - distance), out=best)
    return best
