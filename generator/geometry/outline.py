"""The section of tyre and rim in the (u, r) half-plane, as a closed polygon.

u along the spin axis from the hub's mounting face, outboard positive; r from the spin axis; mm.
One half, from the closing line up to the crown (x counts from the centre plane, h = W/2 + t):

    (0, D/2)  crown: a circular arc, level at the centre
       (T/2, D/2 − drop)  tread edge: a parabola takes over with the arc's tangent
          (S/2, half section height)  widest point, tangent upright; convex from here to the crown
       (W/2, flange top)  bead: a second parabola ends here
          (h, flange top) (h, closing radius)  lip, square; its real rounding leaves more room

The region is the union of tyre and rim, so that whichever stands out further is met first. It is
closed at the radius of the drop centre: the rim counts as solid down to there over its whole width,
and the room inside the barrel (hub, brakes, spokes) is left to `brake`.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from math import atan2, hypot
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from generator.frozen import dataclass
from generator.geometry.tyre import TyreDimensions
from generator.geometry.wheel import WheelPosition
from generator.quantities.units import Mm, Ratio

Floats: TypeAlias = npt.NDArray[np.float64]

FLANGE_HEIGHT: Mm = 17.3
"""Top of a J flange above the bead seat [ISO4000-2], from memory."""
DROP_CENTRE_DEPTH: Mm = 17.5
"""Inside of the barrel under the bead seat, cast wheels of 14 to 16 in [PRACTICE]."""
TREAD_EDGE_DROP: Ratio = 0.03
"""Fall of the crown from its middle to the tread edge over the tread width: assumed."""
_Place: TypeAlias = tuple[Mm, Mm]
_Arc: TypeAlias = tuple[float, Mm, Mm]

CROWN_STEPS = 8
SHOULDER_STEPS = 20
SIDEWALL_STEPS = 14
"""Chords a half; fixed, so that a vertex moves smoothly with every dimension."""
SUPPORTS = 13
"""Directions of the supporting lines that bound the polygon from both sides and from above."""


@dataclass(frozen=True)
class TyreSection:
    """Dimensions of tyre and rim in section; `centre` is the wheel's centre plane in u.

    All above zero except centre, and flanges that may be zero. Raises ValueError where no such
    section exists: tread wider than the tyre, flange top above the widest point, shoulder below it.
    """

    centre: Mm
    section_width: Mm
    tread_width: Mm
    diameter: Mm
    rim_width: Mm
    bead_seat_diameter: Mm
    flange_inboard: Mm
    flange_outboard: Mm
    flange_height: Mm = FLANGE_HEIGHT
    barrel_depth: Mm = DROP_CENTRE_DEPTH

    def __post_init__(self) -> None:
        if not self.flange_inboard >= 0.0 or not self.flange_outboard >= 0.0:
            raise ValueError("a flange is zero or thicker")
        if not 0.0 < self.tread_width <= self.section_width:
            raise ValueError("the tread is wider than zero and no wider than the section")
        if not (self.rim_width > 0.0 and 0.0 < self.barrel_depth < self.bead_seat_diameter / 2.0):
            raise ValueError("a rim has width and a barrel outside the spin axis")
        if not self.flange_top < self.widest_radius < self.shoulder_control:
            raise ValueError("the tyre needs a sidewall between its flange and its shoulder")
        if not abs(self.centre) < float("inf"):
            raise ValueError("the centre plane needs a finite place")

    @property
    def flange_top(self) -> Mm:
        """Radius of the flange's top, where the tyre leaves the rim."""
        return self.bead_seat_diameter / 2.0 + self.flange_height

    @property
    def widest_radius(self) -> Mm:
        """Radius of the widest point: half section height above the bead seat."""
        return (self.diameter + self.bead_seat_diameter) / 4.0

    @property
    def closing_radius(self) -> Mm:
        """Radius down to which the rim counts as solid."""
        return self.bead_seat_diameter / 2.0 - self.barrel_depth

    @property
    def tread_edge_radius(self) -> Mm:
        """Radius of the tread's edge."""
        return self.diameter / 2.0 - TREAD_EDGE_DROP * self.tread_width

    @property
    def crown_radius(self) -> Mm:
        """Radius of the crown's arc through its middle and both tread edges."""
        drop = TREAD_EDGE_DROP * self.tread_width
        return (self.tread_width**2 / 4.0 + drop**2) / (2.0 * drop)

    @property
    def shoulder_control(self) -> Mm:
        """Radius at which the tread edge's tangent meets the upright through the widest point."""
        below = self.crown_radius - TREAD_EDGE_DROP * self.tread_width
        slope = self.tread_width / 2.0 / below
        return self.tread_edge_radius - slope * (self.section_width - self.tread_width) / 2.0


