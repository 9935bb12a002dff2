"""A gap or rub names a site that stands at both ends of the car, without the end."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Case
from generator.records.rule import Rule
from generator.records.setup import Gap, Rub
from generator.records.words import Axle

RULE = Rule(
    code="L04",
    title="a site that stands at both ends",
    severity=Severity.ERROR,
    why="The sheet has this name at the front and at the rear, so that the measurement could be "
    "meant for either.",
    mend="Add the end of the car.",
    source="own rule of the guide",
    bad="chassis:\n"
    "  sites:\n"
    "    - {name: lip, label: lip, axle: front, facing: outboard, moves_with: body,"
    " reach: {radius: 340 mm}, wanted: 5 mm}\n"
    "    - {name: lip, label: lip, axle: rear, facing: outboard, moves_with: body,"
    " reach: {radius: 340 mm}, wanted: 5 mm}\n"
    "setup: {remedies: [], gaps: [{site: lip, side: both, state: full bump, gap: 9 mm}]}",
    good="chassis:\n"
    "  sites:\n"
    "    - {name: lip, label: lip, axle: front, facing: outboard, moves_with: body,"
    " reach: {radius: 340 mm}, wanted: 5 mm}\n"
    "    - {name: lip, label: lip, axle: rear, facing: outboard, moves_with: body,"
    " reach: {radius: 340 mm}, wanted: 5 mm}\n"
    "setup:\n"
    "  remedies: []\n"
    "  gaps:\n"
    "    - {site: lip, axle: front, side: both, state: full bump, gap: 9 mm}\n"
    "    - {site: lip, axle: rear, side: both, state: full bump, gap: 9 mm}",
)


def check(case: Case) -> Iterator[Fault]:
    """Ask for the end of the car where the name alone does not tell it."""
    setup = case.setup.value
    groups: tuple[tuple[str, tuple[Gap | Rub, ...]], ...] = (
        ("gaps", setup.gaps),
        ("rubs", setup.rubs),
    )
    for group, items in groups:
        for index, item in enumerate(items):
            if item.axle is None and len({site.axle for site in case.sites(item.site)}) > 1:
                yield RULE.fault(
                    case.setup.place(group, index, "site"),
                    f"the sheet has `{item.site}` at the front and at the rear",
                    expected=" or ".join(f"`axle: {axle.value}`" for axle in Axle),
                    fix="add `axle: front` or `axle: rear` to this line",
                )
