"""The demo club's own small geometry, apart from the guide's: a tyre swept past the sites.

Corner frame: x forward, y outboard, z up, mm, from the hub face at reference ride height; the right
side is mirrored. Travel + bump, steer + toe-out, camber + top outboard. The section is two quarter
superellipses a side, from the crown over the widest point in to the lip, and a band of rim that is
open below: another outline than the guide's by a millimetre or two, so that agreement between the
two says something.
"""

from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from math import atan2, degrees, radians, sin, sqrt
from pathlib import Path

import numpy as np
import numpy.typing as npt
import yaml
from scipy.optimize import root
from scipy.spatial import cKDTree
from scipy.spatial.transform import Rotation

Floats = npt.NDArray[np.float64]
CHASSIS = Path(__file__).parents[2] / "content_demo" / "chassis"
SHOULDER = 28.0
FLANGE_TOP = 17.3
SEATS = {13: 329.4, 14: 354.8, 15: 380.2, 16: 405.6, 17: 436.6}
"""Diameter of the bead seat by the rim's code, mm [ISO4000-2], from memory."""
BARREL = 16.0
"""From the bead seat down to the inside of the barrel, mm."""
ROUNDNESS = 150.0
"""Exponent of the shoulder times its radius, mm: 28 mm gives a tyre of everyday shape."""
SIDEWALL = (2.2, 1.3)
"""Exponents of the lower sidewall, along the radius and across."""
STEP = 1.0
"""Between points of an outline, mm."""
LOWER_JOINT = -120.0
"""Height of the lower ball joint, mm."""
SPACING = 5.0
"""Millimetres between points of a site and between travels of a sweep."""


@dataclass(frozen=True)
class Tyre:
    """What turns: section, diameter, shoulder, and the rim with its two lips."""

    centre: float
    section: float
    diameter: float
    rim_width: float
    rim_diameter: float
    flange_inboard: float = 12.7
    flange_outboard: float = 12.7
    shoulder: float = SHOULDER

    @property
    def lip(self) -> float:
        """Radius of the top of the rim's lip."""
        return SEATS[round(self.rim_diameter / 25.4)] / 2.0 + FLANGE_TOP

    @property
    def barrel(self) -> float:
        """Radius of the inside of the barrel, which is open."""
        return SEATS[round(self.rim_diameter / 25.4)] / 2.0 - BARREL

    def half_width(self, r: Floats) -> Floats:
        """Half the tyre's width at a radius; nothing where there is no tyre."""
        half, bead = self.section / 2.0, self.rim_width / 2.0 + 1.0
        widest = (self.diameter + self.lip + self.barrel) / 4.0
        above = np.clip((r - widest) / (self.diameter / 2.0 - widest), 0.0, 1.0)
        below = np.clip((widest - r) / (widest - self.lip), 0.0, 1.0)
        n, (along, across) = ROUNDNESS / self.shoulder, SIDEWALL
        upper = half * (1.0 - above**n) ** (1.0 / n)
        lower = bead + (half - bead) * (1.0 - below**along) ** (1.0 / across)
        found: Floats = np.where(r > widest, upper, lower)
        found[(r < self.lip) | (r > self.diameter / 2.0)] = 0.0
        return found

    def distance(self, points: Floats) -> Floats:
        """Signed distance of points (n, 3) in the wheel's frame."""
        u, r = points[:, 1] - self.centre, np.hypot(points[:, 0], points[:, 2])
        away, _ = _outline(self).query(np.column_stack((u, r)))
        in_rim = (
            (r > self.barrel)
            & (r < self.lip)
            & (u < self.rim_width / 2.0 + self.flange_outboard)
            & (u > -self.rim_width / 2.0 - self.flange_inboard)
        )
        inside = in_rim | (np.abs(u) < self.half_width(r))
        signed: Floats = np.where(inside, -away, away)
        return signed

    def least(self, points: Floats) -> float:
        """Least signed distance; only points that a box around it all does not rule out count."""
        u, r = points[:, 1] - self.centre, np.hypot(points[:, 0], points[:, 2])
        lips = self.rim_width / 2.0 + max(self.flange_inboard, self.flange_outboard)
        a, b = np.abs(u) - max(self.section / 2.0, lips), r - self.diameter / 2.0
        outside = np.hypot(np.maximum(a, 0.0), np.maximum(b, 0.0))
        bound = outside + np.minimum(np.maximum(a, b), 0.0)
        first = float(self.distance(points[[int(bound.argmin())]])[0])
        return min(first, float(self.distance(points[bound <= first + STEP]).min(initial=first)))