@dataclass(frozen=True, eq=False)
class Outline:
    """Closed polygon of tyre and rim, clockwise with u to the right and r up.

    points: (k, 2) mm, (u, r), not repeated at the end, read-only. support_normals (s, 2), pure,
    and support_distances (s,) mm: lines n·p = h that touch the polygon from outside. level: the
    same with its centre plane at the hub's face, from which it was moved; None for that one itself.
    """

    section: TyreSection
    points: Floats
    support_normals: Floats
    support_distances: Floats
    level: "Outline | None" = None

    @property
    def centred(self) -> "Outline":
        """Give the same with its centre plane at the hub's face: one object for all alike."""
        return self.level or self

    def at(self, u_shift: Mm) -> "Outline":
        """Give the outline moved along the spin axis, outboard positive.

        Source: own derivation: a shift carries all vertices; n·(p + s) = h + n·s.
        >>> outline = section_outline(EXAMPLE)
        >>> float((outline.at(5.0).points - outline.points)[:, 0].min())
        5.0
        """
        moved = replace(self.section, centre=self.section.centre + u_shift)
        shift = np.array([u_shift, 0.0])
        return Outline(
            moved,
            _locked(self.points + shift),
            self.support_normals,
            _locked(self.support_distances + self.support_normals @ shift),
            self.centred,
        )


EXAMPLE = TyreSection(
    centre=-24.0,
    section_width=201.0,
    tread_width=172.0,
    diameter=609.0,
    rim_width=152.4,
    bead_seat_diameter=354.8,
    flange_inboard=12.7,
    flange_outboard=12.7,
)
"""A section for the examples in the text: 195/65 R14 on 6 J × 14, offset 24."""


def tyre_section(
    position: WheelPosition, tyre: TyreDimensions, *, bead_seat_diameter: Mm
) -> TyreSection:
    """Give the section of a tyre on a wheel in place, from best values.

    An unmeasured tread is the usual share of the section; one measured wider than the section
    widens it; a flange that measurements make thinner than nothing is taken as zero.
    bead_seat_diameter: by rim code, > 0. Raises ValueError where no section exists.
    Source: own derivation: values of the estimates, shape by the head of this module.
    >>> from generator.geometry.tyre import nominal_dimensions
    >>> from generator.geometry.wheel import WheelDimensions, wheel_position
    >>> from generator.quantities.estimate import Basis, Estimate
    >>> wheel = WheelDimensions(
    ...     Estimate(152.4, 0.5, Basis.STAMPED), offset=Estimate(24.0, 1.0, Basis.STAMPED)
    ... )
    >>> place = wheel_position(wheel, Estimate(0.0, 0.0, Basis.MEASURED))
    >>> tyre_section(place, nominal_dimensions(201.0, 609.0), bead_seat_diameter=354.8).centre
    -24.0
    """
    tread = tyre.tread().value
    return TyreSection(
        centre=position.centre_plane.value,
        section_width=max(tyre.section_width.value, tread),
        tread_width=tread,
        diameter=tyre.diameter.value,
        rim_width=position.width.value,
        bead_seat_diameter=bead_seat_diameter,
        flange_inboard=max(position.flange_inboard.value, 0.0),
        flange_outboard=max(position.flange_outboard.value, 0.0),
    )


def section_outline(section: TyreSection) -> Outline:
    """Give the outline polygon of a section.

    Model: see the head of this module; the polygon is inscribed in the smooth curve and errs by
    less than 0.1 mm up to 1000 mm in diameter with a rim within 140 mm of the section's width.
    Source: own derivation: arc and parabolas with matched tangents through the section's points;
    a chord of a parabola errs by |P0 − 2 P1 + P2| / 4 n², one of an arc by s² / 8R.
    >>> outline = section_outline(EXAMPLE)
    >>> float(outline.points[:, 0].min()), float(outline.points[:, 1].max())
    (-124.5, 304.5)
    """
    return _centred(replace(section, centre=0.0)).at(section.centre)


@lru_cache(maxsize=256)
def _centred(section: TyreSection) -> Outline:
    points = vertices(section)
    turn = np.linspace(0.0, np.pi, SUPPORTS)
    normals = np.column_stack((np.cos(turn), np.sin(turn)))
    distances = (points @ normals.T).max(axis=0)
    return Outline(section, _locked(points), _locked(normals), _locked(distances))


def vertices(section: TyreSection) -> Floats:
    """Give the vertices (k, 2) mm alone, in the order of `section_outline`.

    Source: own derivation: as `section_outline`.
    >>> vertices(EXAMPLE).shape == section_outline(EXAMPLE).points.shape
    True
    """
    placed: Floats = many_vertices((section,))[0]
    return placed


