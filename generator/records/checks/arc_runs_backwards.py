"""An arc of a site ends before it begins, or goes round more than once."""

from collections.abc import Iterator

from generator.quantities.units import Deg
from generator.reading.fault import Fault, Severity
from generator.records.library import Library
from generator.records.rule import Rule, marked

FULL_TURN: Deg = 360.0

RULE = Rule(
    code="L17",
    title="an arc that runs backwards",
    severity=Severity.ERROR,
    why="Angles of an arc are counted from forward, upwards and on to the rear. An arc whose end "
    "is not beyond its begin has no length, or is the rest of the circle.",
    mend="Write the angle of its forward end first. The part ahead of and below the hub has "
    "negative angles.",
    source="own rule of the guide",
    bad="chassis:\n"
    "  sites:\n"
    "    - {name: quarter-lip, label: lip, axle: rear, facing: outboard, moves_with: body,"
    " arc: {x: 0 mm, z: -2 mm, radius: 352 mm, begin: 160 deg, end: 20 deg, y: 103 mm},"
    " wanted: 5 mm}\n"
    "setup: {remedies: [], gaps: [{site: quarter-lip, side: both, state: full bump, gap: 9 mm}]}",
    good="chassis:\n"
    "  sites:\n"
    "    - {name: quarter-lip, label: lip, axle: rear, facing: outboard, moves_with: body,"
    " arc: {x: 0 mm, z: -2 mm, radius: 352 mm, begin: 20 deg, end: 160 deg, y: 103 mm},"
    " wanted: 5 mm}\n"
    "setup: {remedies: [], gaps: [{site: quarter-lip, side: both, state: full bump, gap: 9 mm}]}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Compare the ends of each arc."""
    for sheet in library.chassis.values():
        for index, site in enumerate(sheet.value.sites):
            arc = site.arc
            if arc is None or 0.0 < arc.end.value - arc.begin.value <= FULL_TURN:
                continue
            is_turned = arc.end.value < arc.begin.value
            yield RULE.fault(
                sheet.place("sites", index, "arc", "end"),
                f"the arc of `{site.name}` runs from {arc.begin.typed} to {arc.end.typed}",
                expected=f"an end more than {arc.begin.typed}, within one turn",
                fix=f"write `begin: {arc.end.typed}` and `end: {arc.begin.typed}` if they were "
                "swapped"
                if is_turned
                else "write the angle at which it ends",
                also=(marked(sheet, "it begins here", "sites", index, "arc", "begin"),),
            )
