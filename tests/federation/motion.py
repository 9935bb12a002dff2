"""Where the wheels of many cars of one kind stand: rotations and shifts by travel and steer.

Corner frame: x forward, y outboard, z up, mm, from the hub's face at reference ride height; the
right side is mirrored. Travel + bump, steer + toe-out, camber + top outboard.
"""

from dataclasses import dataclass
from functools import cache
from math import radians, tan

import numpy as np

from tests.federation.section import Floats
from tests.truth.swept import joints_of, number, one_strut, strut_of, two_arms

LOWER_JOINT = -120.0
"""Height of the lower ball joint, about which camber is set, mm."""
KNOTS = 9
"""Travels at which a linkage is solved; between them a polynomial."""

Joints = tuple[tuple[float, ...], ...]
"""Four joints of two arms seen from ahead, or five points of a strut."""
Motion = tuple[Floats, Floats]
"""Rotations (cars, 3, 3) and shifts (cars, 3)."""


@dataclass(frozen=True)
class Stance:
    """How each car of a kind stands and how far its wheels go, one end; arrays (cars,)."""

    rest: Floats
    """Travel at which it stands, above zero where it is lowered."""
    bump: Floats
    droop: Floats
    camber_set: Floats
    """Set at the top mount or the upper arm, beside what the height gives."""
    aside: Floats
    """An axle off centre, to the left positive."""


def turned(axis: int, angle: Floats) -> Floats:
    """Rotations about x, y or z by angles in radians, right-handed."""
    cos, sine = np.cos(angle), np.sin(angle)
    found = np.zeros((len(angle), 3, 3))
    first, second = (axis + 1) % 3, (axis + 2) % 3
    found[:, axis, axis] = 1.0
    found[:, first, first] = found[:, second, second] = cos
    found[:, first, second], found[:, second, first] = -sine, sine
    return found


def about(axis: Floats, angle: float) -> Floats:
    """Rotation about any axis (Rodrigues), angle in radians."""
    k = axis / np.linalg.norm(axis)
    cross = np.array([[0, -k[2], k[1]], [k[2], 0, -k[0]], [-k[1], k[0], 0]])
    found: Floats = np.eye(3) + np.sin(angle) * cross + (1.0 - np.cos(angle)) * cross @ cross
    return found


def combined(outer: Motion, inner: Motion) -> Motion:
    """First the inner motion, then the outer one."""
    return outer[0] @ inner[0], np.einsum("nij,nj->ni", outer[0], inner[1]) + outer[1]


@cache
def _fitted(joints: Joints, low: float, high: float) -> Floats:
    """Polynomials (degree, 3) of camber, sideways and fore-aft motion of joints over the travel."""
    travels = np.linspace(low, high, KNOTS)
    solved = [
        (*two_arms(joints, float(z)), 0.0) if len(joints) == 4 else one_strut(joints, float(z))
        for z in travels
    ]
    return np.polyfit(travels / 100.0, np.array(solved), KNOTS - 4)


