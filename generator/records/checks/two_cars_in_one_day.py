"""One member measured cars of two chassis on one day."""

from collections.abc import Iterator
from datetime import date

from generator.reading.fault import Fault, Severity
from generator.records.library import Filed, Library
from generator.records.names import folded
from generator.records.rule import Rule, marked
from generator.records.setup import Setup

RULE = Rule(
    code="R49",
    title="two chassis on one day",
    severity=Severity.NOTE,
    why="A car measured through travel and lock takes a day. Two chassis on one day often mean "
    "that a record was copied and its date left as it was.",
    mend="Write the day on which each car was measured; if it was one day, nothing has to be done.",
    source="common practice",
    bad="other chassis: {name: Pellow Brant}\n"
    "other: {chassis: pellow-brant, member: Copperbill, date: 2025-06-14}",
    good="other chassis: {name: Pellow Brant}\nother: {member: Copperbill}",
    is_live=False,
)


def ties(library: Library) -> Iterator[tuple[str, str]]:
    """Give each member's day, and the chassis of that day."""
    for setup in library.setups.values():
        value = setup.value
        yield f"{folded(value.member)} {value.date.isoformat()}", value.chassis


def check_library(library: Library) -> Iterator[Fault]:
    """Compare member and day of all records."""
    first: dict[tuple[str, date], Filed[Setup]] = {}
    for setup in library.setups.values():
        key = (folded(setup.value.member), setup.value.date)
        earlier = first.setdefault(key, setup)
        if earlier.value.chassis != setup.value.chassis:
            yield RULE.fault(
                setup.place("date"),
                f"`{setup.value.member}` measured `{earlier.value.chassis}` on this day too",
                expected="one car a day",
                fix="write the day on which this car was measured",
                also=(marked(earlier, "the other car", "date"),),
            )
