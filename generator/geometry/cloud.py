"""The points of shapes in the wheel's half-plane over many poses, and which of them are nearest.

A cloud does not depend on wheel and tyre, so that one serves all wheels of a corner. Of each pose
the box around its points is kept too: a section's supporting lines bound the gap of the whole box,
so that most poses of a sweep are passed over unseen.
"""

from collections.abc import Callable, Sequence

import numpy as np
import numpy.typing as npt

from generator.frozen import dataclass
from generator.geometry.clearance import GapSweep, half_plane
from generator.geometry.distance import SLACK, distances, first_least
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
    level = [_from_centre(*each) for each in zip(clouds, outlines, strict=True)]
    bounds = _bounds(level, outlines)
    known, chosen = _known(level, outlines, bounds)
    limits = [each[:, None] for each in known]
    return tuple(_measured(level, outlines, bounds, limits=limits, known=(known, chosen)))


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
    near = _near_boxes(clouds, outlines, within)
    fewer = [_from_centre(*each) for each in zip(clouds, outlines, near, strict=True)]
    bounds = _bounds(fewer, outlines)
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


def _near_boxes(
    clouds: Sequence[Cloud], outlines: Sequence[Outline], within: Sequence[Mm]
) -> list[Indices]:
    """Give the poses whose box could hold a gap within so much of the least, for each cloud."""
    centres = [outline.section.centre for outline in outlines]
    boxes = [
        (cloud.low_u - centre, cloud.high_u - centre, cloud.low_r)
        for cloud, centre in zip(clouds, centres, strict=True)
    ]
    bounds = _together(_box_bound, boxes, outlines)
    firsts = [int(bound.argmin()) for bound in bounds]
    poses = [
        (cloud.u[pose] - centre, cloud.r[pose])
        for cloud, pose, centre in zip(clouds, firsts, centres, strict=True)
    ]
    points = [int(bound.argmin()) for bound in _together(_bound, poses, outlines)]
    places = [
        (u[point : point + 1], r[point : point + 1])
        for (u, r), point in zip(poses, points, strict=True)
    ]
    known = _together(distances, places, outlines)
    return [
        np.flatnonzero(bound <= float(gap[0]) + beyond + SLACK)
        for bound, gap, beyond in zip(bounds, known, within, strict=True)
    ]


def _box_bound(low_u: Floats, high_u: Floats, low_r: Floats, outline: Outline) -> Floats:
    """Give a number (n,) that the signed distance of no point of a box is below."""
    across, out = outline.support_normals[:, :1], outline.support_normals[:, 1:]
    beyond = np.minimum(across * low_u, across * high_u) + out * low_r
    bound: Floats = (beyond - outline.support_distances[:, None]).max(axis=0)
    return bound


def _from_centre(cloud: Cloud, outline: Outline, which: Indices | slice = slice(None)) -> Cloud:
    """Give the named poses, counted from the outline's centre plane."""
    centre = outline.section.centre
    return Cloud(
        cloud.u[which] - centre,
        cloud.r[which],
        cloud.low_u[which] - centre,
        cloud.high_u[which] - centre,
        cloud.low_r[which],
    )


def _bounds(clouds: Sequence[Cloud], outlines: Sequence[Outline]) -> list[Floats]:
    """Give of each cloud a number (p, m) that the signed distance of no point is below."""
    places = [(cloud.u.ravel(), cloud.r.ravel()) for cloud in clouds]
    found = _together(_bound, places, outlines)
    return [bound.reshape(cloud.u.shape) for cloud, bound in zip(clouds, found, strict=True)]


def _bound(u: Floats, r: Floats, outline: Outline) -> Floats:
    """Give a number (n,) that the signed distance of no point is below, but for rounding."""
    rows = np.empty((3, len(u)))
    rows[0], rows[1], rows[2] = u, r, -1.0
    supports = np.column_stack((outline.support_normals, outline.support_distances))
    bound: Floats = (supports @ rows).max(axis=0)
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
    return _together(distances, places, outlines), chosen


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
    every = zip(asked, _together(distances, places, outlines), *known, strict=True)
    for which, distance, gap, point in every:
        gaps = np.full(which.shape, np.inf)
        gaps[np.arange(len(point)), point] = gap
        gaps[which] = distance
        found.append(GapSweep(gaps.min(axis=1), first_least(gaps)))
    return found


def _together(
    asked: Callable[..., Floats],
    places: Sequence[tuple[Floats, ...]],
    outlines: Sequence[Outline],
) -> list[Floats]:
    """Ask of each row of places against its outline, those of one outline in one go.

    places: counted from the centre plane, so that wheels that stand elsewhere are asked together.
    """
    together: dict[int, list[int]] = {}
    for at, outline in enumerate(outlines):
        together.setdefault(id(outline.centred), []).append(at)
    found: dict[int, Floats] = {}
    for which in together.values():
        asked_of = (places[at] for at in which)
        columns = [np.concatenate(column) for column in zip(*asked_of, strict=True)]
        ends = np.cumsum([len(places[at][0]) for at in which])[:-1].tolist()
        parts = np.split(asked(*columns, outlines[which[0]].centred), ends)
        found.update(zip(which, parts, strict=True))
    return [found[at] for at in range(len(places))]
