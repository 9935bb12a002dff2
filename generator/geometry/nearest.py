"""The nearest point of a shape to tyre and wheel: in each of many poses, and over a whole sweep.

A shape is first looked at through coarsely spaced points. From the best of them a search goes on
with halving steps along the shape itself. On a straight line or a flat face the distance to a
convex section has one minimum, so the search ends at it; on a bent line it ends at the minimum
next to the coarse one.
"""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import product
from math import ceil, log2

import numpy as np

from generator.geometry.clearance import SectionPoint, gaps_by_pose
from generator.geometry.distance import signed_distance
from generator.geometry.frames import Floats, Poses, Positions, selected
from generator.geometry.outline import Outline
from generator.geometry.sampling import SampledShape
from generator.geometry.shapes import Shape
from generator.geometry.sweep import Position, refined
from generator.geometry.travel import MotionRange
from generator.quantities.units import Mm

LAST_STEP: Mm = 1.5
"""Where the search along a shape stops: by d² / 8ρ the gap is then within 0.012 mm at ρ = 25 mm."""
FIRST_STEP: Mm = 12.0
"""Half the spacing of points sampled with a chord error of 3 mm."""
NEAR_STEP: Mm = 3.0
"""First step of a search that begins at the nearest point of a neighbouring pose."""
_POSE_WIDTHS = (0.08, 0.02, 0.005)

PosesAt = Callable[[Positions], Poses]


@dataclass(frozen=True, eq=False)
class Nearest:
    """The nearest point in each pose: gaps (p,) mm, shape parameters (p, 3), (u, r) (p, 2) mm."""

    gaps: Floats
    parameters: Floats
    points_ur: Floats


@dataclass(frozen=True)
class LeastOverSweep:
    """The least gap over all that a wheel can do: how large, in which position, at which point."""

    gap: Mm
    position: Position
    site: SectionPoint


def nearest_by_pose(coarse: SampledShape, poses: Poses, outline: Outline) -> Nearest:
    """Give the nearest point of a shape in each pose; the bar's thickness is taken off the gap.

    coarse: the shape sampled with a chord error of a few mm.
    Raises ValueError for no poses and numbers that are not finite.
    Source: own derivation: coarse points, then a search by halving steps; see the module's head.

    >>> from generator.geometry.frames import labelled, positions, still
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> from generator.geometry.sampling import sampled
    >>> from generator.geometry.shapes import Block, Extent
    >>> rail = sampled(Block(x=Extent(-215.0, 180.0), y=-24.0, z=310.0), 3.0)
    >>> level = labelled(still(1), positions(0.0))
    >>> nearest_by_pose(rail, level, section_outline(EXAMPLE)).gaps.round(3).tolist()
    [5.5]
    """
    found = gaps_by_pose(coarse.points, poses, outline)
    starts = coarse.parameters[found.points]
    return _searched(coarse.shape, starts, poses, outline=outline)


