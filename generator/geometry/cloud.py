"""The points of shapes in the wheel's half-plane over many poses, and which of them are nearest.

A cloud does not depend on wheel and tyre, so that one serves all wheels of a corner. Of each pose
the box around its points is kept too: a section's supporting lines bound the gap of the whole box,
so that most poses of a sweep are passed over unseen.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from generator.geometry.clearance import GapSweep, half_plane
from generator.geometry.distance import SLACK, distances
from generator.geometry.frames import Floats, Indices, Poses
from generator.geometry.outline import Outline
from generator.quantities.units import Mm


@dataclass(frozen=True, eq=False)
class Cloud:
    """Points of a shape in each pose: u and r (p, m) mm, and the box around them.

    low_u, high_u, low_r: (p,) mm.
    """

    u: Floats
    r: Floats
    low_u: Floats
    high_u: Floats
    low_r: Floats


def cloud_of(points: Floats, poses: Poses) -> Cloud:
    """Put points (m, 3) mm of the body that the poses are seen from into the wheel's half-plane.

    Raises ValueError for no points, no poses, and numbers that are not finite.
    Source: own derivation: see `clearance.poses_to_ur`.
    >>> from generator.geometry.frames import labelled, positions, still
    >>> cloud_of(np.array([[3.0, 92.0, 4.0]]), labelled(still(1), positions(0.0))).r.tolist()
    [[5.0]]
    """
    if len(points) == 0 or len(poses) == 0:
        raise ValueError("a gap needs at least one point and one pose")
    u, r = half_plane(points, poses.rotation, poses.translation)
    return Cloud(u, r, u.min(axis=1), u.max(axis=1), r.min(axis=1))


def nearest_points(clouds: Sequence[Cloud], outlines: Sequence[Outline]) -> tuple[GapSweep, ...]:
    """Give the least gap of each cloud in each of its poses, exact to the polygon.

    outlines: one for each cloud; those that are the same object are measured together.
    Source: own derivation: a point whose bound lies above a gap already found is not nearest.
    >>> from generator.geometry.frames import labelled, positions, still
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> level = labelled(still(2), positions([0.0, 0.0]))
    >>> lip = cloud_of(np.array([[0.0, -24.0, 364.5]]), level)
    >>> nearest_points([lip], [section_outline(EXAMPLE)])[0].gaps.round(6).tolist()
    [60.0, 60.0]
    """
    bounds = [_bounds(each, outline) for each, outline in zip(clouds, outlines, strict=True)]
    known, chosen = _known(clouds, outlines, bounds)
    limits = [each[:, None] for each in known]
    return tuple(_measured(clouds, outlines, bounds, limits=limits, known=(known, chosen)))


def points_near_least(
    clouds: Sequence[Cloud], outlines: Sequence[Outline], *, within: Sequence[Mm]
) -> tuple[tuple[Indices, Indices], ...]:
    """Give the poses of each cloud whose gap comes near its least, and the nearest point in each.

    within: of the least gap, for each cloud, >= 0.
    Source: own derivation: no point of a box lies nearer than its corner furthest along a normal.
    >>> from generator.geometry.frames import labelled, positions, still
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> level = labelled(still(2), positions([0.0, 0.0]))
    >>> lip = cloud_of(np.array([[0.0, -24.0, 390.0], [0.0, -24.0, 364.5]]), level)
    >>> points_near_least([lip], [section_outline(EXAMPLE)], within=[3.0])[0][1].tolist()
    [1, 1]
    """
    near = [_near_boxes(*each) for each in zip(clouds, outlines, within, strict=True)]
    fewer = [_of_poses(cloud, which) for cloud, which in zip(clouds, near, strict=True)]
    bounds = [_bounds(each, outline) for each, outline in zip(fewer, outlines, strict=True)]
    known, chosen = _known(fewer, outlines, bounds)
    limits = [
        np.minimum(each, each.min() + beyond)[:, None]
        for each, beyond in zip(known, within, strict=True)
    ]
    swept = _measured(fewer, outlines, bounds, limits=limits, known=(known, chosen))
    found = []
    for which, each, beyond in zip(near, swept, within, strict=True):
        close = np.flatnonzero(each.gaps <= each.gaps.min() + beyond)
        found.append((which[close], each.points[close]))
    return tuple(found)


def _near_boxes(cloud: Cloud, outline: Outline, within: Mm) -> Indices:
    """Give the poses whose box could hold a gap within so much of the least."""
    across, out = outline.support_normals[:, :1], outline.support_normals[:, 1:]
    beyond = np.minimum(across * cloud.low_u, across * cloud.high_u) + out * cloud.low_r
    bound = (beyond - outline.support_distances[:, None]).max(axis=0)
    first = int(bound.argmin())
    one = _of_poses(cloud, np.array([first]))
    point = int(_bounds(one, outline).argmin())
    known = float(distances(one.u[0, point : point + 1], one.r[0, point : point + 1], outline)[0])
    return np.flatnonzero(bound <= known + within + SLACK)


def _of_poses(cloud: Cloud, which: Indices) -> Cloud:
    return Cloud(
        cloud.u[which],
        cloud.r[which],
        cloud.low_u[which],
        cloud.high_u[which],
        cloud.low_r[which],
    )


def _bounds(cloud: Cloud, outline: Outline) -> Floats:
    """Give a number (p, m) that the signed distance of no point is below, but for rounding."""
    rows = np.empty((3, cloud.u.size))
    rows[0], rows[1], rows[2] = cloud.u.ravel(), cloud.r.ravel(), -1.0
    supports = np.column_stack((outline.support_normals, outline.support_distances))
    bound: Floats = (supports @ rows).max(axis=0).reshape(cloud.u.shape)
    return bound


def _known(
    clouds: Sequence[Cloud], outlines: Sequence[Outline], bounds: Sequence[Floats]
) -> tuple[list[Floats], list[Indices]]:
    """Give in each pose the gap of the point with the least bound, and that point."""
    chosen = [each.argmin(axis=1) for each in bounds]
    rows = [np.arange(len(each)) for each in chosen]
    places = [
        (cloud.u[row, point], cloud.r[row, point])
        for cloud, row, point in zip(clouds, rows, chosen, strict=True)
    ]
    return _distances(places, outlines), chosen


def _measured(
    clouds: Sequence[Cloud],
    outlines: Sequence[Outline],
    bounds: Sequence[Floats],
    *,
    limits: Sequence[Floats],
    known: tuple[list[Floats], list[Indices]],
) -> list[GapSweep]:
    """Measure all points whose bound is no more than the limit of their pose."""
    asked: list[npt.NDArray[np.bool_]] = []
    for bound, limit, point in zip(bounds, limits, known[1], strict=True):
        which = bound <= limit + SLACK
        which[np.arange(len(point)), point] = False
        asked.append(which)
    places = [(cloud.u[which], cloud.r[which]) for cloud, which in zip(clouds, asked, strict=True)]
    found = []
    every = zip(asked, _distances(places, outlines), *known, strict=True)
    for which, distance, gap, point in every:
        gaps = np.full(which.shape, np.inf)
        gaps[np.arange(len(point)), point] = gap
        gaps[which] = distance
        found.append(GapSweep(gaps.min(axis=1), gaps.argmin(axis=1)))
    return found


def _distances(
    places: Sequence[tuple[Floats, Floats]], outlines: Sequence[Outline]
) -> list[Floats]:
    """Give the distances of each row of places to its outline, those of one outline in one go."""
    together: dict[int, list[int]] = {}
    for at, outline in enumerate(outlines):
        together.setdefault(id(outline), []).append(at)
    found: dict[int, Floats] = {}
    for which in together.values():
        u = np.concatenate([places[at][0] for at in which])
        r = np.concatenate([places[at][1] for at in which])
        ends = np.cumsum([len(places[at][0]) for at in which])[:-1]
        parts = np.split(distances(u, r, outlines[which[0]]), ends)
        found.update(zip(which, parts, strict=True))
    return [found[at] for at in range(len(places))]
