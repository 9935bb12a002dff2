"""Steering: the axis, the turn about it, what meets the road, and what stops it.

Corner frame (see frames). Inclination σ + top inboard; caster τ + top rearward; steer δ + toe-out
(front of the wheel outboard: the wheel on the inside of the turn). Scrub radius + with the axis
meeting the road inboard of the tyre; caster trail + with the axis meeting it ahead of the tyre
(signs of ISO 8855, as common texts give them).
"""

from math import asin, atan2, cos, degrees, hypot, radians, sin, tan

import numpy as np
import numpy.typing as npt

from generator.geometry.frames import Floats, Motions, Point, row, turns
from generator.geometry.steering_axis import UPRIGHT, SteeringAxis
from generator.quantities.units import Deg, Mm


def direction(axis: SteeringAxis) -> Point:
    """Give the unit vector along a steering axis, upward.

    Source: own derivation: (−tan τ, −tan σ, 1) over its length.

    >>> direction(SteeringAxis())
    (-0.0, -0.0, 1.0)
    """
    back, inward = tan(radians(axis.caster)), tan(radians(axis.inclination))
    length = hypot(1.0, back, inward)
    return (-back / length, -inward / length, 1.0 / length)


def steered(axis: SteeringAxis, steer: npt.ArrayLike) -> Motions:
    """Motions of a wheel turned by the steer angle about the steering axis.

    The turn is counted about the axis, not in plan; the two differ by the axis' lean.
    steer: deg, (p,), toe-out +.
    Source: own derivation: rotation about a line (Rodrigues).

    >>> steered(SteeringAxis(distance=100.0), 90.0).translation.round(3).tolist()
    [[-100.0, -100.0, 0.0]]
    """
    return turns(direction(axis), steer, through=(axis.lead, -axis.distance, 0.0))


def scrub_radius(axis: SteeringAxis, centre_plane: Mm, loaded_radius: Mm) -> Mm:
    """Distance across the car from the axis' road point to the tyre's, at zero camber and steer.

    centre_plane: u of the wheel's centre plane, spacer − offset. loaded_radius > 0.
    Positive with the axis inboard. A spacer adds its own thickness.
    Source: own derivation: u_c + q − R_l tan σ.

    >>> round(scrub_radius(SteeringAxis(11.8, 3.9, 96.4), -24.0, 294.0), 1)
    11.0
    """
    return centre_plane + axis.distance - loaded_radius * tan(radians(axis.inclination))


def caster_trail(axis: SteeringAxis, loaded_radius: Mm) -> Mm:
    """Distance along the car from the tyre's road point to the axis', + with the axis ahead.

    loaded_radius > 0.
    Source: own derivation: lead + R_l tan τ.

    >>> round(caster_trail(SteeringAxis(11.8, 3.9, 96.4), 294.0), 1)
    20.0
    """
    return axis.lead + loaded_radius * tan(radians(axis.caster))


def camber_shift(camber: Deg, height: Mm) -> Mm:
    """How far a point of the wheel moves outboard by camber about the wheel's centre.

    height: of the point above the centre, negative below it: −R for the tyre's road point.
    Source: own derivation: h sin γ.

    >>> round(camber_shift(-2.0, 316.0), 3)
    -11.028
    """
    return height * sin(radians(camber))


def camber_drop(camber: Deg, height: Mm) -> Mm:
    """How much height a point straight above the wheel's centre loses by camber.

    Source: own derivation: h (1 − cos γ).

    >>> round(camber_drop(-2.0, 316.0), 3)
    0.192
    """
    return height * (1.0 - cos(radians(camber)))


def toe_length(toe: Deg, diameter: Mm) -> Mm:
    """Toe of one wheel as a length, measured across a diameter; signs as the angle's.

    Source: own derivation: D sin(toe).

    >>> round(toe_length(0.10, 406.4), 3)
    0.709
    """
    return diameter * sin(radians(toe))


def outer_steer(inner: Deg, steering_track: Mm, wheelbase: Mm) -> Deg:
    """Steer of the outer wheel that shares the inner wheel's turning centre (Ackermann).

    inner: above 0°, below 180°. steering_track: between the axes' road points, >= 0; wheelbase > 0.
    Real linkages keep to it only in part.
    Raises ValueError outside those ranges.
    Source: own derivation: cot δ_outer − cot δ_inner = track / wheelbase.

    >>> round(outer_steer(30.0, 1500.0, 2600.0), 3)
    23.417
    """
    if not (0.0 < inner < 2.0 * UPRIGHT and wheelbase > 0.0 and steering_track >= 0.0):
        raise ValueError("Ackermann steer needs an inner angle and a wheelbase above 0")
    cotangent = 1.0 / tan(radians(inner)) + steering_track / wheelbase
    return degrees(atan2(1.0, cotangent))


def turn_radius(wheelbase: Mm, steer: Deg) -> Mm:
    """Radius the middle of the rear axle runs on, without tyre slip (bicycle model).

    wheelbase > 0; steer: mean of both wheels, not 0.
    Raises ValueError for a straight wheel, which turns about no point.
    Source: own derivation: L / tan δ.

    >>> round(turn_radius(2500.0, 30.0))
    4330
    """
    if not steer:
        raise ValueError("a wheel straight ahead has no turn radius")
    return wheelbase / tan(radians(steer))


def lock_lost_at_stop(thickness: Mm, stop_arm: Mm) -> Deg:
    """Steer taken away by a shim at a steering stop; negative thickness gives steer back.

    The stop's contact line lies stop_arm (> 0) from the steering axis, and the shim's thickness is
    taken square to that arm.
    Raises ValueError for a shim thicker than the arm is long.
    Source: own derivation: asin(t / arm).

    >>> round(lock_lost_at_stop(4.0, 74.0), 2)
    3.1
    """
    if not (stop_arm > 0.0 and abs(thickness) <= stop_arm):
        raise ValueError(f"a stop shim of {thickness} mm needs a longer arm than {stop_arm} mm")
    return degrees(asin(thickness / stop_arm))


def lock_lost_at_rack(thickness: Mm, steering_arm: Mm, lock: Deg) -> Deg:
    """Steer taken away by a washer on the rack, near a lock.

    First order: the rack's end moves the tie rod straight across, and the arm stands square to it
    at zero steer. steering_arm > 0; lock: the angle it acts at, within ±90°.
    Raises ValueError outside those ranges.
    Source: own derivation: t / (a cos δ).

    >>> round(lock_lost_at_rack(1.0, 120.0, 36.0), 2)
    0.59
    """
    if not (steering_arm > 0.0 and abs(lock) < UPRIGHT):
        raise ValueError("a rack washer needs a steering arm and a lock below 90°")
    return degrees(thickness / (steering_arm * cos(radians(lock))))


def camber_by_steer(axis: SteeringAxis, steer: npt.ArrayLike) -> Floats:
    """Camber (p,), deg, that a wheel upright at zero steer takes by being steered.

    Source: own derivation: dip of the spin axis after the exact turn.

    >>> from generator.geometry.steering_axis import axis_through
    >>> camber_by_steer(axis_through((0.0, -60.0, -120.0), (-25.0, -100.0, 320.0)), 30.0).round(3)
    array([2.309])
    """
    spin_axis = steered(axis, row(steer)).rotation[:, :, 1]
    return np.degrees(np.arcsin(-spin_axis[:, 2]))