def least_over_sweep(
    coarse: SampledShape, reach: MotionRange, *, at: PosesAt, outline: Outline, first: Positions
) -> LeastOverSweep:
    """Find the least gap of a shape over a sweep, in travel, steer and along the shape.

    at: gives the poses that the shape sees at positions. first: the sweep's positions. All poses
    whose coarse gap could still be the least are searched; then ever smaller neighbourhoods.
    Raises ValueError for no positions and numbers that are not finite.
    Source: own derivation: the coarse gap errs by no more than the chord error; see `refined`.

    >>> from generator.geometry.frames import labelled, positions
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> from generator.geometry.sampling import sampled
    >>> from generator.geometry.shapes import Block, Extent
    >>> from generator.geometry.suspension import IndependentCorner
    >>> from generator.geometry.travel import TravelLimits
    >>> lid = sampled(Block(x=Extent(-100.0, 100.0), y=-24.0, z=400.0), 3.0)
    >>> reach = MotionRange(TravelLimits(80.0, 70.0))
    >>> least = least_over_sweep(lid, reach, at=lambda p: IndependentCorner().poses(p).body,
    ...     outline=section_outline(EXAMPLE), first=positions([-70.0, 0.0, 80.0]))
    >>> round(least.gap, 1), least.position.travel
    (15.5, 80.0)
    """
    poses = at(first)
    rough = gaps_by_pose(coarse.points, poses, outline)
    close = np.flatnonzero(rough.gaps <= rough.gaps.min() + coarse.chord_error)
    starts = coarse.parameters[rough.points[close]]
    close_poses = selected(poses, close)
    near = _searched(coarse.shape, starts, close_poses, outline=outline)
    best, parameters = _best(near, close_poses)
    for width in _POSE_WIDTHS:
        around = at(refined(reach, best.position, width))
        starts = np.tile(parameters, (len(around), 1))
        near = _searched(coarse.shape, starts, around, outline=outline, first_step=NEAR_STEP)
        again, moved = _best(near, around)
        if again.gap < best.gap:
            best, parameters = again, moved
    return best


def _best(near: Nearest, poses: Poses) -> tuple[LeastOverSweep, Floats]:
    at = int(near.gaps.argmin())
    position = Position(
        float(poses.travel[at]), float(poses.steer[at]), float(poses.other_travel[at])
    )
    site = SectionPoint(float(near.points_ur[at, 0]), float(near.points_ur[at, 1]))
    return LeastOverSweep(float(near.gaps[at]), position, site), near.parameters[at]


def _searched(
    shape: Shape, starts: Floats, poses: Poses, *, outline: Outline, first_step: Mm = FIRST_STEP
) -> Nearest:
    """Search along a shape from one start (p, 3) for each pose, with halving steps."""
    sizes = np.asarray(shape.sizes())
    used = np.flatnonzero(sizes > 0.0)
    parameters = starts.copy()
    gaps, points_ur = _gaps(shape, parameters[:, None, :], poses, outline)
    best, place = gaps[:, 0], points_ur[:, 0]
    if len(used) == 0:
        return Nearest(best - shape.thickness, parameters, place)
    moves = _moves(used, sizes)
    rows = np.arange(len(parameters))
    for halving in range(ceil(log2(first_step / LAST_STEP)) + 1):
        step = first_step / 2.0**halving
        tried = np.clip(parameters[:, None, :] + step * moves, 0.0, 1.0)
        gaps, points_ur = _gaps(shape, tried, poses, outline)
        chosen = gaps.argmin(axis=1)
        better = gaps[rows, chosen] < best
        best = np.where(better, gaps[rows, chosen], best)
        parameters = np.where(better[:, None], tried[rows, chosen], parameters)
        place = np.where(better[:, None], points_ur[rows, chosen], place)
    return Nearest(best - shape.thickness, parameters, place)


def _moves(used: np.ndarray, sizes: Floats) -> Floats:
    """Give the steps of one millimetre along the used parameters, in all directions (c, 3)."""
    rows = []
    for signs in product((-1.0, 0.0, 1.0), repeat=len(used)):
        if any(signs):
            row = np.zeros(3)
            row[used] = np.asarray(signs) / sizes[used]
            rows.append(row)
    return np.asarray(rows)


def _gaps(
    shape: Shape, parameters: Floats, poses: Poses, outline: Outline
) -> tuple[Floats, Floats]:
    """Give gaps (p, c) and places (p, c, 2) of points (p, c, 3), each row in its own pose."""
    count, choices = parameters.shape[:2]
    points = shape.at(parameters.reshape(-1, 3)).reshape(count, choices, 3)
    local = np.einsum("pji,pcj->pci", poses.rotation, points - poses.translation[:, None, :])
    points_ur = np.stack([local[..., 1], np.hypot(local[..., 0], local[..., 2])], axis=-1)
    gaps = signed_distance(points_ur.reshape(-1, 2), outline).reshape(count, choices)
    return gaps, points_ur
