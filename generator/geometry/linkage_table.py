"""A solved linkage as a smooth table over travel and steer, quick enough for a sweep past sites.

The hub's motion on a linkage is smooth, so that a few dozen solved poses carry it: both rotation
vector and translation are interpolated by Chebyshev polynomials through nodes over the range that
the wheel can do. Outside that range a polynomial says nothing.
Travel + bump, steer + toe-out; see linkage.
"""

from math import pi

import numpy as np
from numpy.polynomial import chebyshev

from generator.frozen import dataclass
from generator.geometry.frames import (
    Floats,
    Motions,
    Positions,
    WheelPoses,
    composed,
    labelled,
    rotations,
    still,
)
from generator.geometry.linkage import solved
from generator.geometry.linkage_steer import LinkageCorner, rack_for_steer
from generator.geometry.suspension import tilted_at_knuckle
from generator.geometry.travel import Locks, TravelLimits
from generator.quantities.units import Deg, Mm

TRAVEL_NODES = 10
STEER_NODES = 12
"""Enough for a thousandth of a millimetre on the linkages of cars: see the tests."""
LEAST_STEER: Deg = 1.0
"""A wheel that does not steer is tabulated over this much, so that the table has a width."""
SLACK: Mm = 1e-6
"""Positions this far beyond the range, mm or deg, come from rounding."""


@dataclass(frozen=True)
class Range:
    """From the least to the greatest."""

    least: float
    greatest: float

    def scaled(self, values: Floats) -> Floats:
        """Give values (p,) as −1 to 1 over the range. Raises ValueError outside it."""
        outside = (values < self.least - SLACK) | (values > self.greatest + SLACK)
        if outside.any():
            worst = float(values[np.argmax(outside)])
            raise ValueError(
                f"{worst:.1f} lies outside the tabulated {self.least:.1f} to {self.greatest:.1f}"
            )
        middle, half = 0.5 * (self.least + self.greatest), 0.5 * (self.greatest - self.least)
        return np.clip((values - middle) / half, -1.0, 1.0)

    def nodes(self, count: int) -> Floats:
        """Give Chebyshev nodes (count,) over the range."""
        middle, half = 0.5 * (self.least + self.greatest), 0.5 * (self.greatest - self.least)
        places: Floats = middle + half * np.cos(pi * (np.arange(count) + 0.5) / count)
        return places


@dataclass(frozen=True, eq=False)
class LinkageTable:
    """A corner on a tabulated linkage; coefficients (travel, steer, 6) of turn (rad) and shift."""

    corner: LinkageCorner
    travel: Range
    steer: Range
    coefficients: Floats

    def poses(self, at: Positions) -> WheelPoses:
        """Give the wheel's poses at the positions, seen from body, arm, strut and hub."""
        return table_poses(self, at)


def tabulated(corner: LinkageCorner, limits: TravelLimits, locks: Locks) -> LinkageTable:
    """Solve a linkage at the nodes of its range and carry its motion between them.

    limits, locks: all that the wheel can do. Steer is what the rack gives at zero travel.
    Raises ValueError, with the words of the solver, where the linkage does not reach so far.
    Source: own derivation: Chebyshev interpolation of a smooth motion of two variables.

    >>> from generator.geometry.linkage import Arm, DoubleWishbone, TieRod
    >>> arms = Arm((150, -350, -120), (-150, -350, -120), (0, -70, -120)), Arm(
    ...     (100, -300, 150), (-120, -300, 150), (-18, -118, 155)
    ... )
    >>> wishbones = DoubleWishbone(*arms, TieRod((-128, -330, -60), (-128, -90, -60)))
    >>> from generator.geometry.frames import positions
    >>> table = tabulated(LinkageCorner(wishbones), TravelLimits(80.0, 70.0), Locks(30.0, 28.0))
    >>> table.poses(positions([-70.0, 80.0], 10.0)).body.translation[:, 2].round(3).tolist()
    [-70.0, 80.0]
    """
    travel = Range(-limits.droop, limits.bump)
    steer = Range(-max(locks.toe_in, LEAST_STEER), max(locks.toe_out, LEAST_STEER))
    levels, angles = travel.nodes(TRAVEL_NODES), steer.nodes(STEER_NODES)
    racks = rack_for_steer(corner.linkage, angles)
    motions = solved(corner.linkage, np.repeat(levels, STEER_NODES), np.tile(racks, TRAVEL_NODES))
    values = np.concatenate([_turns(motions.rotation), motions.translation], axis=1)
    grid = values.reshape(TRAVEL_NODES, STEER_NODES, 6)
    along_travel = _inverse(travel.scaled(levels))
    along_steer = _inverse(steer.scaled(angles))
    coefficients = np.einsum("ai,bj,ijk->abk", along_travel, along_steer, grid)
    return LinkageTable(corner, travel, steer, coefficients)


def table_poses(table: LinkageTable, at: Positions) -> WheelPoses:
    """Poses of a wheel by the table, seen from each body that carries sites.

    Sites on an arm are taken to move straight with the wheel, as in `linkage.linkage_poses`.
    Raises ValueError for positions outside the table's range.
    Source: own derivation: see `tabulated`.
    """
    wheel_in_strut = tilted_at_knuckle(table.corner.knuckle_tilt)
    on_body = _motions(table, at.travel, at.steer)
    on_arm = _motions(table, 0.0 * at.travel, at.steer)
    return WheelPoses(
        body=labelled(composed(on_body, wheel_in_strut), at),
        arm=labelled(composed(on_arm, wheel_in_strut), at),
        strut=labelled(wheel_in_strut, at),
        hub=labelled(still(1), at),
    )


def _motions(table: LinkageTable, travel: Floats, steer: Floats) -> Motions:
    by_travel = chebyshev.chebvander(table.travel.scaled(travel), TRAVEL_NODES - 1)
    by_steer = chebyshev.chebvander(table.steer.scaled(steer), STEER_NODES - 1)
    values = np.einsum("pa,pb,abk->pk", by_travel, by_steer, table.coefficients)
    turn, shift = values[:, :3], values[:, 3:]
    size = np.linalg.norm(turn, axis=1)
    axis = np.where(size[:, None] > 0.0, turn, (0.0, 0.0, 1.0))
    return Motions(rotations(axis, np.degrees(size)), shift)


def _inverse(scaled: Floats) -> Floats:
    """Give what turns values at nodes into Chebyshev coefficients (n, n)."""
    return np.asarray(np.linalg.inv(chebyshev.chebvander(scaled, len(scaled) - 1)))


def _turns(rotation: Floats) -> Floats:
    """Give rotation vectors (p, 3), radians, of rotations (p, 3, 3) below half a turn."""
    twice = np.stack(
        [
            rotation[:, 2, 1] - rotation[:, 1, 2],
            rotation[:, 0, 2] - rotation[:, 2, 0],
            rotation[:, 1, 0] - rotation[:, 0, 1],
        ],
        axis=1,
    )
    sine = 0.5 * np.linalg.norm(twice, axis=1)
    cosine = 0.5 * (np.trace(rotation, axis1=1, axis2=2) - 1.0)
    angle = np.arctan2(sine, cosine)
    # Near no turn at all the ratio of angle to sine is one.
    stretch = np.where(sine > 1e-9, angle / np.where(sine > 1e-9, sine, 1.0), 1.0)
    vectors: Floats = 0.5 * twice * stretch[:, None]
    return vectors
