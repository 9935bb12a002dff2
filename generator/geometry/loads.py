"""Loads on tyre, wheel and bearing, and what a change of wheel does to track and scrub.

Signs: inset positive, outset negative; an effective offset is the inset less the spacers. Track
and scrub radius grow as the effective offset falls. Kingpin inclination positive, top inboard.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import radians, tan

from generator.frozen import dataclass
from generator.geometry.bound import PRACTICE, WHOLE, Change, Check, at_least, at_most
from generator.quantities.units import (
    Deg,
    Kg,
    KmPerHour,
    Mm,
    Newton,
    NewtonMetre,
    Percent,
    Ratio,
)

STANDARD_GRAVITY = 9.80665
"""In m/s², exact: 3rd General Conference on Weights and Measures, 1901."""

_MM_PER_METRE = 1000.0
_P_METRIC_DIVISOR = 1.10  # [FMVSS120] S5.1.2
_CAMBER_FREE = 2.0  # degrees up to which no pressure is added, a reading of [HANDBOOK] p. 297
J328_GRIP = 0.7  # [SAEJ328] eq. 1, second hand
R124_GRIP = 0.9  # [UNR124] annex 6, from memory
R124_FACTOR = 2.0  # [UNR124] annex 6, from memory
_R124_HIGH, _R124_LOW = 0.75, 0.50  # [UNR124] annex 6, from memory
_IMPACT_SHARE, _IMPACT_BASE, _IMPACT_GRAVITY = 0.6, 180.0, 9.81  # [GOST33544] annex


@dataclass(frozen=True)
class SpeedPoint:
    """A row of a speed table: the share of its load a tyre may carry at a speed."""

    speed: KmPerHour
    share: Percent


@dataclass(frozen=True)
class CamberPoint:
    """A row of a camber table: the pressure to add at a camber, regardless of its sign."""

    camber: Deg
    increase: Percent


@dataclass(frozen=True)
class WheelLoad:
    """A wheel in a bending test: load, the largest tyre's radius, inset of the bare wheel."""

    load: Newton
    radius: Mm
    inset: Mm


@dataclass(frozen=True)
class BendingMoments:
    """Greatest bending moment, and the two levels at which a wheel is run."""

    greatest: NewtonMetre
    high: NewtonMetre
    low: NewtonMetre


@dataclass(frozen=True)
class CornerLoad:
    """What a bearing carries: wheel load, loaded radius, lateral force as a share of the load."""

    load: Newton
    radius: Mm
    lateral: Ratio = 1.0


@dataclass(frozen=True)
class BearingChange:
    """Bearing moment before and after, straight ahead and on either wheel of a corner."""

    straight: Change
    inner_wheel: Change
    outer_wheel: Change


def _interpolated(x: float, points: Sequence[tuple[float, float]]) -> float:
    for (x0, y0), (x1, y1) in pairwise(points):
        if x0 <= x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    raise ValueError(f"{x} lies outside the table, {points[0][0]} to {points[-1][0]}")


def load_at_speed(rated: Kg, speed: KmPerHour, *, table: tuple[SpeedPoint, ...]) -> Kg:
    """Load a tyre may carry at a speed.

    Model: the full load up to the table's first speed, linear between rows.
    rated: >= 0. table: rising speeds, one tyre class. Raises ValueError above its last speed.
    Source: [HANDBOOK] figure 10.1-14, load reduction of V, W and Y tyres.
    By hand, V at 225 km/h: halfway from 97 to 94, 95.5 % of 615 = 587.3.
    >>> table = (SpeedPoint(210, 100), SpeedPoint(220, 97), SpeedPoint(230, 94))
    >>> round(load_at_speed(615.0, 225.0, table=table), 1)
    587.3
    """
    if speed <= table[0].speed:
        return rated
    return rated * _interpolated(speed, [(row.speed, row.share) for row in table]) / WHOLE


