"""Atom after RFC 4287 and the sitemap protocol 0.9, read back with Python's XML parser."""

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from xml.etree import ElementTree

import pytest

from generator import RELEASED
from generator.site.data.feeds import ATOM, SITEMAP, entries_of, whole_feed
from generator.site.guide import Guide
from generator.site.plan import plan, plan_files
from generator.site.views import data

A = f"{{{ATOM}}}"
S = f"{{{SITEMAP}}}"
# RFC 3339, section 5.6, as RFC 4287, 3.3 narrows it: capital T, and Z or an offset.
MOMENT = re.compile(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d+)?(Z|[+-]\d{2}:\d{2})\Z")


def parsed(guide: Guide) -> dict[str, ElementTree.Element]:
    found = (whole_feed(guide, entries_of(guide)), *data.part_files(guide))
    return {file.path: ElementTree.fromstring(file.text) for file in found}


def text(parent: ElementTree.Element, name: str) -> str:
    (found,) = parent.findall(f"{A}{name}")
    return found.text or ""


def test_there_is_a_feed_of_all_and_one_of_each_chassis(guide: Guide) -> None:
    assert set(parsed(guide)) == {"feed.xml", "feeds/ostvane-meridel.xml"}


def test_a_feed_has_what_rfc_4287_asks_for(guide: Guide) -> None:
    for path, feed in parsed(guide).items():
        assert feed.tag == f"{A}feed"
        # 4.1.1: exactly one id, title, updated; an author here or in every entry; a link to self
        assert text(feed, "id") == f"https://guide.example.org/{path}"
        assert text(feed, "title")
        assert MOMENT.match(text(feed, "updated"))
        assert feed.findall(f"{A}author/{A}name")
        links = {link.get("rel"): link.get("href") for link in feed.findall(f"{A}link")}
        assert links["self"] == text(feed, "id")
        assert set(links) == {"self", "alternate"}


def test_an_entry_has_what_rfc_4287_asks_for(guide: Guide) -> None:
    entries = parsed(guide)["feed.xml"].findall(f"{A}entry")
    assert len(entries) == 2
    ids = [text(entry, "id") for entry in entries]
    assert len(set(ids)) == 2
    for entry in entries:
        # 4.1.2: exactly one id, title, updated; with no content, a link to the page
        assert text(entry, "id").startswith("https://guide.example.org/setups/")
        assert text(entry, "title")
        assert entry.findall(f"{A}author/{A}name")
        for name in ("updated", "published"):
            assert MOMENT.match(text(entry, name))
            datetime.fromisoformat(text(entry, name))
        (link,) = entry.findall(f"{A}link")
        assert (link.get("rel"), link.get("type")) == ("alternate", "text/html")


def test_an_entry_is_dated_by_what_happened_last(guide: Guide) -> None:
    feed = parsed(guide)["feed.xml"]
    newest, older = feed.findall(f"{A}entry")
    # the dispute of 2025-09-01 is the last thing that happened to the newer record
    assert text(newest, "updated") == "2025-09-01T00:00:00Z"
    assert text(feed, "updated") == "2025-09-01T00:00:00Z"
    # the older one, of 2025-05-01, was replaced on the day of the newer
    newer = guide.library.setups["ostvane-meridel/copperbill-seven-inch"].value
    assert text(older, "published") == "2025-05-01T00:00:00Z"
    assert text(older, "updated") == f"{newer.date.isoformat()}T00:00:00Z"


def test_an_entry_keeps_the_id_its_page_had_first(guide: Guide) -> None:
    newest = parsed(guide)["feed.xml"].findall(f"{A}entry")[0]
    first = "https://guide.example.org/setups/ostvane-meridel/first-try.html"
    assert text(newest, "id") == first
    (link,) = newest.findall(f"{A}link")
    assert (link.get("href") or "").endswith("/copperbill-seven-inch.html")


def test_a_record_that_is_replaced_or_disputed_says_so(guide: Guide) -> None:
    titles = [text(each, "title") for each in parsed(guide)["feed.xml"].findall(f"{A}entry")]
    assert [title.rsplit(" ", 1)[1] for title in titles] == ["(disputed)", "(replaced)"]


@pytest.mark.parametrize("title", ["<script>alert(1)</script>", "a & b ]]> <!--", "{{ 7*7 }}", '"'])
def test_hostile_text_is_text(guide_from: Callable[[str], Guide], title: str) -> None:
    quoted = title.replace("'", "''")
    guide = guide_from(f"setup: {{title: '{quoted}'}}")
    (entry,) = parsed(guide)["feed.xml"].findall(f"{A}entry")
    assert text(entry, "title").endswith(f": {title}")
    assert len(entry.findall(f"{A}title")) == 1


def test_a_character_that_no_xml_has_is_replaced(guide: Guide) -> None:
    club = guide.club.model_copy(update={"title": "a\x00b\ufffec\ud800"})
    feed = parsed(replace(guide, club=club))["feed.xml"]
    assert text(feed, "title") == "a\ufffdb\ufffdc\ufffd"


def test_a_feed_without_entries_has_the_date_of_the_version(guide: Guide) -> None:
    empty = replace(guide, library=replace(guide.library, setups={}))
    feed = parsed(empty)["feed.xml"]
    year, month, day = RELEASED
    assert text(feed, "updated") == f"{year:04d}-{month:02d}-{day:02d}T00:00:00Z"


def test_the_sitemap_lists_every_page_but_old_addresses(guide: Guide) -> None:
    pages = plan(guide)
    (file,) = (each for each in plan_files(guide, pages) if each.path == "sitemap.xml")
    root = ElementTree.fromstring(file.text)
    assert root.tag == f"{S}urlset"
    places = [url.findtext(f"{S}loc") for url in root]
    wanted = {f"https://guide.example.org/{page.path}" for page in pages if not page.moved_to}
    assert set(places) == wanted
    assert len(places) == len(wanted) < len(pages)
    days = [url.findtext(f"{S}lastmod") for url in root if url.find(f"{S}lastmod") is not None]
    assert sorted(filter(None, days))[-1] == "2025-09-01"
