"""A wheel steered on a solved linkage: the rack that gives an angle, and the poses that follow."""

from dataclasses import field

import numpy as np
import numpy.typing as npt

from generator.frozen import dataclass
from generator.geometry.frames import (
    Floats,
    Motions,
    Positions,
    WheelPoses,
    composed,
    labelled,
    row,
    still,
    toe_out,
)
from generator.geometry.linkage import DoubleWishbone, Linkage, StrutLinkage, solved, solved_near
from generator.geometry.suspension import Tilt, tilted_at_knuckle
from generator.quantities.units import Deg, Mm

_TRIAL_RACK: Mm = 1.0
_STEER_HELD: Deg = 1e-9
_SECANTS = 40
_SLOPE_STEP: Mm = 1e-4


@dataclass(frozen=True)
class LinkageCorner:
    """A steered wheel on a solved linkage, with camber set at the knuckle bolts."""

    linkage: DoubleWishbone | StrutLinkage
    knuckle_tilt: Tilt = field(default_factory=Tilt)

    def poses(self, at: Positions) -> WheelPoses:
        """Give the wheel's poses at the positions, seen from body, arm, strut and hub."""
        return linkage_poses(self, at)


def rack_for_steer(linkage: Linkage, steer: npt.ArrayLike) -> Floats:
    """Rack displacement (p,), mm, that gives each toe-out angle in plan at zero travel.

    steer: deg, (p,), toe-out +.
    Raises ValueError where the linkage cannot be steered so far.
    Source: own derivation: secant search on the solved linkage.

    >>> from generator.geometry.linkage import Arm, TieRod
    >>> arms = Arm((150, -350, -120), (-150, -350, -120), (0, -70, -120)), Arm(
    ...     (100, -300, 150), (-120, -300, 150), (-18, -118, 155)
    ... )
    >>> wishbones = DoubleWishbone(*arms, TieRod((-128, -330, -60), (-128, -90, -60)))
    >>> bool(rack_for_steer(wishbones, 20.0)[0] < 0.0)
    True
    """
    wanted: Floats = row(steer)
    if not wanted.any():
        return np.zeros_like(wanted)
    at_rest = solved(linkage, 0.0)
    slope = _slope(linkage, at_rest)
    rack: Floats = 0.5 * (wanted - toe_out(at_rest)) / slope
    return _steered(linkage, wanted, rack, near=solved(linkage, 0.0 * rack, rack), slope=slope)[0]


def straight_ahead(linkage: Linkage) -> Motions:
    """Motion of the hub at zero travel with the rack where toe is as at rest, once toe is set.

    Raises ValueError where the linkage cannot be set so.
    Source: own derivation: as `rack_for_steer`; the rack hardly moves, so each step starts at the
    last one.
    """
    at_rest = solved(linkage, 0.0)
    wanted = np.zeros(1)
    slope = _slope(linkage, at_rest)
    return _steered(linkage, wanted, np.zeros(1), near=at_rest, slope=slope)[1]


def _slope(linkage: Linkage, at_rest: Motions) -> float:
    """Give how fast toe changes with the rack, deg per mm."""
    trial = solved_near(linkage, at_rest, np.array([_TRIAL_RACK]))
    return float(toe_out(trial)[0] - toe_out(at_rest)[0]) / _TRIAL_RACK


def _steered(
    linkage: Linkage, wanted: Floats, rack: Floats, *, near: Motions, slope: float
) -> tuple[Floats, Motions]:
    """Seek the rack that gives each toe-out angle, from motions that a first guess gives."""
    slopes: Floats = np.full(wanted.shape, slope)
    found, reached = near, toe_out(near)
    for _ in range(_SECANTS):
        error = wanted - reached
        if np.abs(error).max() < _STEER_HELD:
            return rack, found
        move = error / slopes
        found = solved_near(linkage, found, rack + move)
        ahead = toe_out(found)
        # A step too small to tell a slope keeps the last one.
        told = np.abs(move) > _SLOPE_STEP
        slopes[:] = np.where(told, (ahead - reached) / np.where(told, move, 1.0), slopes)
        rack, reached = rack + move, ahead
    raise ValueError(f"the linkage cannot be steered to {wanted[np.argmax(np.abs(error))]:.1f}°")


def linkage_poses(corner: LinkageCorner, at: Positions) -> WheelPoses:
    """Poses of a wheel on a solved linkage, seen from each body that carries sites.

    The steer of a position is what the rack gives at zero travel; bump steer and the change of
    camber come out of the linkage. Sites on an arm are taken to move straight with the wheel.
    Raises ValueError where the linkage has no such position.
    Source: own derivation: see `solved`.

    >>> from generator.geometry.linkage import Arm, TieRod
    >>> arms = Arm((150, -350, -120), (-150, -350, -120), (0, -70, -120)), Arm(
    ...     (100, -300, 150), (-120, -300, 150), (-18, -118, 155)
    ... )
    >>> wishbones = DoubleWishbone(*arms, TieRod((-128, -330, -60), (-128, -90, -60)))
    >>> from generator.geometry.frames import positions
    >>> len(LinkageCorner(wishbones).poses(positions([-70.0, 80.0], 10.0)))
    2
    """
    wheel_in_strut = tilted_at_knuckle(corner.knuckle_tilt)
    angles, which = np.unique(at.steer, return_inverse=True)
    rack = rack_for_steer(corner.linkage, angles)
    on_arm = solved(corner.linkage, 0.0 * angles, rack)
    on_arm = Motions(on_arm.rotation[which], on_arm.translation[which])
    on_body = solved(corner.linkage, at.travel, rack[which])
    return WheelPoses(
        body=labelled(composed(on_body, wheel_in_strut), at),
        arm=labelled(composed(on_arm, wheel_in_strut), at),
        strut=labelled(wheel_in_strut, at),
        hub=labelled(still(1), at),
    )


def bump_steer(linkage: Linkage, travel: npt.ArrayLike) -> Floats:
    """Toe-out (p,), deg, that travel alone gives with the rack held straight ahead.

    Source: own derivation: see `solved`.

    >>> from generator.geometry.linkage import Arm, TieRod
    >>> arms = Arm((150, -350, -120), (-150, -350, -120), (0, -70, -120)), Arm(
    ...     (100, -300, 150), (-120, -300, 150), (-18, -118, 155)
    ... )
    >>> wishbones = DoubleWishbone(*arms, TieRod((-128, -330, -60), (-128, -90, -60)))
    >>> abs(bump_steer(wishbones, 0.0)).round(6).tolist()
    [0.0]
    """
    return toe_out(solved(linkage, travel))
