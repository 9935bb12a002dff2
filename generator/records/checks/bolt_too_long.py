"""A wheel bolt reaches further behind the hub than there is room."""

from collections.abc import Iterator

from generator.geometry.fastening import bolt_depth_check, bolt_reach
from generator.reading.fault import Fault, Severity
from generator.records.joint import is_bolted, stack_of
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import apart, mm

RULE = Rule(
    code="R43",
    title="a wheel bolt that is too long",
    severity=Severity.ERROR,
    why="A bolt that comes out behind the hub meets the sensor ring, the brake shoes or the "
    "knuckle when the wheel turns. Bolts grow by exactly the spacer's thickness.",
    mend="Use bolts longer by the spacer and no more, and look behind the hub while turning it.",
    source="common practice",
    bad="chassis: {front: {fastening: {fixing: bolts, nut: bolt, free_depth: 29 mm}}}\n"
    "setup: {front: {hardware: {nut: bolt, nut_depth: left out, length: 45 mm}}}",
    good="chassis: {front: {fastening: {fixing: bolts, nut: bolt, free_depth: 29 mm}}}\n"
    "setup: {front: {hardware: {nut: bolt, nut_depth: left out, length: 32 mm}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Hold the reach of bolts against the free depth of the sheet."""
    for axle, fitted, sheet in case.axles():
        stack = stack_of(fitted, sheet)
        if sheet is None or stack is None or not is_bolted(fitted, sheet):
            continue
        free, hardware = sheet.fastening.free_depth, fitted.hardware
        if free is None or hardware is None or hardware.length is None or case.chassis is None:
            continue
        reach = bolt_reach(stack.protrusion, spacer=stack.spacer, pad=stack.pad)
        found = bolt_depth_check(reach, free.value)
        if found.outcome.value == "holds":
            continue
        longest = hardware.length.value + found.margin
        yield RULE.fault(
            case.setup.place(axle.value, "hardware", "length"),
            f"bolts of {hardware.length.typed} reach {mm(reach.value)} into the hub, "
            f"{apart(found.margin)} further than is free",
            expected=f"at most {mm(longest)} with this wheel and spacer",
            fix="use shorter bolts; do not drive with these",
            also=(marked(case.chassis, "free behind the face", axle.value, "fastening",
                         "free_depth"),),
        )  # fmt: skip
