"""A setup lies in the folder of another chassis than the one it names."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Library, sheet_path
from generator.records.rule import Rule

RULE = Rule(
    code="L02",
    title="a record in the folder of another chassis",
    severity=Severity.ERROR,
    why="The folder and the field say two different things, and the address of the page is made "
    "of the folder.",
    mend="Move the file into the folder of its chassis, or mend the field.",
    source="own rule of the guide",
    bad="setup: {chassis: pellow-brant}\nother chassis: {name: Pellow Brant}",
    good="setup: {chassis: ostvane-meridel}\nother chassis: {name: Pellow Brant}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Compare the folder of each setup with the chassis it names."""
    for setup in library.setups.values():
        folder, name = setup.id.split("/", 1)[0], setup.value.chassis
        known = name in library.chassis or sheet_path(name) in library.unread
        if folder == name or not known:
            continue
        file = setup.id.rsplit("/", 1)[-1]
        yield RULE.fault(
            setup.place("chassis"),
            f"this record lies in the folder `{folder}` and names the chassis `{name}`",
            expected=f"`{folder}`, or another folder",
            fix=f"write `chassis: {folder}`, or move the file to `setups/{name}/{file}.yaml`",
        )
