"""Atom feeds after RFC 4287, and the list of pages for search engines.

An entry's id is the address its page had first, so that it outlives a move. Its day is the last
one that the record itself tells of; no clock is read.
"""

import re
from collections.abc import Iterable, Mapping
from datetime import date
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from generator import RELEASED, __version__
from generator.frozen import dataclass
from generator.records.chassis import Chassis
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


@dataclass(frozen=True)
class Entry:
    """What a feed says of a record: its last day, the day of measuring, and its words."""

    setup: str
    day: date
    published: date
    title: str
    member: str
    chassis: str
    chassis_name: str
    summary: str


def newest_entries(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """Give the entries that a feed has room for: those of the latest days, then by id."""
    ordered = sorted(entries, key=lambda each: (-each.day.toordinal(), each.setup))
    return tuple(ordered[:MOST_ENTRIES])


def entries_of(guide: Guide) -> tuple[Entry, ...]:
    """Give the entry of each record of a guide, or of a part of one."""
    replaced = replaced_by(guide.library)
    setups = guide.library.setups.values()
    return tuple(_told(guide, each, replaced) for each in setups)


def _told(guide: Guide, filed: Filed[Setup], replaced: Mapping[str, Filed[Setup]]) -> Entry:
    setup, word = filed.value, standing(filed, replaced)
    chassis = guide.library.chassis.get(setup.chassis)
    name = chassis.value.name if chassis else setup.chassis
    suffix = "" if word == COUNTS else f" ({word})"
    return Entry(
        filed.id,
        last_day(filed, guide.library, replaced),
        setup.date,
        f"{name}: {setup.title}{suffix}",
        setup.member,
        setup.chassis,
        name,
        _summary(setup, word),
    )


def whole_feed(guide: Guide, entries: Iterable[Entry]) -> DataFile:
    """Give the feed of all setups."""
    return _feed(guide, _Feed(urls.FEED, guide.club.title, urls.HOME), entries)


def chassis_feed(guide: Guide, chassis: Filed[Chassis], entries: Iterable[Entry]) -> DataFile:
    """Give the feed of one chassis."""
    title = f"{guide.club.title}: {chassis.value.name}"
    about = _Feed(urls.feed(chassis.id), title, urls.chassis(chassis.id))
    return _feed(guide, about, entries)


@dataclass(frozen=True)
class _Feed:
    path: str
    title: str
    page: str


def _feed(guide: Guide, feed: _Feed, entries: Iterable[Entry]) -> DataFile:
    newest = newest_entries(entries)
    root = Element("feed", {"xmlns": ATOM})
    _text(root, "id", _at(guide, feed.path))
    _text(root, "title", feed.title)
    if guide.club.invented:
        _text(root, "subtitle", "Demo: cars, people and numbers are invented. Fit nothing by them.")
    # A feed must have a date; one without entries has that of the version that wrote it.
    _text(root, "updated", _moment(newest[0].day if newest else date(*RELEASED)))
    SubElement(root, "link", rel="self", type="application/atom+xml", href=_at(guide, feed.path))
    SubElement(root, "link", rel="alternate", type="text/html", href=_at(guide, feed.page))
    _text(SubElement(root, "author"), "name", guide.club.name)
    generator = SubElement(root, "generator", version=__version__)
    generator.text = "Gapbook"
    first = {move.new: move.old for move in reversed(guide.club.moved)}
    for entry in newest:
        _entry(root, guide, entry, first)
    return DataFile(feed.path, _document(root))


def _entry(root: Element, guide: Guide, told: Entry, first: Mapping[str, str]) -> None:
    """Write an entry; `first` gives the first address of a record that moved."""
    entry = SubElement(root, "entry")
    way = f"setups/{told.setup}"
    _text(entry, "id", _at(guide, urls.record(first.get(way, way))))
    _text(entry, "title", told.title)
    _text(entry, "updated", _moment(told.day))
    _text(entry, "published", _moment(told.published))
    SubElement(
        entry, "link", rel="alternate", type="text/html", href=_at(guide, urls.setup(told.setup))
    )
    _text(SubElement(entry, "author"), "name", told.member)
    SubElement(entry, "category", term=told.chassis, label=_clean(told.chassis_name))
    _text(entry, "summary", told.summary)


def _summary(setup: Setup, word: str) -> str:
    ends = [
        f"{label} {end.wheel.size} with {end.tyre.size.designation}"
        for label, end in (("front", setup.front), ("rear", setup.rear))
    ]
    if setup.withdrawn is not None:
        return f"Withdrawn: {setup.withdrawn.reason}"
    return f"{'; '.join(ends)}. {len(setup.gaps)} gaps reported. Standing: {word}."


def sitemap(guide: Guide, pages: Iterable[str], days: Mapping[str, date]) -> DataFile:
    """List pages that stand for themselves by address.

    `days` has the last day of each setup, by its id.
    """
    last = {urls.setup(name): day for name, day in days.items()}
    root = Element("urlset", {"xmlns": SITEMAP})
    for path in sorted(pages):
        url = SubElement(root, "url")
        _text(url, "loc", _at(guide, path))
        if path in last:
            _text(url, "lastmod", last[path].isoformat())
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
