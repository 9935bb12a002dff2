"""Something happened to a record before its measurements were made."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Library
from generator.records.record_dates import later_dates_of
from generator.records.rule import Rule, marked

RULE = Rule(
    code="L23",
    title="dates out of order",
    severity=Severity.WARNING,
    why="A record cannot be confirmed, corrected, disputed or withdrawn before it was measured, "
    "nor replace a record that is newer.",
    mend="Read both dates again; one of them is mistyped, or the record's date was changed "
    "afterwards.",
    source="own rule of the guide",
    bad="setup: {confirmations: [{member: Fernhollow, date: 2025-05-02,"
    " how: measured the same car}]}",
    good="setup: {confirmations: [{member: Fernhollow, date: 2025-06-14,"
    " how: measured the same car}]}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Compare the later dates of each record with its own."""
    for setup in library.setups.values():
        own = setup.value.date
        for day, what, route in later_dates_of(setup.value):
            if day < own:
                yield RULE.fault(
                    setup.place(*route),
                    f"the {what} of {day.isoformat()} is {(own - day).days} days before the "
                    "measuring",
                    expected=f"{own.isoformat()} or later",
                    fix="write the day on which it was",
                    also=(marked(setup, "day of measuring", "date"),),
                )
        older = library.setups.get(f"{setup.id.rsplit('/', 1)[0]}/{setup.value.supersedes}")
        if older is not None and older.value.date > own and older is not setup:
            yield RULE.fault(
                setup.place("supersedes"),
                f"the record it replaces is {(older.value.date - own).days} days newer",
                expected=f"a record of {own.isoformat()} or earlier",
                fix="let the newer record replace the older one",
                also=(marked(older, "the newer date", "date"),),
            )
