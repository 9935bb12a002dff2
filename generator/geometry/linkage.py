"""Suspension and steering solved from hard points: every rigid length stays what it was at rest.

Hard points are given in the corner frame at the reference ride height, straight ahead, mm: x
forward, y outboard, z up from the point where the spin axis meets the hub's face.
The hub has six freedoms. Three arm legs and a tie rod (and an upper arm's two legs, or a strut's
sliding line) take five; the asked height of the hub's point takes the sixth. Newton's method solves
all poses together, along a path from rest, so that it stays on the branch the car is on.
Rack displacement is + outboard at this side's inner tie-rod end.
"""

from typing import Protocol

import numpy as np
import numpy.typing as npt

from generator.frozen import dataclass
from generator.geometry.frames import (
    ORIGIN,
    Floats,
    Motions,
    Point,
    crossed,
    rotations,
    row,
    still,
)
from generator.quantities.units import Mm

_STEPS = 8
_NEWTON = 8
_BISECTIONS = 24
_CONVERGED: Mm = 1e-10
"""Lengths are then held to a hundred times as much at worst."""
_ON_THE_WAY: Mm = 0.01
"""The same for a pose that is only passed through."""


@dataclass(frozen=True)
class TieRod:
    """The rod from rack or drag link (inner) to the knuckle (outer)."""

    inner: Point
    outer: Point


@dataclass(frozen=True)
class Arm:
    """An A-arm, or an arm with a radius rod: two pivots on the body, one ball joint."""

    front_pivot: Point
    rear_pivot: Point
    ball_joint: Point


@dataclass(frozen=True, eq=False)
class Rods:
    """Rigid rods between body and knuckle: ends (k, 3) at rest; racked (k,) is 1 on the tie rod."""

    on_body: Floats
    on_knuckle: Floats
    racked: Floats


class Linkage(Protocol):
    """What the solver needs of a suspension: its rods, and what its sliding joint leaves over."""

    def rods(self) -> Rods:
        """Give all rigid rods, the tie rod last."""
        ...

    def slide(self, motions: Motions, share: float) -> tuple[Floats, Floats]:
        """Give errors (p, s) mm of the sliding joint and their gradients (p, s, 6)."""
        ...


@dataclass(frozen=True)
class DoubleWishbone:
    """Upper and lower arm and a tie rod.

    upper_shift: how far a setup has moved the upper arm's pivots on the body (shims, eccentric
    bolts), which comes to the same as a longer arm; zero leaves the car at rest.
    """

    lower: Arm
    upper: Arm
    tie_rod: TieRod
    upper_shift: Point = ORIGIN

    def rods(self) -> Rods:
        """Give the arm legs and the tie rod; a shifted upper arm counts as a sliding joint."""
        arms = (self.lower, self.upper) if self.upper_shift == ORIGIN else (self.lower,)
        return _rods(arms, self.tie_rod)

    def slide(self, motions: Motions, share: float) -> tuple[Floats, Floats]:
        """Give how much too long the legs of a shifted upper arm are; else nothing slides."""
        count = len(motions)
        if self.upper_shift == ORIGIN:
            return np.zeros((count, 0)), np.zeros((count, 0, 6))
        pivots = np.array([self.upper.front_pivot, self.upper.rear_pivot], dtype=np.float64)
        joint = np.asarray(self.upper.ball_joint, dtype=np.float64)
        carried = (joint @ np.swapaxes(motions.rotation, 1, 2))[:, None, :]
        moved = pivots + share * np.asarray(self.upper_shift)
        span = carried + motions.translation[:, None, :] - moved
        length = np.linalg.norm(span, axis=2)
        along = span / length[..., None]
        gradient = np.concatenate([crossed(carried, along), along], 2)
        return length - np.linalg.norm(joint - pivots, axis=1), gradient


@dataclass(frozen=True)
class StrutLinkage:
    """Lower arm, tie rod, and a strut: its sliding line runs from the knuckle to the top mount.

    on_strut: any other point of the strut's line, which is fixed in the knuckle. mount_shift: how
    far a setup has moved the top mount on the body (a camber plate); zero leaves the car at rest.
    """

    lower: Arm
    on_strut: Point
    top_mount: Point
    tie_rod: TieRod
    mount_shift: Point = ORIGIN

    def rods(self) -> Rods:
        """Give the two legs of the lower arm and the tie rod."""
        return _rods((self.lower,), self.tie_rod)

    def slide(self, motions: Motions, share: float) -> tuple[Floats, Floats]:
        """Give how far the top mount lies off the strut's line, along two directions across it."""
        mount = np.asarray(self.top_mount)
        across = _across(mount - np.asarray(self.on_strut))
        mount = mount + share * np.asarray(self.mount_shift)
        carried = across @ np.swapaxes(motions.rotation, 1, 2)
        arm = mount - motions.translation
        error = np.einsum("psi,pi->ps", carried, arm) - across @ np.asarray(self.on_strut)
        turning = crossed(carried, arm[:, None, :])
        return error, np.concatenate([turning, -carried], axis=2)


