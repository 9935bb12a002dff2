"""Gaps between points of the car and the body of revolution that tyre and rim make.

A point of a body goes into the wheel frame of a pose, q = Rᵀ (b − t), and is reduced to u = q_y and
r = hypot(q_x, q_z). The distance to a body of revolution is the distance to its section in that
half-plane, so the gap is the signed distance to the outline polygon: positive free, negative
overlap. Room inside the barrel, below the outline's closing radius, counts as free here.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import cos, isfinite, radians, sin
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from generator.frozen import dataclass
from generator.geometry.distance import SLACK, distances, edges_of, lower_bound
from generator.geometry.frames import Poses
from generator.geometry.outline import Outline
from generator.quantities.units import Deg, Mm, Ratio

Floats: TypeAlias = npt.NDArray[np.float64]
Indices: TypeAlias = npt.NDArray[np.intp]

_FIRST = 48
"""Nearest points by the bound that are measured first, to know what may be passed over."""


@dataclass(frozen=True)
class SectionPoint:
    """A point in the wheel's half-plane: u outboard from the mounting face, r from the axis.

    Raises ValueError for a number that is not finite.
    """

    u: Mm
    r: Mm

    def __post_init__(self) -> None:
        if not (isfinite(self.u) and isfinite(self.r)):
            raise ValueError(f"a section point needs finite numbers, got ({self.u}, {self.r})")


@dataclass(frozen=True)
class LeastGap:
    """The least gap of a set of points over poses: where it is and what of the outline is near."""

    gap: Mm
    pose: int
    point: int
    site: SectionPoint
    foot: SectionPoint


@dataclass(frozen=True, eq=False)
class GapSweep:
    """The least gap in each pose: gaps (p,) mm and the point that has it, points (p,)."""

    gaps: Floats
    points: Indices


def poses_to_ur(points: Floats, rotations: Floats, translations: Floats) -> Floats:
    """Give body-fixed points in the wheel's half-plane: (p, m, 2) mm, (u, r).

    points: (m, 3) mm. rotations: (p, 3, 3), wheel frame to body. translations: (p, 3) mm.
    Raises ValueError for a number that is not finite.
    Source: own derivation: q = Rᵀ (b − t), u = q_y, r = hypot(q_x, q_z).
    >>> level = np.eye(3).reshape(1, 3, 3)
    >>> poses_to_ur(np.array([[3.0, 92.0, 4.0]]), level, np.zeros((1, 3))).tolist()
    [[[92.0, 5.0]]]
    """
    u, r = half_plane(points, rotations, translations)
    return np.stack((u, r), axis=-1)


def half_plane(points: Floats, rotations: Floats, translations: Floats) -> tuple[Floats, Floats]:
    """Give the same as `poses_to_ur` in two parts, u and r (p, m) mm.

    Source: own derivation: see `poses_to_ur`.
    >>> level = np.eye(3).reshape(1, 3, 3)
    >>> half_plane(np.array([[3.0, 92.0, 4.0]]), level, np.zeros((1, 3)))[0].tolist()
    [[92.0]]
    """
    if not all(np.isfinite(given).all() for given in (points, rotations, translations)):
        raise ValueError("a gap needs finite points and poses")
    body = points.T
    carried = np.einsum("pi,pij->pj", translations, rotations)
    x, y, z = (rotations[:, :, axis] @ body - carried[:, axis, None] for axis in range(3))
    return y, np.sqrt(x * x + z * z)


def least_gap(points: Floats, poses: Poses, outline: Outline) -> LeastGap:
    """Give the least gap of body-fixed points over all poses, exact to the polygon.

    Model: points whose lower bound lies above a gap already found cannot have the least one and
    are passed over. points: (m, 3) mm in the frame that the poses are seen from, m > 0.
    Raises ValueError for no points, no poses, and numbers that are not finite.
    Source: own derivation: bounds by `lower_bound`, distances by `signed_distance`.
    >>> from generator.geometry.frames import labelled, positions, still
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> lip = np.array([[0.0, 92.0, 374.0], [0.0, -24.0, 360.0]])
    >>> level = labelled(still(1), positions(0.0))
    >>> worst = least_gap(lip, level, section_outline(EXAMPLE))
    >>> worst.point, round(worst.gap, 6)
    (1, 55.5)
    """
    u, r = _seen(points, poses)
    flat_u, flat_r = u.ravel(), r.ravel()
    bound = lower_bound(flat_u, flat_r, outline)
    first = np.argpartition(bound, _FIRST)[:_FIRST] if len(bound) > _FIRST else slice(None)
    known = distances(flat_u[first], flat_r[first], outline).min()
    chosen = np.flatnonzero(bound <= known + SLACK)
    gaps = distances(flat_u[chosen], flat_r[chosen], outline)
    at = int(chosen[np.argmin(gaps)])
    site = SectionPoint(float(flat_u[at]), float(flat_r[at]))
    pose, point = divmod(at, len(points))
    return LeastGap(float(gaps.min()), pose, point, site, closest(site, outline).foot)


def gaps_by_pose(points: Floats, poses: Poses, outline: Outline) -> GapSweep:
    """Give the least gap of body-fixed points in each pose, exact to the polygon.

    Arguments and exceptions as for `least_gap`.
    Source: own derivation: as `least_gap`, pose by pose.
    >>> from generator.geometry.frames import labelled, positions, still
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> level = labelled(still(2), positions([0.0, 0.0]))
    >>> lip = np.array([[0.0, -24.0, 364.5]])
    >>> gaps_by_pose(lip, level, section_outline(EXAMPLE)).gaps.round(6).tolist()
    [60.0, 60.0]
    """
    u, r = _seen(points, poses)
    bound = lower_bound(u, r, outline)
    rows = np.arange(len(u))
    nearest = bound.argmin(axis=1)
    known = distances(u[rows, nearest], r[rows, nearest], outline)
    gaps = np.full(u.shape, np.inf)
    gaps[rows, nearest] = known
    chosen = (bound <= known[:, None] + SLACK) & np.isinf(gaps)
    gaps[chosen] = distances(u[chosen], r[chosen], outline)
    return GapSweep(gaps.min(axis=1), gaps.argmin(axis=1))


def _seen(points: Floats, poses: Poses) -> tuple[Floats, Floats]:
    if len(points) == 0 or len(poses) == 0:
        raise ValueError("a gap needs at least one point and one pose")
    return half_plane(points, poses.rotation, poses.translation)


def densify(polyline: Floats, max_step: Mm) -> Floats:
    """Give points along a polyline, its own vertices among them, no two further than max_step.

    Limits: distance to a body changes by no more than the way gone, so the gap of the line is at
    most max_step / 2 below the least gap of its points; against a face of curvature radius ρ it is
    about max_step² / 8ρ below. polyline: (n, d) mm, n > 0. max_step: > 0.
    Raises ValueError outside these.
    Source: own derivation: triangle inequality; sagitta of an arc.
    >>> densify(np.array([[0.0, 0.0, 0.0], [0.0, 0.0, 10.0]]), 4.0)[:, 2].round(3).tolist()
    [0.0, 3.333, 6.667, 10.0]
    """
    if len(polyline) == 0 or not max_step > 0.0 or not np.isfinite(polyline).all():
        raise ValueError("a line needs finite points and a step above zero")
    pieces = [polyline[:1]]
    for start, end in pairwise(polyline):
        count = max(1, int(np.ceil(float(np.linalg.norm(end - start)) / max_step)))
        share = np.arange(1, count + 1)[:, None] / count
        pieces.append(start + share * (end - start))
    return np.concatenate(pieces)


@dataclass(frozen=True)
class Closest:
    """The outline's point nearest to a site point, the edge it lies on, and the way between.

    `share` runs along the edge; (`normal_u`, `normal_r`) points from the outline outwards.
    """

    gap: Mm
    foot: SectionPoint
    edge: int
    share: Ratio
    normal_u: Ratio
    normal_r: Ratio


def closest(site: SectionPoint, outline: Outline) -> Closest:
    """Give the outline's nearest point to a site point.

    Source: own derivation: foot of the perpendicular on the nearest edge, or its end.
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> near = closest(SectionPoint(-24.0, 310.0), section_outline(EXAMPLE))
    >>> round(near.gap, 6), near.foot
    (5.5, SectionPoint(u=-24.0, r=304.5))
    """
    return all_closest((site,), outline)[0]


def all_closest(sites: Sequence[SectionPoint], outline: Outline) -> list[Closest]:
    """Give the outline's nearest point to each site point.

    Source: own derivation: as `closest`.
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> above = [SectionPoint(-24.0, 310.0), SectionPoint(-24.0, 315.0)]
    >>> [each.foot.r for each in all_closest(above, section_outline(EXAMPLE))]
    [304.5, 304.5]
    """
    rows = np.array([(site.u, site.r) for site in sites])
    edges = edges_of(outline)
    gaps = distances(rows[:, 0].copy(), rows[:, 1].copy(), outline)
    to = rows[:, None, :] - edges.start
    share = (to * edges.along).sum(axis=2) / edges.length
    np.minimum(np.maximum(share, 0.0, out=share), 1.0, out=share)
    feet = edges.start + share[..., None] * edges.along
    nearest = ((rows[:, None, :] - feet) ** 2).sum(axis=2).argmin(axis=1)
    every = np.arange(len(rows))
    feet, share = feet[every, nearest], share[every, nearest]
    away = np.where(
        np.abs(gaps)[:, None] > SLACK, rows - feet, edges.along[nearest][:, ::-1] * (-1.0, 1.0)
    )
    normals = away / (np.hypot(*away.T) * np.where(gaps < -SLACK, -1.0, 1.0))[:, None]
    columns = (gaps, feet, nearest, share, normals)
    return [
        Closest(gap, SectionPoint(*foot), edge, along, *normal)
        for gap, foot, edge, along, normal in zip(*(each.tolist() for each in columns), strict=True)
    ]


def cover_sector(
    tyre_radius: Mm, *, ahead: Deg, behind: Deg
) -> tuple[tuple[Mm, Mm], tuple[Mm, Mm]]:
    """Give the ends (x, z) from the wheel centre of the tread arc that a wheel guard must cover.

    ahead, behind: angles from the vertical, 0 to 90.
    Source: [EU2021-535] wheel guards, 30° ahead to 50° behind; own derivation: points of a circle.
    >>> ends = cover_sector(316.0, ahead=30.0, behind=50.0)
    >>> [tuple(round(part, 1) for part in end) for end in ends]
    [(158.0, 273.7), (-242.1, 203.1)]
    """
    front, rear = radians(ahead), radians(behind)
    return (
        (tyre_radius * sin(front), tyre_radius * cos(front)),
        (-tyre_radius * sin(rear), tyre_radius * cos(rear)),
    )
