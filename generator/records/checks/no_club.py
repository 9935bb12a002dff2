"""The content folder has no file of the club's settings."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Place, Severity
from generator.records.library import Library
from generator.records.rule import Rule

PATH = "club.yaml"

RULE = Rule(
    code="L21",
    title="no settings of the club",
    severity=Severity.ERROR,
    why="Title, addresses, units and wanted gaps of the guide are in `club.yaml`. Without it no "
    "page can be made.",
    mend="Add `club.yaml` at the top of the content folder; the demo's can serve as an example.",
    source="own rule of the guide",
    bad="club: left out",
    good="club: {units: inch}",
    is_live=False,
)


OF_CLUB = True


def check_library(library: Library) -> Iterator[Fault]:
    """Look for the club's settings."""
    if library.club is None and PATH not in library.unread:
        yield RULE.fault(
            Place(PATH),
            "the content folder has no `club.yaml`",
            expected="the settings of the club",
            fix="add `club.yaml` beside `chassis` and `setups`",
        )
