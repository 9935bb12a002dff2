"""An offset that follows from the stamped width alone is half an inch too high."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import apart, as_typed, mm
from generator.records.wheel_sum import Slip, explained, wheel_sum

RULE = Rule(
    "R02",
    "nominal width used for overall width",
    Severity.WARNING,
    "The stamped width lies between the flanges, and backspacing runs to the outside of the lip, "
    "so backspacing less half the stamped width is the offset plus the lip, about half an inch too "
    "much. The tyre then stands 12 mm further outboard than the record says.",
    "Measure the overall width lip to lip and take half of it off the backspacing, or measure the "
    "offset itself.",
    "common practice",
    "setup: {front: {wheel: {offset: 34.6 mm}}}",
    "setup: {front: {wheel: {offset: 22 mm}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Check one setup."""
    for axle, fitted, _ in case.axles():
        total = wheel_sum(fitted.wheel)
        if total is None or explained(total, fitted) is not Slip.NOMINAL_WIDTH:
            continue
        route = (axle.value, "wheel")
        said = as_typed(total.offset_typed)
        back = as_typed(total.backspacing_typed)
        yield RULE.fault(
            case.setup.place(*route, total.offset_field),
            f"offset {said} is backspacing {back} less half the width between the "
            f"flanges, {apart(total.closure)} too high",
            expected=f"{mm(total.offset_by_sum)}: {back} less half the width {mm(total.half_width)}"
            f" and the lip {mm(total.lip)}",
            fix=f"write `{total.offset_field}: {mm(total.offset_by_sum)}` if it was computed so, "
            "else measure the backspacing again",
            also=(marked(case.setup, "measured to the outside of the lip", *route, "backspacing"),),
        )
