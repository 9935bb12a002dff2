"""Gaps between points of the car and the body of revolution that tyre and rim make.

A point of a body goes into the wheel frame of a pose, q = Rᵀ (b − t), and is reduced to u = q_y and
r = hypot(q_x, q_z). The distance to a body of revolution is the distance to its section in that
half-plane, so the gap is the signed distance to the outline polygon: positive free, negative
overlap. Room inside the barrel, below the outline's closing radius, counts as free here.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from math import cos, hypot, isfinite, radians, sin
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from generator.geometry.distance import (
    SLACK,
    distances,
    edges_of,
    lower_bound,
)
from generator.geometry.frames import Poses
from generator.geometry.outline import Outline, TyreSection, vertices
from generator.geometry.tyre import TREAD_SHARE, TREAD_SHARE_U, TyreDimensions
from generator.geometry.wheel import PositionWeights, WheelPosition
from generator.quantities.units import Deg, Mm, Ratio

Floats: TypeAlias = npt.NDArray[np.float64]
Indices: TypeAlias = npt.NDArray[np.intp]

_FIRST = 48
"""Nearest points by the bound that are measured first, to know what may be passed over."""
_STEP: Mm = 0.01
"""Half-width of the central difference of a vertex; vertices are smooth over millimetres."""


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


@dataclass(frozen=True)
class GapGradient:
    """A gap and its change per mm of everything that makes it, pure numbers.

    `site_u` and `site_r` are the site point's own; the rest are dimensions of the section.
    """

    gap: Mm
    site_u: Ratio
    site_r: Ratio
    centre: Ratio
    section_width: Ratio
    tread_width: Ratio
    diameter: Ratio
    rim_width: Ratio
    flange_inboard: Ratio
    flange_outboard: Ratio


def poses_to_ur(points: Floats, rotations: Floats, translations: Floats) -> Floats:
    """Give body-fixed points in the wheel's half-plane: (p, m, 2) mm, (u, r).

    points: (m, 3) mm. rotations: (p, 3, 3), wheel frame to body. translations: (p, 3) mm.
    Raises ValueError for a number that is not finite.
    Source: own derivation: q = Rᵀ (b − t), u = q_y, r = hypot(q_x, q_z).
    >>> level = np.eye(3).reshape(1, 3, 3)
    >>> poses_to_ur(np.array([[3.0, 92.0, 4.0]]), level, np.zeros((1, 3))).tolist()
    [[[92.0, 5.0]]]
    """
    u, r = _half_plane(points, rotations, translations)
    return np.stack((u, r), axis=-1)


def _half_plane(points: Floats, rotations: Floats, translations: Floats) -> tuple[Floats, Floats]:
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
    return _half_plane(points, poses.rotation, poses.translation)


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
    gap = float(distances(np.array([site.u]), np.array([site.r]), outline)[0])
    edges = edges_of(outline)
    start, along, length = edges.start, edges.along, edges.length
    to = np.array((site.u, site.r)) - start
    share = np.clip((to * along).sum(axis=1) / length, 0.0, 1.0)
    feet = start + share[:, None] * along
    edge = int(((start + to - feet) ** 2).sum(axis=1).argmin())
    u, r = (float(part) for part in feet[edge])
    away = (site.u - u, site.r - r) if abs(gap) > SLACK else (-along[edge, 1], along[edge, 0])
    size = hypot(*away) * (-1.0 if gap < -SLACK else 1.0)
    normal = (float(away[0]) / size, float(away[1]) / size)
    return Closest(gap, SectionPoint(u, r), edge, float(share[edge]), *normal)


def gap_gradient(site: SectionPoint, outline: Outline) -> GapGradient:
    """Give how a gap changes with each dimension of the section and with the site's own place.

    Model: to first order a gap changes by the normal part of how its nearest outline point moves;
    the vertices' motion is a central difference over 0.01 mm (one-sided where the section would
    stop to exist). Holds while the nearest edge stays the same.
    Source: own derivation: envelope theorem for a least distance.
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> over_crown = gap_gradient(SectionPoint(-24.0, 310.0), section_outline(EXAMPLE))
    >>> round(over_crown.diameter, 6), round(over_crown.site_r, 6)
    (-0.5, 1.0)
    """
    near = closest(site, outline)
    names = ("section_width", "tread_width", "diameter", "rim_width")
    flanges = ("flange_inboard", "flange_outboard")
    rates = {name: _rate(name, near, outline.section) for name in (*names, *flanges)}
    return GapGradient(
        gap=near.gap,
        site_u=near.normal_u,
        site_r=near.normal_r,
        centre=-near.normal_u,
        section_width=rates["section_width"],
        tread_width=rates["tread_width"],
        diameter=rates["diameter"],
        rim_width=rates["rim_width"],
        flange_inboard=rates["flange_inboard"],
        flange_outboard=rates["flange_outboard"],
    )


def _rate(name: str, near: Closest, section: TyreSection) -> Ratio:
    """Give the gap's change per mm of one dimension: how fast its foot comes towards the site."""
    speed = _speeds(name, section)
    after = (near.edge + 1) % len(speed)
    foot = (1.0 - near.share) * speed[near.edge] + near.share * speed[after]
    return -float(foot[0] * near.normal_u + foot[1] * near.normal_r)


@lru_cache(maxsize=96)
def _speeds(name: str, section: TyreSection) -> Floats:
    """Give how each vertex moves per mm of one dimension; kept, since many sites ask for it."""
    (low, least), (high, most) = (_vertices_at(name, section, by) for by in (-_STEP, _STEP))
    return (high - low) / (most - least)


def _vertices_at(name: str, section: TyreSection, by: Mm) -> tuple[Floats, Mm]:
    value: Mm = getattr(section, name)
    try:
        return vertices(replace(section, **{name: value + by})), by
    except ValueError:
        return vertices(section), 0.0


def gap_uncertainty(gradient: GapGradient, position: WheelPosition, tyre: TyreDimensions) -> Mm:
    """Give the standard uncertainty of a gap from wheel and tyre; the site's own is not in it.

    Model: first order. What wheel position shares (one flange in offset and lip) stays correlated;
    a tread nobody measured goes with the section and with the spread of its usual share.
    Source: [GUM] 5.1.2 and 5.2.2.
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> from generator.geometry.tyre import nominal_dimensions
    >>> from generator.geometry.wheel import WheelDimensions, wheel_position
    >>> from generator.quantities.estimate import Basis, Estimate
    >>> exact = lambda mm: Estimate(mm, 0.0, Basis.MEASURED)
    >>> place = wheel_position(WheelDimensions(exact(152.4), offset=exact(24.0)), exact(0.0))
    >>> over_crown = gap_gradient(SectionPoint(-24.0, 310.0), section_outline(EXAMPLE))
    >>> round(gap_uncertainty(over_crown, place, nominal_dimensions(201.0, 609.0)), 6)
    2.5
    """
    weights = PositionWeights(
        centre_plane=gradient.centre,
        width=gradient.rim_width,
        flange_inboard=gradient.flange_inboard,
        flange_outboard=gradient.flange_outboard,
    )
    section, tread = tyre.section_width, gradient.tread_width
    if tyre.tread_width is None:
        across = gradient.section_width + TREAD_SHARE * tread
        tread_part = tread * TREAD_SHARE_U * section.value
    else:
        across, tread_part = gradient.section_width, tread * tyre.tread_width.u
    tyre_part = hypot(across * section.u, tread_part, gradient.diameter * tyre.diameter.u)
    return hypot(position.uncertainty(weights), tyre_part)


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
