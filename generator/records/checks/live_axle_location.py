"""A sheet does not say what holds a live axle, or how far it tilts."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.axle_sheet import Suspension
from generator.records.library import Library
from generator.records.rule import Rule
from generator.records.words import Axle, SuspensionKind

NEEDED = ("location", "articulation_up", "articulation_down")

RULE = Rule(
    code="L15",
    title="a live axle without its location or tilt",
    severity=Severity.WARNING,
    why="A rod moves a live axle sideways with travel, and one side up with the other down is "
    "where the inboard gap is least. Without these the least gaps of the rear are unknown.",
    mend="Add what holds the axle, and how far one side goes up and the other down together.",
    source="common practice",
    bad="chassis: {rear: {suspension: {articulation_up: left out}}}",
    good="chassis: {rear: {suspension: {articulation_up: 65 mm}}}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Ask each live axle for what moves it sideways and tilts it."""
    for sheet in library.chassis.values():
        if not sheet.is_complete:
            continue
        for axle in Axle:
            suspension: Suspension = getattr(sheet.value, axle.value).suspension
            missing = [name for name in NEEDED if getattr(suspension, name) is None]
            if suspension.kind is not SuspensionKind.LIVE_AXLE or not missing:
                continue
            yield RULE.fault(
                sheet.place(axle.value, "suspension", "kind"),
                f"the live axle has no {' and no '.join(f'`{name}`' for name in missing)}",
                expected="what holds the axle sideways, and how far it tilts",
                fix=f"add {', '.join(f'`{name}: {_example(name)}`' for name in missing)} as it is",
            )


def _example(name: str) -> str:
    from generator.reading.fields import declared

    return declared(Suspension.model_fields[name]).example
