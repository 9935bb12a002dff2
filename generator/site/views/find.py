"""Find: the newest setups as a plain list; with a script, all of them by words and numbers."""

from collections.abc import Iterator, Sequence

from generator.frozen import dataclass
from generator.site import urls
from generator.site.facets import (
    RANGES,
    FindData,
    Offered,
    Range,
    Trait,
    find_data,
    newest_first,
    traits,
)
from generator.site.guide import Guide
from generator.site.joining import Joining
from generator.site.listing import SetupLine, setup_lines
from generator.site.page import DataFile, Page
from generator.site.shell import Link, PageHead

SHOWN = 20
"""How many setups stand on one page of results; templates/scripts/find.js reads it there."""


@dataclass(frozen=True)
class Listed:
    """One setup of the list."""

    id: str
    line: SetupLine


@dataclass(frozen=True)
class Find:
    """All of the page; `chassis` leads to where all setups of each stand."""

    setups: int
    newest: tuple[Listed, ...]
    page_size: int
    chassis: tuple[tuple[Link, int], ...]
    choices: tuple[Offered, ...]
    ranges: tuple[Range, ...]
    facets_href: str
    rows_href: str
    texts_href: str
    compare_href: str
    glossary_href: str


@dataclass(frozen=True)
class Share:
    """What one chassis gives to Find: its link and number of setups, what each can be found by."""

    chassis: tuple[tuple[Link, int], ...]
    newest: tuple[Listed, ...]
    traits: tuple[Trait, ...]


def share(guide: Guide) -> Share:
    """Give the share of a guide of one chassis."""
    newest = guide.setups()[:SHOWN]
    lines = setup_lines(guide, newest)
    return Share(
        tuple(
            (Link(each.value.name, urls.chassis(each.id)), len(guide.setups_of(each.id)))
            for each in guide.chassis()
        ),
        tuple(Listed(filed.id, line) for filed, line in zip(newest, lines, strict=True)),
        traits(guide),
    )


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page."""
    yield from joined(guide, [share(part) for part in guide.parts()])


def joined(guide: Guide, shares: Sequence[Share]) -> Iterator[Page]:
    """Give the page from what each chassis gives to it."""
    yield find_page(shares, _data(guide, shares))


_made: list[tuple[Sequence[Share], str, FindData]] = []
"""The data of the shares that were last joined: the page and its files ask for the same."""


def _data(guide: Guide, shares: Sequence[Share]) -> FindData:
    for known, as_of, data in _made:
        if known is shares and as_of == guide.data_as_of:
            return data
    found = newest_first(trait for each in shares for trait in each.traits)
    _made[:] = [(shares, guide.data_as_of, find_data(found, guide.data_as_of))]
    return _made[0][2]


def find_page(shares: Sequence[Share], data: FindData) -> Page:
    """Give the page for what each chassis gives to it and for its files."""
    newest = sorted(
        (listed for each in shares for listed in each.newest),
        key=lambda listed: (-listed.line.day.toordinal(), listed.id),
    )
    chassis = sorted(
        (each for share in shares for each in share.chassis),
        key=lambda each: (each[0].label, each[0].href),
    )
    view = Find(
        setups=sum(len(each.traits) for each in shares),
        newest=tuple(newest[:SHOWN]),
        page_size=SHOWN,
        chassis=tuple(chassis),
        choices=data.offered,
        ranges=RANGES,
        facets_href=data.facets.path,
        rows_href=data.rows.path,
        texts_href=data.texts.path,
        compare_href=urls.COMPARE,
        glossary_href=urls.GLOSSARY,
    )
    head = PageHead(
        "Find a setup",
        "Every setup of the guide: wheels, tyres, spacers and what was seen.",
        (Link("Home", urls.HOME),),
    )
    return Page(urls.FIND, "find", head, view)


def files(guide: Guide, every_page: tuple[Page, ...]) -> Iterator[DataFile]:
    """Give what the page's script loads."""
    yield from joined_files(Joining(guide, {"find": [share(part) for part in guide.parts()]}))


def joined_files(joining: Joining) -> Iterator[DataFile]:
    """Give what the page's script loads, from what each chassis gives to it."""
    data = _data(joining.guide, joining.shares["find"])
    yield data.facets
    yield data.rows
    yield data.texts
