"""What is fixed to the knuckle has the same gap at every steer and travel."""

from collections.abc import Iterator

from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.gap_pairs import MOVES_WITH_WHEEL, SiteGap, allowance, beyond, site_gaps
from generator.records.library import Case
from generator.records.rule import Rule
from generator.records.told import apart
from generator.records.words import Attachment, State

TOLERANCE: Mm = 3.0
STEERED = frozenset(state for state in State if "lock" in state.value) | {State.SWEEP}

RULE = Rule(
    "R12",
    "a gap that moves with the wheel, different from state to state",
    Severity.WARNING,
    "Strut tube, spring perch and caliper move with the wheel, so their gap is the same at rest, "
    "at lock, at bump and at droop. Where it differs, another part was measured, or the wheel was "
    "not tightened.",
    "Measure again with all nuts tight; if the part does not move with the wheel, the chassis "
    "sheet is to be corrected.",
    "common practice",
    """setup:
  gaps:
    - {site: strut-tube, side: both, state: static, gap: 9 mm, tool: feeler gauge}
    - {site: strut-tube, side: both, state: toe-out lock, gap: 14 mm, tool: feeler gauge}
    - {site: fender-lip, side: both, state: full bump, gap: 9 mm, tool: clay}
    - {site: brake-hose, side: both, state: toe-in lock at bump, gap: 18 mm, tool: steel rule}
    - {site: quarter-lip, side: both, state: full bump, gap: clears}
    - {site: inner-wheelhouse, side: both, state: "this side up, other down", gap: 18 mm}
""",
    """setup:
  gaps:
    - {site: strut-tube, side: both, state: static, gap: 9 mm, tool: feeler gauge}
    - {site: strut-tube, side: both, state: toe-out lock, gap: 10 mm, tool: feeler gauge}
    - {site: fender-lip, side: both, state: full bump, gap: 9 mm, tool: clay}
    - {site: brake-hose, side: both, state: toe-in lock at bump, gap: 18 mm, tool: steel rule}
    - {site: quarter-lip, side: both, state: full bump, gap: clears}
    - {site: inner-wheelhouse, side: both, state: "this side up, other down", gap: 18 mm}
""",
)


def check(case: Case) -> Iterator[Fault]:
    """Check one setup: each gap against the one at rest, or else against the first written."""
    gaps = [gap for gap in site_gaps(case) if gap.site.moves_with in MOVES_WITH_WHEEL]
    for gap in gaps:
        same = [g for g in gaps if g.site == gap.site and not set(g.sides).isdisjoint(gap.sides)]
        first = min(same, key=lambda g: (g.gap.state is not State.STATIC, g.index))
        if first.gap.state is not gap.gap.state and not _steers_away(gap, first):
            yield from _of_pair(gap, first)


def _steers_away(gap: SiteGap, first: SiteGap) -> bool:
    """Tell whether a part of an axle is compared over steer, with which it does not move."""
    on_axle = gap.site.moves_with is Attachment.AXLE
    return on_axle and not STEERED.isdisjoint({gap.gap.state, first.gap.state})


def _of_pair(gap: SiteGap, first: SiteGap) -> Iterator[Fault]:
    off = beyond(gap, first, 0.0)
    if abs(off) > TOLERANCE + allowance(gap, first):
        way = "wider" if off > 0.0 else "narrower"
        yield RULE.fault(
            gap.case.setup.place(*gap.route),
            f"the gap at `{gap.site.name}`, {gap.words}, is {apart(off)} {way} than {first.words}",
            expected=f"about `{first.gap.gap.typed}`: it moves with the "
            f"{gap.site.moves_with.value} and so with the wheel",
            fix="measure both again with all nuts tight",
            also=(first.mark("the same part in another state"),),
        )
