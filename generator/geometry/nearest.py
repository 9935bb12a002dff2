"""The nearest points of shapes to tyre and wheel: in each of many poses, and over a whole sweep.

A shape is first looked at through coarsely spaced points. From the best of them a search goes on
along the shape itself (see `search`). All sites of a wheel are searched together, since most of a
search is the same few steps of arithmetic for each.
"""

from collections.abc import Sequence
from functools import lru_cache
from typing import Protocol

import numpy as np

from generator.frozen import dataclass
from generator.geometry.clearance import SectionPoint
from generator.geometry.cloud import Cloud, cloud_of, nearest_points, points_near_least
from generator.geometry.distance import TIE
from generator.geometry.frames import Floats, Indices, Poses, Positions, WheelPoses
from generator.geometry.outline import Outline
from generator.geometry.sampling import SampledShape
from generator.geometry.search import (
    LAST_STEP,
    Found,
    Rows,
    field_of,
    searched,
    searched_for_least,
)
from generator.geometry.shapes import Attachment, Shape, poses_against
from generator.geometry.sweep import NEAR_STEPS, Position, refined_each, swept
from generator.geometry.travel import MotionRange
from generator.quantities.units import Mm, Ratio

__all__ = [
    "FIRST_STEP",
    "LAST_STEP",
    "NEAR_STEP",
    "LeastOverSweep",
    "Moving",
    "Nearest",
    "Target",
    "least_of",
    "nearest_of",
]

FIRST_STEP: Mm = 12.0
"""Half the spacing of points sampled with a chord error of 3 mm."""
NEAR_STEP: Mm = 3.0
"""First step of a search that begins at the nearest point of a neighbouring pose."""
_POSE_WIDTHS = (0.08, 0.02, 0.005)


class Moving(Protocol):
    """What a sweep needs of a corner; its poses are kept by it."""

    def __hash__(self) -> int:
        """Give the same for equal corners."""
        ...

    def poses(self, at: Positions) -> WheelPoses:
        """Give the wheel's poses at the positions."""
        ...


@dataclass(frozen=True, eq=False)
class Target:
    """A shape on one of the bodies at a corner, and the wheel that moves against it.

    coarse: the shape sampled with a chord error of a few mm.
    """

    coarse: SampledShape
    outline: Outline
    attachment: Attachment
    corner: Moving
    reach: MotionRange

    @property
    def shape(self) -> Shape:
        """Give the shape."""
        return self.coarse.shape


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


def nearest_of(targets: Sequence[Target], at: Sequence[Positions]) -> tuple[Nearest, ...]:
    """Give the nearest point of each shape at each of its own positions.

    at: for each target. The bar's thickness is taken off the gap.
    Raises ValueError for no positions and numbers that are not finite.
    Source: own derivation: coarse points, then a search by halving steps; see the module's head.

    >>> from generator.geometry.frames import positions
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> from generator.geometry.sampling import sampled
    >>> from generator.geometry.shapes import Block, Extent
    >>> from generator.geometry.suspension import IndependentCorner
    >>> from generator.geometry.travel import TravelLimits
    >>> rail = sampled(Block(x=Extent(-215.0, 180.0), y=-24.0, z=310.0), 3.0)
    >>> reach, outline = MotionRange(TravelLimits(80.0, 70.0)), section_outline(EXAMPLE)
    >>> seen = Target(rail, outline, Attachment.BODY, IndependentCorner(), reach)
    >>> nearest_of([seen], [positions([0.0])])[0].gaps.round(3).tolist()
    [5.5]
    """
    if not targets:
        return ()
    poses = _poses(targets, at)
    clouds = [
        cloud_of(target.coarse.points, each) for target, each in zip(targets, poses, strict=True)
    ]
    rough = nearest_points(clouds, [target.outline for target in targets])
    starts = [
        target.coarse.parameters[each.points] for target, each in zip(targets, rough, strict=True)
    ]
    found = searched(field_of(targets), _rows(targets, starts, poses), first_step=FIRST_STEP)
    ends = np.cumsum([len(each) for each in poses])[:-1]
    columns = (found.gaps, found.parameters, found.points_ur)
    parts = zip(*(np.split(column, ends) for column in columns), strict=True)
    return tuple(
        Nearest(gaps - target.coarse.thickness, parameters, points_ur + _from_face(target))
        for target, (gaps, parameters, points_ur) in zip(targets, parts, strict=True)
    )