def _rods(arms: tuple[Arm, ...], tie_rod: TieRod) -> Rods:
    on_body = [pivot for arm in arms for pivot in (arm.front_pivot, arm.rear_pivot)]
    on_knuckle = [joint for arm in arms for joint in (arm.ball_joint, arm.ball_joint)]
    return Rods(
        np.array([*on_body, tie_rod.inner]),
        np.array([*on_knuckle, tie_rod.outer]),
        np.array([0.0] * len(on_body) + [1.0]),
    )


def _across(line: Floats) -> Floats:
    least = np.eye(3)[np.argmin(np.abs(line))]
    first = crossed(line, least)
    second = crossed(line, first)
    return np.stack([first / np.linalg.norm(first), second / np.linalg.norm(second)])


def lengths(linkage: Linkage, motions: Motions, rack: npt.ArrayLike) -> Floats:
    """Lengths (p, k) mm of all rigid rods in the given motions, the tie rod last.

    Source: own derivation: distance of the rod's ends.

    >>> arms = Arm((150, -350, -120), (-150, -350, -120), (0, -70, -120)), Arm(
    ...     (100, -300, 150), (-120, -300, 150), (-18, -118, 155)
    ... )
    >>> wishbones = DoubleWishbone(*arms, TieRod((-128, -330, -60), (-128, -90, -60)))
    >>> lengths(wishbones, still(1), 0.0).round().tolist()
    [[318.0, 318.0, 217.0, 209.0, 240.0]]
    """
    return np.asarray(np.linalg.norm(_spans(linkage.rods(), motions, row(rack))[0], axis=2))


def _spans(rods: Rods, motions: Motions, rack: Floats) -> tuple[Floats, Floats]:
    carried = rods.on_knuckle @ np.swapaxes(motions.rotation, 1, 2)
    anchors = rods.on_body + np.array([0.0, 1.0, 0.0]) * (
        rack[:, None, None] * rods.racked[:, None]
    )
    return carried + motions.translation[:, None, :] - anchors, carried


def _equations(
    linkage: Linkage, motions: Motions, travel: Floats, rack: Floats, share: float
) -> tuple[Floats, Floats]:
    """Give the six errors (p, 6) in mm and their gradient (p, 6, 6) by turn and shift."""
    rods = linkage.rods()
    span, carried = _spans(rods, motions, rack)
    length = np.linalg.norm(span, axis=2)
    at_rest = np.linalg.norm(rods.on_knuckle - rods.on_body, axis=1)
    along = span / length[..., None]
    by_rods = np.concatenate([crossed(carried, along), along], axis=2)
    slid, by_slide = linkage.slide(motions, share)
    height = motions.translation[:, 2:3] - travel[:, None]
    by_height = np.zeros((len(motions), 1, 6))
    by_height[:, 0, 5] = 1.0
    errors = np.concatenate([length - at_rest, slid, height], axis=1)
    return errors, np.concatenate([by_rods, by_slide, by_height], axis=1)


def _newton(
    linkage: Linkage, motions: Motions, travel: Floats, rack: Floats, *, share: float, within: Mm
) -> tuple[Motions, npt.NDArray[np.bool_], Floats]:
    """Improve the motions until all lengths are held within so much, or no more steps are left.

    Says which are held, a hundred times as loosely, and on which branch (sign of the volume).
    """
    for _ in range(_NEWTON):
        errors, gradient = _equations(linkage, motions, travel, rack, share)
        if np.abs(errors).max(initial=0.0) < within:
            break
        step = -_solved(gradient, errors)
        size = np.linalg.norm(step[:, :3], axis=1)
        axis = np.where(size[:, None] > 0.0, step[:, :3], (0.0, 0.0, 1.0))
        rotation = rotations(axis, np.degrees(size)) @ motions.rotation
        motions = Motions(rotation, motions.translation + step[:, 3:])
    else:
        errors, gradient = _equations(linkage, motions, travel, rack, share)
    held = np.abs(errors).max(axis=1) < 100.0 * within
    return motions, held, np.sign(np.linalg.det(gradient))


