"""Rigid motions and poses of a wheel.

Corner frame: x forward, y outboard, z up, mm; origin where the spin axis meets the hub's mounting
face, straight ahead, at the chassis sheet's reference ride height. The right-hand side is mirrored,
so that y is outboard on both sides and one set of formulas serves both.
Wheel frame: fixed to the wheel; its axes lie on those of the corner frame in the zero pose, and u
is its y axis.
A motion takes a point w of the moving body to the corner frame: R w + t. Motions are stacked: the
first axis of every array counts the poses.
Angles: camber + top outboard, toe-out and steer + front of the wheel outboard, in degrees.
"""

from math import isfinite
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from generator.frozen import dataclass
from generator.quantities.units import Mm

Floats: TypeAlias = npt.NDArray[np.float64]
Indices: TypeAlias = npt.NDArray[np.intp]
Point: TypeAlias = tuple[Mm, Mm, Mm]
"""x, y, z in the frame that the text names."""

ORIGIN: Point = (0.0, 0.0, 0.0)


@dataclass(frozen=True, eq=False)
class Motions:
    """A stack of rigid motions: rotation (p, 3, 3), pure number; translation (p, 3), mm."""

    rotation: Floats
    translation: Floats

    def __len__(self) -> int:
        return len(self.translation)


def _are_finite(*rows: Floats) -> bool:
    """Tell whether all numbers are: what is not passes through a sum, which is soonest made."""
    return all(isfinite(float(row.sum())) for row in rows)


@dataclass(frozen=True, eq=False)
class Positions:
    """What poses are asked for, counted from the chassis sheet's reference ride height.

    travel (p,) mm, bump +; steer (p,) deg, toe-out +; other_travel (p,) mm, the other side's.
    """

    travel: Floats
    steer: Floats
    other_travel: Floats

    def __post_init__(self) -> None:
        shapes = {self.travel.shape, self.steer.shape, self.other_travel.shape}
        if len(shapes) != 1 or self.travel.ndim != 1:
            raise ValueError(f"positions need three equal rows of numbers, got {sorted(shapes)}")
        if not _are_finite(self.travel, self.steer, self.other_travel):
            raise ValueError("positions need finite numbers")

    def __len__(self) -> int:
        return len(self.travel)


@dataclass(frozen=True, eq=False)
class Poses:
    """Poses of the wheel seen from one body, with the travel and steer they belong to.

    rotation (p, 3, 3) and translation (p, 3) mm take a wheel-frame point w to R w + t; a point b of
    the body goes into the wheel frame by Rᵀ (b − t). Labels: travel (p,) mm, steer (p,) deg,
    other_travel (p,) mm. Raises ValueError for unequal lengths and for numbers that are not finite:
    an unknown pose must not reach a gap.
    """

    rotation: Floats
    translation: Floats
    travel: Floats
    steer: Floats
    other_travel: Floats

    def __post_init__(self) -> None:
        count = len(self.travel)
        wanted = ((count, 3, 3), (count, 3), (count,), (count,), (count,))
        rows = (self.rotation, self.translation, self.travel, self.steer, self.other_travel)
        if tuple(row.shape for row in rows) != wanted:
            raise ValueError(f"poses need equal lengths, got {[row.shape for row in rows]}")
        if not _are_finite(*rows):
            raise ValueError("poses need finite numbers")

    def __len__(self) -> int:
        return len(self.travel)


@dataclass(frozen=True, eq=False)
class WheelPoses:
    """The same positions of a wheel, seen from each body that can carry a site.

    body: fixed to the car. arm: travels with the wheel and does not steer. strut: steers and
    travels, and tilts against the wheel where camber is set between strut and knuckle. hub: rigid
    with the wheel's carrier (knuckle, upright, axle, beam), always the zero pose.
    """

    body: Poses
    arm: Poses
    strut: Poses
    hub: Poses

    def __len__(self) -> int:
        return len(self.body)


def row(values: npt.ArrayLike) -> Floats:
    """Give a number or numbers as a flat row (p,) of floats.

    Source: own derivation: none needed: a change of form.
    """
    return np.atleast_1d(np.asarray(values, dtype=np.float64))


