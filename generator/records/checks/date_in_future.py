"""A date lies in the future."""

from collections.abc import Iterator
from datetime import date, timedelta

from generator.reading.fault import Fault, Severity
from generator.records.library import Library
from generator.records.record_dates import dates_of
from generator.records.rule import Rule

_AHEAD = timedelta(days=1)
"""East of the machine that checks it may be tomorrow already."""

RULE = Rule(
    code="L22",
    title="a date in the future",
    severity=Severity.ERROR,
    why="Nothing can have been measured or confirmed on a day that has not come. Day and month, "
    "or the year, are easily mistyped.",
    mend="Write year, month and day of the event.",
    source="own rule of the guide",
    bad="setup: {date: 2026-06-14}",
    good="setup: {date: 2026-01-14}",
    is_live=False,
)


def check_dates(library: Library, today: date) -> Iterator[Fault]:
    """Hold all dates of all records against the day of the check."""
    for setup in library.setups.values():
        for day, what, route in dates_of(setup.value):
            if day <= today + _AHEAD:
                continue
            yield RULE.fault(
                setup.place(*route),
                f"the {what}, {day.isoformat()}, is in the future",
                expected=f"{today.isoformat()} or earlier",
                fix="write the day on which it was, as year-month-day",
            )
