"""A sheet's axle loads do not add up to its mass, or are more than it permits."""

from collections.abc import Iterator
from math import fsum

from generator.quantities.units import Percent
from generator.reading.fault import Fault, Severity
from generator.records.library import Library
from generator.records.rule import Rule, marked
from generator.records.words import Axle

TOLERANCE: Percent = 3.0
"""Axle loads are weighed or published to the nearest five or ten kilograms: common practice."""
_WHOLE: Percent = 100.0

RULE = Rule(
    code="L25",
    title="axle loads that do not add up",
    severity=Severity.ERROR,
    why="The permitted axle load decides which tyre and wheel may be fitted. Loads that do not "
    "add up, or a car too heavy for its own axle, point to a slip in one of them.",
    mend="Copy the loads from the vehicle maker's plate or handbook, front and rear each.",
    source="common practice",
    bad="chassis: {front: {permitted_load: 500 kg}}",
    good="chassis: {front: {permitted_load: 740 kg}}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Add up the axle loads of each sheet."""
    for sheet in library.chassis.values():
        ends = {axle: getattr(sheet.value, axle.value) for axle in Axle}
        for axle, end in ends.items():
            if end.permitted_load.value < end.kerb_load.value:
                yield RULE.fault(
                    sheet.place(axle.value, "permitted_load"),
                    f"{end.permitted_load.typed} permitted is less than the {end.kerb_load.typed} "
                    "of the empty car",
                    expected=f"more than {end.kerb_load.typed}",
                    fix="write the permitted axle load of the maker's plate",
                    also=(marked(sheet, "the empty car", axle.value, "kerb_load"),),
                )
        mass = sheet.value.kerb_mass.value
        total = fsum(end.kerb_load.value for end in ends.values())
        if not abs(total - mass) <= TOLERANCE / _WHOLE * mass:
            fault = RULE.fault(
                sheet.place("kerb_mass"),
                f"the axle loads make {total:g} kg, {abs(total - mass):g} kg "
                f"{'more' if total > mass else 'less'} than the kerb mass",
                expected=f"{mass:g} kg ± {TOLERANCE:g} %",
                fix=f"write `kerb_mass: {total:g} kg` if both axles were weighed",
                also=tuple(marked(sheet, axle.value, axle.value, "kerb_load") for axle in Axle),
            )
            yield RULE.warning(fault)