def positions(
    travel: npt.ArrayLike, steer: npt.ArrayLike = 0.0, *, other_travel: npt.ArrayLike | None = None
) -> Positions:
    """Give positions from numbers or rows, broadcast; the other side follows where not given.

    Source: own derivation: none needed: a change of form.

    >>> len(positions([-60.0, 0.0, 80.0], 10.0))
    3
    """
    other = travel if other_travel is None else other_travel
    rows = np.broadcast_arrays(row(travel), row(steer), row(other))
    return Positions(*(np.array(each) for each in rows))


def rotations(axis: npt.ArrayLike, angle: npt.ArrayLike) -> Floats:
    """Rotation matrices (p, 3, 3) by an angle about a direction, right-handed.

    axis: (3,) or (p, 3), any length above 0. angle: deg, (p,) or one number.
    Raises ValueError for an axis without length.
    Source: own derivation: Rodrigues' R = 1 + sin a K + (1 − cos a) K², where K v = k × v.

    >>> rotations((0.0, 0.0, 1.0), 90.0).round(3)[0, :, 0].tolist()
    [0.0, 1.0, 0.0]
    """
    along = np.atleast_2d(np.asarray(axis, dtype=np.float64))
    length = np.linalg.norm(along, axis=1, keepdims=True)
    if not (length > 0.0).all():
        raise ValueError("a rotation needs an axis with a length")
    k = along / length
    a = np.radians(row(angle))[:, None, None]
    cross = cross_matrices(k)
    turned: Floats = np.eye(3) + np.sin(a) * cross + (1.0 - np.cos(a)) * (cross @ cross)
    return turned


def cross_matrices(vectors: Floats) -> Floats:
    """Give the matrices (p, 3, 3) that take w to v × w, for vectors v (p, 3).

    Source: own derivation: (v × w) = [v]ₓ w, written out.
    """
    crossed = np.zeros((len(vectors), 3, 3))
    x, y, z = vectors.T
    crossed[:, 0, 1], crossed[:, 0, 2] = -z, y
    crossed[:, 1, 0], crossed[:, 1, 2] = z, -x
    crossed[:, 2, 0], crossed[:, 2, 1] = -y, x
    return crossed


def crossed(first: Floats, second: Floats) -> Floats:
    """Give first × second, (..., 3) broadcast; a library's general one takes five times as long.

    Source: own derivation: the vector product, written out.

    >>> crossed(np.array([1.0, 0.0, 0.0]), np.array([0.0, 1.0, 0.0])).tolist()
    [0.0, 0.0, 1.0]
    """
    a, b, c = first[..., 0], first[..., 1], first[..., 2]
    x, y, z = second[..., 0], second[..., 1], second[..., 2]
    return np.stack((b * z - c * y, c * x - a * z, a * y - b * x), axis=-1)


def turns(axis: npt.ArrayLike, angle: npt.ArrayLike, *, through: Point = ORIGIN) -> Motions:
    """Motions that turn by an angle (deg, (p,)) about the line through a point along an axis.

    Source: own derivation: p' = c + R (p − c).

    >>> turns((0, 0, 1), 180.0, through=(0.0, -100.0, 0.0)).translation.round(3).tolist()
    [[-0.0, -200.0, 0.0]]
    """
    rotation = rotations(axis, angle)
    centre = np.asarray(through, dtype=np.float64)
    return Motions(rotation, centre - rotation @ centre)


def attitudes(camber: npt.ArrayLike, toe_out: npt.ArrayLike) -> Floats:
    """Rotations (p, 3, 3) of a wheel with a camber and a toe-out angle, both deg.

    The wheel is tilted about x first and the tilted wheel is then turned about z, so that both
    angles are those a gauge reads on the car: camber against the vertical, toe in plan.
    Source: own derivation: top outboard is a left-handed turn about x.

    >>> attitudes(90.0, 0.0).round(3)[0, :, 2].tolist()
    [0.0, 1.0, 0.0]
    """
    tilted = rotations((1.0, 0.0, 0.0), -row(camber))
    turned: Floats = rotations((0.0, 0.0, 1.0), toe_out) @ tilted
    return turned


def still(count: int) -> Motions:
    """Give motions that move nothing.

    Source: own derivation: R = 1, t = 0.
    """
    return Motions(np.tile(np.eye(3), (count, 1, 1)), np.zeros((count, 3)))


def composed(outer: Motions, inner: Motions) -> Motions:
    """Give the motions `inner` first, then `outer`; a stack of one serves all of the other.

    Source: own derivation: R = Ro Ri, t = Ro ti + to.

    >>> lift = Motions(np.eye(3).reshape(1, 3, 3), np.array([[0.0, 0.0, 80.0]]))
    >>> composed(lift, lift).translation.tolist()
    [[0.0, 0.0, 160.0]]
    """
    carried = np.einsum("...ij,...j->...i", outer.rotation, inner.translation)
    return Motions(outer.rotation @ inner.rotation, carried + outer.translation)


