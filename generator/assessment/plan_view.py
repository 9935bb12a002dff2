"""One front corner seen from above: the tyre straight ahead, at both locks, and where it is worst.

Corner frame: x forward, y outboard, mm. A tyre is shown by its section through the spin axis along
the level line, which is its outline at hub height. Sites are shown as far as they lie within
`NEAR` of the standing wheel's hub height; what is higher or lower is named and not shown, since it
would seem to lie in the tyre.
"""

from collections.abc import Iterator
from itertools import pairwise
from math import atan2, cos, sin

import numpy as np
import numpy.typing as npt

from generator.assessment.assess import AxleAssessment, mounted_by_side
from generator.assessment.clearances import COARSE, Clearance, Sight, sights
from generator.frozen import dataclass
from generator.geometry.frames import Floats, Positions, positions
from generator.geometry.sampling import sampled
from generator.geometry.shapes import Attachment, poses_against
from generator.geometry.sweep import Position
from generator.quantities.units import Deg, Mm
from generator.records.chassis import Chassis
from generator.records.fitted import AxleSetup
from generator.records.words import Axle, Side

NEAR: Mm = 90.0
"""A tyre of 300 mm radius is 14 mm shorter so far above its hub: hardly another outline."""
_MOVING = (Attachment.BODY, Attachment.ARM)
_LITTLE: Deg = 1.0

PlanPoint = tuple[Mm, Mm]
"""x forward, y outboard of the hub's mounting face."""


@dataclass(frozen=True)
class PlanPose:
    """The tyre in one position: its outline, closed, from above."""

    words: str
    position: Position
    outline: tuple[PlanPoint, ...]


@dataclass(frozen=True)
class PlanSite:
    """A site at hub height: its pieces from above, each the hull of its points, and its gaps."""

    clearance: Clearance
    pieces: tuple[tuple[PlanPoint, ...], ...]


@dataclass(frozen=True)
class Worst:
    """Where the gap lacks most, or is least above the wanted one, of all moving sites."""

    clearance: Clearance
    pose: PlanPose
    nearest: PlanPoint


@dataclass(frozen=True)
class PlanView:
    """The left corner from above. `elsewhere` names moving sites that are higher or lower."""

    axis: PlanPoint
    straight: PlanPose
    toe_out: PlanPose
    toe_in: PlanPose
    worst: Worst | None
    sites: tuple[PlanSite, ...]
    elsewhere: tuple[str, ...]


def plan_view(chassis: Chassis, setup: AxleSetup, end: AxleAssessment) -> PlanView | None:
    """Look at the left corner of a steered end from above; None where its place is not known."""
    sheet = chassis.front if end.axle is Axle.FRONT else chassis.rear
    side, mounted = next(mounted_by_side(end.fit, setup, sheet))
    seen = sights(chassis, end.axle, side, mounted=mounted, stock=end.fit.stock)
    known = [each for each in seen if isinstance(each, Sight)]
    if not known or not known[0].motion.reach.locks.toe_out:
        return None
    first, reach = known[0], known[0].motion.reach
    moving = [each for each in known if each.place.attachment in _MOVING]
    drawn, elsewhere = [], []
    for each in moving:
        clearance = end.clearance(each.place.site.name, Side.LEFT)
        pieces = _pieces(each)
        if pieces and clearance is not None:
            drawn.append(PlanSite(clearance, pieces))
        else:
            elsewhere.append(each.place.site.label)
    rest = reach.static
    return PlanView(
        axis=_axis(first),
        straight=_pose(first, "straight ahead", Position(rest, 0.0, rest)),
        toe_out=_pose(first, "toe-out lock", Position(rest, reach.locks.toe_out, rest)),
        toe_in=_pose(first, "toe-in lock", Position(rest, -reach.locks.toe_in, rest)),
        worst=_worst(moving, end),
        sites=tuple(drawn),
        elsewhere=tuple(elsewhere),
    )


def tightest(end: AxleAssessment, most: int) -> tuple[Clearance, ...]:
    """Give the sites with the least gap above the wanted one, of those the wheel moves against.

    Each site comes once, by its tighter side.
    """
    known = [
        each
        for each in end.clearances
        if each.moves and each.least is not None and each.by_travel is not None
    ]
    best: dict[str, Clearance] = {}
    for each in sorted(known, key=_room):
        best.setdefault(each.site.name, each)
    return tuple(list(best.values())[:most])


def _room(clearance: Clearance) -> Mm:
    if clearance.least is None:
        raise ValueError("a gap that is not known has no place in an order")
    return clearance.least.gap.value - clearance.wanted


