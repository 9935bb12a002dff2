"""Checks the links of finished pages: each leads to a page, a file or a heading that exists."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from posixpath import dirname, join, normpath

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


def dead_links(pages: Mapping[str, str], files: Iterable[str]) -> tuple[DeadLink, ...]:
    """Find links that lead nowhere. `pages` gives the text of each page by path.

    Resources from another host are dead links too: the guide loads nothing from elsewhere.
    """
    ids = {path: frozenset(_ID.findall(text)) for path, text in pages.items()}
    known = set(pages) | set(files)
    found = []
    for path, text in sorted(pages.items()):
        listed = ",".join(_SOURCES.findall(text)).split(",")
        sources = [each.split()[0] for each in listed if each.strip()]
        for address in (*_HREF.findall(text), *sources):
            reason = _reason(path, _unescaped(address), known, ids)
            if reason:
                found.append(DeadLink(path, address, reason))
    return tuple(found)


def _unescaped(address: str) -> str:
    return address.replace("&amp;", "&").replace("&#39;", "'")


def _reason(path: str, address: str, known: set[str], ids: Mapping[str, frozenset[str]]) -> str:
    if address.startswith(_OUTSIDE):
        return ""
    if address.startswith(("/", "//", "http:", "javascript:")):
        return "it does not stay inside the guide"
    target, _, fragment = address.partition("#")
    target = target.partition("?")[0]
    there = normpath(join(dirname(path), target)) if target else path
    if there not in known:
        return "there is no such page or file"
    if fragment and fragment not in ids.get(there, frozenset()):
        return f"`{there}` has no part `{fragment}`"
    return ""
