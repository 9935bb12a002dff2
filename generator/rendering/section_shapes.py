"""Shapes in the half-plane (u, r) of a hub: tyre, rim, disc, brake, and sites near the section.

u outboard of the sheet's hub face, r (for sites z) above the spin axis, mm. The shapes of rim and
disc between their dimensions are drawn as usual, not measured: captions say so.
"""

from collections.abc import Iterator
from itertools import pairwise
from math import atan2, degrees, sqrt

from generator.assessment.fit import Fit
from generator.frozen import dataclass
from generator.geometry.outline import (
    DROP_CENTRE_DEPTH,
    FLANGE_HEIGHT,
    section_outline,
    tyre_section,
)
from generator.geometry.wheel import WheelPosition
from generator.published import tables
from generator.quantities.rim_size import RimSize
from generator.quantities.span import Extent, Ramp
from generator.quantities.units import Mm, Ratio
from generator.records.axle_sheet import Brake
from generator.records.site_sheet import Arc, Block, Corner, SiteSheet
from generator.rendering.layout import Half

NEAR: Mm = 60.0
"""A site is drawn if it comes this near the section, fore or aft; tyres hardly curve that far."""
_SMALLEST: Mm = 7.0
"""Breadth at which a point or edge is drawn, so that it can be seen."""
_WALL: Mm = 6.0
_TYRE_WALL: Mm = 9.0
_TREAD: Mm = 15.0
_HUB_RADIUS: Mm = 30.0
_PAD_RADIUS: Mm = 76.0
_PAD: Mm = 12.0
_SEAT: Mm = 22.0
FACE_RADIUS: Mm = 76.0
"""How far out the hub's mounting face is drawn."""
SPACER_RADII: tuple[Mm, Mm] = (32.0, 74.0)
"""From where to where a spacer is drawn."""

Shape = tuple[Half, ...]


@dataclass(frozen=True)
class TyreShape:
    """A tyre cut open: its outside, and the air inside it."""

    outside: Shape
    inside: Shape


def bead_seat(size: RimSize) -> Mm | None:
    """Give the diameter of a rim's bead seat; None for a rim code without a published one."""
    try:
        return tables.bead_seat_diameter(size.diameter_code)
    except LookupError:
        return None


def tyre_shape(fit: Fit, bead: Mm | None, moved: Mm) -> TyreShape | None:
    """Give a tyre in section; None if its dimensions are not known or make no tyre."""
    if fit.wheel is None or fit.tyre is None or bead is None:
        return None
    try:
        section = tyre_section(fit.wheel, fit.tyre, bead_seat_diameter=bead)
    except ValueError:
        return None
    lips = 2
    outline = section_outline(section).points[lips:-lips]
    outside = tuple((float(u) + moved, float(r)) for u, r in outline)
    centre, low = section.centre + moved, section.bead_seat_diameter / 2.0 + _TREAD
    across = 1.0 - 2.0 * _TYRE_WALL / section.section_width
    upward = 1.0 - _TREAD / (section.diameter / 2.0 - low)
    inside = tuple(
        (centre + (u - centre) * across, low + (r - low) * upward) for u, r in outside if r > low
    )
    return TyreShape(outside, inside)


def rim_shape(wheel: WheelPosition, bead: Mm, moved: Mm) -> Shape:
    """Give a rim in section, from the inboard lip over both bead seats to the outboard lip."""
    seat, top = bead / 2.0, bead / 2.0 + FLANGE_HEIGHT
    well = seat - DROP_CENTRE_DEPTH
    inner, outer = wheel.inboard_lip.value + moved, wheel.outboard_lip.value + moved
    low, high = inner + wheel.flange_inboard.value, outer - wheel.flange_outboard.value
    middle = (low + high) / 2.0
    above = (
        (inner, top), (low, top), (low, seat), (low + _SEAT, seat), (middle - 14.0, well),
        (middle + 14.0, well), (high - _SEAT, seat), (high, seat), (high, top), (outer, top),
    )  # fmt: skip
    below = (
        (outer, seat - _WALL), (high - _SEAT, seat - _WALL), (middle + 12.0, well - _WALL),
        (middle - 12.0, well - _WALL), (low + _SEAT, seat - _WALL), (inner, seat - _WALL),
    )  # fmt: skip
    return (*above, *below)


