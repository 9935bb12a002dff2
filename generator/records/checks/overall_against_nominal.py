"""A wheel is wider over its lips than between its flanges, by two lips."""

from collections.abc import Iterator

from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.fitted import WheelFitted
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import apart, as_typed, mm
from generator.records.wheel_sum import LEAST_LIPS, MOST_LIPS, lips_together

SAME_WITHIN: Mm = 3.0

RULE = Rule(
    "R06",
    "overall width does not fit the stamped width",
    Severity.WARNING,
    "The stamped width lies between the inner faces of the flanges; the lips add 10 to 36 mm "
    "together, mostly an inch. Widths taken one for the other move the computed offset by half an "
    "inch.",
    "Measure the overall width with a straightedge across each lip; write the stamp in `size`.",
    "common practice",
    "setup: {front: {wheel: {overall_width: 178 mm}}}",
    "setup: {front: {wheel: {overall_width: 203 mm}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Check one setup."""
    for axle, fitted, _ in case.axles():
        wheel = fitted.wheel
        lips = lips_together(wheel)
        if wheel.overall_width is None or lips is None or LEAST_LIPS <= lips <= MOST_LIPS:
            continue
        overall = wheel.overall_width.value
        field = "width_measured" if wheel.width_measured else "size"
        more = "less" if lips < 0.0 else "more"
        yield RULE.fault(
            case.setup.place(axle.value, "wheel", "overall_width"),
            f"overall width {as_typed(wheel.overall_width)} is {apart(lips)} {more} than the width "
            f"between the flanges, {mm(overall - lips)}",
            expected=f"{mm(overall - lips + LEAST_LIPS)} to {mm(overall - lips + MOST_LIPS)}",
            fix=_fix(wheel, lips),
            also=(marked(case.setup, mm(overall - lips), axle.value, "wheel", field),),
        )


def _fix(wheel: WheelFitted, lips: Mm) -> str:
    if wheel.width_measured is not None and abs(lips) > SAME_WITHIN and lips < 0.0:
        return "turn `overall_width` and `width_measured` round if they changed places"
    if abs(lips) <= SAME_WITHIN:
        return "leave `overall_width` out if this is the width between the flanges"
    return "measure again from lip to lip"
