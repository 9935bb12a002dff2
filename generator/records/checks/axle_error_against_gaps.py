"""An axle off centre takes from the gap on one side what it gives to the other."""

from collections.abc import Iterator

from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.axle_sheet import AxleSheet
from generator.records.gap_pairs import SiteGap, allowance, beyond, site_gaps
from generator.records.library import Case
from generator.records.rule import Rule
from generator.records.stance import fitted_stance, gap_change
from generator.records.told import apart, as_typed, mm
from generator.records.words import Attachment, Facing, Side, State

TOLERANCE: Mm = 4.0

RULE = Rule(
    "R16",
    "axle error and gaps of both sides disagree",
    Severity.WARNING,
    "An axle that stands 5 mm to the left has 5 mm less at the left lip and 5 mm more at the "
    "right one, so half the difference of the two gaps is the axle's error.",
    "Measure both sides at rest and take half of right less left; an axle to the left is positive.",
    "common practice",
    """setup:
  rear: {axle_error: 8 mm}
  gaps:
    - {site: strut-tube, side: both, state: static, gap: 9 mm, tool: feeler gauge}
    - {site: fender-lip, side: both, state: full bump, gap: 9 mm, tool: clay}
    - {site: brake-hose, side: both, state: toe-in lock at bump, gap: 18 mm, tool: steel rule}
    - {site: quarter-lip, side: left, state: static, gap: 22 mm, tool: feeler gauge}
    - {site: quarter-lip, side: right, state: static, gap: 20 mm, tool: feeler gauge}
    - {site: quarter-lip, side: both, state: full bump, gap: clears}
    - {site: inner-wheelhouse, side: both, state: "this side up, other down", gap: 18 mm}
""",
    """setup:
  rear: {axle_error: 8 mm}
  gaps:
    - {site: strut-tube, side: both, state: static, gap: 9 mm, tool: feeler gauge}
    - {site: fender-lip, side: both, state: full bump, gap: 9 mm, tool: clay}
    - {site: brake-hose, side: both, state: toe-in lock at bump, gap: 18 mm, tool: steel rule}
    - {site: quarter-lip, side: left, state: static, gap: 14 mm, tool: feeler gauge}
    - {site: quarter-lip, side: right, state: static, gap: 30 mm, tool: feeler gauge}
    - {site: quarter-lip, side: both, state: full bump, gap: clears}
    - {site: inner-wheelhouse, side: both, state: "this side up, other down", gap: 18 mm}
""",
)


def check(case: Case) -> Iterator[Fault]:
    """Check one setup."""
    gaps = [
        gap
        for gap in site_gaps(case)
        if gap.site.moves_with is Attachment.BODY
        and gap.site.facing is Facing.OUTBOARD
        and gap.gap.side is not Side.BOTH
    ]
    for axle, fitted, sheet in case.axles():
        if fitted.axle_error is None:
            continue
        for left in gaps:
            for right in gaps:
                if left.site.axle is axle and _is_pair(left, right):
                    yield from _of_pair(left, right, sheet)


def _is_pair(left: SiteGap, right: SiteGap) -> bool:
    return (
        left.gap.side is Side.LEFT
        and right.gap.side is Side.RIGHT
        and left.site == right.site
        and left.gap.state is right.gap.state
        and left.gap.state in (State.STATIC, State.FULL_BUMP)
    )


def _of_pair(left: SiteGap, right: SiteGap, sheet: AxleSheet | None) -> Iterator[Fault]:
    axle = left.site.axle.value
    fitted = getattr(left.case.setup.value, axle)
    one, other = fitted_stance(fitted, Side.LEFT), fitted_stance(fitted, Side.RIGHT)
    by_wheels = gap_change(other, one, Facing.OUTBOARD) if one and other else 0.0
    error = fitted.axle_error
    by_travel = _left_by_travel(left.gap.state, sheet)
    # Half of the difference: what one side loses the other wins.
    off = beyond(right, left, by_wheels + 2.0 * (error.value + by_travel)) / 2.0
    allowed = TOLERANCE + allowance(left, right) / 2.0
    if abs(off) <= allowed:
        return
    turned = abs(off + 2.0 * error.value) <= allowed
    yield RULE.fault(
        left.case.setup.place(axle, "axle_error"),
        f"axle error {as_typed(error)} and half the difference of the gaps at "
        f"`{left.site.name}` disagree by {apart(off)}",
        expected=f"about {mm(error.value + off)}, to the left positive, by "
        f"`{left.gap.gap.typed}` left and `{right.gap.gap.typed}` right",
        fix=f"write `axle_error: {mm(-error.value)}` if the side was turned round"
        if turned
        else "measure both sides and the axle again",
        also=(left.mark("left"), right.mark("right")),
    )


def _left_by_travel(state: State, sheet: AxleSheet | None) -> Mm:
    """Give how far a Panhard rod takes the axle to the left on the way to full bump."""
    rod = sheet.suspension.rod if sheet else None
    if state is State.STATIC or rod is None or sheet is None:
        return 0.0
    from generator.geometry.lateral_rod import rod_shift

    try:
        away = rod_shift(rod.length.value, rod.height_difference.value, sheet.suspension.bump.value)
    except ValueError:
        # A rod too short for its own heights; the sheet's fields have been judged by the reader.
        return 0.0
    return -away if rod.body_side is Side.LEFT else away
