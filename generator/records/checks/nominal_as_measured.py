"""A measured section width is exactly the number in the size."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.dimensions import nominal_tyre, rim_width
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import mm

RULE = Rule(
    code="R29",
    title="the number of the size as a measurement",
    severity=Severity.NOTE,
    why="The number in a size is a name; mounted tyres differ from it by several millimetres. "
    "Written as measured, it makes the gaps look better known than they are.",
    mend="Measure the mounted tyre, or leave the field out: the guide then takes what the size "
    "makes on this rim, with its spread.",
    source="UN R30 6.1.1.1 and common practice",
    bad="setup: {front: {tyre: {section_width: 195 mm}}}",
    good="setup: {front: {tyre: {section_width: left out, tread_width: left out}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Compare both ends' measured sections with the number in the size."""
    for axle, fitted, _ in case.axles():
        given, size = fitted.tyre.section_width, fitted.tyre.size
        if given is None or given.value != size.nominal_section_width:
            continue
        nominal = nominal_tyre(size, rim_width(fitted.wheel.size))
        usual = f", usually near {mm(nominal.section_width)} on this rim" if nominal else ""
        yield RULE.fault(
            case.setup.place(axle.value, "tyre", "section_width"),
            f"{given.typed} is exactly the number in {size.typed}",
            expected=f"a measurement{usual}",
            fix="leave `section_width` out if it was not measured",
            also=(marked(case.setup, "the size", axle.value, "tyre", "size"),),
        )