def many_vertices(sections: Sequence[TyreSection]) -> Floats:
    """Give the vertices (n, k, 2) mm of n sections at once.

    Source: own derivation: as `section_outline`.
    >>> len(many_vertices((EXAMPLE, EXAMPLE)))
    2
    """
    return _polygons(sections, steps=(CROWN_STEPS, SHOULDER_STEPS, SIDEWALL_STEPS))


def finer_vertices(section: TyreSection, times: int) -> Floats:
    """Give the polygon with so many times the chords, to show how far the usual one errs.

    times: >= 1. Source: own derivation: as `section_outline`.
    >>> len(finer_vertices(EXAMPLE, 2)) > len(vertices(EXAMPLE))
    True
    """
    steps = (CROWN_STEPS * times, SHOULDER_STEPS * times, SIDEWALL_STEPS * times)
    placed: Floats = _polygons((section,), steps=steps)[0]
    return placed


def _polygons(sections: Sequence[TyreSection], *, steps: tuple[int, int, int]) -> Floats:
    curve = _half_curves(sections, steps)
    outboard = np.concatenate((_lips(sections, 1.0), curve[:, :-1]), axis=1)
    inboard = np.concatenate((_lips(sections, -1.0), curve), axis=1) * (-1.0, 1.0)
    polygons: Floats = np.concatenate((inboard, outboard[:, ::-1]), axis=1)
    polygons[..., 0] += np.array([section.centre for section in sections])[:, None]
    return polygons


def _lips(sections: Sequence[TyreSection], way: Ratio) -> Floats:
    """Give both corners of a lip (n, 2, 2), x from the centre plane; way: 1 the outboard one."""
    return np.array(
        [
            ((edge, section.closing_radius), (edge, section.flange_top))
            for section in sections
            for flange in (section.flange_outboard if way > 0.0 else section.flange_inboard,)
            for edge in (section.rim_width / 2.0 + flange,)
        ]
    )


def _half_curves(sections: Sequence[TyreSection], steps: tuple[int, int, int]) -> Floats:
    """Give the tyre's half from bead to crown (n, m, 2), x from the centre plane."""
    crown_steps, shoulder_steps, sidewall_steps = steps
    beads, bows, widest, controls, edges, arcs = zip(
        *(_corners(section) for section in sections), strict=True
    )
    sidewall = _parabolas((beads, bows, widest), sidewall_steps)
    shoulder = _parabolas((widest, controls, edges), shoulder_steps)
    first, middle, crown = (np.array(each)[:, None] for each in zip(*arcs, strict=True))
    angles = np.linspace(first[:, 0], 0.0, crown_steps + 1, axis=1)
    arc = np.stack((crown * np.sin(angles), middle + crown * np.cos(angles)), axis=-1)
    return np.concatenate((sidewall[:, :-1], shoulder[:, :-1], arc), axis=1)


def _corners(section: TyreSection) -> tuple[_Place, _Place, _Place, _Place, _Place, _Arc]:
    """Give bead, the sidewall's control, widest point, the shoulder's control, tread edge, crown.

    The crown's arc is given by its first angle, the height of its middle, and its radius.
    """
    half, tread = section.section_width / 2.0, section.tread_width / 2.0
    widest, flange = section.widest_radius, section.flange_top
    edge = (tread, section.tread_edge_radius)
    crown = section.crown_radius
    middle = section.diameter / 2.0 - crown
    return (
        (section.rim_width / 2.0, flange),
        (half, (widest + flange) / 2.0),
        (half, widest),
        (half, section.shoulder_control),
        edge,
        (atan2(tread, edge[1] - middle), middle, crown),
    )


def _parabolas(corners: tuple[Sequence[_Place], ...], steps: int) -> Floats:
    share = np.linspace(0.0, 1.0, steps + 1)[:, None]
    p0, p1, p2 = (np.array(each)[:, None, :] for each in corners)
    curve: Floats = (1.0 - share) ** 2 * p0 + 2.0 * share * (1.0 - share) * p1 + share**2 * p2
    return curve


def largest_deviation(section: TyreSection) -> Mm:
    """Give the bound of the distance between the polygon and the smooth curve.

    Source: own derivation: chord errors as in `section_outline`.
    >>> largest_deviation(EXAMPLE) < 0.1
    True
    """
    half, tread = section.section_width / 2.0, section.tread_width / 2.0
    rim, control = section.rim_width / 2.0, section.shoulder_control
    shoulder = hypot(
        tread - half, section.widest_radius - 2.0 * control + section.tread_edge_radius
    )
    turn = atan2(tread, section.crown_radius - TREAD_EDGE_DROP * section.tread_width)
    crown = section.crown_radius * (turn / CROWN_STEPS) ** 2 / 8.0
    sidewall = abs(rim - half) / (4.0 * SIDEWALL_STEPS**2)
    return max(crown, sidewall, shoulder / (4.0 * SHOULDER_STEPS**2))


def _locked(values: Floats) -> Floats:
    values.flags.writeable = False
    return values
