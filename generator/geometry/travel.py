"""How far a wheel may travel and steer on a car as it is built, and the named states in between.

Travel z + bump, from the chassis sheet's reference ride height; bump and droop limits are lengths,
both positive. Steer + toe-out; both locks are angles, both positive. A stop's motion ratio is the
stop's movement per movement of the wheel: below 1 where the stop sits inboard of the wheel.
"""

from enum import Enum

import numpy as np

from generator.frozen import dataclass
from generator.geometry.frames import Floats
from generator.geometry.steering import lock_lost_at_rack, lock_lost_at_stop
from generator.quantities.units import Deg, Mm, Ratio

LOCK_BUMP_SHARE: Ratio = 2.0 / 3.0
"""Share of bump up to which full lock is swept (common practice: where road and lock meet)."""

FULL_BUMP_LOCK_SHARE: Ratio = 0.25
"""Share of lock that is swept at full bump (common practice: a fast corner over a bump)."""

_LEAST_TAPER: Mm = 1e-9
"""Stands for no taper at all, where there is no bump to taper over."""


@dataclass(frozen=True)
class TravelLimits:
    """Bump and droop at the hub, from the reference ride height; each finite and >= 0."""

    bump: Mm
    droop: Mm

    def __post_init__(self) -> None:
        if not (0.0 <= self.bump < float("inf") and 0.0 <= self.droop < float("inf")):
            raise ValueError(f"travel limits are lengths, got {self.bump} and {self.droop}")


@dataclass(frozen=True)
class Locks:
    """Full steer of a wheel each way; each from 0° to below 90°."""

    toe_out: Deg = 0.0
    toe_in: Deg = 0.0

    def __post_init__(self) -> None:
        if not all(0.0 <= lock < 90.0 for lock in (self.toe_out, self.toe_in)):
            raise ValueError(f"a lock is an angle from 0°, got {self.toe_out} and {self.toe_in}")


@dataclass(frozen=True)
class BumpStop:
    """A bump stop: free height > 0, share of it that a hard hit squeezes away, motion ratio > 0.

    squeeze: 0 to below 1; rubber 0.3 to 0.5, foam 0.6 to 0.75 (common practice).
    """

    free_height: Mm
    motion_ratio: Ratio
    squeeze: Ratio

    def __post_init__(self) -> None:
        if not (self.free_height > 0.0 and self.motion_ratio > 0.0 and 0.0 <= self.squeeze < 1.0):
            raise ValueError(
                "a bump stop needs a height and a motion ratio above 0, squeeze below 1"
            )


@dataclass(frozen=True)
class StopChange:
    """What a setup did at the stops: trimmed off or packed under the bump stop, >= 0 each.

    droop_gained: more droop at the hub by a longer damper or strap, negative by a shorter one.
    """

    trimmed: Mm = 0.0
    packed: Mm = 0.0
    droop_gained: Mm = 0.0


@dataclass(frozen=True)
class Articulation:
    """How far one wheel goes up while the other one hangs; both >= 0."""

    up: Mm
    down: Mm


@dataclass(frozen=True)
class MotionRange:
    """All that one wheel can do: travel, locks, where it stands, and tilt on a beam or live axle.

    static: travel at which the car rests, the amount it was lowered. articulation: None where the
    other side's travel has no effect.
    Raises ValueError for a car that would rest beyond its stops.
    """

    limits: TravelLimits
    locks: Locks = Locks()
    static: Mm = 0.0
    articulation: Articulation | None = None

    def __post_init__(self) -> None:
        if not -self.limits.droop <= self.static <= self.limits.bump:
            raise ValueError(
                f"a car lowered by {self.static} mm would rest beyond its stops "
                f"(bump {self.limits.bump} mm, droop {self.limits.droop} mm)"
            )


class State(Enum):
    """A named state; the value is how it is said."""

    STATIC = "static"
    FULL_DROOP = "full droop"
    FULL_BUMP = "full bump"
    TOE_OUT_AT_STATIC = "toe-out lock at static"
    TOE_IN_AT_STATIC = "toe-in lock at static"
    TOE_OUT_AT_BUMP = "toe-out lock at two thirds of bump"
    TOE_IN_AT_BUMP = "toe-in lock at two thirds of bump"
    TOE_OUT_AT_DROOP = "toe-out lock at full droop"
    TOE_IN_AT_DROOP = "toe-in lock at full droop"
    THIS_SIDE_UP = "this wheel up, other wheel down"
    THIS_SIDE_DOWN = "this wheel down, other wheel up"
    TOE_OUT_AT_FULL_BUMP = "toe-out lock at full bump"
    TOE_IN_AT_FULL_BUMP = "toe-in lock at full bump"