def least_of(targets: Sequence[Target]) -> tuple[LeastOverSweep, ...]:
    """Find the least gap of each shape over its sweep, in travel, steer and along the shape.

    All poses whose coarse gap could still be the least are searched; then ever smaller
    neighbourhoods of the best. What is found for one target does not depend on the others.
    Raises ValueError for numbers that are not finite.
    Source: own derivation: the coarse gap errs by no more than the chord error; see `refined`.

    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> from generator.geometry.sampling import sampled
    >>> from generator.geometry.shapes import Block, Extent
    >>> from generator.geometry.suspension import IndependentCorner
    >>> from generator.geometry.travel import TravelLimits
    >>> lid = sampled(Block(x=Extent(-100.0, 100.0), y=-24.0, z=400.0), 3.0)
    >>> reach, outline = MotionRange(TravelLimits(80.0, 70.0)), section_outline(EXAMPLE)
    >>> least = least_of([Target(lid, outline, Attachment.BODY, IndependentCorner(), reach)])[0]
    >>> round(least.gap, 1), least.position.travel
    (15.5, 80.0)
    """
    if not targets:
        return ()
    field, rows, at = field_of(targets), *_close(targets)
    unknown = np.full(len(targets), np.inf)
    found = searched_for_least(field, rows, first_step=FIRST_STEP, known=unknown)
    best = _best(found, rows.owner, at)
    for width in _POSE_WIDTHS:
        rows, at = _around(targets, best, width)
        found = searched_for_least(field, rows, first_step=NEAR_STEP, known=best.gaps)
        best = best.or_less(_best(found, rows.owner, at))
    gaps = best.gaps.tolist()
    places = (best.places + np.array([_from_face(target) for target in targets])).tolist()
    positions = np.column_stack(_columns(best.at)).tolist()
    return tuple(
        LeastOverSweep(gap - target.coarse.thickness, Position(*position), SectionPoint(*place))
        for target, gap, position, place in zip(targets, gaps, positions, places, strict=True)
    )


@dataclass(frozen=True, eq=False)
class _Best:
    """The least gaps (t,) so far, without a bar's thickness; where, and at which points."""

    gaps: Floats
    at: Positions
    parameters: Floats
    places: Floats

    def or_less(self, other: "_Best") -> "_Best":
        """Give what was found elsewhere for each target whose gap is less there."""
        less = other.gaps < self.gaps - TIE
        at = (
            np.where(less, there, here)
            for there, here in zip(_columns(other.at), _columns(self.at), strict=True)
        )
        return _Best(
            np.where(less, other.gaps, self.gaps),
            Positions(*at),
            np.where(less[:, None], other.parameters, self.parameters),
            np.where(less[:, None], other.places, self.places),
        )


def _best(found: Found, owner: Indices, at: Positions) -> _Best:
    """Give the least gap of each target, the first of equals."""
    first = np.flatnonzero(np.diff(owner, prepend=-1))
    least = np.minimum.reduceat(found.gaps, first)
    equal = np.flatnonzero(found.gaps <= least[owner] + TIE)
    which = equal[np.searchsorted(owner[equal], np.arange(len(first)))]
    columns = (each[which] for each in _columns(at))
    return _Best(
        found.gaps[which], Positions(*columns), found.parameters[which], found.points_ur[which]
    )


def _around(targets: Sequence[Target], best: _Best, width: Ratio) -> tuple[Rows, Positions]:
    """Give searches from the best points of all targets in the poses close around the best ones.

    Targets of one corner are asked about together.
    """
    owners, ats, rotations, translations = [], [], [], []
    for places in _by_corner(targets):
        near = Positions(*(each[places] for each in _columns(best.at)))
        at, distinct = _distinct(refined_each(targets[places[0]].reach, near, width))
        wheel = targets[places[0]].corner.poses(at)
        owner = np.repeat(places, distinct)
        rotation, translation = np.empty((len(at), 3, 3)), np.empty((len(at), 3))
        for attachment in {targets[place].attachment for place in places}:
            alike = np.array([target.attachment is attachment for target in targets])[owner]
            seen = poses_against(wheel, attachment)
            rotation[alike], translation[alike] = seen.rotation[alike], seen.translation[alike]
        owners.append(owner)
        ats.append(_columns(at))
        rotations.append(rotation)
        translations.append(translation)
    owner = np.concatenate(owners)
    order = np.argsort(owner, kind="stable")
    owner = owner[order]
    columns = (np.concatenate(each)[order] for each in zip(*ats, strict=True))
    rotation, translation = np.concatenate(rotations)[order], np.concatenate(translations)[order]
    rows = Rows(
        owner, best.parameters[owner], rotation, _from_centre(targets, owner, rotation, translation)
    )
    return rows, Positions(*columns)


def _from_face(target: Target) -> Floats:
    """Give the centre plane as (u, r) from the hub's mounting face."""
    return np.array([target.outline.section.centre, 0.0])


