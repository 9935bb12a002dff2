"""Left and right of one car differ a little at the body and hardly beside the wheel."""

from collections.abc import Iterator

from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.fitted import AxleSetup
from generator.records.gap_pairs import MOVES_WITH_WHEEL, SiteGap, allowance, beyond, site_gaps
from generator.records.library import Case
from generator.records.rule import Rule
from generator.records.stance import fitted_stance, gap_change
from generator.records.told import apart, mm
from generator.records.words import Attachment, Side

AT_BODY: Mm = 12.0
BESIDE_WHEEL: Mm = 4.0

RULE = Rule(
    "R15",
    "left and right differ more than a car does",
    Severity.WARNING,
    "Arches of one car differ from side to side by some millimetres, up to 12, and parts beside "
    "the wheel by hardly any, up to 4. More tells of a bent part, an axle off centre, a different "
    "wheel, or of two gaps measured in different ways.",
    "Measure both sides again in the same state; write `axle_error`, or what is different in "
    "`left` or `right`, if that is the cause.",
    "common practice",
    """setup:
  gaps:
    - {site: strut-tube, side: left, state: static, gap: 9 mm, tool: feeler gauge}
    - {site: strut-tube, side: right, state: static, gap: 15 mm, tool: feeler gauge}
    - {site: fender-lip, side: both, state: full bump, gap: 9 mm, tool: clay}
    - {site: brake-hose, side: both, state: toe-in lock at bump, gap: 18 mm, tool: steel rule}
    - {site: quarter-lip, side: both, state: full bump, gap: clears}
    - {site: inner-wheelhouse, side: both, state: "this side up, other down", gap: 18 mm}
""",
    """setup:
  gaps:
    - {site: strut-tube, side: left, state: static, gap: 9 mm, tool: feeler gauge}
    - {site: strut-tube, side: right, state: static, gap: 10.5 mm, tool: feeler gauge}
    - {site: fender-lip, side: both, state: full bump, gap: 9 mm, tool: clay}
    - {site: brake-hose, side: both, state: toe-in lock at bump, gap: 18 mm, tool: steel rule}
    - {site: quarter-lip, side: both, state: full bump, gap: clears}
    - {site: inner-wheelhouse, side: both, state: "this side up, other down", gap: 18 mm}
""",
)


def check(case: Case) -> Iterator[Fault]:
    """Check one setup."""
    gaps = [gap for gap in site_gaps(case) if gap.gap.side is not Side.BOTH]
    for left in gaps:
        for right in gaps:
            pair = left.gap.side is Side.LEFT and right.gap.side is Side.RIGHT
            if pair and left.site == right.site and left.gap.state is right.gap.state:
                yield from _of_pair(left, right)


def _of_pair(left: SiteGap, right: SiteGap) -> Iterator[Fault]:
    fitted = getattr(left.case.setup.value, left.site.axle.value)
    beside = left.site.moves_with in MOVES_WITH_WHEEL
    is_body = left.site.moves_with is Attachment.BODY
    if not (beside or is_body) or (is_body and _is_uneven(fitted)):
        return
    change = _change_by_wheels(fitted, left)
    off = beyond(right, left, change)
    limit = (BESIDE_WHEEL if beside else AT_BODY) + allowance(left, right)
    if abs(off) <= limit:
        return
    wider, at = ("right", right) if off > 0.0 else ("left", left)
    other = left if at is right else right
    what = "that moves with the wheel" if beside else "of the body"
    yield RULE.fault(
        at.case.setup.place(*at.route),
        f"the gap at `{at.site.name}`, {at.words}, is {apart(off)} wider on the {wider} than "
        f"`{other.gap.gap.typed}` on the {other.gap.side.value}",
        expected=f"within {mm(limit)} of each other, tools included, at a part {what}",
        fix="measure both sides again"
        + (", and write `axle_error` if the axle stands off centre" if is_body else ""),
        also=(other.mark(f"on the {other.gap.side.value}"),),
    )


def _is_uneven(fitted: AxleSetup) -> bool:
    """Tell whether the record itself gives a reason why the body is further away on one side."""
    sides = [side for side in (fitted.left, fitted.right) if side is not None]
    told = any(side.lips or side.lips_gained or side.ride_height_change for side in sides)
    return fitted.axle_error is not None or told


def _change_by_wheels(fitted: AxleSetup, gap: SiteGap) -> Mm:
    """Give how much wider the right side's gap is by what is fitted there."""
    left, right = fitted_stance(fitted, Side.LEFT), fitted_stance(fitted, Side.RIGHT)
    return gap_change(right, left, gap.site.facing) if left and right else 0.0
