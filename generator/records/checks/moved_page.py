"""An old address leads to no page, or to another old one, or is still that of a page."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.club import Club
from generator.records.library import Filed, Library
from generator.records.names import expecting
from generator.records.rule import Rule, marked

RULE = Rule(
    code="L27",
    title="an old address that leads nowhere",
    severity=Severity.ERROR,
    why="Links to the guide stand in forums and on paper. An old address leads on to a page that "
    "is there, in one step; and no page that is there can be covered by it.",
    mend="Write the way of a file that is there under `new`, and under `old` one that no file has "
    "any more, each once.",
    source="own rule of the guide",
    bad="club:\n  moved:\n"
    "    - {old: setups/ostvane-meridel/first-try, new: setups/ostvane-meridel/no-such-record}",
    good="club:\n  moved:\n"
    "    - {old: setups/ostvane-meridel/first-try, "
    "new: setups/ostvane-meridel/copperbill-seven-inch}",
    is_live=False,
)


OF_CLUB = True


def check_library(library: Library) -> Iterator[Fault]:
    """Follow each old address."""
    club = library.club
    if club is None:
        return
    ways = _ways(library)
    first: dict[str, int] = {}
    for at, move in enumerate(club.value.moved):
        if move.old in ways:
            yield RULE.fault(
                club.place("moved", at, "old"),
                f"`{move.old}` is still the address of a page",
                expected="an address that no file has any more",
                fix="leave this move out, or rename the file",
            )
        if first.setdefault(move.old, at) != at:
            yield RULE.fault(
                club.place("moved", at, "old"),
                f"`{move.old}` is listed twice",
                expected="each old address once",
                fix="leave one of the two out",
                also=(marked(club, "listed here", "moved", first[move.old], "old"),),
            )
    for at, move in enumerate(club.value.moved):
        if move.new not in ways and not _is_unread(library, move.new):
            yield _nowhere(club, at, ways, first)


def _ways(library: Library) -> frozenset[str]:
    return frozenset({
        *(f"setups/{name}" for name in library.setups),
        *(f"chassis/{name}" for name in library.chassis),
        *(f"articles/{name}" for name in library.articles),
    })  # fmt: skip


def _is_unread(library: Library, way: str) -> bool:
    return f"{way}.yaml" in library.unread or f"{way}.md" in library.unread


def _nowhere(club: Filed[Club], at: int, ways: frozenset[str], first: dict[str, int]) -> Fault:
    move = club.value.moved[at]
    place = club.place("moved", at, "new")
    if move.new in first:
        final = club.value.moved[first[move.new]].new
        return RULE.fault(
            place,
            f"`{move.new}` is an old address itself",
            expected="the page that is there now",
            fix=f"write `new: {final}`" if final in ways else "write where that page is now",
        )
    expected, near = expecting(move.new, ways)
    return RULE.fault(
        place,
        f"there is no file `{move.new}`",
        expected=expected or "the way of a file that is there",
        fix=f"write `new: {near}`" if near else "write the way of a file that is there",
    )