def pressure_for_camber(camber: Deg, *, table: tuple[CamberPoint, ...]) -> Percent:
    """Pressure to add for a camber, in per cent.

    Model: nothing up to 2 degrees, then linear between rows; the sign does not matter.
    table: rising cambers above 2 degrees. Raises ValueError above its last camber.
    Source: [HANDBOOK] p. 297; the start at 2 degrees is a reading of it.
    By hand, 3.5°: halfway from 9.0 at 3°20' to 11.5 at 3°40', 10.25.
    >>> table = (CamberPoint(3 + 1 / 3, 9.0), CamberPoint(3 + 2 / 3, 11.5))
    >>> round(pressure_for_camber(-3.5, table=table), 6)
    10.25
    """
    if abs(camber) <= _CAMBER_FREE:
        return 0.0
    rows = [(_CAMBER_FREE, 0.0), *((row.camber, row.increase) for row in table)]
    return _interpolated(abs(camber), rows)


def p_metric_load(rated: Kg) -> Kg:
    """Load of a passenger tyre on a light truck, van, multipurpose vehicle or trailer.

    rated: >= 0.
    Source: [FMVSS120] S5.1.2, rating divided by 1.10.
    By hand: 925/1.10 = 840.9.
    >>> round(p_metric_load(925.0), 1)
    840.9
    """
    return rated / _P_METRIC_DIVISOR


def axle_load_check(left: Kg, right: Kg, *, axle_load: Kg) -> Check:
    """Sum of what both tyres (or wheels) of an axle carry, held against the axle load.

    Model: each side carries half, so the weaker one counts twice. axle_load: the permitted one.
    Raises ValueError unless both loads are above zero.
    Source: [FMVSS120] S5.1.2, sum at least the axle rating; own derivation: even halves.
    By hand: 2·615 = 1230 against 1100, 130 in hand.
    >>> axle_load_check(615.0, 615.0, axle_load=1100.0).margin
    130.0
    """
    if not (left > 0.0 and right > 0.0):
        raise ValueError(f"a tyre carries more than nothing, got {left} and {right} kg")
    return at_least(2.0 * min(left, right), axle_load, source="FMVSS120")


def wheel_rating_check(rating: Kg, axle_load: Kg) -> Check:
    """Wheel's load rating, held against half the load of the heaviest axle it is meant for.

    Source: [SAEJ2530] section 4, second hand.
    >>> wheel_rating_check(560.0, 1100.0).margin
    10.0
    """
    return at_least(rating, axle_load / 2.0, source="SAEJ2530")


def speed_symbol_check(symbol_speed: KmPerHour, top_speed: KmPerHour) -> Check:
    """Speed of a tyre's symbol, held against the speed it must allow.

    symbol_speed: from the table of symbols, where H lies above U. top_speed: the car's, or the
    law's least.
    Source: [UNR30] speed symbols.
    >>> speed_symbol_check(210.0, 195.0).margin
    15.0
    """
    return at_least(symbol_speed, top_speed, source="UNR30")


def j328_moment(wheel: WheelLoad, *, factor: Ratio) -> NewtonMetre:
    """Bending moment of the rotating fatigue test, M = W (R·µ + d)·S with µ = 0.7.

    Model: d is the bare wheel's inset, without spacer; an inset adds. wheel.load: half the
    greatest static axle load. factor: S of the material and axle, from the table.
    Source: [SAEJ328] equation 1, second hand.
    By hand: 5886 (0.300·0.7 + 0.045)·2.0 = 3001.9 N·m.
    >>> round(j328_moment(WheelLoad(5886.0, 300.0, 45.0), factor=2.0), 1)
    3001.9
    """
    return wheel.load * (J328_GRIP * wheel.radius + wheel.inset) * factor / _MM_PER_METRE


def r124_moments(wheel: WheelLoad) -> BendingMoments:
    """Bending moments of the rotating test, M = S·F (µ·r_dyn + d) with S = 2, µ = 0.9.

    Model: as `j328_moment`; the wheel is run at 75 % and at 50 %. wheel.radius: dynamic radius.
    Source: [UNR124] annex 6, from memory.
    By hand: 2·5886 (0.9·0.300 + 0.045) = 3708.2 N·m.
    >>> round(r124_moments(WheelLoad(5886.0, 300.0, 45.0)).greatest, 1)
    3708.2
    """
    arm = R124_GRIP * wheel.radius + wheel.inset
    greatest = R124_FACTOR * wheel.load * arm / _MM_PER_METRE
    return BendingMoments(greatest, _R124_HIGH * greatest, _R124_LOW * greatest)


