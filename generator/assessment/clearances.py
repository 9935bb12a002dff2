"""The gap at each site: standing, in the named states, and the least over all the wheel can do.

A gap is what the geometry gives with the best value of every input; its uncertainty carries wheel,
tyre, the site's place on the sheet, and how camber was set. A site whose place or a car whose
travel is not known has no gap, only the reason in words: it never counts as clear.
"""

from dataclasses import dataclass, field, replace
from math import hypot

import numpy as np

from generator.assessment.corner import CornerMotion, Standing, corner_motion, strut_doubt
from generator.assessment.fit import Fit
from generator.assessment.poses import pose_words
from generator.assessment.sites import Condition, PlacedSite, placed
from generator.geometry.clearance import SectionPoint, gap_gradient, gap_uncertainty
from generator.geometry.frames import Floats, Poses, Positions, positions
from generator.geometry.nearest import Nearest, least_over_sweep, nearest_by_pose
from generator.geometry.outline import Outline, section_outline, tyre_section
from generator.geometry.sampling import SampledShape, sampled
from generator.geometry.shapes import Attachment, poses_against
from generator.geometry.sweep import Position, state_positions, swept
from generator.geometry.travel import named_states
from generator.geometry.tyre import TREAD_SHARE
from generator.published import tables
from generator.quantities.estimate import Basis, Estimate, weakest
from generator.quantities.rim_size import RimSize
from generator.quantities.units import Mm, Ratio
from generator.records.chassis import Chassis
from generator.records.fitted import Bodywork
from generator.records.site_sheet import SiteSheet
from generator.records.words import Axle, Side

COARSE: Mm = 3.0
"""Chord error of the first look at a shape; the search along it then goes to 0.001 mm."""
_CURVE_STEPS = 17
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


def clearances(
    chassis: Chassis, axle: Axle, side: Side, *, mounted: Mounted, stock: Fit
) -> tuple[Clearance, ...]:
    """Compute the gaps of all sites at one corner. `side` is left or right, or both if alike."""
    seen = sights(chassis, axle, side, mounted=mounted, stock=stock)
    return tuple(each if isinstance(each, Clearance) else _seen(each) for each in seen)


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

    def first_positions(self) -> Positions:
        """Give the positions in which the site is first looked at."""
        rest = self.motion.reach.static
        if self.moves:
            return swept(self.motion.reach)
        return positions(rest, other_travel=rest)

    def clearance(self) -> Clearance:
        """Give the least gap alone, without the named states and the curves."""
        standing = None if self.moves else _standing(self)
        return Clearance(
            self.place.site, self.side, self.place.condition, self.moves,
            self.place.site.wanted.value, standing, standing or _least(self), (), None, None, "",
        )  # fmt: skip

    def poses(self, at: Positions) -> Poses:
        """Give the wheel's poses as the site sees them."""
        return poses_against(self.motion.corner.poses(at), self.place.attachment)

    def nearest(self, at: Positions) -> Nearest:
        """Give the nearest point of the site at each position."""
        return nearest_by_pose(self.coarse, self.poses(at), self.outline)

    def gap_at(self, words: str, position: Position, gap: Mm, *, site: SectionPoint) -> GapAt:
        """Give a gap with its uncertainty. The section point is where on the wheel it is."""
        wheel, tyre = self.fit.wheel, self.fit.tyre
        if wheel is None or tyre is None:
            raise ValueError("a gap needs a wheel and a tyre")
        gradient = gap_gradient(site, self.outline)
        of_setup = gap_uncertainty(gradient, wheel, tyre)
        rate = gradient.section_width
        if tyre.tread_width is None:
            rate += TREAD_SHARE * gradient.tread_width
        doubt = 0.0
        if self.place.attachment is Attachment.STRUT:
            doubt = strut_doubt(self.motion, site.r)
        basis = weakest(tyre.section_width.basis, wheel.centre_plane.basis, Basis.INFERRED)
        u_setup = hypot(of_setup, doubt)
        u = hypot(u_setup, self.place.spread)
        estimate = Estimate(gap - self.place.thickness, u, basis, ("chassis sheet",))
        return GapAt(words, position, estimate, u_setup, rate)


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
    coarse = sampled(place.shape, COARSE)
    return Sight(place, side, coarse, look.outline, look.motion, look.fit)


def _seen(sight: Sight) -> Clearance:
    least = sight.clearance()
    if not sight.moves:
        return least
    return replace(
        least,
        standing=_standing(sight),
        states=_states(sight),
        by_travel=_by_travel(sight),
        by_steer=_by_steer(sight) if _steers(sight.motion) else None,
    )


def _steers(motion: CornerMotion) -> bool:
    return bool(motion.reach.locks.toe_out or motion.reach.locks.toe_in)


def _standing(sight: Sight) -> GapAt:
    rest = sight.motion.reach.static
    near = sight.nearest(positions(rest, other_travel=rest))
    words = "standing" if sight.moves else "moves with the wheel"
    point = _point(near.points_ur[0])
    return sight.gap_at(words, Position(rest, 0.0, rest), float(near.gaps[0]), site=point)


def _least(sight: Sight) -> GapAt:
    reach = sight.motion.reach
    found = least_over_sweep(
        sight.coarse, reach, at=sight.poses, outline=sight.outline, first=swept(reach)
    )
    words = pose_words(found.position, reach)
    return sight.gap_at(words, found.position, found.gap, site=found.site)


def _states(sight: Sight) -> tuple[GapAt, ...]:
    reach = sight.motion.reach
    near = sight.nearest(state_positions(reach))
    return tuple(
        sight.gap_at(
            state.state.value,
            Position(state.travel, state.steer, state.other_travel),
            float(gap),
            site=_point(place),
        )
        for state, gap, place in zip(named_states(reach), near.gaps, near.points_ur, strict=True)
    )


def _by_travel(sight: Sight) -> Curve:
    limits = sight.motion.reach.limits
    travel = np.linspace(-limits.droop, limits.bump, _CURVE_STEPS)
    return _curve(sight, travel, positions(travel))


def _by_steer(sight: Sight) -> Curve:
    reach = sight.motion.reach
    steer = np.linspace(-reach.locks.toe_in, reach.locks.toe_out, _CURVE_STEPS)
    return _curve(sight, steer, positions(np.full(_CURVE_STEPS, reach.static), steer))


def _curve(sight: Sight, along: Floats, at: Positions) -> Curve:
    gaps = sight.nearest(at).gaps - sight.place.thickness
    return Curve(tuple(along.tolist()), tuple(gaps.tolist()))


def _point(place: Floats) -> SectionPoint:
    return SectionPoint(float(place[0]), float(place[1]))
