"""Find: the newest setups as a plain list; with a script, all of them by words and numbers."""

from collections.abc import Iterator
from dataclasses import dataclass

from generator.site import urls
from generator.site.facets import RANGES, FindData, Offered, Range, Trait, find_data, traits
from generator.site.guide import Guide
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


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page."""
    found = traits(guide)
    yield find_page(guide, found, find_data(found, guide.data_as_of))


def find_page(guide: Guide, found: tuple[Trait, ...], data: FindData) -> Page:
    """Give the page for a list of setups and its files."""
    newest = guide.setups()[:SHOWN]
    view = Find(
        setups=len(found),
        newest=tuple(
            Listed(filed.id, line)
            for filed, line in zip(newest, setup_lines(guide, newest), strict=True)
        ),
        page_size=SHOWN,
        chassis=tuple(
            (Link(each.value.name, urls.chassis(each.id)), len(guide.setups_of(each.id)))
            for each in guide.chassis()
        ),
        choices=data.offered,
        ranges=RANGES,
        facets_href=data.facets.path,
        rows_href=data.rows.path,
        texts_href=data.texts.path,
        compare_href=urls.COMPARE,
    )
    head = PageHead(
        "Find a setup",
        "Every setup of the guide: wheels, tyres, spacers and what was seen.",
        (Link("Home", urls.HOME),),
    )
    return Page(urls.FIND, "find", head, view)


def files(guide: Guide, every_page: tuple[Page, ...]) -> Iterator[DataFile]:
    """Give what the page's script loads."""
    data = find_data(traits(guide), guide.data_as_of)
    yield data.facets
    yield data.rows
    yield data.texts
