"""Live axle, beam axle and twist beam: the pose of one wheel depends on both sides' travel.

Axle frame: origin midway between the hub faces at the reference ride height, y to the LEFT, z up,
x forward. Locating devices are entered once in that frame; a corner takes them as they are on the
left and mirrored on the right, and everything below then reads y as outboard.
Tilt + lifts this side; the tyre's top leans in on the lifted side. Sideways shift + outboard.
"""

from dataclasses import field, replace
from enum import Enum
from math import sqrt
from typing import Protocol

import numpy as np
import numpy.typing as npt

from generator.frozen import dataclass
from generator.geometry.frames import (
    Floats,
    Motions,
    Positions,
    WheelPoses,
    attitudes,
    labelled,
    rotations,
    row,
    still,
)
from generator.geometry.suspension import Curves, TravelCurve, travelled
from generator.quantities.units import Deg, DegPerMm, Mm


class Side(Enum):
    """A side of the car, seen from the driver's seat; the value is the sign of its y."""

    LEFT = 1
    RIGHT = -1


class Location(Protocol):
    """What holds an axle sideways."""

    def shift(self, heave: Floats, tilt: Floats) -> Floats:
        """Give the sideways shift (p,) mm of the axle's middle; tilt in radians."""
        ...

    def mirrored(self) -> "Location":
        """Give the device as the other side of the car sees it."""
        ...


@dataclass(frozen=True)
class PanhardRod:
    """A lateral rod of constant length from the body to the axle.

    Ends are (y, z) in the axle frame at the reference ride height; the rod's lean fore and aft is
    left out. adjustment: how much longer than the sheet's the fitted rod is.
    Raises ValueError for a rod that stands upright, which locates nothing.
    """

    body_end: tuple[Mm, Mm]
    axle_end: tuple[Mm, Mm]
    adjustment: Mm = 0.0

    def __post_init__(self) -> None:
        if not abs(self.span) > 0.0:
            raise ValueError("a lateral rod needs its ends at different places across the car")

    @property
    def span(self) -> Mm:
        """Give y of the axle end seen from the body end, at reference height and sheet's length."""
        return self.axle_end[0] - self.body_end[0]

    @property
    def length(self) -> Mm:
        """Give the length of the fitted rod."""
        return sqrt(self.span**2 + (self.body_end[1] - self.axle_end[1]) ** 2) + self.adjustment

    def shift(self, heave: Floats, tilt: Floats) -> Floats:
        """Give the sideways shift (p,) mm of the axle's middle; tilt in radians."""
        return located_by_rod(self, heave, tilt)

    def mirrored(self) -> "PanhardRod":
        """Give the rod as the other side of the car sees it."""
        return replace(
            self,
            body_end=(-self.body_end[0], self.body_end[1]),
            axle_end=(-self.axle_end[0], self.axle_end[1]),
        )


@dataclass(frozen=True)
class HeldCentre:
    """A point of the axle's middle that stays in one plane along the car, and turns there.

    aside: of that plane, left of the car's middle: how far off centre the axle was found at rest.
    height: above the spin axis. For a Watt's linkage it is the centre pivot on the axle (exact only
    as far as the linkage runs straight); for leaf springs, which have no lateral device, the height
    of the springs' eyes, the sideways give of the bushes being left to the uncertainty.
    """

    height: Mm = 0.0
    aside: Mm = 0.0

    def shift(self, heave: Floats, tilt: Floats) -> Floats:
        """Give the sideways shift (p,) mm of the axle's middle; tilt in radians."""
        held: Floats = self.aside + self.height * np.sin(tilt) + 0.0 * heave
        return held

    def mirrored(self) -> "HeldCentre":
        """Give the device as the other side of the car sees it."""
        return replace(self, aside=-self.aside)


@dataclass(frozen=True)
class RigidAxle:
    """A live or dead axle: both hubs on one rigid body.

    face_distance: between the hubs' mounting faces, > 0. fore_aft: forward motion of the axle over
    its mean travel, + forward.
    """

    face_distance: Mm
    location: Location = field(default_factory=HeldCentre)
    fore_aft: TravelCurve = field(default_factory=TravelCurve)

    def __post_init__(self) -> None:
        if not self.face_distance > 0.0:
            raise ValueError(f"an axle needs a width above 0, got {self.face_distance}")


