"""A shorter bump stop lets the wheel go further up, so no gap over the tyre grows."""

from collections.abc import Iterator

from generator.quantities.units import Deg, Mm
from generator.reading.fault import Fault, Severity
from generator.records.fitted import AxleSetup
from generator.records.gap_pairs import SiteGap, allowance, beyond, site_gaps
from generator.records.library import Library
from generator.records.rule import Rule, marked
from generator.records.same_car import with_earlier
from generator.records.stance import fitted_stance, moved
from generator.records.told import apart, mm
from generator.records.words import Attachment, Facing, State, StopState

TOLERANCE: Mm = 2.0
SAME_PLACE: Mm = 2.0
SAME_DIAMETER: Mm = 6.0
SAME_CAMBER: Deg = 0.3
AT_BUMP = frozenset({State.FULL_BUMP, State.TOE_OUT_LOCK_AT_BUMP, State.TOE_IN_LOCK_AT_BUMP})

RULE = Rule(
    "R13",
    "a gap at bump that grew when the stop was trimmed",
    Severity.WARNING,
    "Trimming a bump stop gives the wheel more travel, so the gap to the body at full bump becomes "
    "smaller by about what was cut over the motion ratio, and never larger. A gap measured at the "
    "old stop hides a contact.",
    "Measure at full bump again with the springs out and the trimmed stop squeezed.",
    "common practice",
    """other:
  member: Copperbill
  car: copperbill-coupe
  date: 2025-08-02
  title: The same wheels with trimmed stops
  front: {bump_stop: {state: trimmed, trimmed: 12 mm}}
  gaps:
    - {site: strut-tube, side: both, state: static, gap: 9 mm, tool: feeler gauge}
    - {site: fender-lip, side: left, state: full bump, gap: 16 mm, tool: clay}
    - {site: fender-lip, side: right, state: full bump, gap: 16 mm, tool: clay}
    - {site: brake-hose, side: both, state: toe-in lock at bump, gap: 18 mm, tool: steel rule}
    - {site: quarter-lip, side: both, state: full bump, gap: clears}
    - {site: inner-wheelhouse, side: both, state: "this side up, other down", gap: 18 mm}
""",
    """other:
  member: Copperbill
  car: copperbill-coupe
  date: 2025-08-02
  title: The same wheels with trimmed stops
  front: {bump_stop: {state: trimmed, trimmed: 12 mm}}
  gaps:
    - {site: strut-tube, side: both, state: static, gap: 9 mm, tool: feeler gauge}
    - {site: fender-lip, side: left, state: full bump, gap: 4 mm, tool: clay}
    - {site: fender-lip, side: right, state: full bump, gap: 6 mm, tool: clay}
    - {site: brake-hose, side: both, state: toe-in lock at bump, gap: 18 mm, tool: steel rule}
    - {site: quarter-lip, side: both, state: full bump, gap: clears}
    - {site: inner-wheelhouse, side: both, state: "this side up, other down", gap: 18 mm}
""",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Compare each record with the latest earlier one of the same car."""
    for later, earlier in with_earlier(library):
        before = list(site_gaps(earlier[0]))
        for now in site_gaps(later):
            for then in before:
                if _is_same_gap(now, then):
                    yield from _of_pair(now, then)


def _is_same_gap(now: SiteGap, then: SiteGap) -> bool:
    return (
        now.site == then.site
        and now.gap.state is then.gap.state
        and now.gap.state in AT_BUMP
        and now.site.moves_with is Attachment.BODY
        and now.site.facing is not Facing.INBOARD
        and not set(now.sides).isdisjoint(then.sides)
    )


def _of_pair(now: SiteGap, then: SiteGap) -> Iterator[Fault]:
    axle = now.site.axle.value
    new, old = getattr(now.case.setup.value, axle), getattr(then.case.setup.value, axle)
    cut = _cut_off(new, old)
    grown = beyond(now, then, 0.0)
    if cut is None or not _is_otherwise_alike(new, old):
        return
    if grown <= TOLERANCE + allowance(now, then):
        return
    gained = _travel_gained(now, cut)
    yield RULE.fault(
        now.case.setup.place(*now.route),
        f"the gap at `{now.site.name}`, {now.words}, grew by {apart(grown)} though {mm(cut)} was "
        "cut off the stop",
        expected=f"not more than `{then.gap.gap.typed}`: the wheel goes {gained}further up",
        fix="measure again at full bump, with the trimmed stop squeezed",
        also=(
            then.mark("before the stop was trimmed"),
            marked(now.case.setup, "the stop", axle, "bump_stop", "trimmed"),
        ),
    )


def _cut_off(new: AxleSetup, old: AxleSetup) -> Mm | None:
    """Give what was cut off the stop between two records; None if nothing was."""
    if new.bump_stop is None or new.bump_stop.trimmed is None:
        return None
    before = 0.0
    if old.bump_stop is not None:
        if old.bump_stop.state not in (StopState.ORIGINAL, StopState.TRIMMED):
            return None
        before = old.bump_stop.trimmed.value if old.bump_stop.trimmed else 0.0
    cut = new.bump_stop.trimmed.value - before
    return cut if new.bump_stop.state is StopState.TRIMMED and cut > 0.0 else None


def _is_otherwise_alike(new: AxleSetup, old: AxleSetup) -> bool:
    """Tell whether nothing else was changed that widens a gap to the body."""
    now, then = fitted_stance(new), fitted_stance(old)
    if now is None or then is None:
        return False
    outer = abs(moved(now, then).outer.value)
    grown = abs(now.diameter - then.diameter)
    same_body = new.bodywork == old.bodywork or _lips(new) == _lips(old)
    return outer <= SAME_PLACE and grown <= SAME_DIAMETER and same_body and _camber(new, old)


def _lips(fitted: AxleSetup) -> tuple[object, ...]:
    """Give all that is said of lips and reshaped parts, on the axle and on each side."""
    body = fitted.bodywork
    said = (body.lips, body.lips_gained, body.changed) if body else (None, None, ())
    sides = ((side.lips, side.lips_gained) for side in (fitted.left, fitted.right) if side)
    return (*said, *sides)


def _camber(new: AxleSetup, old: AxleSetup) -> bool:
    if new.camber is None or old.camber is None:
        return new.camber is old.camber
    return abs(new.camber.value - old.camber.value) <= SAME_CAMBER


def _travel_gained(gap: SiteGap, cut: Mm) -> str:
    """Say how much further up the wheel goes; empty where the sheet knows no stop."""
    from generator.geometry.travel import BumpStop, bump_gained

    axle = gap.site.axle.value
    chassis = gap.case.chassis
    sheet = getattr(chassis.value, axle).suspension.stop if chassis else None
    if sheet is None:
        return ""
    try:
        stop = BumpStop(sheet.free_height.value, sheet.motion_ratio.value, 0.0)
        return f"about {mm(bump_gained(stop, cut))} "
    except ValueError:
        # More was cut off than the sheet's stop is high; the heights have a rule of their own.
        return ""
