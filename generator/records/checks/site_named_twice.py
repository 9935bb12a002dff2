"""A chassis sheet has two sites of one name at the same end."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Library
from generator.records.rule import Rule, marked
from generator.records.words import Axle

RULE = Rule(
    code="L05",
    title="a site named twice",
    severity=Severity.ERROR,
    why="Gaps are filed by the site's name, and two sites of one name at the same end cannot be "
    "told apart.",
    mend="Give one of them another short name, such as `brake-hose-rear-clip`.",
    source="own rule of the guide",
    bad="chassis:\n"
    "  sites:\n"
    "    - {name: quarter-lip, label: lip, axle: rear, facing: outboard, moves_with: body,"
    " reach: {radius: 340 mm}, wanted: 5 mm}\n"
    "    - {name: quarter-lip, label: seam, axle: rear, facing: outboard, moves_with: body,"
    " reach: {radius: 345 mm}, wanted: 5 mm}\n"
    "setup: {remedies: [], gaps: [{site: quarter-lip, side: both, state: full bump, gap: 9 mm}]}",
    good="chassis:\n"
    "  sites:\n"
    "    - {name: quarter-lip, label: lip, axle: rear, facing: outboard, moves_with: body,"
    " reach: {radius: 340 mm}, wanted: 5 mm}\n"
    "    - {name: quarter-seam, label: seam, axle: rear, facing: outboard, moves_with: body,"
    " reach: {radius: 345 mm}, wanted: 5 mm}\n"
    "setup:\n"
    "  remedies: []\n"
    "  gaps:\n"
    "    - {site: quarter-lip, side: both, state: full bump, gap: 9 mm}\n"
    "    - {site: quarter-seam, side: both, state: full bump, gap: 9 mm}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Look for a name that comes twice at one end of a sheet."""
    for sheet in library.chassis.values():
        first: dict[tuple[Axle, str], int] = {}
        for index, site in enumerate(sheet.value.sites):
            earlier = first.setdefault((site.axle, site.name), index)
            if earlier != index:
                yield RULE.fault(
                    sheet.place("sites", index, "name"),
                    f"the {site.axle.value} has two sites of the name `{site.name}`",
                    expected="another short name",
                    fix=f"write another name, such as `{site.name}-2`",
                    also=(marked(sheet, "the first one", "sites", earlier, "name"),),
                )
