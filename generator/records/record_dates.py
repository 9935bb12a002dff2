"""The dates that a record bears, each with what happened on it and where it stands."""

from collections.abc import Iterator
from datetime import date

from generator.records.setup import Setup

Dated = tuple[date, str, tuple[str | int, ...]]


def dates_of(setup: Setup) -> Iterator[Dated]:
    """Give the day of measuring first, then all that came after it."""
    yield setup.date, "day of measuring", ("date",)
    yield from later_dates_of(setup)


def later_dates_of(setup: Setup) -> Iterator[Dated]:
    """Give the dates of what others and maintainers added."""
    for index, confirmation in enumerate(setup.confirmations):
        yield confirmation.date, "confirmation", ("confirmations", index, "date")
    for index, correction in enumerate(setup.corrections):
        yield correction.date, "correction", ("corrections", index, "date")
    for index, dispute in enumerate(setup.disputes):
        yield dispute.date, "dispute", ("disputes", index, "date")
    if setup.withdrawn is not None:
        yield setup.withdrawn.date, "withdrawal", ("withdrawn", "date")
