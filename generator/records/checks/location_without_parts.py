"""A sheet names a rod or linkage and does not describe it, or describes one it does not name."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.axle_sheet import Suspension
from generator.records.library import Library
from generator.records.rule import Rule
from generator.records.words import Axle, Location

_PARTS = (("rod", Location.PANHARD), ("watt", Location.WATT))

RULE = Rule(
    code="L16",
    title="a rod or linkage that is named but not described",
    severity=Severity.ERROR,
    why="The sideways movement of the axle is computed from the rod's or linkage's lengths. With "
    "the word alone it cannot be, and lengths without the word would be left aside.",
    mend="Give `rod` with `location: panhard rod`, `watt` with `location: watt linkage`, and "
    "neither with leaf springs or links.",
    source="own rule of the guide",
    bad="chassis: {rear: {suspension: {location: leaf springs}}}",
    good="chassis: {rear: {suspension: {location: leaf springs, rod: left out}}}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Compare what each sheet names with what it describes."""
    for sheet in library.chassis.values():
        for axle in Axle:
            suspension: Suspension = getattr(sheet.value, axle.value).suspension
            for part, location in _PARTS:
                is_named = suspension.location is location
                is_given = getattr(suspension, part) is not None
                if is_named and not is_given and sheet.is_complete:
                    yield RULE.fault(
                        sheet.place(axle.value, "suspension", "location"),
                        f"the {location.value} has no lengths",
                        expected=f"the group `{part}`",
                        fix=f"add `{part}` with its lengths",
                    )
                elif is_given and not is_named:
                    said = suspension.location
                    yield RULE.fault(
                        sheet.key_place(axle.value, "suspension", part),
                        f"`{part}` describes a {location.value}, and the axle is held by "
                        f"{said.value if said else 'nothing that is named'}",
                        expected=f"`location: {location.value}`",
                        fix=f"write `location: {location.value}`, or leave `{part}` out",
                    )