def bending_check(proved: NewtonMetre, on_car: NewtonMetre) -> Check:
    """Moment a wheel was rated for, held against the same formula with this car's figures.

    A larger tyre than the rating's raises the moment although the load is the same.
    Source: [UNR124] annex 6, from memory.
    >>> bending_check(3708.2, 3650.0).outcome.value
    'holds'
    """
    return at_least(proved, on_car, source="UNR124")


def impact_mass(load: Newton) -> Kg:
    """Mass of the striker in the 13° impact test of a wheel, 0.6·F/g + 180 kg.

    load: greatest static wheel load, >= 0.
    Source: [GOST33544] annex, g = 9.81.
    By hand: 0.6·5886/9.81 + 180 = 540.
    >>> round(impact_mass(5886.0), 6)
    540.0
    """
    return _IMPACT_SHARE * load / _IMPACT_GRAVITY + _IMPACT_BASE


def track_change(stock_track: Mm, stock_offset: Mm, *, offset: Mm) -> Change:
    """Track of an axle with both effective offsets changed alike.

    Model: wheels upright, both sides alike. stock_track: > 0.
    Source: own derivation: track grows by twice the fall of the offset [SAREGULATIONS].
    By hand: 45 to 35 less a 5 mm spacer is 30: 2·15 = 30 wider.
    >>> track_change(1450.0, 45.0, offset=30.0).absolute
    30.0
    """
    return Change(stock_track, stock_track + 2.0 * (stock_offset - offset))


def track_check(track: Change, limit: Mm) -> Check:
    """Gain of track, held against a limit the reader looked up for the place of use.

    Source: [PRACTICE] a local limit; which one applies is the reader's to look up.
    >>> track_check(Change(1450.0, 1476.0), 25.0).margin
    -1.0
    """
    return at_most(track.absolute, limit, source=PRACTICE)


def scrub_radius_change(
    stock_scrub: Mm, outboard_shift: Mm, *, radius_gain: Mm, inclination: Deg
) -> Change:
    """Scrub radius after the wheel moves outboard and the loaded radius grows.

    Model: straight ahead, small camber; the axis meets the ground further out under a taller tyre.
    outboard_shift: fall of the effective offset. radius_gain: of the loaded radius.
    Source: own derivation: shift less radius gain times tan of the inclination.
    By hand: 43.636 + 0 − 10·tan 5.1944° = 42.727.
    >>> round(scrub_radius_change(43.636, 0.0, radius_gain=10.0, inclination=5.1944).after, 3)
    42.727
    """
    shift = outboard_shift - radius_gain * tan(radians(inclination))
    return Change(stock_scrub, stock_scrub + shift)


def bearing_moment_change(corner: CornerLoad, stock_arm: Mm, *, arm: Mm) -> BearingChange:
    """Moment on a wheel bearing straight ahead and in a corner, before and after.

    Model: load through the tyre's centre plane at `arm` outboard of the bearing's centre, lateral
    force at the loaded radius; on the inner wheel both add, on the outer the lateral force
    outweighs the load and the arm takes some off. Same load on all: set corner.load for the wheel
    meant. The moments are magnitudes, N·m.
    Source: own derivation: statics of one wheel about the bearing's centre.
    By hand, 3.5 kN, 300 mm, arm 0 to 20: straight 0 to 70; 1 g inner wheel 1050 to 1120.
    >>> change = bearing_moment_change(CornerLoad(3500.0, 300.0), 0.0, arm=20.0)
    >>> change.straight.absolute, change.inner_wheel.after, change.outer_wheel.after
    (70.0, 1120.0, 980.0)
    """
    side = corner.lateral * corner.radius

    def change(before: Mm, after: Mm) -> Change:
        to_moment = corner.load / _MM_PER_METRE
        return Change(to_moment * abs(before), to_moment * abs(after))

    return BearingChange(
        straight=change(stock_arm, arm),
        inner_wheel=change(side + stock_arm, side + arm),
        outer_wheel=change(side - stock_arm, side - arm),
    )
