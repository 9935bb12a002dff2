"""The mounting face lies between the two lips, so backspacing is less than the overall width."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import as_typed, mm
from generator.records.wheel_sum import is_beyond, wheel_sum

RULE = Rule(
    "R05",
    "backspacing outside the wheel",
    Severity.ERROR,
    "Backspacing runs from the mounting face to the inboard lip, and on a car's wheel that face "
    "lies between the lips. A larger number is an overall width or a rim diameter.",
    "Lay a straightedge across the inboard lip and measure down to the mounting face.",
    "common practice",
    "setup: {front: {wheel: {backspacing: 208 mm}}}",
    "setup: {front: {wheel: {backspacing: 123.5 mm}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Check one setup."""
    for axle, fitted, _ in case.axles():
        total = wheel_sum(fitted.wheel)
        if total is None or not is_beyond(total):
            continue
        route = (axle.value, "wheel")
        measured = fitted.wheel.overall_width is not None
        named = "overall_width" if measured else "size"
        overall = f"overall width {'' if measured else 'of about '}{mm(total.overall_width)}"
        excess = total.backspacing - total.overall_width
        said = f"{mm(excess)} more than the {overall}" if excess > 0.0 else "not above zero"
        yield RULE.fault(
            case.setup.place(*route, "backspacing"),
            f"backspacing {as_typed(total.backspacing_typed)} is {said}",
            expected=f"above zero and below {mm(total.overall_width)}; about "
            f"{mm(total.backspacing_by_sum)} by width and offset",
            fix="measure from the mounting face to a straightedge across the inboard lip",
            also=(marked(case.setup, overall, *route, named),),
        )