def _solved(gradient: Floats, errors: Floats) -> Floats:
    """Solve the linear steps; a singular one stands still and is found out by its lengths."""
    fine = np.abs(np.linalg.det(gradient)) > np.finfo(np.float64).tiny
    safe = np.where(fine[:, None, None], gradient, np.eye(6))
    step = np.linalg.solve(safe, errors[..., None])[..., 0].astype(np.float64)
    turn = np.sqrt((step[:, :3] ** 2).sum(axis=1))
    longest = np.maximum(turn, 1.0)[:, None]
    limited = np.where(fine[:, None], step / longest, 0.0)
    return np.asarray(limited, dtype=np.float64)


def _along_path(
    linkage: Linkage, travel: Floats, rack: Floats
) -> tuple[Motions, npt.NDArray[np.bool_]]:
    """Solve all poses in equal steps from rest, each step starting where the last one ended."""
    motions = still(len(travel))
    branch = _branch_at_rest(linkage)
    whole = np.full(len(travel), branch != 0.0)
    for step in range(1, _STEPS + 1):
        share = step / _STEPS
        within = _CONVERGED if step == _STEPS else _ON_THE_WAY
        motions, held, side = _newton(
            linkage, motions, share * travel, share * rack, share=share, within=within
        )
        whole &= held & (side == branch)
        # A pose that failed goes back to rest so that it cannot overflow; it is reported below.
        broken = ~whole
        motions.rotation[broken], motions.translation[broken] = np.eye(3), 0.0
    return motions, whole


def _branch_at_rest(linkage: Linkage) -> float:
    rest = _equations(linkage, still(1), np.zeros(1), np.zeros(1), 0.0)[1]
    return float(np.sign(np.linalg.det(rest))[0])


def solved_near(linkage: Linkage, near: Motions, rack: Floats) -> Motions:
    """Motions of the hub at zero travel as `solved` gives, sought from motions close by.

    rack: mm, (p,). Raises ValueError as `solved`.
    Source: own derivation: Newton's method; on the branch of the car at rest, or all the way.
    """
    start = Motions(near.rotation.copy(), near.translation.copy())
    motions, held, side = _newton(linkage, start, 0.0 * rack, rack, share=1.0, within=_CONVERGED)
    if (held & (side == _branch_at_rest(linkage))).all():
        return motions
    return solved(linkage, 0.0 * rack, rack)


def solved(linkage: Linkage, travel: npt.ArrayLike, rack: npt.ArrayLike = 0.0) -> Motions:
    """Motions of the hub that keep every rigid length, at each travel and rack displacement.

    travel: of the hub's point, mm, (p,). rack: mm, (p,), + outboard; broadcast.
    Lengths are held to 1e-8 mm. Joints and bushes are taken as points.
    Raises ValueError, naming the furthest share that the linkage reaches, for a position beyond
    its toggle or for hard points that leave the hub loose at rest.
    Source: own derivation: Newton's method on the six closure equations, analytic gradient.

    >>> arms = Arm((150, -350, -120), (-150, -350, -120), (0, -70, -120)), Arm(
    ...     (100, -300, 150), (-120, -300, 150), (-18, -118, 155)
    ... )
    >>> wishbones = DoubleWishbone(*arms, TieRod((-128, -330, -60), (-128, -90, -60)))
    >>> solved(wishbones, [-70.0, 0.0, 80.0]).translation[:, 2].round(6).tolist()
    [-70.0, 0.0, 80.0]
    """
    z, r = (np.array(each) for each in np.broadcast_arrays(row(travel), row(rack)))
    motions, whole = _along_path(linkage, z, r)
    if not whole.all():
        first = int(np.argmin(whole))
        reach = _reach(linkage, z[first : first + 1], r[first : first + 1])
        raise ValueError(
            f"the linkage has no position at travel {z[first]:.1f} mm with the rack at "
            f"{r[first]:.1f} mm; on the way there it ends near travel {reach * z[first]:.1f} mm, "
            f"rack {reach * r[first]:.1f} mm"
        )
    return motions


def _reach(linkage: Linkage, travel: Floats, rack: Floats) -> float:
    low, high = 0.0, 1.0
    for _ in range(_BISECTIONS):
        middle = 0.5 * (low + high)
        if _along_path(linkage, middle * travel, middle * rack)[1].all():
            low = middle
        else:
            high = middle
    return low
