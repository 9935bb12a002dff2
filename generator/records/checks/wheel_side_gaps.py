"""What is fixed to the knuckle keeps its place, so its gap changes as the tyre's face moved."""

from collections.abc import Iterator
from math import radians, tan

from generator.quantities.estimate import Basis
from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.gap_pairs import (
    MOVES_WITH_WHEEL,
    SiteGap,
    allowance,
    beyond,
    site_gaps,
    was_reshaped,
)
from generator.records.library import Library
from generator.records.rule import Rule
from generator.records.same_car import with_earlier
from generator.records.stance import Stance, fitted_stance, gap_change
from generator.records.told import apart
from generator.records.words import Facing, Side

SPREAD: Mm = 3.0
GRAVE: Mm = 12.0
NO_CHANGE: Mm = 1.5
SECTION_BY_SIZE: Mm = 3.0
"""Half of what a section width that nobody measured may be off: common practice."""

RULE = Rule(
    "R10",
    "a gap beside the wheel does not follow from offset and width",
    Severity.ERROR,
    "A part that moves with the wheel keeps its place against the hub, so between two records of "
    "one car its gap changes by exactly what offset, spacer and section width moved the tyre's "
    "face. More than 3 mm besides the tools' spread is a warning, more than 12 mm an error.",
    "Measure the gap again; then look for a spacer counted twice, an offset that was not measured, "
    "or a hub, knuckle or brake that was changed between the two records.",
    "common practice",
    "other: {member: Copperbill, car: copperbill-coupe, date: 2025-08-02, title: Ten millimetres "
    "less offset, front: {wheel: {offset: 12 mm, backspacing: 113.5 mm}}}",
    """other:
  member: Copperbill
  car: copperbill-coupe
  date: 2025-08-02
  title: Ten millimetres less offset
  front: {wheel: {offset: 12 mm, backspacing: 113.5 mm}}
  gaps:
    - {site: strut-tube, side: both, state: static, gap: 18.5 mm, tool: feeler gauge}
    - {site: fender-lip, side: both, state: full bump, gap: 1 mm, tool: clay}
    - {site: brake-hose, side: both, state: toe-in lock at bump, gap: 27 mm, tool: steel rule}
    - {site: quarter-lip, side: both, state: full bump, gap: clears}
    - {site: inner-wheelhouse, side: both, state: "this side up, other down", gap: 18 mm}
""",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Compare each record with the earlier ones of the same car."""
    for later, earlier in with_earlier(library):
        before = [list(site_gaps(case)) for case in earlier]
        for gap in site_gaps(later):
            if gap.site.moves_with in MOVES_WITH_WHEEL:
                fault = _of_gap(gap, before)
                if fault is not None:
                    yield fault


def _of_gap(gap: SiteGap, before: list[list[SiteGap]]) -> Fault | None:
    """Compare with the latest earlier record that has this site and side."""
    for side in gap.sides:
        for gaps in before:
            same = [g for g in gaps if g.site == gap.site and side in g.sides]
            # The gap is the same in every state; one of the same state compares best.
            same.sort(key=lambda g: g.gap.state is not gap.gap.state)
            if same:
                fault = _of_pair(gap, same[0], side)
                if fault is not None:
                    return fault
                break
    return None


def _of_pair(now: SiteGap, then: SiteGap, side: Side) -> Fault | None:
    axle = now.site.axle
    new = fitted_stance(getattr(now.case.setup.value, axle.value), side)
    old = fitted_stance(getattr(then.case.setup.value, axle.value), side)
    if new is None or old is None or not _is_comparable(now, then):
        return None
    change = gap_change(new, old, now.site.facing)
    off = beyond(now, then, change)
    rough = allowance(now, then) + _camber_allowance(now, then) + _section_allowance(new, old)
    if abs(off) <= SPREAD + rough:
        return None
    way = "wider" if change > 0.0 else "narrower"
    moved = "as wide as before" if abs(change) < NO_CHANGE else f"{apart(change)} {way}"
    cause = "diameter" if now.site.facing is Facing.CROWN else "offset, spacer and section width"
    fault = RULE.fault(
        now.case.setup.place(*now.route),
        f"the gap at `{now.site.name}`, {now.words} and {then.words} before, is "
        f"{apart(off)} {'wider' if off > 0.0 else 'narrower'} than the wheels make it",
        expected=f"{moved}, by {cause}",
        fix=_fix(change, off),
        also=(then.mark(f"before, on {then.case.setup.value.date.isoformat()}"),),
    )
    return fault if abs(off) > GRAVE + rough else RULE.warning(fault)


def _is_comparable(now: SiteGap, then: SiteGap) -> bool:
    """Tell whether both records are of the same hub and the same part."""
    same = now.case.setup.value.variant == then.case.setup.value.variant
    return same and not was_reshaped(now.case, now.site.axle, now.site.name)


def _section_allowance(new: Stance, old: Stance) -> Mm:
    """Give what sections by size alone add, unless it is the same number in both records."""
    sections = (new.faces.section_width, old.faces.section_width)
    if sections[0] == sections[1]:
        return 0.0
    return SECTION_BY_SIZE * sum(section.basis is not Basis.MEASURED for section in sections)


def _camber_allowance(now: SiteGap, then: SiteGap) -> Mm:
    """Give what camber bolts at the knuckle may move: the wheel then tilts against the strut."""
    axle = now.site.axle.value
    new = getattr(now.case.setup.value, axle)
    old = getattr(then.case.setup.value, axle)
    stance = fitted_stance(new)
    if new.camber is None or old.camber is None or stance is None:
        return 0.0
    return abs(tan(radians(new.camber.value - old.camber.value))) * stance.diameter / 2.0


def _fix(change: Mm, off: Mm) -> str:
    if abs(change) > SPREAD and abs(off + change) <= SPREAD:
        return (
            "measure the gap again; it did not change, as if offset and spacer had been counted "
            "twice or not been changed"
        )
    if abs(change) > SPREAD and abs(off + 2.0 * change) <= SPREAD:
        return "check the sign of the offset in both records: the gap changed the other way"
    return "measure gap, offset and spacer again, or name what was changed at hub or knuckle"
