"""A gap or rub is given for a side of the car on which the site is not."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Case
from generator.records.rule import Rule
from generator.records.setup import Gap, Rub

RULE = Rule(
    code="L24",
    title="a site on the other side of the car",
    severity=Severity.ERROR,
    why="The sheet has this part on one side only. A measurement on the other side was made "
    "somewhere else, or left and right were swapped.",
    mend="Left is the driver's left when looking forward, wherever the steering wheel is.",
    source="own rule of the guide",
    bad="chassis:\n"
    "  sites:\n"
    "    - {name: tailpipe, label: tailpipe, axle: rear, facing: inboard, moves_with: body,"
    " only: left, reach: {radius: 250 mm}, wanted: 20 mm}\n"
    "setup: {remedies: [], gaps: [{site: tailpipe, side: right, state: full bump, gap: 25 mm}]}",
    good="chassis:\n"
    "  sites:\n"
    "    - {name: tailpipe, label: tailpipe, axle: rear, facing: inboard, moves_with: body,"
    " only: left, reach: {radius: 250 mm}, wanted: 20 mm}\n"
    "setup: {remedies: [], gaps: [{site: tailpipe, side: left, state: full bump, gap: 25 mm}]}",
)


def check(case: Case) -> Iterator[Fault]:
    """Compare the side of each gap and rub with that of its site."""
    setup = case.setup.value
    groups: tuple[tuple[str, tuple[Gap | Rub, ...]], ...] = (
        ("gaps", setup.gaps),
        ("rubs", setup.rubs),
    )
    for group, items in groups:
        for index, item in enumerate(items):
            site = case.site(item.site, item.axle)
            if site is None or site.only is None or item.side is site.only:
                continue
            yield RULE.fault(
                case.setup.place(group, index, "side"),
                f"`{item.site}` is on the {site.only.value} only, and this line says "
                f"`{item.side.value}`",
                expected=f"`{site.only.value}`",
                fix=f"write `side: {site.only.value}`",
            )