@dataclass(frozen=True)
class Reach:
    """How far one end of a car goes: travel, locks, where it rests, camber set, rod shift."""

    bump: float
    droop: float
    toe_out: float = 0.0
    toe_in: float = 0.0
    rest: float = 0.0
    camber: float | None = None
    """As measured standing; None where nobody touched it."""
    up: float | None = None
    down: float | None = None
    at_knuckle: bool = False
    """Camber set at the knuckle bolts: the wheel leans against its strut, which stays."""
    outboard: float = 0.0
    """Constant shift of this wheel outboard by an axle off centre."""


@dataclass(frozen=True)
class Pose:
    """Where the wheel is: its own travel, the other side's, and steer."""

    travel: float
    other: float
    steer: float = 0.0


@cache
def _outline(tyre: Tyre) -> cKDTree:
    """Points (n, 2), (u, r), around the section: tyre, lips and the inside of the barrel."""
    spread = np.linspace(0.0, np.pi / 2.0, 400)
    r = tyre.lip + (tyre.diameter / 2.0 - tyre.lip) * np.sin(spread)
    half = tyre.half_width(r)
    inboard = -tyre.rim_width / 2.0 - tyre.flange_inboard
    outboard = tyre.rim_width / 2.0 + tyre.flange_outboard
    corners = [
        (-half[0], tyre.lip), (inboard, tyre.lip), (inboard, tyre.barrel),
        (outboard, tyre.barrel), (outboard, tyre.lip), (half[0], tyre.lip),
    ]  # fmt: skip
    around = [*np.column_stack((-half, r))[::-1], *corners, *np.column_stack((half, r))]
    pieces = []
    for begin, end in pairwise([*around, around[0]]):
        count = 1 + int(np.hypot(end[0] - begin[0], end[1] - begin[1]) / STEP)
        share = np.arange(count)[:, None] / count
        pieces.append(np.array(begin) + share * (np.array(end) - np.array(begin)))
    return cKDTree(np.vstack(pieces))


def number(text: object) -> float:
    """Read `-139 mm`, `3/4 in`, `7.5` as a number without its unit."""
    first = str(text).split(" ")[0]
    if "/" in first:
        top, bottom = first.split("/")
        return float(top) / float(bottom)
    return float(first)


@cache
def sheet(chassis: str) -> dict:
    """Read a chassis sheet as plain data, by no part of the guide."""
    return yaml.load((CHASSIS / f"{chassis}.yaml").read_text("utf-8"), yaml.BaseLoader)


def _run(text: str) -> tuple[float, float, bool]:
    body = text.rsplit(" ", 1)[0]
    for mark in (" to ", " -> "):
        if mark in body:
            low, high = body.split(mark)
            return float(low), float(high), mark == " -> "
    return float(body), float(body), False


def site_points(site: dict, lips_gained: float, lips_cut: float = 0.0) -> tuple[Floats, float]:
    """Points (n, 3) of a site, and what is taken off every gap for its thickness."""
    if "arc" in site:
        arc = site["arc"]
        begin, end, radius = number(arc["begin"]), number(arc["end"]), number(arc["radius"])
        turn = np.radians(np.linspace(begin, end, 2 + int((end - begin) * radius / 57.3 / SPACING)))
        y = np.full_like(turn, number(arc["y"]) + lips_gained)
        x = number(arc["x"]) + radius * np.cos(turn)
        return np.column_stack((x, y, number(arc["z"]) + lips_cut + radius * np.sin(turn))), 0.0
    if "line" in site:
        corners = np.array([[number(c[k]) for k in "xyz"] for c in site["line"]])
        steps = np.linspace(0.0, 1.0, 60)[:, None]
        pieces = [a + steps * (b - a) for a, b in pairwise(corners)]
        return np.vstack(pieces), number(site.get("thickness", "0 mm"))
    runs = [_run(site["block"][k]) for k in "xyz"]
    shares = [np.linspace(0.0, 1.0, 2 + int(abs(b - a) / SPACING)) for a, b, _ in runs]
    ramps = [i for i, (_, _, is_ramp) in enumerate(runs) if is_ramp]
    if len(ramps) == 2:
        shares[ramps[1]] = np.zeros(1)
    grid = list(np.meshgrid(*shares, indexing="ij"))
    if len(ramps) == 2:
        grid[ramps[1]] = grid[ramps[0]]
    return np.column_stack(
        [(a + share * (b - a)).ravel() for (a, b, _), share in zip(runs, grid, strict=True)]
    ), 0.0