@dataclass(frozen=True)
class Kind:
    """One end of a kind of car, by its sheet."""

    sheet: dict
    axle: str

    @property
    def move(self) -> dict:
        """The sheet's suspension."""
        found: dict = self.sheet[self.axle]["suspension"]
        return found

    @property
    def steers(self) -> bool:
        """Is it the end that steers?"""
        return self.axle == "front"

    @property
    def is_symmetric(self) -> bool:
        """Do left and right move alike?"""
        return self.move["kind"] != "live axle"

    def states(self, stance: Stance) -> dict[str, tuple[Floats, Floats, float]]:
        """Give own travel, the other side's travel and steer of each named state."""
        z, bump, droop = stance.rest, stance.bump, -stance.droop
        found = {"static": (z, z, 0.0), "full droop": (droop, droop, 0.0)}
        found["full bump"] = (bump, bump, 0.0)
        if self.steers:
            out = number(self.sheet["steering"]["toe_out_lock"])
            into = -number(self.sheet["steering"]["toe_in_lock"])
            for where, words in ((z, ""), (bump * 2.0 / 3.0, " at bump"), (droop, " at droop")):
                found[f"toe-out lock{words}"] = (where, where, out)
                found[f"toe-in lock{words}"] = (where, where, into)
        if "articulation_up" in self.move:
            up = np.full_like(z, number(self.move["articulation_up"]))
            down = np.full_like(z, number(self.move["articulation_down"]))
            found["this side up, other down"] = (up, down, 0.0)
            found["this side down, other up"] = (down, up, 0.0)
        return found

    def own_motion(self, z: Floats) -> tuple[Floats, Floats, Floats]:
        """Camber in degrees, sideways and fore-aft motion by travel."""
        points = self.sheet[self.axle].get("hard_points")
        if points:
            joints = joints_of(points) if "upper_arm" in points else strut_of(points)
            reach = 1.3 * max(number(self.move["bump"]), number(self.move["droop"]))
            camber, lateral, fore = (
                np.polyval(each, z / 100.0) for each in _fitted(joints, -reach, reach).T
            )
            return camber, lateral, fore
        names = ("camber_gain", "lateral_gain", "fore_aft_gain")
        camber, lateral, fore = (number(self.move.get(name, "0")) * z for name in names)
        return camber, lateral, fore

    def steered(self, stance: Stance, steer: float) -> Motion:
        """By steer and by the camber set, against what carries the wheel."""
        lean = radians(number(self.sheet["steering"]["inclination"])) if self.steers else 0.0
        pivot = np.array([0.0, -number(self.sheet["steering"]["axis_inset"]), 0.0])
        if not self.steers:
            pivot = np.zeros(3)
        joint = pivot + LOWER_JOINT * np.array([0.0, -tan(lean), 1.0])
        tilt = turned(0, -np.radians(stance.camber_set))
        aside = tilt, joint - np.einsum("nij,j->ni", tilt, joint)
        if not steer:
            return aside
        trail = radians(number(self.sheet["steering"]["caster"]))
        turn = about(np.array([-tan(trail), -tan(lean), 1.0]), radians(steer))
        rows = len(stance.rest)
        own = np.broadcast_to(turn, (rows, 3, 3)), np.tile(pivot - turn @ pivot, (rows, 1))
        return combined(aside, own)

    def carried(self, stance: Stance, pose: tuple[Floats, Floats, float], side: str) -> Motion:
        """By travel of this wheel, and of the other one where that counts."""
        z, other, _ = pose
        aside = stance.aside if side == "left" else -stance.aside
        if self.move["kind"] == "live axle":
            return self._axle(z, other, side, aside)
        camber, lateral, fore = self.own_motion(z)
        toe = number(self.move.get("toe_gain", "0")) * z
        if self.move["kind"] == "twist beam":
            single, both = (number(self.move[k]) for k in ("single_camber_gain", "camber_gain"))
            camber = camber + (single - both) * (z - other)
            toe = toe + number(self.move["single_toe_gain"]) * (z - other)
        turn = turned(0, -np.radians(camber)) @ turned(2, np.radians(toe))
        return turn, np.stack((fore, lateral + aside, z), axis=1)

    def _axle(self, z: Floats, other: Floats, side: str, aside: Floats) -> Motion:
        face = number(self.sheet[self.axle]["face_distance"])
        heave, roll = (z + other) / 2.0, np.arctan2(z - other, face)
        held = number(self.move["roll_centre_height"]) * np.sin(roll) + aside
        if "rod" in self.move:
            rod = self.move["rod"]
            length, rise = number(rod["length"]), number(rod["height_difference"])
            arc = np.sqrt(length**2 - (rise - heave) ** 2) - (length**2 - rise**2) ** 0.5
            held = held - arc if rod["body_side"] == side else held + arc
        turn, middle = turned(0, roll), np.array([0.0, -face / 2.0, 0.0])
        shift = middle - np.einsum("nij,j->ni", turn, middle)
        return turn, shift + np.stack((np.zeros_like(z), held, heave), axis=1)