@dataclass(frozen=True)
class NamedState:
    """Where the wheel stands in a named state."""

    state: State
    travel: Mm
    steer: Deg
    other_travel: Mm


def bump_gained(stop: BumpStop, trimmed: Mm) -> Mm:
    """Wheel travel that trimming a bump stop gives, at most.

    The whole of what was cut is taken as gained, since a shorter stop is also squeezed further: the
    gap is computed for the most travel. The wheel moves 1 / ratio per mm of the stop.
    trimmed: >= 0, less than the free height.
    Raises ValueError outside that range: a stop is never removed altogether.
    Source: own derivation: t / motion ratio, the ratio being the stop's movement per the wheel's.

    >>> round(bump_gained(BumpStop(48.0, 0.68, 0.4), 10.0), 1)
    14.7
    """
    if not 0.0 <= trimmed < stop.free_height:
        raise ValueError(
            f"{trimmed} mm cannot be trimmed off a bump stop of {stop.free_height} mm: a stop stays"
        )
    return trimmed / stop.motion_ratio


def squeezed_height(stop: BumpStop, trimmed: Mm = 0.0) -> Mm:
    """Height of the bump stop in a hard hit, if what is left is squeezed by the same share.

    Source: own derivation: (1 − squeeze) · (H − t).

    >>> squeezed_height(BumpStop(62.0, 0.96, 0.5))
    31.0
    """
    return (1.0 - stop.squeeze) * (stop.free_height - trimmed)


def stop_contact(limits: TravelLimits, stop: BumpStop, change: StopChange) -> Mm:
    """Travel at which the bump stop is first touched.

    limits: the sheet's, whose bump is to the squeezed stop. May come out below the static position:
    the car then rides on its stops.
    Source: own derivation: bump − squeeze · H / ratio, moved by what was cut and packed.

    >>> stop_contact(TravelLimits(84.0, 76.0), BumpStop(62.0, 1.0, 0.5), StopChange())
    53.0
    """
    first = limits.bump - stop.squeeze * stop.free_height / stop.motion_ratio
    return first + (change.trimmed - change.packed) / stop.motion_ratio


def changed_limits(limits: TravelLimits, stop: BumpStop, change: StopChange) -> TravelLimits:
    """Limits of travel after a change at the stops.

    Ride height does not enter: the stop says how high the wheel goes, springs only how often.
    Raises ValueError for more trimmed than the stop has, or more packed than there is travel.
    Source: own derivation: bump + (trimmed − packed) / ratio; droop + gained.

    >>> limits = TravelLimits(84.0, 76.0)
    >>> round(changed_limits(limits, BumpStop(62.0, 0.96, 0.4), StopChange(trimmed=12.0)).bump, 1)
    96.5
    """
    if not change.packed >= 0.0:
        raise ValueError(f"packing under a bump stop is a length, got {change.packed}")
    gained = bump_gained(stop, change.trimmed) - change.packed / stop.motion_ratio
    return TravelLimits(limits.bump + gained, limits.droop + change.droop_gained)


def remaining(limits: TravelLimits, static: Mm) -> TravelLimits:
    """Travel left in bump and droop from where the car rests.

    Raises ValueError for a car that rests beyond its stops.
    Source: own derivation: bump − h, droop + h.

    >>> remaining(TravelLimits(84.0, 76.0), 25.0)
    TravelLimits(bump=59.0, droop=101.0)
    """
    return TravelLimits(limits.bump - static, limits.droop + static)


def shimmed_at_stops(locks: Locks, stop_arm: Mm, *, toe_out: Mm = 0.0, toe_in: Mm = 0.0) -> Locks:
    """Locks after shims at the steering stops, or screws turned out; negative gives lock back.

    The wheels steer together: a stop of one wheel's toe-out lock also ends the other's toe-in lock,
    by the steering's own ratio, which the caller applies.
    Raises ValueError for a shim longer than the arm or one that leaves no lock.
    Source: own derivation: see `lock_lost_at_stop`.

    >>> round(shimmed_at_stops(Locks(37.5, 32.0), 74.0, toe_out=4.0).toe_out, 2)
    34.4
    """
    return Locks(
        locks.toe_out - lock_lost_at_stop(toe_out, stop_arm),
        locks.toe_in - lock_lost_at_stop(toe_in, stop_arm),
    )