def about(axis: tuple[float, float, float], angle: float) -> Floats:
    """Rotation matrix about an axis, right-handed (Rodrigues)."""
    k = np.array(axis) / np.linalg.norm(axis)
    cross = np.array([[0, -k[2], k[1]], [k[2], 0, -k[0]], [-k[1], k[0], 0]])
    turned: Floats = np.eye(3) + sin(angle) * cross + (1.0 - np.cos(angle)) * cross @ cross
    return turned


def _lean(camber: float) -> Floats:
    return about((1.0, 0.0, 0.0), -radians(camber))


def _flat(point: dict) -> tuple[float, float]:
    return number(point["y"]), number(point["z"])


def joints_of(points: dict) -> tuple[tuple[float, float], ...]:
    """Give lower pivot, upper pivot, lower joint and upper joint, seen from ahead."""
    arms = points["lower_arm"], points["upper_arm"]
    ends = [_flat(arm["front_pivot"]) for arm in arms] + [_flat(arm["ball_joint"]) for arm in arms]
    return tuple(ends)


@cache
def two_arms(points: tuple[tuple[float, float], ...], travel: float) -> tuple[float, float]:
    """Camber and sideways motion of a wishbone corner from ahead: two circles, one upright."""
    pivots = np.array(points[0]), np.array(points[1])
    joints = np.array(points[2]), np.array(points[3])
    upright = joints[1] - joints[0]
    swung = joints[0] - pivots[0]
    upper, tall = np.linalg.norm(joints[1] - pivots[1]), np.linalg.norm(upright)

    def placed(turn: float) -> tuple[float, Floats]:
        cos, sine = np.cos(turn), np.sin(turn)
        low = pivots[0] + np.array(
            [cos * swung[0] - sine * swung[1], sine * swung[0] + cos * swung[1]]
        )
        across = pivots[1] - low
        apart = float(np.linalg.norm(across))
        along = (tall**2 - upper**2 + apart**2) / (2.0 * apart)
        aside = sqrt(tall**2 - along**2)
        unit = across / apart
        high = low + along * unit + aside * np.array([-unit[1], unit[0]]) * -1.0
        lean = atan2(upright[1], upright[0]) - atan2(*(high - low)[::-1])
        cos, sine = np.cos(-lean), np.sin(-lean)
        hub = low - np.array(
            [cos * joints[0][0] - sine * joints[0][1], sine * joints[0][0] + cos * joints[0][1]]
        )
        return lean, hub

    ends = [-0.4, 0.4]
    rises = placed(ends[1])[1][1] > placed(ends[0])[1][1]
    for _ in range(60):
        middle = sum(ends) / 2.0
        ends[int((placed(middle)[1][1] > travel) == rises)] = middle
    lean, hub = placed(sum(ends) / 2.0)
    return degrees(lean), float(hub[0])


def strut_of(points: dict) -> tuple[tuple[float, float, float], ...]:
    """Give front and rear pivot, ball joint, a point of the strut's line and the top mount."""
    arm = points["lower_arm"]
    five = arm["front_pivot"], arm["rear_pivot"], arm["ball_joint"]
    return tuple(_place(each) for each in (*five, points["on_strut"], points["top_mount"]))


def _place(point: dict) -> tuple[float, float, float]:
    return number(point["x"]), number(point["y"]), number(point["z"])


@cache
def one_strut(
    points: tuple[tuple[float, float, float], ...], travel: float
) -> tuple[float, float, float]:
    """Camber, sideways and fore-aft motion of a strut corner held straight ahead.

    The ball joint swings about the arm's two pivots; camber, caster and that swing are found by a
    general-purpose root finder, so that the strut's line runs through the mount.
    """
    front, rear, joint, on_line, mount = (np.array(each) for each in points)
    hinge = (front - rear) / np.linalg.norm(front - rear)

    def placed(swing: float, lean: float, nod: float) -> tuple[Floats, Floats]:
        ball = rear + Rotation.from_rotvec(swing * hinge).apply(joint - rear)
        turn = Rotation.from_euler("XY", [-lean, nod]).as_matrix()
        return turn, ball - turn @ joint

    def misses(unknown: Floats) -> Floats:
        turn, shift = placed(*unknown)
        seen = turn.T @ (mount - shift) - on_line
        off = np.cross(seen, mount - on_line)[:2] / np.linalg.norm(mount - on_line)
        return np.array([*off, shift[2] - travel])

    found = root(misses, np.zeros(3), tol=1e-10)
    if not np.abs(found.fun).max() < 1e-6:
        raise ValueError(f"the strut does not reach {travel} mm")
    shift = placed(*found.x)[1]
    return degrees(found.x[1]), float(shift[1]), float(shift[0])


