"""Old addresses: for each a small page that leads on to the one that took its place."""

from collections.abc import Iterator

from generator.frozen import dataclass
from generator.site import urls
from generator.site.guide import Guide
from generator.site.page import Page
from generator.site.shell import Link, PageHead


@dataclass(frozen=True)
class Moved:
    """The page to read instead."""

    there: Link


def pages(guide: Guide) -> Iterator[Page]:
    """Give a page for each old address of the club."""
    for move in guide.club.moved:
        path = urls.record(move.new)
        link = Link(title_of(guide, move.new), path)
        head = PageHead("This page has moved", f"It is now: {link.label}.")
        yield Page(urls.record(move.old), "moved", head, Moved(link), moved_to=path)


def title_of(guide: Guide, way: str) -> str:
    """Give the title of the page of a file; its way where the file could not be used."""
    folder, _, name = way.partition("/")
    library = guide.library
    if folder == "setups" and name in library.setups:
        return library.setups[name].value.title
    if folder == "chassis" and name in library.chassis:
        return library.chassis[name].value.name
    if folder == "articles" and name in library.articles:
        return library.articles[name].head.title
    return way
