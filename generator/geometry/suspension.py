"""Independent suspension by curves over travel, with steering and the camber a setup sets.

Corner frame (see frames); travel z + bump, counted from the sheet's reference ride height.
The chain, from the wheel outward: tilt at the knuckle bolts, steer about the axis in the knuckle,
tilt of the whole strut or upright at its top, motion over travel. The steering axis is thus carried
along by travel and by the top mount.
"""

from dataclasses import field

import numpy as np
import numpy.typing as npt

from generator.frozen import dataclass
from generator.geometry.frames import (
    Floats,
    Motions,
    Positions,
    WheelPoses,
    attitudes,
    composed,
    labelled,
    row,
    still,
    turns,
)
from generator.geometry.steering import steered
from generator.geometry.steering_axis import SteeringAxis
from generator.quantities.units import Deg, Mm, Ratio


@dataclass(frozen=True)
class TravelCurve:
    """A polynomial in travel without a constant: c1 z + c2 z² + …, z in mm.

    A curve of angles gives degrees, one of places gives mm. No coefficients: always zero.
    """

    coefficients: tuple[Ratio, ...] = ()

    def at(self, travel: npt.ArrayLike) -> Floats:
        """Give the curve's value (p,) at each travel."""
        value = np.zeros_like(row(travel))
        for coefficient in reversed(self.coefficients):
            value = (value + coefficient) * row(travel)
        return value


@dataclass(frozen=True)
class Curves:
    """How a hub moves over its travel: camber and toe-out in deg, lateral and fore-aft in mm.

    All four vanish at the reference ride height. lateral + outboard, fore_aft + forward.
    """

    camber: TravelCurve = field(default_factory=TravelCurve)
    lateral: TravelCurve = field(default_factory=TravelCurve)
    fore_aft: TravelCurve = field(default_factory=TravelCurve)
    toe_out: TravelCurve = field(default_factory=TravelCurve)


@dataclass(frozen=True)
class Tilt:
    """A change of camber as a setup makes it: the angle, and the line along x that it turns about.

    angle: + top outboard. The line passes at y (outboard of the hub face) and z (above the spin
    axis); the default turns about the hub face at spindle height, and a wheel's own centre is
    (centre plane, 0).
    """

    angle: Deg = 0.0
    y: Mm = 0.0
    z: Mm = 0.0


@dataclass(frozen=True)
class IndependentCorner:
    """A wheel on independent suspension that is known by its curves.

    knuckle_tilt: camber set between strut and knuckle (the strut stays). mount_tilt: camber set by
    moving the top, which leans strut, axis and wheel together. static_toe_out: set at the tie rod,
    so it turns about the steering axis. An unsteered wheel keeps the default axis.
    """

    curves: Curves = field(default_factory=Curves)
    axis: SteeringAxis = field(default_factory=SteeringAxis)
    knuckle_tilt: Tilt = field(default_factory=Tilt)
    mount_tilt: Tilt = field(default_factory=Tilt)
    static_toe_out: Deg = 0.0

    def poses(self, at: Positions) -> WheelPoses:
        """Give the wheel's poses at the positions, seen from body, arm, strut and hub."""
        return independent_poses(self, at)


def travelled(curves: Curves, travel: npt.ArrayLike) -> Motions:
    """Motions of a knuckle over its travel; steering left out.

    The hub's point rises by exactly the travel. travel: mm, (p,), within the sheet's limits: a
    polynomial says nothing beyond the range it was fitted on.
    Source: own derivation: attitude from camber and toe, place from the curves.

    >>> curves = Curves(camber=TravelCurve((-0.013,)), lateral=TravelCurve((0.02,)))
    >>> travelled(curves, 84.0).translation.round(2).tolist()
    [[0.0, 1.68, 84.0]]
    """
    z = row(travel)
    place = np.stack([curves.fore_aft.at(z), curves.lateral.at(z), z], axis=1)
    return Motions(attitudes(curves.camber.at(z), curves.toe_out.at(z)), place)


def tilted_at_knuckle(tilt: Tilt) -> Motions:
    """Motion of the wheel against its strut by camber bolts between strut and knuckle.

    The strut, its perch and what hangs on it stay: the tyre's top nears them with negative camber.
    The knuckle really turns about one of the bolts; give its place where it is known.
    Source: own derivation: a turn about a line along x.

    >>> tilted_at_knuckle(Tilt(-1.0, z=-120.0)).translation.round(2).tolist()
    [[0.0, -2.09, -0.02]]
    """
    return turns((1.0, 0.0, 0.0), -tilt.angle, through=(0.0, tilt.y, tilt.z))


def tilted_at_mount(tilt: Tilt, axis: SteeringAxis) -> Motions:
    """Motion of strut, knuckle and wheel together by a moved top mount or upper arm.

    It turns about the lower ball joint: tilt.z is that joint's height, and the line passes where
    the steering axis crosses it, tilt.y being counted from there. The steering axis leans along.
    Source: own derivation: a turn about a line along x through a point of the steering axis.

    >>> tilted_at_mount(Tilt(-1.0), SteeringAxis(distance=96.4)).translation.round(2).tolist()
    [[0.0, -0.01, 1.68]]
    """
    inward = np.tan(np.radians(axis.inclination))
    joint = -axis.distance - tilt.z * float(inward)
    return turns((1.0, 0.0, 0.0), -tilt.angle, through=(0.0, joint + tilt.y, tilt.z))


def independent_poses(corner: IndependentCorner, at: Positions) -> WheelPoses:
    """Poses of a wheel on independent suspension, seen from each body that carries sites.

    The other side's travel has no effect. Sites on an arm are taken to move straight with the
    wheel: an arm's own swing about its pivots is left out.
    Source: own derivation: composition of rigid motions in the order of the module's head.

    >>> from generator.geometry.frames import positions
    >>> independent_poses(IndependentCorner(), positions(80.0)).body.translation.tolist()
    [[0.0, 0.0, 80.0]]
    """
    wheel_in_strut = tilted_at_knuckle(corner.knuckle_tilt)
    turned = composed(steered(corner.axis, at.steer + corner.static_toe_out), wheel_in_strut)
    on_arm = composed(tilted_at_mount(corner.mount_tilt, corner.axis), turned)
    on_body = composed(travelled(corner.curves, at.travel), on_arm)
    return WheelPoses(
        body=labelled(on_body, at),
        arm=labelled(on_arm, at),
        strut=labelled(wheel_in_strut, at),
        hub=labelled(still(1), at),
    )
