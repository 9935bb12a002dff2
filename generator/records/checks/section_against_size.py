"""A measured section width is far from what the size makes on this rim."""

from collections.abc import Iterator

from generator.geometry.tyre import greatest_overall_width
from generator.published import tables
from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.dimensions import nominal_tyre, rim_width
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import apart, mm

NARROWEST_BY: Mm = 15.0
"""How far designs of one size lie apart in a bad case: common practice."""

RULE = Rule(
    code="R28",
    title="a section width far from its size",
    severity=Severity.WARNING,
    why="A tyre may be narrower than its size by any amount and wider by four per cent and a "
    "rim-protecting rib. A number further off is often the tread width, another tyre, or a slip.",
    mend="Measure with long callipers at the top of the mounted tyre, away from the road, at two "
    "or three places.",
    source="UN R30 6.1.1.1 and 6.1.4, the latter from memory",
    bad="setup: {front: {tyre: {section_width: 232 mm, tread_width: left out}}}",
    good="setup: {front: {tyre: {section_width: 212 mm}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Compare both ends' measured sections with the size on the rim."""
    for axle, fitted, _ in case.axles():
        given, size = fitted.tyre.section_width, fitted.tyre.size
        nominal = nominal_tyre(size, rim_width(fitted.wheel.size))
        if size.rim_number != fitted.wheel.size.diameter_code:
            continue
        if given is None or nominal is None:
            continue
        if given.value == size.nominal_section_width:
            # The number of the size, not a measurement: a rule of its own speaks of it.
            continue
        least = nominal.section_width - NARROWEST_BY
        most = greatest_overall_width(
            nominal.section_width, rim_protector=tables.rim_protector_allowance()
        )
        if least <= given.value <= most:
            continue
        off = given.value - nominal.section_width
        yield RULE.fault(
            case.setup.place(axle.value, "tyre", "section_width"),
            f"{given.typed} measured is {apart(off)} {'more' if off > 0.0 else 'less'} than "
            f"{size.typed} makes on {fitted.wheel.size.width_code:g} in",
            expected=f"{mm(least)} to {mm(most)}; by the size {mm(nominal.section_width)}",
            fix="measure again, or write the size of the tyre that was measured",
            also=(marked(case.setup, "the size", axle.value, "tyre", "size"),),
        )
