"""A sheet lets one side of an axle travel further than the stop or the damper lets it."""

from collections.abc import Iterator

from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.library import Library
from generator.records.rule import Rule, marked
from generator.records.told import apart, mm
from generator.records.words import Axle

TOLERANCE: Mm = 2.0
"""Travel is measured to about this: common practice."""

RULE = Rule(
    code="L14",
    title="more articulation than travel",
    severity=Severity.WARNING,
    why="With one side up and the other down, the stop still ends the way up and the damper the "
    "way down. A larger figure makes gaps that the car never has.",
    mend="Measure both wheels against the body with the axle tilted; up is positive, down "
    "negative.",
    source="common practice",
    bad="chassis: {rear: {suspension: {articulation_up: 95 mm}}}",
    good="chassis: {rear: {suspension: {articulation_up: 84 mm}}}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Hold the articulation of each sheet against bump and droop."""
    for sheet in library.chassis.values():
        for axle in Axle:
            travel = getattr(sheet.value, axle.value).suspension
            pairs = (
                ("articulation_up", travel.articulation_up, "bump", travel.bump.value, 1.0),
                ("articulation_down", travel.articulation_down, "droop", travel.droop.value, -1.0),
            )
            for field, given, limit, most, sign in pairs:
                if given is None or given.value * sign <= most + TOLERANCE:
                    continue
                yield RULE.fault(
                    sheet.place(axle.value, "suspension", field),
                    f"`{field}` of {given.typed} is {apart(given.value * sign - most)} more than "
                    f"`{limit}`",
                    expected=f"at most {mm(most)}, so {mm(sign * most)} here",
                    fix=f"write `{field}: {mm(sign * most)}` or less, as measured",
                    also=(marked(sheet, "the travel", axle.value, "suspension", limit),),
                )
