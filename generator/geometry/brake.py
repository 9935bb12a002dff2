"""Brake and hub inside the wheel: gaps to barrel and spokes, pilot, snout and cap.

Lines lie in the (u, r) half-plane, mm: u from the face its part bolts to, outboard positive, r from
the spin axis. The brake's line is fixed to the hub's mounting face, the wheel's lines to its own
pad; a spacer moves the wheel's lines outboard by its thickness. A line is the largest extent swept
round the axis, so that brake and wheel are compared wherever the wheel is turned. Gaps are positive
free, negative overlap.
"""

from collections.abc import Callable
from itertools import pairwise
from math import fsum, hypot, isfinite
from typing import TypeAlias

from generator.frozen import dataclass
from generator.quantities.estimate import Basis, Estimate, weakest
from generator.quantities.units import Mm, Ratio

BARREL_SLOPE_U: Ratio = 0.2
"""Change of a barrel's radius per mm along the axis where its shape is not known: assumed."""
SPOKE_SLOPE_U: Ratio = 0.1
"""Departure of a spoke gap from moving one to one with the spacer, shape not known: assumed."""
_TOLERANCE: Mm = 1e-9
_REACH: Mm = 500.0
"""Half-length of a level line where nobody drew the wheel's: longer than any wheel is wide."""

LinePoint: TypeAlias = tuple[Mm, Mm]
"""u, r."""


@dataclass(frozen=True)
class SectionLine:
    """A polyline (u, r) in order along the part.

    Raises ValueError for no point, a number that is not finite, a radius below zero.
    """

    points: tuple[LinePoint, ...]

    def __post_init__(self) -> None:
        if not self.points:
            raise ValueError("a line needs at least one point")
        if not all(isfinite(u) and isfinite(r) and r >= 0.0 for u, r in self.points):
            raise ValueError("a line needs finite points with radii of zero or more")

    def moved(self, u: Mm, r: Mm = 0.0) -> "SectionLine":
        """Give the line moved outboard by u and away from the axis by r."""
        return SectionLine(tuple((at_u + u, at_r + r) for at_u, at_r in self.points))


@dataclass(frozen=True)
class BrakeGap:
    """A gap between brake and wheel and the two points, both from the hub's mounting face."""

    gap: Mm
    brake: LinePoint
    wheel: LinePoint


def barrel_gap(brake: SectionLine, barrel: SectionLine, *, spacer: Mm = 0.0) -> BrakeGap:
    """Give the least distance between the brake's line and the wheel's barrel.

    Model: least distance of two polylines; where the brake stands radially beyond the barrel, minus
    the largest distance by which a vertex does. spacer: >= 0, else ValueError.
    Source: own derivation: least distance of segments, own side by the radius at equal u.
    >>> caliper = SectionLine(((3.0, 138.0), (-12.0, 151.0), (-88.0, 151.0)))
    >>> barrel = SectionLine(((-110.0, 160.0), (20.0, 160.0)))
    >>> barrel_gap(caliper, barrel).gap
    9.0
    """
    return _gap(brake, barrel.moved(_thickness(spacer)), _radial)


def spoke_gap(brake: SectionLine, spokes: SectionLine, *, spacer: Mm = 0.0) -> BrakeGap:
    """Give the least distance between the brake's line and the back of the spokes.

    Model: as `barrel_gap`, sides told by u at equal radius. spacer: >= 0, else ValueError.
    Source: own derivation: least distance of segments.
    >>> caliper = SectionLine(((3.0, 138.0), (-12.0, 151.0), (-88.0, 151.0)))
    >>> spokes = SectionLine(((22.0, 60.0), (22.0, 160.0)))
    >>> spoke_gap(caliper, spokes).gap, spoke_gap(caliper, spokes, spacer=5.0).gap
    (19.0, 24.0)
    """
    return _gap(brake, spokes.moved(_thickness(spacer)), _axial)


