"""The gallery of faults: every code with its meaning, and what the last build found."""

from collections.abc import Iterator

from generator.cache.once import Once
from generator.frozen import dataclass
from generator.reading.fault import Fault
from generator.records.codes import Code, all_codes
from generator.records.examples import example_fault
from generator.site import urls
from generator.site.forge_links import forge_links
from generator.site.guide import Guide
from generator.site.page import Page
from generator.site.shell import Link, PageHead

_FAMILIES = (
    ("Y", "Files", "What stands in the way of reading a file at all."),
    ("F", "Fields", "A field that is missing, unknown, or holds the wrong kind of thing."),
    ("P", "Photos", "What stands in the way of showing a photo."),
    ("Q", "Numbers and units", "A number that cannot be read as the quantity of its field."),
    ("S", "Ranges and gaps", "Lengths that are more than one number."),
    ("N", "Trade notation", "Tyre and rim sizes, threads, bolt circles, date codes, seats."),
)
_RULES = (
    ("R", "Rules within a record", "Values of one record or its sheet that do not go together."),
    ("L", "Rules across records", "What does not go together in the club's files as a whole."),
)
_RULE_TITLES = frozenset(title for _, title, _ in _RULES)


@dataclass(frozen=True)
class ShownLine:
    """One line of a file with the marked characters."""

    number: int
    text: str
    start: int | None
    end: int | None
    label: str


@dataclass(frozen=True)
class ShownFault:
    """A fault laid out for the fault component."""

    severity: str
    code: str
    headline: str
    place: str
    lines: tuple[ShownLine, ...]
    notes: tuple[str, ...]
    fix: str
    href: str
    see: str = ""


@dataclass(frozen=True)
class ShownCode:
    """A code with the message that its bad example really earns, where it is a rule's."""

    code: Code
    anchor: str
    message: ShownFault | None


@dataclass(frozen=True)
class Family:
    """Codes of one kind."""

    title: str
    summary: str
    codes: tuple[ShownCode, ...]


@dataclass(frozen=True)
class Faults:
    """The gallery of some families, a way to the others, and the faults of this build."""

    families: tuple[Family, ...]
    elsewhere: Link
    found: tuple[ShownFault, ...]
    left_out: tuple[Link, ...]
    shows_build: bool


def pages(guide: Guide) -> Iterator[Page]:
    """Give the gallery: files, fields and notation on one page, the rules on another."""
    forge = guide.club.forge
    found = tuple(
        laid_out(fault, forge_links(forge, fault.place.path).see) for fault in guide.faults
    )
    left_out = tuple(Link(path, forge_links(forge, path).see) for path in guide.left_out)
    readers = tuple(family for family in families() if family.title not in _RULE_TITLES)
    rules = tuple(family for family in families() if family.title in _RULE_TITLES)
    reading, ruling = Link("Faults explained", urls.FAULTS), Link("Rules explained", urls.RULES)
    head = PageHead(
        reading.label,
        "Every message of the reader: what it means, why it matters, how to mend it.",
        (Link("Home", urls.HOME),),
    )
    view = Faults(readers, ruling, found, left_out, shows_build=True)
    yield Page(urls.FAULTS, "faults", head, view)
    head = PageHead(
        ruling.label,
        "Every rule that looks across fields and files, with the message it gives.",
        (Link("Home", urls.HOME), reading),
    )
    yield Page(urls.RULES, "faults", head, Faults(rules, reading, (), (), shows_build=False))


@Once
def families() -> tuple[Family, ...]:
    """Give all codes by kind; the examples of the rules are read and checked, once a process."""
    codes = all_codes()
    found = (
        Family(title, summary, tuple(_code(c) for c in codes if c.code[0] == letter))
        for letter, title, summary in (*_FAMILIES, *_RULES)
    )
    return tuple(family for family in found if family.codes)


def _code(code: Code) -> ShownCode:
    earned = example_fault(code.code, code.bad) if code.source and code.bad else None
    message = laid_out(earned, "") if earned else None
    return ShownCode(code, code.code.lower(), message)


def laid_out(fault: Fault, see: str) -> ShownFault:
    """Lay a fault out for a page. `see` is the address of its file, or empty."""
    place = fault.place
    lines = []
    if place.excerpt:
        end = place.end_column if place.end_line == place.line else len(place.excerpt) + 1
        lines.append(_line(place.line, place.excerpt, (place.column, end), fault.expected))
    for mark in fault.also:
        if mark.place.excerpt and mark.place.path == place.path:
            spot = (mark.place.column, mark.place.end_column)
            lines.append(_line(mark.place.line, mark.place.excerpt, spot, mark.label))
    return ShownFault(
        severity=fault.severity.value,
        code=fault.code,
        headline=fault.headline,
        place=f"{place.path}:{place.line}:{place.column}",
        lines=tuple(sorted(lines, key=lambda line: line.number)),
        notes=(fault.why,) if fault.why else (),
        fix=fault.fix,
        href=urls.fault(fault.code),
        see=see,
    )


def _line(number: int, text: str, columns: tuple[int, int], label: str) -> ShownLine:
    start = min(max(columns[0] - 1, 0), len(text))
    end = min(max(columns[1] - 1, start + 1), max(len(text), start + 1))
    return ShownLine(number, text, start, end, label)
