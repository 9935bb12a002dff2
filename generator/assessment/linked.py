"""A corner solved from a sheet's hard points, with the camber that a setup set.

Camber set at the top mount or an arm moves that mount, or the upper arm's pivots, across the car
until the wheel stands as asked; camber set at the knuckle turns the wheel against its strut.
"""

from dataclasses import replace
from functools import lru_cache
from math import radians, tan

from generator.geometry.frames import Point, camber
from generator.geometry.linkage import (
    Arm,
    DoubleWishbone,
    StrutLinkage,
    TieRod,
    solved,
)
from generator.geometry.linkage_steer import LinkageCorner, straight_ahead
from generator.geometry.linkage_table import LinkageTable, tabulated
from generator.geometry.suspension import Tilt
from generator.geometry.travel import Locks, TravelLimits
from generator.quantities.units import Deg, Mm
from generator.records.hard_points import ArmPoints, HardPoint, HardPoints

Linkage = DoubleWishbone | StrutLinkage
_TRIALS = 4
_CAMBER_HELD: Deg = 1e-6
_KEPT = 64
"""Tables kept: one for each car, camber and change of travel met in turn."""


def linkage(points: HardPoints) -> Linkage:
    """Put a linkage together. Raises ValueError where the upper end is missing."""
    lower = _arm(points.lower_arm)
    rod = TieRod(_point(points.tie_rod.inner), _point(points.tie_rod.outer))
    if points.upper_arm is not None:
        return DoubleWishbone(lower, _arm(points.upper_arm), rod)
    if points.top_mount is None:
        raise ValueError("the hard points have neither an upper arm nor a top mount")
    line = points.on_strut or points.lower_arm.ball_joint
    return StrutLinkage(lower, _point(line), _point(points.top_mount), rod)


@lru_cache(maxsize=_KEPT)
def camber_over_travel(on: Linkage, travel: Mm) -> Deg:
    """Give the camber that travel alone gives. Raises ValueError beyond the linkage's reach."""
    return float(camber(solved(on, travel))[0])


def camber_straight_ahead(on: Linkage) -> Deg:
    """Give the camber at reference height with toe set again after a change at the upper end."""
    return float(camber(straight_ahead(on))[0])


@lru_cache(maxsize=_KEPT)
def with_camber(on: Linkage, change: Deg) -> Linkage:
    """Give the linkage with its upper end moved across the car until camber changes by so much.

    Raises ValueError where the linkage cannot be set so.
    Source: own derivation: first guess by the height between the joints, then by proportion.
    """
    if not change:
        return on
    upper = on.upper.ball_joint[2] if isinstance(on, DoubleWishbone) else on.top_mount[2]
    shift = (upper - on.lower.ball_joint[2]) * tan(radians(change))
    for _ in range(_TRIALS):
        trial = _shifted(on, shift)
        reached = camber_straight_ahead(trial)
        if abs(reached - change) < _CAMBER_HELD:
            return trial
        if not reached * change > 0.0:
            break
        shift *= change / reached
    return _shifted(on, shift)


def _shifted(on: Linkage, across: Mm) -> Linkage:
    shift = (0.0, across, 0.0)
    if isinstance(on, DoubleWishbone):
        return replace(on, upper_shift=shift)
    return replace(on, mount_shift=shift)


@lru_cache(maxsize=_KEPT)
def linked_corner(
    on: Linkage, knuckle_tilt: Tilt, limits: TravelLimits, locks: Locks
) -> LinkageTable:
    """Tabulate a corner over all that its wheel can do; kept, since many setups share it.

    Raises ValueError where the linkage does not reach so far.
    """
    return tabulated(LinkageCorner(on, knuckle_tilt), limits, locks)


def _arm(points: ArmPoints) -> Arm:
    return Arm(_point(points.front_pivot), _point(points.rear_pivot), _point(points.ball_joint))


def _point(point: HardPoint) -> Point:
    return point.x.value, point.y.value, point.z.value
