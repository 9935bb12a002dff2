"""Checks the links of finished pages: each leads to a page, a file or a heading that exists."""

import re
from collections.abc import Callable, Container, Iterable, Mapping
from posixpath import dirname, join, normpath

from generator.frozen import dataclass

_HREF = re.compile(r"\s(?:href|src)=\"([^\"]*)\"")
_SOURCES = re.compile(r"\ssrcset=\"([^\"]*)\"")
_ID = re.compile(r"\sid=\"([^\"]*)\"")
_OUTSIDE = ("https:", "mailto:", "data:")


@dataclass(frozen=True)
class DeadLink:
    """A link that leads nowhere: the page it is on and the address as written."""

    page: str
    address: str
    reason: str


@dataclass(frozen=True)
class PageLinks:
    """What a finished page links to, as written, and the parts of it that can be linked to."""

    addresses: tuple[str, ...]
    ids: frozenset[str]


def page_links(text: str) -> PageLinks:
    """Read the links and the parts of a finished page; an address stands once."""
    listed = ",".join(_SOURCES.findall(text)).split(",")
    sources = (each.split()[0] for each in listed if each.strip())
    addresses = dict.fromkeys((*_HREF.findall(text), *sources))
    return PageLinks(tuple(addresses), frozenset(_ID.findall(text)))


def dead_links(pages: Mapping[str, str], files: Iterable[str]) -> tuple[DeadLink, ...]:
    """Find links that lead nowhere. `pages` gives the text of each page by path.

    Resources from another host are dead links too: the guide loads nothing from elsewhere.
    """
    read = {path: page_links(text) for path, text in pages.items()}
    return dead_among(
        read, set(read) | set(files), lambda path: read[path].ids if path in read else ()
    )


def dead_among(
    pages: Mapping[str, PageLinks], known: Container[str], parts: Callable[[str], Container[str]]
) -> tuple[DeadLink, ...]:
    """Find links of pages that lead nowhere; `parts` gives the parts of a page that is known."""
    found = []
    for path, links in sorted(pages.items()):
        for address in links.addresses:
            reason = _reason(path, _unescaped(address), known, parts)
            if reason:
                found.append(DeadLink(path, address, reason))
    return tuple(found)


def unsettled(pages: Mapping[str, PageLinks], files: Iterable[str]) -> Mapping[str, PageLinks]:
    """Give the links of some pages that none of these pages and files answers.

    Of several that ask for one thing, one is given; no part of a page is given.
    """
    known = {*pages, *files}
    asked: set[tuple[str, str]] = set()
    left: dict[str, PageLinks] = {}
    for path, links in sorted(pages.items()):
        waiting = []
        for address in links.addresses:
            plain = _unescaped(address)
            target = _target(path, plain)
            if plain.startswith(_OUTSIDE) or target in asked:
                continue
            if _reason(
                path, plain, known, lambda there: pages[there].ids if there in pages else ()
            ):
                waiting.append(address)
                asked.add(target)
        if waiting:
            left[path] = PageLinks(tuple(waiting), frozenset())
    return left


def _unescaped(address: str) -> str:
    return address.replace("&amp;", "&").replace("&#39;", "'")


def _target(path: str, address: str) -> tuple[str, str]:
    """Give the path and the part that an address on a page leads to."""
    target, _, fragment = address.partition("#")
    target = target.partition("?")[0]
    return (normpath(join(dirname(path), target)) if target else path), fragment


def _reason(
    path: str, address: str, known: Container[str], parts: Callable[[str], Container[str]]
) -> str:
    if address.startswith(_OUTSIDE):
        return ""
    if address.startswith(("/", "//", "http:", "javascript:")):
        return "it does not stay inside the guide"
    there, fragment = _target(path, address)
    if there not in known:
        return "there is no such page or file"
    if fragment and fragment not in parts(there):
        return f"`{there}` has no part `{fragment}`"
    return ""
