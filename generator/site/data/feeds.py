"""Atom feeds after RFC 4287, and the list of pages for search engines.

An entry's id is the address its page had first, so that it outlives a move. Its day is the last
one that the record itself tells of; no clock is read.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from generator import RELEASED, __version__
from generator.frozen import dataclass
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.site import urls
from generator.site.guide import Guide
from generator.site.lifecycle import COUNTS, last_day, replaced_by, standing
from generator.site.page import DataFile

ATOM = "http://www.w3.org/2005/Atom"
SITEMAP = "http://www.sitemaps.org/schemas/sitemap/0.9"
MOST_ENTRIES = 50

# Characters that no XML 1.0 document may have (section 2.2 of the recommendation).
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def feeds(guide: Guide) -> Iterator[DataFile]:
    """Give the feed of all setups, and one for each chassis."""
    everything = tuple(guide.library.setups.values())
    yield DataFile(
        urls.FEED, _feed(guide, _Feed(urls.FEED, guide.club.title, urls.HOME, everything))
    )
    for name, chassis in sorted(guide.library.chassis.items()):
        title = f"{guide.club.title}: {chassis.value.name}"
        path, page = urls.feed(name), urls.chassis(name)
        yield DataFile(path, _feed(guide, _Feed(path, title, page, guide.library.of_chassis(name))))


@dataclass(frozen=True)
class _Feed:
    path: str
    title: str
    page: str
    setups: tuple[Filed[Setup], ...]


def _feed(guide: Guide, feed: _Feed) -> str:
    replaced = replaced_by(guide.library)
    days = {setup.id: last_day(setup, guide.library, replaced) for setup in feed.setups}
    newest = sorted(sorted(feed.setups, key=_id), key=lambda each: days[each.id], reverse=True)
    root = Element("feed", {"xmlns": ATOM})
    _text(root, "id", _at(guide, feed.path))
    _text(root, "title", feed.title)
    if guide.club.invented:
        _text(root, "subtitle", "Demo: cars, people and numbers are invented. Fit nothing by them.")
    # A feed must have a date; one without entries has that of the version that wrote it.
    _text(root, "updated", _moment(max(days.values(), default=date(*RELEASED))))
    SubElement(root, "link", rel="self", type="application/atom+xml", href=_at(guide, feed.path))
    SubElement(root, "link", rel="alternate", type="text/html", href=_at(guide, feed.page))
    _text(SubElement(root, "author"), "name", guide.club.name)
    generator = SubElement(root, "generator", version=__version__)
    generator.text = "Gapbook"
    first = {move.new: move.old for move in reversed(guide.club.moved)}
    for setup in newest[:MOST_ENTRIES]:
        _entry(root, guide, setup, _Told(days[setup.id], standing(setup, replaced), first))
    return _document(root)


@dataclass(frozen=True)
class _Told:
    """What an entry says beside its record; `first` gives the first address of one that moved."""

    day: date
    word: str
    first: Mapping[str, str]


def _id(setup: Filed[Setup]) -> str:
    return setup.id


def _entry(root: Element, guide: Guide, filed: Filed[Setup], told: _Told) -> None:
    setup = filed.value
    chassis = guide.library.chassis.get(setup.chassis)
    name = chassis.value.name if chassis else setup.chassis
    entry = SubElement(root, "entry")
    way = f"setups/{filed.id}"
    _text(entry, "id", _at(guide, urls.record(told.first.get(way, way))))
    suffix = "" if told.word == COUNTS else f" ({told.word})"
    _text(entry, "title", f"{name}: {setup.title}{suffix}")
    _text(entry, "updated", _moment(told.day))
    _text(entry, "published", _moment(setup.date))
    SubElement(
        entry, "link", rel="alternate", type="text/html", href=_at(guide, urls.setup(filed.id))
    )
    _text(SubElement(entry, "author"), "name", setup.member)
    SubElement(entry, "category", term=setup.chassis, label=_clean(name))
    _text(entry, "summary", _summary(setup, told.word))


def _summary(setup: Setup, word: str) -> str:
    ends = [
        f"{label} {end.wheel.size} with {end.tyre.size.designation}"
        for label, end in (("front", setup.front), ("rear", setup.rear))
    ]
    if setup.withdrawn is not None:
        return f"Withdrawn: {setup.withdrawn.reason}"
    return f"{'; '.join(ends)}. {len(setup.gaps)} gaps reported. Standing: {word}."


def sitemap(guide: Guide, pages: Iterable[str]) -> DataFile:
    """List pages that stand for themselves by address; setups with the day of the last change."""
    replaced = replaced_by(guide.library)
    days = {
        urls.setup(each.id): last_day(each, guide.library, replaced)
        for each in guide.library.setups.values()
    }
    root = Element("urlset", {"xmlns": SITEMAP})
    for path in sorted(pages):
        url = SubElement(root, "url")
        _text(url, "loc", _at(guide, path))
        if path in days:
            _text(url, "lastmod", days[path].isoformat())
    return DataFile(urls.SITEMAP, _document(root))


def _at(guide: Guide, path: str) -> str:
    return f"{guide.club.address}/{path}"


def _moment(day: date) -> str:
    """Write a day as RFC 3339 wants a moment: its first second, UTC."""
    return f"{day.isoformat()}T00:00:00Z"


def _text(parent: Element, name: str, text: str) -> None:
    SubElement(parent, name).text = _clean(text)


def _clean(text: str) -> str:
    return _NOT_XML.sub("\ufffd", text)


def _document(root: Element) -> str:
    indent(root)
    return f'<?xml version="1.0" encoding="utf-8"?>\n{tostring(root, encoding="unicode")}\n'