@dataclass(frozen=True)
class AxleCorner:
    """One wheel of a rigid axle."""

    axle: RigidAxle
    side: Side

    def poses(self, at: Positions) -> WheelPoses:
        """Give the wheel's poses at the positions, seen from body, arm, strut and hub."""
        return axle_poses(self, at)


@dataclass(frozen=True)
class TwistBeam:
    """One wheel of a twist beam: curves for equal travel, rates for one wheel's bump alone.

    single_camber, single_toe_out: change per mm of bump of this wheel with the other one at rest.
    """

    parallel: Curves = field(default_factory=Curves)
    single_camber: DegPerMm = 0.0
    single_toe_out: DegPerMm = 0.0

    def poses(self, at: Positions) -> WheelPoses:
        """Give the wheel's poses at the positions, seen from body, arm, strut and hub."""
        return beam_poses(self, at)


def rod_across(length: Mm, *, body_height: Mm, axle_height: Mm, body_side: Side) -> PanhardRod:
    """Lateral rod known by its length and the heights of its ends, lying evenly across the car.

    Heights count from the spin axis at the reference ride height. Where the sheet does not say how
    far across each end lies, both are taken equally far from the middle: this matters only while
    the axle is tilted.
    Raises ValueError for a rod shorter than its ends are apart in height.
    Source: own derivation: span = √(L² − rise²).

    >>> rod = rod_across(1015.0, body_height=46.0, axle_height=4.0, body_side=Side.LEFT)
    >>> round(rod.body_end[0], 1), round(rod.length, 6)
    (507.1, 1015.0)
    """
    rise = body_height - axle_height
    if not length > abs(rise):
        raise ValueError(f"a rod of {length} mm cannot join ends {abs(rise)} mm apart in height")
    half = 0.5 * sqrt(length**2 - rise**2) * body_side.value
    return PanhardRod(body_end=(half, body_height), axle_end=(-half, axle_height))


def located_by_rod(rod: PanhardRod, heave: Floats, tilt: Floats) -> Floats:
    """Sideways shift (p,), mm, of a tilted axle's middle on a rod of constant length.

    heave: mm, (p,). tilt: radians, (p,). Closed form: the height of the rod's axle end follows from
    heave and tilt alone, so its place across the car follows from the length.
    Raises ValueError where the rod is too short for that height.
    Source: own derivation: |axle end − body end| = L in the plane across the car.
    """
    (body_y, body_z), (axle_y, axle_z) = rod.body_end, rod.axle_end
    across = axle_y * np.cos(tilt) - axle_z * np.sin(tilt)
    up = heave + axle_y * np.sin(tilt) + axle_z * np.cos(tilt)
    square = rod.length**2 - (up - body_z) ** 2
    if not (square >= 0.0).all():
        worst = int(np.argmin(square))
        raise ValueError(
            f"the lateral rod of {rod.length:.1f} mm does not reach over "
            f"{abs(up[worst] - body_z):.1f} mm of height"
        )
    shift: Floats = body_y + np.sign(rod.span) * np.sqrt(square) - across
    return shift


def lowering_shift(rod: PanhardRod, lowering: Mm) -> Mm:
    """Shift of the axle to the left, mm, by a car that sits lower by so much, both sides alike.

    lowering: below the reference ride height; negative for a raised car.
    Raises ValueError where the rod does not reach.
    Source: own derivation: see `located_by_rod`.

    >>> rod = rod_across(1015.0, body_height=46.0, axle_height=4.0, body_side=Side.LEFT)
    >>> round(lowering_shift(rod, 25.0), 1)
    -0.7
    """
    return float(located_by_rod(rod, row(lowering), row(0.0))[0])


def centring_adjustment(rod: PanhardRod, lowering: Mm, *, shift: Mm = 0.0) -> Mm:
    """Change of the rod's length, against the sheet's, that centres the axle at a ride height.

    + is longer. shift: how far left of the middle the axle is wanted in the model, to cancel an
    error measured on the car: minus its shift to the left, half the left-right difference.
    Source: own derivation: length between the ends with the axle held at the wanted place.

    >>> rod = rod_across(1015.0, body_height=46.0, axle_height=4.0, body_side=Side.LEFT)
    >>> round(centring_adjustment(rod, 25.0), 2)
    -0.73
    """
    rise = rod.body_end[1] - rod.axle_end[1] - lowering
    at_rest = rod.length - rod.adjustment
    return sqrt((rod.span + shift) ** 2 + rise**2) - at_rest


