"""A withdrawn record still replaces another, or two records replace the same one."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Filed, Library
from generator.records.rule import Rule, marked
from generator.records.setup import Setup

RULE = Rule(
    code="L20",
    title="a record replaced by one that does not count",
    severity=Severity.WARNING,
    why="A replaced record no longer counts. If the one in its place is withdrawn, or there are "
    "two in its place, it is open which numbers of this car hold.",
    mend="Take `supersedes` out of the withdrawn record, or let the newer of the two replace the "
    "other.",
    source="own rule of the guide",
    bad="setup:\n"
    "  supersedes: fernhollow-seven-inch\n"
    "  withdrawn: {date: 2025-08-01, reason: other hubs}\n"
    "other: {car: copperbill-coupe, date: 2025-05-01}",
    good="setup: {supersedes: fernhollow-seven-inch}\n"
    "other: {car: copperbill-coupe, date: 2025-05-01}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Look at each record that replaces another."""
    first: dict[str, Filed[Setup]] = {}
    for setup in library.setups.values():
        older = setup.value.supersedes
        if older is None:
            continue
        if setup.value.withdrawn is not None:
            yield RULE.fault(
                setup.place("supersedes"),
                f"this record is withdrawn and still replaces `{older}`",
                expected="a replacement that counts",
                fix="leave `supersedes` out if the older record holds again",
                also=(marked(setup, "withdrawn here", "withdrawn", "date"),),
            )
            continue
        key = f"{setup.id.rsplit('/', 1)[0]}/{older}"
        earlier = first.setdefault(key, setup)
        if earlier is not setup:
            yield RULE.fault(
                setup.place("supersedes"),
                f"`{older}` is already replaced by `{earlier.id.rsplit('/', 1)[-1]}`",
                expected="one record in its place",
                fix=f"write `supersedes: {earlier.id.rsplit('/', 1)[-1]}` if this one is newer",
                also=(marked(earlier, "replaced here", "supersedes"),),
            )