def inverted(motions: Motions) -> Motions:
    """Give the motions that undo these.

    Source: own derivation: Rᵀ and −Rᵀ t.

    >>> out = turns((0, 0, 1), 30.0, through=(0.0, -96.0, 0.0))
    >>> bool(np.allclose(composed(out, inverted(out)).translation, 0.0))
    True
    """
    back = np.swapaxes(motions.rotation, -1, -2)
    return Motions(back, -np.einsum("...ij,...j->...i", back, motions.translation))


def mirrored(motions: Motions) -> Motions:
    """Give the motions as the other side of the car sees them: y reflected, x and z kept.

    Source: own derivation: M R M and M t with M = diag(1, −1, 1).
    """
    flip = np.array([1.0, -1.0, 1.0])
    return Motions(motions.rotation * np.outer(flip, flip), motions.translation * flip)


def moved(motions: Motions, points: Floats) -> Floats:
    """Give where body points (m, 3) come to in each motion: (p, m, 3) mm.

    Source: own derivation: R w + t.
    """
    placed: Floats = points @ np.swapaxes(motions.rotation, -1, -2)
    return placed + motions.translation[:, None, :]


def in_wheel(poses: Poses, points: Floats) -> Floats:
    """Give points (m, 3) mm of the body that the poses are seen from in the wheel frame: (p, m, 3).

    Source: own derivation: Rᵀ (b − t), the inverse of the pose.

    >>> lift = Motions(np.eye(3).reshape(1, 3, 3), np.array([[0.0, 0.0, 80.0]]))
    >>> in_wheel(labelled(lift, positions(80.0)), np.array([[0.0, 92.0, 374.0]])).tolist()
    [[[0.0, 92.0, 294.0]]]
    """
    relative: Floats = points - poses.translation[:, None, :]
    placed: Floats = relative @ poses.rotation
    return placed


def labelled(motions: Motions, at: Positions) -> Poses:
    """Give motions the labels of their positions; one motion serves all positions.

    Source: own derivation: none needed: a change of form.
    """
    count = len(at)
    return Poses(
        np.broadcast_to(motions.rotation, (count, 3, 3)),
        np.broadcast_to(motions.translation, (count, 3)),
        at.travel,
        at.steer,
        at.other_travel,
    )


def selected(poses: Poses, which: Indices | list[int]) -> Poses:
    """Give the poses at these indices, in their order.

    Source: own derivation: none needed: a change of form.
    """
    index = np.asarray(which, dtype=np.intp)
    return Poses(
        poses.rotation[index],
        poses.translation[index],
        poses.travel[index],
        poses.steer[index],
        poses.other_travel[index],
    )


def joined(first: Poses, *others: Poses) -> Poses:
    """Give all poses as one stack, in order.

    Source: own derivation: none needed: a change of form.
    """
    stack = (first, *others)
    return Poses(
        np.concatenate([each.rotation for each in stack]),
        np.concatenate([each.translation for each in stack]),
        np.concatenate([each.travel for each in stack]),
        np.concatenate([each.steer for each in stack]),
        np.concatenate([each.other_travel for each in stack]),
    )


def camber(motions: Motions | Poses) -> Floats:
    """Camber of the wheel (p,), deg, as a gauge reads it: spin axis against the level.

    Source: own derivation: the spin axis is the rotated y axis; it dips outboard by the camber.

    >>> camber(Motions(attitudes(-2.0, 30.0), np.zeros((1, 3)))).round(6).tolist()
    [-2.0]
    """
    return np.degrees(np.arcsin(np.clip(-motions.rotation[:, 2, 1], -1.0, 1.0)))


def toe_out(motions: Motions | Poses) -> Floats:
    """Toe-out of the wheel (p,), deg, in plan: positive with the front outboard.

    Source: own derivation: heading of the spin axis' plan view, square to the wheel's.

    >>> toe_out(Motions(attitudes(-2.0, 30.0), np.zeros((1, 3)))).round(6).tolist()
    [30.0]
    """
    return np.degrees(np.arctan2(-motions.rotation[:, 0, 1], motions.rotation[:, 1, 1]))