def locate_barrel(
    brake: SectionLine, shape: SectionLine, *, measured: Mm, spacer: Mm = 0.0
) -> SectionLine:
    """Give the barrel line, moved along the radius until the measured gap comes out.

    shape: a drawn barrel, or `level_barrel`. measured: gap with this spacer in place.
    Raises ValueError for a measured gap that no place of the shape gives, or spacer < 0.
    Source: own derivation: the gap grows with the barrel's radius; bisection.
    >>> caliper = SectionLine(((3.0, 138.0), (-12.0, 151.0), (-88.0, 151.0)))
    >>> line = locate_barrel(caliper, level_barrel(), measured=6.0, spacer=5.0)
    >>> round(line.points[0][1], 6)
    157.0
    """
    low = -min(r for _, r in shape.points)
    return _located(
        lambda by: barrel_gap(brake, shape.moved(0.0, by), spacer=spacer).gap,
        lambda by: shape.moved(0.0, by),
        _Search(measured, low, low + 2.0 * _REACH),
    )


def locate_spokes(
    brake: SectionLine, shape: SectionLine, *, measured: Mm, spacer: Mm = 0.0
) -> SectionLine:
    """Give the back of the spokes, moved along the axis until the measured gap comes out.

    shape: drawn spokes, or `level_spokes`. measured: gap with this spacer in place.
    Raises ValueError for a measured gap that no place of the shape gives, or spacer < 0.
    Source: own derivation: the gap grows as the spokes move outboard; bisection.
    >>> caliper = SectionLine(((3.0, 138.0), (-12.0, 151.0), (-88.0, 151.0)))
    >>> line = locate_spokes(caliper, level_spokes(), measured=8.0, spacer=5.0)
    >>> round(line.points[0][0], 6)
    6.0
    """
    middle = -fsum(u for u, _ in shape.points) / len(shape.points)
    return _located(
        lambda by: spoke_gap(brake, shape.moved(by), spacer=spacer).gap,
        shape.moved,
        _Search(measured, middle - _REACH, middle + _REACH),
    )


def level_barrel() -> SectionLine:
    """Give a barrel of equal radius, for a wheel that nobody drew; place it by `locate_barrel`.

    Source: own derivation: a line along the axis.
    >>> level_barrel().moved(0.0, 160.0).points[0][1]
    160.0
    """
    return SectionLine(((-_REACH, 0.0), (_REACH, 0.0)))


def level_spokes() -> SectionLine:
    """Give spokes that are a plane across the axis; place it by `locate_spokes`.

    Source: own derivation: a line across the axis.
    >>> level_spokes().moved(22.0).points[0][0]
    22.0
    """
    return SectionLine(((0.0, 0.0), (0.0, _REACH)))


def barrel_gap_with_spacer(measured: Estimate, *, measured_with: Mm, spacer: Mm) -> Estimate:
    """Give a measured barrel gap for another spacer where the barrel was never drawn.

    Model: level barrel; its unknown slope adds 0.2 mm per mm of change to u, because a spacer may
    bring the drop centre over the caliper. Both spacers >= 0, else ValueError.
    Source: own derivation: level barrel; slope assumed.
    >>> elsewhere = barrel_gap_with_spacer(
    ...     Estimate(6.0, 0.5, Basis.MEASURED), measured_with=0.0, spacer=5.0
    ... )
    >>> elsewhere.value, round(elsewhere.u, 3)
    (6.0, 1.118)
    """
    change = _thickness(spacer) - _thickness(measured_with)
    return _elsewhere(measured, 0.0, BARREL_SLOPE_U * change)


