"""A tyre is for another rim diameter than the wheel's."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Case
from generator.records.rule import Rule, marked

RULE = Rule(
    code="R41",
    title="a tyre for another rim diameter",
    severity=Severity.ERROR,
    why="The rim code of a tyre is the diameter of the wheel it fits, and of no other. Half an "
    "inch or a metric rim is another rim too.",
    mend="Read the wheel's stamp and the tyre's sidewall again.",
    source="UN R30, definitions, from memory",
    bad="setup: {front: {tyre: {size: 195/60 R14 86V}}}",
    good="setup: {front: {wheel: {size: 7 x 14, offset: 22 mm},"
    " tyre: {size: 195/65 R14 89V, diameter: 607 mm}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Compare the two diameters at both ends."""
    for axle, fitted, _ in case.axles():
        tyre, wheel = fitted.tyre.size, fitted.wheel.size
        if tyre.rim_number == wheel.diameter_code:
            continue
        yield RULE.fault(
            case.setup.place(axle.value, "tyre", "size"),
            f"{tyre.typed} is for a rim of {tyre.rim_number:g}, the wheel has "
            f"{wheel.diameter_code:g}",
            expected=f"a tyre for a rim of {wheel.diameter_code:g}",
            fix=f"write `size` as on the sidewall; it ends in {wheel.diameter_code:g}",
            also=(marked(case.setup, "the wheel", axle.value, "wheel", "size"),),
        )
