"""A site of a sheet has no shape, or more than one."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Library
from generator.records.rule import Rule
from generator.records.site_sheet import SiteSheet

SHAPES = ("arc", "block", "line", "reach")

RULE = Rule(
    code="L13",
    title="a site without one shape",
    severity=Severity.ERROR,
    why="The gap is computed against one shape. Without a shape there is nothing to measure "
    "against, and of two shapes nobody knows which is the part.",
    mend="Give each site one of `arc`, `block`, `line` or, where only a radius is known, `reach`; "
    "split a part of two shapes into two sites.",
    source="own rule of the guide",
    bad="chassis:\n"
    "  sites:\n"
    "    - {name: quarter-lip, label: lip, axle: rear, facing: outboard, moves_with: body,"
    " wanted: 5 mm}\n"
    "setup: {remedies: [], gaps: [{site: quarter-lip, side: both, state: full bump, gap: 9 mm}]}",
    good="chassis:\n"
    "  sites:\n"
    "    - {name: quarter-lip, label: lip, axle: rear, facing: outboard, moves_with: body,"
    " reach: {radius: 340 mm}, wanted: 5 mm}\n"
    "setup: {remedies: [], gaps: [{site: quarter-lip, side: both, state: full bump, gap: 9 mm}]}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Count the shapes of each site of each sheet that could be read whole."""
    for sheet in library.chassis.values():
        for index, site in enumerate(sheet.value.sites):
            given = shapes_of(site)
            if len(given) == 1 or not (sheet.is_complete or given):
                continue
            yield RULE.fault(
                sheet.place("sites", index, given[1] if given else "name"),
                f"`{site.name}` has {' and '.join(f'`{name}`' for name in given) or 'no shape'}",
                expected="one of " + ", ".join(f"`{name}`" for name in SHAPES),
                fix=f"keep `{given[0]}`, or make two sites of it"
                if given
                else "add `reach: {radius: …}` until its shape is measured",
            )


def shapes_of(site: SiteSheet) -> tuple[str, ...]:
    """Name the shapes that a site has."""
    return tuple(name for name in SHAPES if getattr(site, name) is not None)