def spoke_gap_with_spacer(measured: Estimate, *, measured_with: Mm, spacer: Mm) -> Estimate:
    """Give a measured spoke gap for another spacer where the spokes were never drawn.

    Model: the gap moves with the spacer, one to one; the unknown slope of the spokes adds 0.1 mm
    per mm to u. Both spacers >= 0, else ValueError.
    Source: own derivation: gap along the axis; slope assumed.
    >>> elsewhere = spoke_gap_with_spacer(
    ...     Estimate(2.0, 0.5, Basis.MEASURED), measured_with=0.0, spacer=5.0
    ... )
    >>> elsewhere.value, round(elsewhere.u, 3)
    (7.0, 0.707)
    """
    change = _thickness(spacer) - _thickness(measured_with)
    return _elsewhere(measured, change, SPOKE_SLOPE_U * change)


def _elsewhere(measured: Estimate, change: Mm, spread: Mm) -> Estimate:
    if change == 0.0 and spread == 0.0:
        return measured
    basis = weakest(measured.basis, Basis.INFERRED)
    return Estimate(measured.value + change, hypot(measured.u, spread), basis, measured.sources)


def bore_clearance(bore: Estimate, snout: Estimate) -> Estimate:
    """Give the play of the wheel's bore on the hub's snout, on diameter; negative: does not go on.

    Source: own derivation: difference of two diameters.
    >>> play = bore_clearance(
    ...     Estimate(61.6, 0.02, Basis.MEASURED), Estimate(61.5, 0.02, Basis.MEASURED)
    ... )
    >>> round(play.value, 3)
    0.1
    """
    return bore.minus(snout)


def remaining_pilot(
    snout_height: Estimate, spacer: Estimate, *, bore_chamfer: Mm = 0.0
) -> Estimate:
    """Give the length of snout that still centres the wheel; zero or less: none.

    Model: plain spacer; one with its own lip pilots by that lip instead. bore_chamfer: depth of the
    chamfer at the bore's edge, where nothing is held, >= 0, else ValueError.
    Source: own derivation: difference of lengths along the axis.
    >>> left = remaining_pilot(
    ...     Estimate(9.0, 0.2, Basis.MEASURED), Estimate(5.0, 0.0, Basis.MEASURED), bore_chamfer=1.0
    ... )
    >>> left.value
    3.0
    """
    return snout_height.minus(spacer).shifted(-_thickness(bore_chamfer))


def cap_gap(cap_height: Estimate, *, pocket_depth: Estimate, spacer: Estimate) -> Estimate:
    """Give the room between hub cap or nut and the bottom of the wheel's cap pocket.

    cap_height: past the hub's mounting face. pocket_depth: from the wheel's pad outboard to what
    closes the pocket. Negative: the cap would hold the wheel off its face.
    Source: own derivation: difference of lengths along the axis.
    >>> exact = lambda mm: Estimate(mm, 0.0, Basis.MEASURED)
    >>> cap_gap(exact(41.0), pocket_depth=exact(38.0), spacer=exact(5.0)).value
    2.0
    """
    return pocket_depth.plus(spacer).minus(cap_height)


_Side: TypeAlias = Callable[[LinePoint, LinePoint, LinePoint], tuple[Mm, Mm] | None]


def _gap(brake: SectionLine, wheel: SectionLine, side: _Side) -> BrakeGap:
    near = _least_distance(brake, wheel)
    beyond = [
        _nearest(point, wheel, brake_first=True)
        for point in brake.points
        if _stands_beyond(point, wheel, side, sign=1.0)
    ]
    beyond += [
        _nearest(point, brake, brake_first=False)
        for point in wheel.points
        if _stands_beyond(point, brake, side, sign=-1.0)
    ]
    if not beyond:
        return near
    deepest = max(beyond, key=lambda found: found.gap)
    return BrakeGap(-deepest.gap, deepest.brake, deepest.wheel)