def _worst(moving: list[Sight], end: AxleAssessment) -> Worst | None:
    by_name = {each.place.site.name: each for each in moving}
    found = [
        each
        for each in tightest(end, len(end.clearances))
        if each.side is not Side.RIGHT and each.site.name in by_name
    ]
    if not found or found[0].least is None:
        return None
    sight, least = by_name[found[0].site.name], found[0].least
    near = sight.nearest(_at(least.position))
    point = sight.coarse.shape.at(near.parameters)
    place = _on_body(sight, point, least.position)[0]
    pose = _pose(sight, least.words, least.position)
    return Worst(found[0], pose, (float(place[0]), float(place[1])))


def _at(position: Position) -> Positions:
    return positions(position.travel, position.steer, other_travel=position.other_travel)


def _pose(sight: Sight, words: str, position: Position) -> PlanPose:
    """Cut the wheel along its spin axis and the level line square to it."""
    body = sight.motion.corner.poses(_at(position)).body
    rotation, translation = body.rotation[0], body.translation[0]
    turn = atan2(-float(rotation[2, 0]), float(rotation[2, 2]))
    level = rotation @ np.array([cos(turn), 0.0, sin(turn)])
    along = rotation[:, 1]
    u, r = sight.outline.points[:, :1], sight.outline.points[:, 1:]
    ahead, behind = translation + u * along + r * level, translation + u * along - r * level
    ring = np.vstack((ahead, behind[::-1]))
    return PlanPose(words, position, tuple((float(x), float(y)) for x, y, _ in ring))


def _axis(sight: Sight) -> PlanPoint:
    """Give where the steering axis passes hub height: the point that a little steer leaves there.

    With p' = R p + t from one pose to the other, the level part of p' − p is zero.
    """
    rest = sight.motion.reach.static
    body = sight.motion.corner.poses(positions([rest, rest], [-_LITTLE, _LITTLE])).body
    rotation = body.rotation[1] @ body.rotation[0].T
    translation = body.translation[1] - rotation @ body.translation[0]
    height = float(body.translation.mean(axis=0)[2])
    change = rotation - np.eye(3)
    x, y = np.linalg.solve(change[:2, :2], -(translation[:2] + change[:2, 2] * height))
    return (float(x), float(y))


def _on_body(sight: Sight, points: Floats, position: Position) -> Floats:
    """Give points of a site's own body as the car's body sees them."""
    wheel = sight.motion.corner.poses(_at(position))
    own = poses_against(wheel, sight.place.attachment)
    in_wheel = (points - own.translation[0]) @ own.rotation[0]
    placed: Floats = in_wheel @ wheel.body.rotation[0].T + wheel.body.translation[0]
    return placed


def _pieces(sight: Sight) -> tuple[tuple[PlanPoint, ...], ...]:
    rest = sight.motion.reach.static
    at = Position(rest, 0.0, rest)
    height = float(sight.motion.corner.poses(_at(at)).body.translation[0, 2])
    if sight.place.shape is None:
        return ()
    points = sampled(sight.place.shape, COARSE)
    order = np.argsort(points.parameters[:, 0], kind="stable")
    placed = _on_body(sight, points.points, at)[order]
    near = np.abs(placed[:, 2] - height) <= NEAR
    return tuple(_hull(run) for run in _runs(placed, near))


def _runs(points: Floats, kept: npt.NDArray[np.bool_]) -> Iterator[list[PlanPoint]]:
    """Give the stretches of points that are kept; of a block any kept point belongs to one."""
    where = np.flatnonzero(kept)
    if not len(where):
        return
    runs = [[int(where[0])]]
    for before, after in pairwise(where.tolist()):
        if after - before > len(points) // 3:
            runs.append([])
        runs[-1].append(after)
    for run in runs:
        yield [(float(points[at, 0]), float(points[at, 1])) for at in run]


def _hull(points: list[PlanPoint]) -> tuple[PlanPoint, ...]:
    """Give the convex hull, anticlockwise; of points in a line its ends."""
    ordered = sorted({(round(x, 3), round(y, 3)) for x, y in points})
    if len(ordered) < 3:
        return tuple(ordered)
    lower, upper = _chain(ordered), _chain(ordered[::-1])
    return (*lower[:-1], *upper[:-1])


def _chain(ordered: list[PlanPoint]) -> list[PlanPoint]:
    found: list[PlanPoint] = []
    for point in ordered:
        while len(found) > 1 and _turns_right(found[-2], found[-1], point):
            found.pop()
        found.append(point)
    return found


def _turns_right(a: PlanPoint, b: PlanPoint, c: PlanPoint) -> bool:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) <= 0.0
