"""A setup names a chassis that the guide has no sheet of."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Library, sheet_path
from generator.records.names import expecting
from generator.records.rule import Rule

RULE = Rule(
    code="L01",
    title="an unknown chassis",
    severity=Severity.ERROR,
    why="Without a chassis sheet there is no hub face, no stock wheel and no site to hold the "
    "record against. A slip of spelling would put the record on a page of its own.",
    mend="Write the short name of the sheet, which is its file name without the ending, or add a "
    "sheet for this car.",
    source="own rule of the guide",
    bad="setup: {chassis: ostvane-meridle}",
    good="setup: {chassis: ostvane-meridel}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Look up the chassis of each setup."""
    for setup in library.setups.values():
        name = setup.value.chassis
        if name in library.chassis or sheet_path(name) in library.unread:
            continue
        expected, near = expecting(name, library.chassis)
        yield RULE.fault(
            setup.place("chassis"),
            f"no chassis sheet has the short name `{name}`",
            expected=expected or f"a sheet `chassis/{name}.yaml`",
            fix=f"write `chassis: {near}`" if near else f"add the sheet `chassis/{name}.yaml`",
        )
