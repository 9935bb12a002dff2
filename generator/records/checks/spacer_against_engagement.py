"""A spacer takes its thickness off what a stud gives to the nut."""

from collections.abc import Iterator

from generator.geometry.fastening import Stack
from generator.quantities.estimate import Estimate
from generator.quantities.quantity import Quantity
from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.dimensions import FINE_U, measured, spacer_thickness
from generator.records.fitted import AxleSetup
from generator.records.library import Case, Library
from generator.records.rule import Rule, marked
from generator.records.same_car import with_earlier
from generator.records.told import apart, as_typed, mm
from generator.records.words import Axle, SpacerKind

TOLERANCE: Mm = 1.5

RULE = Rule(
    "R17",
    "engagement and spacer disagree",
    Severity.WARNING,
    "What stands out of the hub is shared by spacer, wheel pad and nut, so on the same studs a "
    "spacer costs its whole thickness of thread. More engagement than is left was counted without "
    "the spacer, or from threads inside the pad; too little thread lets a wheel come off.",
    "Count the turns of the nut with spacer and wheel in place, and measure how far the stud "
    "stands out of the hub. Do not drive on less engagement than the vehicle maker or local rules "
    "allow.",
    "common practice",
    "setup: {front: {spacer: {thickness: 10 mm, kind: piloted}}}",
    "setup: {front: {spacer: {thickness: 10 mm, kind: piloted}, "
    "hardware: {turns: 9, engagement: 13.5 mm}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Check one setup: engagement against stud, spacer and pad."""
    for axle, fitted, _ in case.axles():
        hardware = fitted.hardware
        more = _excess(fitted)
        if hardware is None or hardware.engagement is None or more <= TOLERANCE:
            continue
        left = hardware.engagement.value - more
        spacer = spacer_thickness(fitted).value
        counted = spacer > TOLERANCE and more <= spacer + TOLERANCE
        route = (axle.value, "hardware")
        yield RULE.fault(
            case.setup.place(*route, "engagement"),
            f"engagement {as_typed(hardware.engagement)} is {mm(more)} more than the stud leaves "
            "past the seat",
            expected=f"at most {mm(max(left, 0.0))}: length less pad"
            + (f" and {mm(spacer)} of spacer" if spacer else ""),
            fix="count the turns again with the spacer in place"
            if counted
            else "measure length and pad again, and count turns only once the nut has caught",
            also=(
                marked(case.setup, "the length", *route, "length"),
                marked(case.setup, "the pad", axle.value, "wheel", "pad_thickness"),
            ),
        )


def _past_seat(fitted: AxleSetup) -> Estimate | None:
    """Give what the stud leaves for the nut; None where too little is known, or it cannot tell."""
    if fitted.hardware is None or fitted.hardware.length is None or _is_bolted_on(fitted):
        return None
    pad = fitted.wheel.pad_thickness
    if pad is None:
        return None
    length = measured(fitted.hardware.length, FINE_U, "stud length measured")
    thickness = measured(pad, FINE_U, "pad measured")
    return Stack(length, spacer_thickness(fitted), thickness).past_seat()


def _excess(fitted: AxleSetup) -> Mm:
    """Give how much more engagement is written than the stud leaves; 0 where that is not known."""
    left = _past_seat(fitted)
    if left is None or fitted.hardware is None or fitted.hardware.engagement is None:
        return 0.0
    return fitted.hardware.engagement.value - left.value


def _is_bolted_on(fitted: AxleSetup) -> bool:
    """Tell whether the wheel sits on a spacer's own studs, of which the car's tell nothing."""
    return fitted.spacer is not None and fitted.spacer.kind is SpacerKind.BOLT_ON


def check_library(library: Library) -> Iterator[Fault]:
    """Compare the engagement of one car's records with different spacers."""
    for later, earlier in with_earlier(library):
        for axle, fitted, _ in later.axles():
            for before in earlier:
                old = getattr(before.setup.value, axle.value)
                if _is_comparable(fitted, old):
                    yield from _of_two(later, before, axle)
                    break


def _is_comparable(new: AxleSetup, old: AxleSetup) -> bool:
    """Tell whether the same studs and pads carry the wheel in both records."""
    one, two = new.hardware, old.hardware
    if one is None or two is None or one.engagement is None or two.engagement is None:
        return False
    same = (
        one.thread == two.thread
        and one.nut is two.nut
        and one.studs_changed == two.studs_changed
        and _is_near(one.length, two.length)
        and _has_same_pad(new, old)
        and _excess(new) <= TOLERANCE
    )
    return same and not _is_bolted_on(new) and not _is_bolted_on(old)


def _has_same_pad(new: AxleSetup, old: AxleSetup) -> bool:
    one, two = new.wheel.pad_thickness, old.wheel.pad_thickness
    if one is None and two is None:
        return new.wheel.size == old.wheel.size and _is_near(new.wheel.offset, old.wheel.offset)
    return _is_near(one, two)


def _is_near(one: Quantity | None, two: Quantity | None) -> bool:
    if one is None or two is None:
        return one is two
    return abs(one.value - two.value) <= TOLERANCE


def _of_two(later: Case, before: Case, axle: Axle) -> Iterator[Fault]:
    new, old = getattr(later.setup.value, axle.value), getattr(before.setup.value, axle.value)
    now, then = new.hardware.engagement, old.hardware.engagement
    thicker = spacer_thickness(new).value - spacer_thickness(old).value
    lost = then.value - now.value
    if abs(thicker) <= TOLERANCE:
        return
    low, high = sorted((0.0, thicker)) if _has_stud_to_spare(old, new) else (thicker, thicker)
    if low - TOLERANCE <= lost <= high + TOLERANCE:
        return
    change = "fell" if lost > 0.0 else "grew"
    said = f"{change} by {apart(lost)}" if abs(lost) >= 0.05 else "stayed the same"
    yield RULE.fault(
        later.setup.place(axle.value, "hardware", "engagement"),
        f"engagement {said} from {as_typed(then)} to {as_typed(now)}, and the spacer "
        f"{'grew' if thicker >= 0.0 else 'shrank'} by {apart(thicker)}",
        expected=f"about {mm(then.value - thicker)}, on the same studs",
        fix="count the turns again, or write in `studs_changed` what was fitted",
        also=(
            marked(before.setup, "before", axle.value, "hardware", "engagement"),
            marked(later.setup, "the spacer now", axle.value, "spacer", "thickness"),
        ),
    )


def _has_stud_to_spare(old: AxleSetup, new: AxleSetup) -> bool:
    """Tell whether the studs reach beyond the nut's thread, so that a spacer may cost nothing."""
    return min(_excess(old), _excess(new)) < -TOLERANCE