def _from_centre(
    targets: Sequence[Target], owner: Indices, rotation: Floats, translation: Floats
) -> Floats:
    """Give the translations (n, 3) that belong to points counted from the wheels' centre planes."""
    centres = np.array([target.outline.section.centre for target in targets])[owner]
    moved: Floats = translation + rotation[:, :, 1] * centres[:, None]
    return moved


def _by_corner(targets: Sequence[Target]) -> list[list[int]]:
    """Give the places of the targets that one corner carries through one range."""
    together: dict[tuple[int, int], list[int]] = {}
    for place, target in enumerate(targets):
        together.setdefault((id(target.corner), id(target.reach)), []).append(place)
    return list(together.values())


def _distinct(around: tuple[Floats, Floats, Floats]) -> tuple[Positions, Indices]:
    """Leave out positions that come again: beyond a limit a neighbourhood is clipped to it.

    around: travel, steer and the other side's travel (t, m), a neighbourhood a row. Its grid has
    rows of as many steer angles or heights, so one that comes again follows itself at once, or a
    row later; the first position of all stands in the middle too. Told is how many each keeps.
    """
    rows = np.stack(around)
    kept = np.ones(rows.shape[1:], dtype=bool)
    for lag in (1, NEAR_STEPS):
        kept[:, lag:] &= (rows[..., lag:] != rows[..., :-lag]).any(axis=0)
    kept[:, 1:] &= (rows[..., 1:] != rows[..., :1]).any(axis=0)
    return Positions(*rows[:, kept]), kept.sum(axis=1)


def _columns(at: Positions) -> tuple[Floats, Floats, Floats]:
    return at.travel, at.steer, at.other_travel


def _rows(targets: Sequence[Target], starts: Sequence[Floats], poses: Sequence[Poses]) -> Rows:
    """Give searches from starts (p, 3) of each target in its own poses (p)."""
    owner = np.repeat(np.arange(len(targets)), [len(each) for each in poses])
    rotation = np.concatenate([each.rotation for each in poses])
    translation = np.concatenate([each.translation for each in poses])
    moved = _from_centre(targets, owner, rotation, translation)
    return Rows(owner, np.concatenate(starts), rotation, moved)


def _poses(targets: Sequence[Target], at: Sequence[Positions]) -> tuple[Poses, ...]:
    """Give the poses that each target sees at its positions; each corner is asked once."""
    together: dict[int, list[int]] = {}
    for place, target in enumerate(targets):
        together.setdefault(id(target.corner), []).append(place)
    found: dict[int, Poses] = {}
    for places in together.values():
        asked = [at[place] for place in places]
        wheel = targets[places[0]].corner.poses(
            Positions(
                np.concatenate([each.travel for each in asked]),
                np.concatenate([each.steer for each in asked]),
                np.concatenate([each.other_travel for each in asked]),
            )
        )
        first = 0
        for place, each in zip(places, asked, strict=True):
            seen = poses_against(wheel, targets[place].attachment)
            found[place] = _slice(seen, slice(first, first + len(each)))
            first += len(each)
    return tuple(found[place] for place in range(len(targets)))


def _slice(poses: Poses, part: slice | Indices) -> Poses:
    return Poses(
        poses.rotation[part],
        poses.translation[part],
        poses.travel[part],
        poses.steer[part],
        poses.other_travel[part],
    )


@lru_cache(maxsize=64)
def _swept_poses(corner: Moving, reach: MotionRange) -> WheelPoses:
    return corner.poses(swept(reach))


@lru_cache(maxsize=64)
def _swept_cloud(
    corner: Moving, reach: MotionRange, attachment: Attachment, coarse: SampledShape
) -> Cloud:
    seen = poses_against(_swept_poses(corner, reach), attachment)
    return cloud_of(coarse.points, seen)


def _close(targets: Sequence[Target]) -> tuple[Rows, Positions]:
    """Give searches in the poses of the sweep whose coarse gap could be the least."""
    clouds = [
        _swept_cloud(each.corner, each.reach, each.attachment, each.coarse) for each in targets
    ]
    chords = [each.coarse.chord_error for each in targets]
    found = points_near_least(clouds, [each.outline for each in targets], within=chords)
    poses, starts = [], []
    for target, (which, points) in zip(targets, found, strict=True):
        seen = poses_against(_swept_poses(target.corner, target.reach), target.attachment)
        poses.append(_slice(seen, which))
        starts.append(target.coarse.parameters[points])
    at = Positions(
        np.concatenate([each.travel for each in poses]),
        np.concatenate([each.steer for each in poses]),
        np.concatenate([each.other_travel for each in poses]),
    )
    return _rows(targets, starts, poses), at
