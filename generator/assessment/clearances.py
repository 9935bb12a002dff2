"""What a gap at a site is: standing, in the named states, and the least over all the wheel can do.

`measuring` finds the gaps of the sights that are made ready here. A gap is what the geometry gives
with the best value of every input; its uncertainty carries wheel, tyre, the site's place on the
sheet, and how camber was set. A site whose place or a car whose
travel is not known has no gap, only the reason in words: it never counts as clear.
"""

from dataclasses import field
from functools import lru_cache

from generator.assessment.corner import CornerMotion, Standing, corner_motion
from generator.assessment.fit import Fit
from generator.assessment.sites import Condition, PlacedSite, placed
from generator.frozen import dataclass
from generator.geometry.frames import Poses, Positions, positions
from generator.geometry.nearest import Nearest, Target, nearest_of
from generator.geometry.outline import Outline, section_outline, tyre_section
from generator.geometry.sampling import SampledShape, sampled
from generator.geometry.shapes import Attachment, Shape, poses_against
from generator.geometry.sweep import Position, swept
from generator.published import tables
from generator.quantities.estimate import Estimate
from generator.quantities.rim_size import RimSize
from generator.quantities.units import Mm, Ratio
from generator.records.chassis import Chassis
from generator.records.fitted import Bodywork
from generator.records.site_sheet import SiteSheet
from generator.records.words import Axle, Side

COARSE: Mm = 3.0
"""Chord error of the first look at a shape; the search along it then goes to 0.001 mm."""
_FIXED = (Attachment.STRUT, Attachment.KNUCKLE, Attachment.AXLE)


@dataclass(frozen=True)
class GapAt:
    """A gap in a stated position of the wheel, with the words for it.

    The uncertainty of `gap` has all in it; `u_setup` is the part of wheel, tyre and camber alone,
    without how far the sheet's place of the site may be off. `width_rate` is the change of the gap
    for one millimetre of the tyre's section width, which all sites of a corner share.
    """

    words: str
    position: Position
    gap: Estimate
    u_setup: Mm
    width_rate: Ratio

    @property
    def of_setup(self) -> Estimate:
        """Give the gap with the uncertainty of wheel, tyre and camber alone."""
        return Estimate(self.gap.value, self.u_setup, self.gap.basis, self.gap.sources)


@dataclass(frozen=True)
class Curve:
    """Gap (mm) against travel (mm, steer straight) or against steer (deg, standing)."""

    at: tuple[Ratio, ...]
    gaps: tuple[Mm, ...]


@dataclass(frozen=True)
class Clearance:
    """All gaps of one site on one side. None is not known, and `unknown` says why.

    `moves` is False for a site that goes with the wheel: its gap is the same in every state.
    """

    site: SiteSheet
    side: Side
    condition: Condition
    moves: bool
    wanted: Mm
    standing: GapAt | None
    least: GapAt | None
    states: tuple[GapAt, ...]
    by_travel: Curve | None
    by_steer: Curve | None
    unknown: str

    @property
    def static(self) -> Estimate | None:
        """Give the gap of the standing car; None is not known."""
        return self.standing.gap if self.standing else None

    @property
    def has_wanted(self) -> bool:
        """Tell whether the least gap reaches the wanted one; never for an unknown one."""
        return self.least is not None and self.least.gap.value >= self.wanted


@dataclass(frozen=True)
class Mounted:
    """A wheel with its tyre at a corner, and what was changed around it."""

    fit: Fit
    rim: RimSize
    face_moved: Mm = 0.0
    standing: Standing = field(default_factory=Standing)
    bodywork: Bodywork | None = None


def sights(
    chassis: Chassis, axle: Axle, side: Side, *, mounted: Mounted, stock: Fit
) -> tuple["Sight | Clearance", ...]:
    """Give all sites of one corner, ready to be measured; one not known is a clearance already."""
    outline, unknown = mounted_outline(mounted)
    motion: CornerMotion | None = None
    try:
        motion = corner_motion(chassis, axle, side, mounted.standing)
    except ValueError as trouble:
        unknown = unknown or str(trouble)
    look = _Look(mounted.fit, outline, motion, unknown)
    return tuple(
        _sight(placed(site, mounted.bodywork, stock.faces), side, look)
        for site in chassis.sites
        if site.axle is axle and (site.only is None or side in (site.only, Side.BOTH))
    )


def mounted_outline(mounted: Mounted) -> tuple[Outline | None, str]:
    """Give the section outline of wheel and tyre where they stand; words where there is none."""
    fit = mounted.fit
    if fit.wheel is None:
        return None, "the wheel's offset and backspacing are not known"
    if fit.tyre is None:
        return None, "the tyre's dimensions are not known"
    try:
        seat = tables.bead_seat_diameter(mounted.rim.diameter_code)
        section = tyre_section(fit.wheel, fit.tyre, bead_seat_diameter=seat)
    except (LookupError, ValueError) as trouble:
        return None, f"wheel and tyre make no section: {trouble}"
    return section_outline(section).at(mounted.face_moved), ""


@dataclass(frozen=True)
class _Look:
    fit: Fit
    outline: Outline | None
    motion: CornerMotion | None
    unknown: str


@dataclass(frozen=True)
class Sight:
    """One site seen by one wheel: everything known."""

    place: PlacedSite
    side: Side
    coarse: SampledShape
    outline: Outline
    motion: CornerMotion
    fit: Fit

    @property
    def moves(self) -> bool:
        """Tell whether the wheel moves against the site."""
        return self.place.attachment not in _FIXED

    @property
    def target(self) -> Target:
        """Give the site as the geometry looks at it."""
        motion = self.motion
        return Target(self.coarse, self.outline, self.place.attachment, motion.corner, motion.reach)

    def first_positions(self) -> Positions:
        """Give the positions in which the site is first looked at."""
        rest = self.motion.reach.static
        if self.moves:
            return swept(self.motion.reach)
        return positions(rest, other_travel=rest)

    def poses(self, at: Positions) -> Poses:
        """Give the wheel's poses as the site sees them."""
        return poses_against(self.motion.corner.poses(at), self.place.attachment)

    def nearest(self, at: Positions) -> Nearest:
        """Give the nearest point of the site at each position."""
        return nearest_of((self.target,), (at,))[0]


@lru_cache(maxsize=4096)
def _coarse(shape: Shape) -> SampledShape:
    return sampled(shape, COARSE)


def _sight(place: PlacedSite, side: Side, look: _Look) -> Sight | Clearance:
    moves = place.attachment not in _FIXED
    unknown = place.unknown or look.unknown
    if moves and look.motion is not None:
        unknown = unknown or look.motion.travel_unknown
    if unknown or place.shape is None or look.outline is None or look.motion is None:
        return Clearance(
            place.site, side, place.condition, moves, place.site.wanted.value,
            None, None, (), None, None, unknown,
        )  # fmt: skip
    coarse = _coarse(place.shape)
    return Sight(place, side, coarse, look.outline, look.motion, look.fit)