def _least_distance(brake: SectionLine, wheel: SectionLine) -> BrakeGap:
    """Give the least distance: zero where the lines cross, else it lies at an end of a segment."""
    found = [_nearest(point, wheel, brake_first=True) for point in brake.points]
    found += [_nearest(point, brake, brake_first=False) for point in wheel.points]
    for first in pairwise(brake.points):
        for second in pairwise(wheel.points):
            crossing = _crossing(first, second)
            if crossing is not None:
                found.append(BrakeGap(0.0, crossing, crossing))
    return min(found, key=lambda each: each.gap)


def _nearest(point: LinePoint, line: SectionLine, *, brake_first: bool) -> BrakeGap:
    feet = [_foot(point, start, end) for start, end in pairwise(line.points)] or [line.points[0]]
    foot = min(feet, key=lambda at: hypot(point[0] - at[0], point[1] - at[1]))
    gap = hypot(point[0] - foot[0], point[1] - foot[1])
    return BrakeGap(gap, point, foot) if brake_first else BrakeGap(gap, foot, point)


def _foot(point: LinePoint, start: LinePoint, end: LinePoint) -> LinePoint:
    along_u, along_r = end[0] - start[0], end[1] - start[1]
    square = along_u**2 + along_r**2
    if square == 0.0:
        return start
    share = ((point[0] - start[0]) * along_u + (point[1] - start[1]) * along_r) / square
    share = min(max(share, 0.0), 1.0)
    return (start[0] + share * along_u, start[1] + share * along_r)


def _crossing(
    first: tuple[LinePoint, LinePoint], second: tuple[LinePoint, LinePoint]
) -> LinePoint | None:
    (a, b), (c, d) = first, second
    along, across = (b[0] - a[0], b[1] - a[1]), (d[0] - c[0], d[1] - c[1])
    turn = along[0] * across[1] - along[1] * across[0]
    if turn == 0.0:
        return None
    start = (c[0] - a[0], c[1] - a[1])
    on_first = (start[0] * across[1] - start[1] * across[0]) / turn
    on_second = (start[0] * along[1] - start[1] * along[0]) / turn
    if not (0.0 <= on_first <= 1.0 and 0.0 <= on_second <= 1.0):
        return None
    return (a[0] + on_first * along[0], a[1] + on_first * along[1])


def _stands_beyond(point: LinePoint, line: SectionLine, side: _Side, *, sign: float) -> bool:
    """Tell whether a brake point (sign +1) has any of the wheel's line under it, or the reverse."""
    levels = (side(point, start, end) for start, end in pairwise(line.points))
    return any(level is not None and sign * (level[0] - level[1]) > _TOLERANCE for level in levels)


def _radial(point: LinePoint, start: LinePoint, end: LinePoint) -> tuple[Mm, Mm] | None:
    """Give the point's radius and the segment's at the same u, if the segment is there."""
    if not min(start[0], end[0]) <= point[0] <= max(start[0], end[0]) or start[0] == end[0]:
        return None
    share = (point[0] - start[0]) / (end[0] - start[0])
    return point[1], start[1] + share * (end[1] - start[1])


def _axial(point: LinePoint, start: LinePoint, end: LinePoint) -> tuple[Mm, Mm] | None:
    """Give the point's u and the segment's at the same radius, if the segment is there."""
    return _radial((point[1], point[0]), (start[1], start[0]), (end[1], end[0]))


@dataclass(frozen=True)
class _Search:
    wanted: Mm
    low: Mm
    high: Mm


def _located(
    gap: Callable[[Mm], Mm], place: Callable[[Mm], SectionLine], search: _Search
) -> SectionLine:
    low, high = search.low, search.high
    if not gap(low) <= search.wanted <= gap(high):
        raise ValueError(f"no place of this line gives a gap of {search.wanted} mm")
    while high - low > _TOLERANCE:
        middle = (low + high) / 2.0
        low, high = (middle, high) if gap(middle) < search.wanted else (low, middle)
    return place(high)


def _thickness(value: Mm) -> Mm:
    if not value >= 0.0 or not isfinite(value):
        raise ValueError(f"a thickness is zero or more, got {value} mm")
    return value
