"""The gaps of a few sites, or of one site for many wheels, without all else of an assessment.

Where a site comes is found once, and then only the distance to each outline.

The trace of a site is taken at the positions of the sweep, then ever closer around those positions
that are nearest for some of the wheels asked about, as the search for one wheel does.
"""

from collections.abc import Sequence
from itertools import islice

import numpy as np

from generator.assessment.assess import axle_sights
from generator.assessment.clearances import Clearance, Sight
from generator.assessment.fit import axle_fit
from generator.assessment.measuring import least_measured
from generator.frozen import dataclass
from generator.geometry.frames import Floats, Positions
from generator.geometry.outline import Outline
from generator.geometry.sampling import sampled, sampled_near
from generator.geometry.sweep import Position, refined
from generator.geometry.trace import Band, Trace, joined, least_gaps, serving, trace
from generator.quantities.units import Mm
from generator.records.chassis import Chassis
from generator.records.fitted import AxleSetup
from generator.records.site_sheet import SiteSheet
from generator.records.words import Axle

CHORD: Mm = 1.0
"""Chord error of the points along a shape at the first look."""
_LEVELS = ((0.08, 12.0, 0.5), (0.025, 4.0, 0.1))
"""Neighbourhoods: of a position, as a share of the whole range (see `geometry.sweep.refined`); of
a point along the shape, in mm; and the chord error there."""
_FINEST: Mm = 0.05


@dataclass(frozen=True)
class Asked:
    """The wheels asked about: their outlines, and how far each is shifted outboard (n,) mm.

    The shifts rise in equal steps.
    """

    outlines: tuple[Outline, ...]
    shifts: Floats

    def band(self) -> Band:
        """Give the range of all sections."""
        sections = [outline.section for outline in self.outlines]
        centres = [section.centre for section in sections]
        return Band(
            min(centres) + float(self.shifts[0]),
            max(centres) + float(self.shifts[-1]),
            max(section.widest_radius for section in sections),
        )


def reached(sight: Sight, asked: Asked) -> Trace:
    """Give where a site comes, as far as it counts for the wheels asked about."""
    band, shape = asked.band(), sight.place.shape
    if shape is None:
        raise ValueError(f"{sight.place.site.name} has no shape")
    thickness = shape.thickness + sight.place.thickness
    poses = sight.poses(sight.first_positions())
    if not sight.moves:
        fine = sampled(shape, _FINEST)
        return trace(fine.points, fine.parameters, poses, band=band, thickness=thickness)
    rough = sampled(shape, CHORD)
    seen = trace(rough.points, rough.parameters, poses, band=band, thickness=thickness)
    for width, along, chord in _LEVELS:
        found = [seen]
        for near in _nearest(seen, asked):
            points = sampled_near(shape, near[5:], reach=along, chord_error=chord)
            around = sight.poses(_around(sight, near, width))
            finer = trace(points.points, points.parameters, around, band=band, thickness=thickness)
            found.append(finer)
        seen = joined(found, band)
    step = float(asked.shifts[1] - asked.shifts[0]) if len(asked.shifts) > 1 else 0.0
    return serving(seen, asked.outlines, asked.shifts, slack=step)


def _nearest(seen: Trace, asked: Asked) -> Floats:
    """Give the rows of the trace that are nearest for some of the wheels, each once.

    Another width shifts the faces as another offset does, so that the middle one stands for all.
    """
    middle = asked.outlines[len(asked.outlines) // 2]
    return seen.points[np.unique(least_gaps(seen, middle, asked.shifts[::2])[1])]


def _around(sight: Sight, near: Floats, width: float) -> Positions:
    reach = sight.motion.reach
    travel, steer, other = (float(each) for each in near[2:5])
    return refined(reach, Position(travel, steer, other), width)


def seen_from(
    axle: Axle, fitted: AxleSetup, chassis: Chassis, names: frozenset[str] | None = None
) -> tuple[Clearance, ...]:
    """Give the least gaps at one end, of some sites or of all, without states and curves."""
    return all_seen_from(axle, ((fitted, names),), chassis)[0]


def all_seen_from(
    axle: Axle, asked: Sequence[tuple[AxleSetup, frozenset[str] | None]], chassis: Chassis
) -> tuple[tuple[Clearance, ...], ...]:
    """Give the least gaps at one end for each of several setups of it; see `seen_from`.

    asked: each with the names of its sites, None for all.
    """
    sheet = chassis.front if axle is Axle.FRONT else chassis.rear
    seen = [
        [
            each
            for each in axle_sights(axle_fit(axle, setup, sheet), setup, chassis)
            if names is None or _site(each).name in names
        ]
        for setup, names in asked
    ]
    found = iter(least_measured([each for some in seen for each in some]))
    return tuple(tuple(islice(found, len(some))) for some in seen)


def _site(seen: Sight | Clearance) -> SiteSheet:
    return seen.site if isinstance(seen, Clearance) else seen.place.site