def washered_at_rack(
    locks: Locks, steering_arm: Mm, *, toe_out: Mm = 0.0, toe_in: Mm = 0.0
) -> Locks:
    """Locks after washers on the rack, one thickness for each way.

    Raises ValueError for washers that leave no lock.
    Source: own derivation: see `lock_lost_at_rack`.

    >>> round(washered_at_rack(Locks(36.0, 32.0), 120.0, toe_out=4.0).toe_out, 2)
    33.64
    """
    return Locks(
        locks.toe_out - lock_lost_at_rack(toe_out, steering_arm, locks.toe_out),
        locks.toe_in - lock_lost_at_rack(toe_in, steering_arm, locks.toe_in),
    )


def lock_share(limits: TravelLimits, travel: Mm) -> Ratio:
    """Share of full lock that is swept at a travel: all up to two thirds of bump, then tapering.

    Falls evenly to a quarter at full bump. The road cannot ask for both at once.
    Source: own derivation from common practice.

    >>> lock_share(TravelLimits(84.0, 76.0), 56.0), lock_share(TravelLimits(84.0, 76.0), 84.0)
    (1.0, 0.25)
    """
    return float(lock_shares(limits, np.array([travel]))[0])


def lock_shares(limits: TravelLimits, travels: Floats) -> Floats:
    """Give the share of full lock at each of many travels, mm.

    Source: own derivation: as `lock_share`.

    >>> lock_shares(TravelLimits(84.0, 76.0), np.array([-76.0, 70.0])).tolist()
    [1.0, 0.625]
    """
    start = LOCK_BUMP_SHARE * limits.bump
    above = np.maximum(travels - start, 0.0)
    into = np.minimum(above / max(limits.bump - start, _LEAST_TAPER), 1.0)
    shares: Floats = 1.0 - (1.0 - FULL_BUMP_LOCK_SHARE) * into
    return shares


def named_states(reach: MotionRange) -> tuple[NamedState, ...]:
    """Give the named states that belong to a wheel's range: locks if it steers, tilt if it tilts.

    Source: own derivation: limits of travel, locks and articulation, taken one at a time.

    >>> [each.state.value for each in named_states(MotionRange(TravelLimits(85.0, 90.0)))]
    ['static', 'full droop', 'full bump']
    """
    bump, droop, rest = reach.limits.bump, -reach.limits.droop, reach.static
    found = [
        NamedState(State.STATIC, rest, 0.0, rest),
        NamedState(State.FULL_DROOP, droop, 0.0, droop),
        NamedState(State.FULL_BUMP, bump, 0.0, bump),
    ]
    locked = (
        (rest, State.TOE_OUT_AT_STATIC, State.TOE_IN_AT_STATIC),
        (LOCK_BUMP_SHARE * bump, State.TOE_OUT_AT_BUMP, State.TOE_IN_AT_BUMP),
        (droop, State.TOE_OUT_AT_DROOP, State.TOE_IN_AT_DROOP),
    )
    for travel, outward, inward in locked:
        found += _locked(reach.locks, travel, (outward, inward))
    if reach.articulation is not None:
        up, down = reach.articulation.up, -reach.articulation.down
        found.append(NamedState(State.THIS_SIDE_UP, up, 0.0, down))
        found.append(NamedState(State.THIS_SIDE_DOWN, down, 0.0, up))
    return tuple(found)


def states_beyond_sweep(reach: MotionRange) -> tuple[NamedState, ...]:
    """Give full lock at full bump, which a record may report and the sweep leaves out.

    Source: own derivation: both limits at once.

    >>> len(states_beyond_sweep(MotionRange(TravelLimits(84.0, 76.0), Locks(37.5, 32.0))))
    2
    """
    states = (State.TOE_OUT_AT_FULL_BUMP, State.TOE_IN_AT_FULL_BUMP)
    return tuple(_locked(reach.locks, reach.limits.bump, states))


def _locked(locks: Locks, travel: Mm, states: tuple[State, State]) -> list[NamedState]:
    outward, inward = states
    if not (locks.toe_out or locks.toe_in):
        return []
    return [
        NamedState(outward, travel, locks.toe_out, travel),
        NamedState(inward, travel, -locks.toe_in, travel),
    ]
