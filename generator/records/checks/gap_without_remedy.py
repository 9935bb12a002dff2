"""A gap is larger than wheel and tyre leave room for, and no remedy is noted."""

from collections.abc import Iterator
from math import hypot

from generator.geometry.tyre import TyreDimensions
from generator.quantities.span import Ramp
from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.dimensions import rim_width, tyre_dimensions
from generator.records.fitted import AxleSetup, Spacer, TyreFitted, WheelFitted
from generator.records.gap_pairs import MOVES_WITH_WHEEL, SiteGap, site_gaps, was_reshaped
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.site_sheet import Block
from generator.records.stance import fitted_stance
from generator.records.told import apart, is_usual, mm
from generator.records.words import Facing, State

UNEXPLAINED: Mm = 8.0
"""Beyond this a remedy must have been left out: common practice."""
COVERAGE = 2.0
"""Standard deviations that are allowed for, about 95 % [GUM] 6.3.3."""
SHOULDER: Mm = 28.0
"""Radius of a road tyre's shoulder, over which the sidewall's plane does not hold: an assumption of
the guide's section outline."""

RULE = Rule(
    code="R38",
    title="a gap that is larger than there is room for",
    severity=Severity.WARNING,
    why="From the hub face to the part, and from the hub face to the tyre, the room is known. A "
    "gap that is much larger means that something was moved, cut or rolled and not written down.",
    mend="Write what was done under `remedies` or `bodywork`; others who leave it out will find "
    "contact.",
    source="own derivation from the sheet's coordinates; 8 mm is common practice",
    bad="setup:\n"
    "  not_checked: [fender lip and brake hose, quarter lip, inner wheelhouse]\n"
    "  remedies: []\n"
    "  gaps: [{site: strut-tube, side: both, state: static, gap: 31 mm}]",
    good="setup:\n"
    "  not_checked: [fender lip and brake hose, quarter lip, inner wheelhouse]\n"
    "  remedies: [{kind: bracket moved, axle: front, cured: [strut-tube]}]\n"
    "  gaps: [{site: strut-tube, side: both, state: static, gap: 31 mm}]",
)


def check(case: Case) -> Iterator[Fault]:
    """Hold inboard gaps against the room between tyre and part."""
    setup = case.setup.value
    cured = {(remedy.axle, name) for remedy in setup.remedies for name in remedy.cured}
    for said in site_gaps(case):
        site = said.site
        if (site.axle, site.name) in cured or was_reshaped(case, site.axle, site.name):
            continue
        room = _room(said, getattr(setup, site.axle.value))
        if room is None:
            continue
        between = site.between_cars.value if site.between_cars else 0.0
        spread = site.spread.value if site.spread else 0.0
        allowed = UNEXPLAINED + COVERAGE * hypot(between, spread, said.spread)
        if said.low <= room + allowed:
            continue
        assert case.chassis is not None
        index = case.chassis.value.sites.index(site)
        yield RULE.fault(
            case.setup.place(*said.route),
            f"`{said.gap.gap.typed}` at `{site.name}` is {apart(said.low - room)} more than the "
            f"{mm(room)} between part and tyre",
            expected=f"about {mm(room)}, or a remedy",
            fix=f"add what was done under `remedies`, with `cured: [{site.name}]`",
            also=(marked(case.chassis, "where the part is", "sites", index, "name"),),
        )


def _room(said: SiteGap, fitted: AxleSetup) -> Mm | None:
    """Give the sideways room to an inboard block, where the tyre's flat sidewall faces it.

    A gap is the shortest way, so that it cannot be more than this way. None where the part lies
    above or below the flat part of the sidewall, or moves against it in this state.
    """
    site = said.site
    keeps = site.moves_with in MOVES_WITH_WHEEL or said.gap.state is State.STATIC
    if site.facing is not Facing.INBOARD or site.block is None or not keeps:
        return None
    if not _is_placed_as_usual(fitted):
        return None
    stance = fitted_stance(fitted, said.sides[0])
    tyre = tyre_dimensions(fitted.tyre, rim_width(fitted.wheel.size))
    if stance is None or tyre is None:
        return None
    near = _nearest_on_sidewall(site.block, _sidewall(fitted, tyre))
    return None if near is None else stance.faces.inboard.value - near + stance.face_moved.value


def _is_placed_as_usual(fitted: AxleSetup) -> bool:
    """Tell whether no number that places the tyre has been told to be out of its range already."""
    wheel, spacer, tyre = fitted.wheel, fitted.spacer, fitted.tyre
    told = (
        (WheelFitted, "offset", wheel.offset),
        (WheelFitted, "offset_measured", wheel.offset_measured),
        (WheelFitted, "backspacing", wheel.backspacing),
        (WheelFitted, "width_measured", wheel.width_measured),
        (TyreFitted, "section_width", tyre.section_width),
        (Spacer, "thickness", spacer.thickness if spacer else None),
        (AxleSetup, "face_moved", fitted.face_moved),
    )
    return all(each is None or is_usual(model, name, each.value) for model, name, each in told)


def _sidewall(fitted: AxleSetup, tyre: TyreDimensions) -> tuple[Mm, Mm]:
    """Give the radii between which the sidewall is about flat: flange to shoulder."""
    inch = 25.4
    return fitted.wheel.size.diameter_code * inch / 2.0, tyre.diameter.value / 2.0 - SHOULDER


def _nearest_on_sidewall(block: Block, flat: tuple[Mm, Mm]) -> Mm | None:
    """Give the most outboard y of a block at a height that the flat sidewall has; x across it."""
    low, high = flat
    if isinstance(block.x, Ramp) or not block.x.low <= 0.0 <= block.x.high:
        return None
    if isinstance(block.z, Ramp):
        ends = ((block.z.start, 0.0), (block.z.end, 1.0))
        shares = [share for height, share in ends if low <= abs(height) <= high]
        if isinstance(block.y, Ramp):
            along = [block.y.start + share * (block.y.end - block.y.start) for share in shares]
            return max(along, default=None)
        return block.y.high if shares else None
    if isinstance(block.y, Ramp):
        return None
    height = min(abs(block.z.low), abs(block.z.high))
    return block.y.high if low <= height <= high else None
