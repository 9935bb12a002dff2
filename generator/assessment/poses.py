"""The words for a position of the wheel, such as a reader would say it."""

from generator.geometry.sweep import Position
from generator.geometry.travel import MotionRange
from generator.quantities.units import Mm

NEARLY: Mm = 2.0
"""Travel and steer this close to a limit are called that limit."""


def pose_words(position: Position, reach: MotionRange) -> str:
    """Say a position in words: travel first, then steer, then the other side.

    >>> from generator.geometry.travel import Locks, TravelLimits
    >>> pose_words(Position(84.0, 12.0), MotionRange(TravelLimits(84.0, 76.0), Locks(37.5, 32.0)))
    'full bump, 12° toe-out'
    """
    parts = [_travel_words(position.travel, reach)]
    if reach.locks.toe_out or reach.locks.toe_in:
        parts.append(_steer_words(position, reach))
    if reach.articulation is not None and abs(position.travel - position.other_travel) > NEARLY:
        up = position.travel > position.other_travel
        parts.append("this side up, other down" if up else "this side down, other up")
    return ", ".join(part for part in parts if part)


def _travel_words(travel: Mm, reach: MotionRange) -> str:
    if abs(travel - reach.limits.bump) < NEARLY:
        return "full bump"
    if abs(travel + reach.limits.droop) < NEARLY:
        return "full droop"
    if abs(travel - reach.static) < NEARLY:
        return "standing height"
    away = travel - reach.static
    return f"{abs(away):.0f} mm {'up' if away > 0.0 else 'down'} from standing"


def _steer_words(position: Position, reach: MotionRange) -> str:
    if abs(position.steer) < NEARLY:
        return "straight ahead"
    outward = position.steer > 0.0
    lock = reach.locks.toe_out if outward else reach.locks.toe_in
    way = "toe-out" if outward else "toe-in"
    if abs(abs(position.steer) - lock) < NEARLY:
        return f"full {way} lock"
    return f"{abs(position.steer):.0f}° {way}"
