"""A sheet's stock tyre has another rim diameter than its stock wheel."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Library
from generator.records.rule import Rule, marked
from generator.records.words import Axle

RULE = Rule(
    code="L12",
    title="a stock tyre that does not fit the stock wheel",
    severity=Severity.ERROR,
    why="The rim code of a tyre is the diameter of the wheel it fits, and of no other.",
    mend="Read the stamp of the wheel and the sidewall of the tyre again.",
    source="UN R30, definitions, from memory",
    bad="chassis: {front: {stock_tyre: {size: 195/65 R15 91H}}}",
    good="chassis: {front: {stock_tyre: {size: 185/70 R14 88H}}}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Compare the two diameters at both ends of each sheet."""
    for sheet in library.chassis.values():
        for axle in Axle:
            end = getattr(sheet.value, axle.value)
            tyre, wheel = end.stock_tyre.size, end.stock_wheel.size
            if tyre.rim_number == wheel.diameter_code:
                continue
            yield RULE.fault(
                sheet.place(axle.value, "stock_tyre", "size"),
                f"the tyre is for {tyre.rim_number:g}, the wheel has {wheel.diameter_code:g}",
                expected=f"a tyre for a rim of {wheel.diameter_code:g}",
                fix="write the size of the tyre that came on this wheel",
                also=(marked(sheet, "the wheel", axle.value, "stock_wheel", "size"),),
            )
