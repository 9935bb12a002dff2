"""Width between the flanges and both lips make the overall width."""

from collections.abc import Iterator
from math import fsum

from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.fitted import WheelFitted
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import apart, mm
from generator.records.wheel_sum import LEAST_LIPS, MOST_LIPS, lips_together

TOLERANCE: Mm = 3.0
THINNEST_LIP: Mm = 5.0
THICKEST_LIP: Mm = 18.0

RULE = Rule(
    "R07",
    "the lips do not make the overall width",
    Severity.WARNING,
    "The overall width is the width between the flanges and the two lips, each 5 to 18 mm thick. "
    "Where the sum differs, one of the four was measured at another place.",
    "Measure each lip with calipers beside the bead seat, and the overall width lip to lip.",
    "common practice",
    "setup: {front: {wheel: {flange_outboard: 17.8 mm}}}",
    "setup: {front: {wheel: {flange_outboard: 12 mm}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Check one setup."""
    for axle, fitted, _ in case.axles():
        wheel = fitted.wheel
        lips = lips_together(wheel)
        if wheel.overall_width is None or lips is None or not LEAST_LIPS <= lips <= MOST_LIPS:
            continue
        headline, expected = _disagreement(wheel, lips)
        if not headline:
            continue
        fields = [name for name in ("flange_inboard", "flange_outboard") if getattr(wheel, name)]
        route = (axle.value, "wheel")
        yield RULE.fault(
            case.setup.place(*route, "overall_width"),
            headline,
            expected=expected,
            fix="measure lips and overall width again, and correct the one that was wrong",
            also=tuple(
                marked(case.setup, mm(getattr(wheel, name).value), *route, name) for name in fields
            ),
        )


def _disagreement(wheel: WheelFitted, lips: Mm) -> tuple[str, str]:
    """Give headline and expectation; empty where all agrees or nothing can be said."""
    given = [lip.value for lip in (wheel.flange_inboard, wheel.flange_outboard) if lip is not None]
    overall = wheel.overall_width.value if wheel.overall_width else 0.0
    rest = lips - fsum(given)
    if len(given) == 2 and abs(rest) > TOLERANCE:
        return (
            f"overall width {mm(overall)} and width with both lips, {mm(overall - rest)}, differ "
            f"by {apart(rest)}",
            f"{mm(overall - rest)}: width {mm(overall - lips)} and both lips, within "
            f"{mm(TOLERANCE)}",
        )
    low, high = THINNEST_LIP - TOLERANCE, THICKEST_LIP + TOLERANCE
    if len(given) == 1 and not low <= rest <= high:
        return (
            f"overall width {mm(overall)} leaves {mm(rest)} for the lip that was not measured",
            f"a lip of {mm(THINNEST_LIP)} to {mm(THICKEST_LIP)} on each side",
        )
    return "", ""
