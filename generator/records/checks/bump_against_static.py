"""A lip over the tyre comes nearer when the wheel goes up."""

from collections.abc import Iterator

from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.gap_pairs import SiteGap, allowance, beyond, site_gaps
from generator.records.library import Case
from generator.records.rule import Rule
from generator.records.site_sheet import SiteSheet
from generator.records.told import apart
from generator.records.words import Attachment, Facing, State

TOLERANCE: Mm = 2.0
OVER_THE_TYRE: Mm = 150.0
"""A part of the body higher than this above the hub lies over the tyre: common practice."""
UP = {
    State.FULL_BUMP: State.STATIC,
    State.TOE_OUT_LOCK_AT_BUMP: State.TOE_OUT_LOCK,
    State.TOE_IN_LOCK_AT_BUMP: State.TOE_IN_LOCK,
}

RULE = Rule(
    "R11",
    "a gap over the tyre that grows at bump",
    Severity.WARNING,
    "The tyre moves up towards a lip or wheel arch, so the gap at full bump is not larger than at "
    "rest. Where it is, one of them was measured in another state, or they changed places.",
    "Measure both again and write the state in which the wheel really stood.",
    "common practice",
    """setup:
  gaps:
    - {site: strut-tube, side: both, state: static, gap: 9 mm, tool: feeler gauge}
    - {site: fender-lip, side: left, state: static, gap: 3 mm, tool: clay}
    - {site: fender-lip, side: left, state: full bump, gap: 9 mm, tool: clay}
    - {site: fender-lip, side: right, state: full bump, gap: 11 mm, tool: clay}
    - {site: brake-hose, side: both, state: toe-in lock at bump, gap: 18 mm, tool: steel rule}
    - {site: quarter-lip, side: both, state: full bump, gap: clears}
    - {site: inner-wheelhouse, side: both, state: "this side up, other down", gap: 18 mm}
""",
    """setup:
  gaps:
    - {site: strut-tube, side: both, state: static, gap: 9 mm, tool: feeler gauge}
    - {site: fender-lip, side: left, state: static, gap: 13 mm, tool: clay}
    - {site: fender-lip, side: left, state: full bump, gap: 9 mm, tool: clay}
    - {site: fender-lip, side: right, state: full bump, gap: 11 mm, tool: clay}
    - {site: brake-hose, side: both, state: toe-in lock at bump, gap: 18 mm, tool: steel rule}
    - {site: quarter-lip, side: both, state: full bump, gap: clears}
    - {site: inner-wheelhouse, side: both, state: "this side up, other down", gap: 18 mm}
""",
)


def check(case: Case) -> Iterator[Fault]:
    """Check one setup."""
    over = [gap for gap in site_gaps(case) if _lies_over_the_tyre(gap.site)]
    for up in over:
        rest = UP.get(up.gap.state)
        for low in over:
            same = low.site == up.site and not set(low.sides).isdisjoint(up.sides)
            if low.gap.state is rest and same:
                yield from _of_pair(up, low)


def _lies_over_the_tyre(site: SiteSheet) -> bool:
    if site.moves_with is not Attachment.BODY or site.facing is Facing.INBOARD:
        return False
    if site.facing is Facing.CROWN or site.arc is not None:
        return True
    if site.block is not None:
        low = getattr(site.block.z, "low", None)
        if low is None:
            low = min(getattr(site.block.z, end, 0.0) for end in ("start", "end"))
        return bool(low >= OVER_THE_TYRE)
    return bool(site.line) and min(corner.z.value for corner in site.line or ()) >= OVER_THE_TYRE


def _of_pair(up: SiteGap, rest: SiteGap) -> Iterator[Fault]:
    more = beyond(up, rest, 0.0)
    if more > TOLERANCE + allowance(up, rest):
        yield RULE.fault(
            up.case.setup.place(*up.route),
            f"the gap at `{up.site.name}`, {up.words}, is {apart(more)} wider than {rest.words}",
            expected=f"not more than `{rest.gap.gap.typed}`, the gap with the wheel lower",
            fix="measure both again; turn the two round if they changed places",
            also=(rest.mark("with the wheel lower"),),
        )
