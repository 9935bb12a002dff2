"""The hub's cap is wider than the wheel's bore."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.joint import spacer_of
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import apart

RULE = Rule(
    code="R46",
    title="a cap that does not pass the bore",
    severity=Severity.WARNING,
    why="The grease cap or hub nut stands out of the hub face and has to go through the wheel's "
    "bore. A wheel that bears on the cap is not clamped.",
    mend="Measure the cap with callipers and try the wheel by hand without nuts; it must lie flat.",
    source="common practice",
    bad="chassis: {front: {cap: {diameter: 63 mm, projection: 41 mm}}}",
    good="chassis: {front: {cap: {diameter: 61 mm, projection: 41 mm}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Compare cap and bore at both ends."""
    for axle, fitted, sheet in case.axles():
        bore = fitted.wheel.bore
        cap = sheet.cap if sheet else None
        if bore is None or cap is None or cap.diameter is None or case.chassis is None:
            continue
        over = cap.diameter.value - bore.value
        if over <= 0.0 or cap.projection.value <= spacer_of(fitted):
            continue
        yield RULE.fault(
            case.setup.place(axle.value, "wheel", "bore"),
            f"the bore of {bore.typed} is {apart(over)} smaller than the cap of "
            f"{cap.diameter.typed}",
            expected=f"more than {cap.diameter.typed}",
            fix="measure both again; this wheel does not lie flat with the cap on",
            also=(marked(case.chassis, "the hub's cap", axle.value, "cap", "diameter"),),
        )
