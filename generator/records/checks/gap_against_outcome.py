"""Gaps and what was seen on the road contradict one another."""

from collections.abc import Iterator

from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.gap_pairs import MOVES_WITH_WHEEL, SiteGap, site_gaps
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.setup import Rub
from generator.records.told import mm
from generator.records.words import Outcome, Side, State

WIDE: Mm = 3.0
"""Where a gap is wider than this nothing should have touched: common practice."""
AT_LOCK = frozenset({State.TOE_OUT_LOCK, State.TOE_IN_LOCK})

RULE = Rule(
    code="R36",
    title="a gap that contradicts what was seen",
    severity=Severity.WARNING,
    why="A part that touches leaves a mark when the car is driven, and where a mark was found the "
    "gap was nothing at that moment. One of the two was seen in another state or before a change.",
    mend="Look again with chalk on the tyre, and say in the remark in which state it was.",
    source="common practice",
    bad="setup: {remedies: [], gaps: [{site: strut-tube, side: both, state: static,"
    " gap: touches}]}",
    good="setup:\n"
    "  remedies: []\n"
    "  gaps: [{site: strut-tube, side: both, state: static, gap: touches}]\n"
    "  rubs: [{site: strut-tube, side: both, grade: 1, when: all the time, cured: no}]\n"
    "  road: {outcome: mark found}\n"
    "  not_checked: [fender lip and brake hose, quarter lip, inner wheelhouse]",
)


def check(case: Case) -> Iterator[Fault]:
    """Hold gaps against the road test, and rubs against gaps, cured or not."""
    gaps = tuple(site_gaps(case))
    yield from _unmarked(case, gaps)
    for index, rub in enumerate(case.setup.value.rubs):
        yield from _open(case, index, rub, gaps)
        yield from _still_touching(case, index, rub, gaps)


def _unmarked(case: Case, gaps: tuple[SiteGap, ...]) -> Iterator[Fault]:
    """Find contact in a state that every drive goes through, with no mark seen."""
    road = case.setup.value.road
    if road is None or road.outcome is not Outcome.NO_MARK or not road.distance.value > 0.0:
        return
    reached = {State.STATIC} | (AT_LOCK if road.full_lock else set())
    rubbed = {(rub.site, rub.axle) for rub in case.setup.value.rubs}
    for said in gaps:
        if said.gap.state not in reached or not said.high <= 0.0:
            continue
        if (said.gap.site, said.gap.axle) in rubbed:
            continue
        yield RULE.fault(
            case.setup.place(*said.route),
            f"contact at `{said.site.name}`, {said.words}, and no mark was found in "
            f"{road.distance.typed}",
            expected="a rub at this site, or a gap",
            fix="add the mark under `rubs`, or measure the gap again",
            also=(marked(case.setup, "what was seen", "road", "outcome"),),
        )


def _open(case: Case, index: int, rub: Rub, gaps: tuple[SiteGap, ...]) -> Iterator[Fault]:
    """Find a rub, not cured, where the least gap of the whole movement is wide."""
    if rub.grade == 0 or rub.cured:
        return
    there = [said for said in gaps if _is_same(case, said, rub) and _covers_movement(said)]
    if not there or not all(said.low > WIDE for said in there):
        return
    least = min(there, key=lambda said: said.low)
    yield RULE.fault(
        case.setup.place("rubs", index, "site"),
        f"`{rub.site}` was rubbed to grade {rub.grade}, and the gap there is {least.words}",
        expected=f"a gap of at most {mm(WIDE)}, or a rub that was cured",
        fix="write `cured: yes` and the remedy if the gap was measured afterwards",
        also=(least.mark("the gap"),),
    )


def _still_touching(case: Case, index: int, rub: Rub, gaps: tuple[SiteGap, ...]) -> Iterator[Fault]:
    """Find a rub that was cured where a gap of the same record still is none."""
    if rub.grade == 0 or not rub.cured:
        return
    there = [said for said in gaps if _is_same(case, said, rub) and said.high <= 0.0]
    if not there:
        return
    yield RULE.fault(
        case.setup.place("rubs", index, "cured"),
        f"the mark at `{rub.site}` is said to be cured, and the gap there is {there[0].words}",
        expected="a mark that is not cured, or a gap measured after the cure",
        fix="write `cured: no` if the record tells of the car before the cure",
        also=(there[0].mark("the gap"),),
    )


def _is_same(case: Case, said: SiteGap, rub: Rub) -> bool:
    site = case.site(rub.site, rub.axle)
    same_side = Side.BOTH in (rub.side, said.gap.side) or rub.side is said.gap.side
    return site is said.site and same_side


def _covers_movement(said: SiteGap) -> bool:
    return said.gap.state is State.SWEEP or said.site.moves_with in MOVES_WITH_WHEEL