def disc_shape(wheel: WheelPosition, bead: Mm, face: Mm, back: Half | None) -> Shape:
    """Give the disc from its mounting face to the barrel; `back` is a measured place of spokes."""
    seat = bead / 2.0 - _WALL
    end = wheel.outboard_lip.value - wheel.flange_outboard.value - _SEAT - 4.0
    end += face - (wheel.inboard_lip.value + wheel.backspacing.value)
    u, r = back or (min(max(face + 16.0, end - 8.0), max(face, end)), seat * 0.75)
    return (
        (face, _HUB_RADIUS), (face, _PAD_RADIUS), (u, r), (end, seat), (end + _PAD, seat),
        (u + _PAD, r), (face + _PAD, _PAD_RADIUS), (face + _PAD, _HUB_RADIUS),
    )  # fmt: skip


def brake_shape(brake: Brake) -> Shape:
    """Give the outline of the brake as the sheet has it, from the hub outward."""
    return tuple((point.y.value, point.r.value) for point in brake.outline)


@dataclass(frozen=True)
class SiteShape:
    """A site where the section cuts it or nearly so."""

    points: Shape
    is_line: bool = False


def site_shape(site: SiteSheet, lowered: Mm) -> SiteShape | None:
    """Give a site near the section and above the axis; None for one elsewhere or without a shape.

    `lowered` is how far the body came down over the hub, for a site that is part of it.
    """
    if site.arc is not None:
        shape = _arc(site.arc)
    elif site.block is not None:
        shape = _block(site.block)
    elif site.line is not None:
        shape = _line(site.line)
    else:
        shape = None
    if shape is None:
        return None
    points = tuple((u, z - lowered) for u, z in shape.points)
    return SiteShape(points, shape.is_line) if max(z for _, z in points) > 0.0 else None


def _arc(arc: Arc) -> SiteShape | None:
    across = -arc.x.value
    radius = arc.radius.value
    if not abs(across) < radius:
        return None
    height = sqrt(radius * radius - across * across)
    angle = degrees(atan2(height, across))
    begin, end = arc.begin.value, arc.end.value
    if not begin <= angle <= end:
        return None
    share = (angle - begin) / (end - begin) if end > begin else 0.0
    low, high = _at(arc.y, share)
    z = arc.z.value + height
    return SiteShape(_box(low, high, z, z + _SMALLEST))


def _block(block: Block) -> SiteShape | None:
    if isinstance(block.x, Ramp):
        low, high = sorted((block.x.start, block.x.end))
    else:
        low, high = block.x.low, block.x.high
    if low > NEAR or high < -NEAR:
        return None
    if isinstance(block.y, Ramp) and isinstance(block.z, Ramp):
        start, end = (block.y.start, block.z.start), (block.y.end, block.z.end)
        back = -_SMALLEST if block.y.start < 0.0 else _SMALLEST
        return SiteShape((start, end, (end[0] + back, end[1]), (start[0] + back, start[1])))
    return SiteShape(_box(*_ends(block.y), *_ends(block.z)))


def _line(line: tuple[Corner, ...]) -> SiteShape | None:
    near = [corner for corner in line if abs(corner.x.value) <= NEAR]
    points = [(corner.y.value, corner.z.value) for corner in near] or list(_crossings(line))
    if not points:
        return None
    if len(points) == 1:
        (u, z) = points[0]
        return SiteShape(_box(u, u, z, z))
    return SiteShape(tuple(points), is_line=True)


def _crossings(line: tuple[Corner, ...]) -> Iterator[Half]:
    """Give where the pieces of a line pass through the section itself."""
    for one, other in pairwise(line):
        before, after = one.x.value, other.x.value
        if before * after < 0.0:
            share = before / (before - after)
            yield (
                one.y.value + share * (other.y.value - one.y.value),
                one.z.value + share * (other.z.value - one.z.value),
            )


def _ends(coordinate: Extent | Ramp) -> tuple[Mm, Mm]:
    if isinstance(coordinate, Ramp):
        low, high = sorted((coordinate.start, coordinate.end))
        return low, high
    return coordinate.low, coordinate.high


def _at(coordinate: Extent | Ramp, share: Ratio) -> tuple[Mm, Mm]:
    if isinstance(coordinate, Ramp):
        here = coordinate.start + share * (coordinate.end - coordinate.start)
        return here, here
    return coordinate.low, coordinate.high


def _box(low: Mm, high: Mm, bottom: Mm, top: Mm) -> Shape:
    """Give a box, widened about its middle where it is too small to be seen."""
    wide = max(0.0, _SMALLEST - (high - low)) / 2.0
    tall = max(0.0, _SMALLEST - (top - bottom)) / 2.0
    left, right, under, over = low - wide, high + wide, bottom - tall, top + tall
    return ((left, under), (right, under), (right, over), (left, over))
