"""One gap of one car in one state is one gap, however often it is told."""

from collections.abc import Iterator

from generator.quantities.span import Said
from generator.reading.fault import Fault, Severity
from generator.records.gap_pairs import SiteGap, allowance, beyond, site_gaps
from generator.records.library import Case
from generator.records.rule import Rule
from generator.records.told import mm

RULE = Rule(
    "R50",
    "one gap told in two ways",
    Severity.ERROR,
    "The record holds two gaps of one site on one side in one state that cannot both be. Which of "
    "them is meant decides whether the wheel clears, and the guide never chooses.",
    "Keep the line that is right; if both were measured, look at the state of the second one.",
    "own rule of the guide",
    """setup:
  gaps:
    - {site: strut-tube, side: both, state: static, gap: 9 mm, tool: feeler gauge}
    - {site: strut-tube, side: left, state: static, gap: touches}
    - {site: fender-lip, side: both, state: full bump, gap: 9 mm, tool: clay}
    - {site: brake-hose, side: both, state: toe-in lock at bump, gap: 18 mm, tool: steel rule}
    - {site: quarter-lip, side: both, state: full bump, gap: clears}
    - {site: inner-wheelhouse, side: both, state: "this side up, other down", gap: 18 mm}
""",
    """setup:
  gaps:
    - {site: strut-tube, side: both, state: static, gap: 9 mm, tool: feeler gauge}
    - {site: strut-tube, side: left, state: static, gap: 9.5 mm, tool: clay}
    - {site: fender-lip, side: both, state: full bump, gap: 9 mm, tool: clay}
    - {site: brake-hose, side: both, state: toe-in lock at bump, gap: 18 mm, tool: steel rule}
    - {site: quarter-lip, side: both, state: full bump, gap: clears}
    - {site: inner-wheelhouse, side: both, state: "this side up, other down", gap: 18 mm}
""",
)


def check(case: Case) -> Iterator[Fault]:
    """Check one setup."""
    gaps = tuple(site_gaps(case))
    for count, second in enumerate(gaps):
        first = next((gap for gap in gaps[:count] if _contradict(gap, second)), None)
        if first is not None:
            within = mm(allowance(first, second))
            yield RULE.fault(
                case.setup.place(*second.route),
                f"`{second.site.name}` has {second.words} here and {first.words} before",
                expected=f"one gap, or two within {within} of each other, tools included",
                fix="delete the line that is not right",
                also=(first.mark("told first here"),),
            )


def _contradict(first: SiteGap, second: SiteGap) -> bool:
    is_one_gap = (
        first.site == second.site
        and first.gap.state is second.gap.state
        and not set(first.sides).isdisjoint(second.sides)
    )
    if not is_one_gap:
        return False
    said = {first.gap.gap.said, second.gap.gap.said}
    if Said.TOUCHES in said and said & {Said.CLEARS, Said.MORE_THAN}:
        return True
    return abs(beyond(second, first, 0.0)) > allowance(first, second)