def axle_tilt(face_distance: Mm, travel: npt.ArrayLike, other_travel: npt.ArrayLike) -> Floats:
    """Tilt (p,), deg, of a rigid axle whose hub points stand at two heights, + this side up.

    Raises ValueError for a difference greater than the axle is wide.
    Source: own derivation: sin φ = (z − z_other) / face distance. The sine, not the tangent: the
    axle keeps its length, and with it each hub's point stands at exactly its travel.

    >>> axle_tilt(1380.0, 70.0, -60.0).round(1)
    array([5.4])
    """
    slope = (row(travel) - row(other_travel)) / face_distance
    if not (np.abs(slope) <= 1.0).all():
        raise ValueError("the wheels' travels differ by more than the axle is wide")
    return np.degrees(np.arcsin(slope))


def axle_poses(corner: AxleCorner, at: Positions) -> WheelPoses:
    """Poses of one wheel of a rigid axle, seen from body and axle; steer must be zero.

    Sites on an arm (a link) are taken to move with the axle.
    Raises ValueError for steer, for a tilt beyond the axle's width and for a rod out of reach.
    Source: own derivation: rigid motion in the plane across the car.

    >>> from generator.geometry.frames import positions
    >>> wheel = AxleCorner(RigidAxle(1428.0), Side.LEFT)
    >>> wheel.poses(positions(70.0, other_travel=-60.0)).body.translation.round(2).tolist()
    [[0.0, -2.96, 70.0]]
    """
    if at.steer.any():
        raise ValueError("a rigid axle's wheel does not steer")
    axle = corner.axle
    location = axle.location if corner.side is Side.LEFT else axle.location.mirrored()
    heave = 0.5 * (at.travel + at.other_travel)
    degrees = axle_tilt(axle.face_distance, at.travel, at.other_travel)
    tilt = np.radians(degrees)
    half = 0.5 * axle.face_distance
    place = np.stack(
        [
            axle.fore_aft.at(heave),
            location.shift(heave, tilt) - half * (1.0 - np.cos(tilt)),
            heave + half * np.sin(tilt),
        ],
        axis=1,
    )
    return _with_axle_sites(Motions(rotations((1.0, 0.0, 0.0), degrees), place), at)


def beam_poses(beam: TwistBeam, at: Positions) -> WheelPoses:
    """Poses of one wheel of a twist beam, seen from body and beam; steer must be zero.

    Linear in the difference of both sides' travel: the beam's twist is taken as even.
    Raises ValueError for steer.
    Source: own derivation: equal travel by curves, and the rest of the single-wheel rate times the
    difference, so that both the measured cases are met exactly for straight curves.

    >>> from generator.geometry.frames import camber, positions
    >>> beam = TwistBeam(Curves(camber=TravelCurve((-0.002,))), single_camber=-0.018)
    >>> camber(beam.poses(positions(50.0, other_travel=0.0)).body).round(3)
    array([-0.9])
    """
    if at.steer.any():
        raise ValueError("a twist beam's wheel does not steer")
    together = travelled(beam.parallel, at.travel)
    twist = at.travel - at.other_travel
    camber = (
        beam.parallel.camber.at(at.travel) + _rest(beam.single_camber, beam.parallel.camber) * twist
    )
    toe = (
        beam.parallel.toe_out.at(at.travel)
        + _rest(beam.single_toe_out, beam.parallel.toe_out) * twist
    )
    return _with_axle_sites(Motions(attitudes(camber, toe), together.translation), at)


def _rest(single: DegPerMm, parallel: TravelCurve) -> DegPerMm:
    """Give what single-wheel bump adds to the slope of the curve for equal travel."""
    return single - (parallel.coefficients[0] if parallel.coefficients else 0.0)


def _with_axle_sites(on_body: Motions, at: Positions) -> WheelPoses:
    fixed = labelled(still(1), at)
    return WheelPoses(body=labelled(on_body, at), arm=fixed, strut=fixed, hub=fixed)


def lean_at(tilt: Deg, height: Mm) -> Mm:
    """How far inboard a point above the axle line goes on the lifted side, by tilt alone.

    Source: own derivation: h sin φ.

    >>> round(lean_at(5.4, 290.0))
    27
    """
    return height * float(np.sin(np.radians(tilt)))
