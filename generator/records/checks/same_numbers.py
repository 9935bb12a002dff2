"""Two records by different members hold the same numbers."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.fitted import AxleSetup
from generator.records.library import Filed, Library
from generator.records.names import folded
from generator.records.rule import Rule, marked
from generator.records.setup import Setup

_FEWEST_MEASURED = 4
"""Fewer gaps in numbers can agree by chance: judgement of the guide."""

RULE = Rule(
    code="L07",
    title="the same numbers by two members",
    severity=Severity.NOTE,
    why="Two people who measure two cars do not find the same numbers to the last digit. A figure "
    "that was quoted from another member counts once, not twice.",
    mend="If one was quoted from the other, keep the one who measured and let the other confirm "
    "it; if both measured, nothing has to be done.",
    source="common practice",
    bad="other: {front: {tyre: {section_width: 206 mm}}}",
    good="other: {}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Compare each record with the earlier ones of its chassis."""
    seen: dict[tuple[object, ...], Filed[Setup]] = {}
    for setup in library.setups.values():
        numbers = _numbers(setup.value)
        if numbers is None:
            continue
        first = seen.setdefault((setup.value.chassis, *numbers), setup)
        if folded(first.value.member) == folded(setup.value.member):
            continue
        yield RULE.fault(
            setup.place("member"),
            f"`{setup.value.member}` and `{first.value.member}` give the same tyres and the same "
            "gaps to the last digit",
            expected="measurements of one's own",
            fix="if these numbers were quoted, withdraw this record and add a confirmation there",
            also=(marked(first, "the same numbers", "member"),),
        )


def _numbers(setup: Setup) -> tuple[object, ...] | None:
    """Give what was measured; None where too little was to tell a copy from chance."""
    gaps = tuple(
        sorted((gap.site, gap.side.value, gap.state.value, gap.gap.typed) for gap in setup.gaps)
    )
    if sum(gap.gap.resolution > 0.0 for gap in setup.gaps) < _FEWEST_MEASURED:
        return None
    return (gaps, _fitted(setup.front), _fitted(setup.rear))


def _fitted(axle: AxleSetup) -> tuple[object, ...]:
    wheel, tyre = axle.wheel, axle.tyre
    lengths = (
        wheel.offset, wheel.offset_measured, wheel.backspacing,
        tyre.section_width, tyre.tread_width, tyre.diameter,
    )  # fmt: skip
    return (str(wheel.size), str(tyre.size), *(each.value if each else None for each in lengths))
