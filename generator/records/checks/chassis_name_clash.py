"""Two chassis sheets bear the same name, as readers see it."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Mark, Severity
from generator.records.chassis import Chassis
from generator.records.library import Filed, Library
from generator.records.names import folded
from generator.records.rule import Rule

RULE = Rule(
    code="L08",
    title="two chassis of one name",
    severity=Severity.ERROR,
    why="Names that differ only in case, blanks or hyphens are one name to a reader and to the "
    "search. Members could not tell which sheet their car has.",
    mend="Say what differs: the body, the years or the variant.",
    source="Unicode NFKC and case folding",
    bad="other chassis: {name: OSTVANE-MERIDEL}",
    good="other chassis: {name: Ostvane Meridel estate}",
    is_live=False,
)


def ties(library: Library) -> Iterator[tuple[str, str]]:
    """Give each name as it counts, and whose it is."""
    for sheet in library.chassis.values():
        yield from ((folded(name), sheet.id) for name, _ in _names(sheet))


def check_library(library: Library) -> Iterator[Fault]:
    """Compare all names and other names of all sheets."""
    first: dict[str, tuple[str, Mark]] = {}
    for sheet in library.chassis.values():
        for name, route in _names(sheet):
            place = sheet.place(*route)
            owner, mark = first.setdefault(folded(name), (sheet.id, Mark(place, "the same name")))
            if owner != sheet.id:
                yield RULE.fault(
                    place,
                    f"`{name}` is also a name of the chassis `{owner}`",
                    expected="a name of its own",
                    fix="add what differs, such as the body or the years",
                    also=(mark,),
                )


def _names(sheet: Filed[Chassis]) -> Iterator[tuple[str, tuple[str | int, ...]]]:
    yield sheet.value.name, ("name",)
    for index, name in enumerate(sheet.value.also_called):
        yield name, ("also_called", index)