@dataclass(frozen=True)
class Car:
    """One end of a kind of car, as its sheet has it."""

    data: dict
    axle: str

    @property
    def end(self) -> dict:
        """The sheet of this end."""
        return self.data[self.axle]

    @property
    def sites(self) -> dict[str, dict]:
        """Sites of this end."""
        return {s["name"]: s for s in self.data["sites"] if s["axle"] == self.axle}

    def reach(self) -> Reach:
        """What the sheet says of travel and lock."""
        move, steering = self.end["suspension"], self.data["steering"]
        front = self.axle == "front"
        up, down = move.get("articulation_up"), move.get("articulation_down")
        return Reach(
            number(move["bump"]),
            number(move["droop"]),
            number(steering["toe_out_lock"]) if front else 0.0,
            number(steering["toe_in_lock"]) if front else 0.0,
            up=number(up) if up else None,
            down=-number(down) if down else None,
        )

    def stock(self) -> Tyre:
        """Give the stock wheel and tyre."""
        wheel, tyre = self.end["stock_wheel"], self.end["stock_tyre"]
        width, rim = (float(n) for n in wheel["size"].split(" x "))
        return Tyre(
            -number(wheel["offset"]),
            number(tyre["section_width"]),
            number(tyre["diameter"]),
            25.4 * width,
            25.4 * rim,
        )

    def steered(self, reach: Reach, steer: float) -> tuple[Floats, Floats]:
        """Rotation and shift of the wheel against the knuckle's carrier, camber included."""
        s = self.data["steering"]
        lean, trail = radians(number(s["inclination"])), radians(number(s["caster"]))
        pivot = np.array([0.0, -number(s["axis_inset"]), 0.0])
        if self.axle == "rear":
            lean, pivot = 0.0, np.zeros(3)
        aside = self.leaned(reach, pivot - np.array([0.0, LOWER_JOINT * np.tan(lean), 0.0]))
        if not steer:
            return aside
        turn = about((-np.tan(trail), -np.tan(lean), 1.0), radians(steer))
        first, then = ((turn, pivot - turn @ pivot), aside)
        if reach.at_knuckle:
            first, then = then, first
        return then[0] @ first[0], then[0] @ first[1] + then[1]

    def leaned(self, reach: Reach, joint: Floats) -> tuple[Floats, Floats]:
        """Rotation and shift by the camber set: about the lower joint, or below the hub's face."""
        tilt = _lean(self.camber_set(reach))
        middle = LOWER_JOINT * np.array([0.0, 0.0, 1.0])
        if not reach.at_knuckle:
            middle = middle + joint
        return tilt, middle - tilt @ middle

    def camber_set(self, reach: Reach) -> float:
        """Give what was set at the top: the camber standing, less what the height gives."""
        if self.end["suspension"]["kind"] in ("live axle", "twist beam") or reach.camber is None:
            return 0.0
        return reach.camber - self.own_motion(reach.rest)[0]

    def own_motion(self, travel: float) -> tuple[float, float, float]:
        """Camber, sideways and fore-aft motion by travel: from the joints where they are known."""
        move, points = self.end["suspension"], self.end.get("hard_points")
        if points and "upper_arm" in points:
            return *two_arms(joints_of(points), travel), 0.0
        if points:
            return one_strut(strut_of(points), travel)
        gains = (move.get(f"{name}_gain", "0") for name in ("camber", "lateral", "fore_aft"))
        camber, lateral, fore = (number(gain) * travel for gain in gains)
        return camber, lateral, fore

    def carried(self, reach: Reach, pose: Pose, side: str) -> tuple[Floats, Floats]:
        """Rotation and shift by travel, and by the other side's travel where it counts."""
        move = self.end["suspension"]
        z, other = pose.travel, pose.other
        if move["kind"] == "live axle":
            return self._axle(z, other, side, reach.outboard)
        camber, lateral, fore = self.own_motion(z)
        toe = number(move.get("toe_gain", "0")) * z
        if move["kind"] == "twist beam":
            camber += (number(move["single_camber_gain"]) - number(move["camber_gain"])) * (
                z - other
            )
            toe += number(move["single_toe_gain"]) * (z - other)
        lateral += reach.outboard
        turn = _lean(camber) @ about((0.0, 0.0, 1.0), radians(toe))
        return turn, np.array([fore, lateral, z])

    def _axle(self, z: float, other: float, side: str, outboard: float) -> tuple[Floats, Floats]:
        move = self.end["suspension"]
        face = number(self.end["face_distance"])
        heave, roll = (z + other) / 2.0, atan2(z - other, face)
        held = number(move["roll_centre_height"]) * sin(roll)
        if "rod" in move:
            rod = move["rod"]
            length, rise = number(rod["length"]), number(rod["height_difference"])
            arc = sqrt(length**2 - (rise - heave) ** 2) - sqrt(length**2 - rise**2)
            held += -arc if rod["body_side"] == side else arc
        turn = about((1.0, 0.0, 0.0), roll)
        middle = np.array([0.0, -face / 2.0, 0.0])
        return turn, middle - turn @ middle + np.array([0.0, held + outboard, heave])


