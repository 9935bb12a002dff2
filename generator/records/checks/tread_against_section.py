"""A tread is wider than the tyre, or narrower than treads are."""

from collections.abc import Iterator

from generator.quantities.units import Percent, Ratio
from generator.reading.fault import Fault, Severity
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import mm

LEAST: Ratio = 0.65
MOST: Ratio = 1.0
IMPOSSIBLE: Ratio = 1.02
"""Tread over section, with what the two measurements may be off: common practice."""
_WHOLE: Percent = 100.0

RULE = Rule(
    code="R30",
    title="a tread wider than the tyre",
    severity=Severity.ERROR,
    why="The tread lies between the sidewalls. A tread that is wider than the section usually "
    "means that the two numbers were swapped.",
    mend="The section is from sidewall to sidewall, the tread is what touches the road.",
    source="common practice",
    bad="setup: {front: {tyre: {section_width: 206 mm, tread_width: 214 mm}}}",
    good="setup: {front: {tyre: {section_width: 206 mm, tread_width: 190 mm}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Compare tread and section at both ends."""
    for axle, fitted, _ in case.axles():
        tread, section = fitted.tyre.tread_width, fitted.tyre.section_width
        if tread is None or section is None or not section.value > 0.0:
            continue
        share = tread.value / section.value
        if LEAST <= share <= MOST:
            continue
        fault = RULE.fault(
            case.setup.place(axle.value, "tyre", "tread_width"),
            f"a tread of {tread.typed} is {_WHOLE * share:.0f} % of the section of {section.typed}",
            expected=f"{mm(LEAST * section.value)} to {mm(section.value)}",
            fix=f"write `tread_width: {section.typed}` and `section_width: {tread.typed}` if they "
            "were swapped"
            if share > MOST
            else "measure the tread from edge to edge",
            also=(marked(case.setup, "the section", axle.value, "tyre", "section_width"),),
        )
        yield fault if share > IMPOSSIBLE else RULE.warning(fault)