def states(reach: Reach) -> dict[str, Pose]:
    """Give the named states of an end: those that its suspension and steering have."""
    bump, droop, rest = reach.bump, -reach.droop, reach.rest
    found = {
        "static": Pose(rest, rest),
        "full droop": Pose(droop, droop),
        "full bump": Pose(bump, bump),
    }
    if reach.toe_out:
        for z, name in ((rest, ""), (bump * 2.0 / 3.0, " at bump"), (droop, " at droop")):
            found["toe-out lock" + name] = Pose(z, z, reach.toe_out)
            found["toe-in lock" + name] = Pose(z, z, -reach.toe_in)
    if reach.up is not None and reach.down is not None:
        found["this side up, other down"] = Pose(reach.up, -reach.down)
        found["this side down, other up"] = Pose(-reach.down, reach.up)
    return found


def sweep(reach: Reach) -> list[Pose]:
    """Give all poses of an end: full lock up to two thirds of bump, a quarter at full bump."""
    poses = []
    for z in np.linspace(-reach.droop, reach.bump, 2 + int((reach.bump + reach.droop) / 8.0)):
        into = max(0.0, (z - reach.bump * 2.0 / 3.0) / (reach.bump / 3.0))
        share = 1.0 - 0.75 * into
        steers = np.linspace(-share * reach.toe_in, share * reach.toe_out, 29)
        poses += [Pose(float(z), float(z), float(d)) for d in (steers if reach.toe_out else [0.0])]
    return [*poses, *(p for name, p in states(reach).items() if "side" in name)]


LIPS = frozenset({"fender-lip", "quarter-lip"})
SWEEP = "whole sweep"


@dataclass(frozen=True)
class Fitted:
    """One corner with a tyre on it: what turns, how far it goes, and how its lip was moved."""

    car: Car
    tyre: Tyre
    reach: Reach
    side: str
    lips_gained: float = 0.0
    lips_cut: float = 0.0

    @property
    def states(self) -> list[str]:
        """Give the names of all states, the whole sweep last."""
        return [*states(self.reach), SWEEP]

    def gap(self, name: str, state: str) -> float:
        """Give the gap of a site in a state, by the sheet alone."""
        site = self.car.sites[name]
        leans = site["moves_with"] == "strut" and self.reach.at_knuckle
        fixed = site["moves_with"] not in ("body", "arm") and not leans
        if fixed or state != SWEEP:
            return self._in_pose(name, states(self.reach)["static" if fixed else state])
        return min(self._in_pose(name, pose) for pose in sweep(self.reach))

    def _in_pose(self, name: str, pose: Pose) -> float:
        site = self.car.sites[name]
        if "reach" in site:
            stock = self.car.stock()
            face = stock.centre - stock.section / 2.0 - number(site["reach"]["stock_gap"])
            points, thickness = np.array([[0.0, face, number(site["reach"]["radius"])]]), 0.0
        else:
            changed = (self.lips_gained, self.lips_cut) if name in LIPS else (0.0, 0.0)
            points, thickness = site_points(site, *changed)
        moves = site["moves_with"]
        if moves in ("body", "arm"):
            turn, shift = self.car.steered(self.reach, pose.steer)
            if moves == "body":
                outer, away = self.car.carried(self.reach, pose, self.side)
                turn, shift = outer @ turn, outer @ shift + away
            points = (points - shift) @ turn
        if moves == "strut" and self.reach.at_knuckle:
            turn, shift = self.car.leaned(self.reach, np.zeros(3))
            points = (points - shift) @ turn
        return self.tyre.least(points) - thickness
