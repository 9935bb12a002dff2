"""Whole pages: valid for a strict parser, whole links, small, and honest about what is unknown."""

import gzip
import itertools
import re
from collections.abc import Mapping
from functools import cache
from html.parser import HTMLParser

import html5lib
import pytest

from generator.computing import guide_of
from generator.reading.folder import Found
from generator.reading.trouble import GuideError
from generator.records.checking import check
from generator.records.collect import collect
from generator.records.examples import DAY_OF_EXAMPLES, example_files
from generator.rendering.render import render
from generator.site.guide import Guide
from generator.site.plan import plan, plan_files

OVERLAY = """
setup:
  front:
    spacer: {thickness: 5 mm, kind: slip-on}
    ride_height: {change: -20 mm}
  rubs:
    - {site: fender-lip, side: left, grade: 1, when: backing up a kerb, cured: yes, remedy: rolled}
  confirmations:
    - {member: Fernhollow, date: 2025-07-02, how: fitted to another car, note: "<i>same</i>"}
  corrections:
    - {date: 2025-08-20, what: "backspacing, was read as 144 mm"}
  disputes:
    - {date: 2025-08-21, member: Fernhollow, site: fender-lip, claim: "touches <b>at bump</b>"}
  notes: "**Bold** <script>alert(1)</script> {{ 7 * 7 }}"
other:
  car: copperbill-coupe
  member: Copperbill
  date: 2025-07-20
  supersedes: copperbill-seven-inch
  title: "A wheel nobody measured & <more>"
  front: {wheel: {offset: left out, backspacing: left out, overall_width: left out}}
"""
ARTICLE = b"""---
title: Measuring
summary: How to measure
order: 10
---
## First

> **Caution: springs.** They can kill.

| a | b |
|---|--:|
| 1 | 2 |

```drawing signs
```
"""
OLDER = "setups/ostvane-meridel/copperbill-seven-inch.html"
NEWER = "setups/ostvane-meridel/fernhollow-seven-inch.html"
CHASSIS = "chassis/ostvane-meridel.html"


@cache
def guide() -> Guide:
    files = (*example_files(OVERLAY), Found("articles/measuring.md", ARTICLE))
    collected = collect(files)
    faults = (*collected.faults, *check(collected.library, today=DAY_OF_EXAMPLES))
    return guide_of(collected, tuple(sorted(faults, key=lambda fault: fault.order)))


@cache
def texts() -> Mapping[str, str]:
    pages = plan(guide())
    made = render(guide(), pages, plan_files(guide(), pages))
    return {
        str(artifact.path): artifact.content.decode()
        for artifact in made
        if artifact.path.suffix == ".html"
    }


def names() -> list[str]:
    return [
        "index.html", "find.html", "glossary.html", "faults.html", "rules.html", "method.html",
        "record-reference.html", "articles/index.html", "articles/measuring.html", CHASSIS, OLDER,
        NEWER, "tyre-book.html", "maintainers.html",
    ]  # fmt: skip


class Tags(HTMLParser):
    """Gathers the tags of a page with their attributes."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))


@pytest.mark.parametrize("name", names())
def test_every_kind_of_page_exists_and_is_valid_html(name: str) -> None:
    html5lib.HTMLParser(strict=True).parse(texts()[name])


@pytest.mark.parametrize("name", names())
def test_a_page_has_no_style_and_no_script_written_into_it(name: str) -> None:
    for tag, attributes in Tags(texts()[name]).found:
        assert tag != "style"
        assert "style" not in attributes
        assert not [each for each in attributes if each.startswith("on")]
        if tag == "script":
            assert attributes.get("src")


@pytest.mark.parametrize("name", names())
def test_ids_on_a_page_are_its_own(name: str) -> None:
    ids = [attributes["id"] for _, attributes in Tags(texts()[name]).found if "id" in attributes]
    assert len(set(ids)) == len(ids), sorted(each for each in ids if ids.count(each) > 1)


@pytest.mark.parametrize("name", names())
def test_headings_go_down_one_level_at_a_time(name: str) -> None:
    levels = [int(tag[1]) for tag, _ in Tags(texts()[name]).found if re.fullmatch("h[1-6]", tag)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in itertools.pairwise(levels))


@pytest.mark.parametrize("name", names())
def test_a_page_stays_within_its_budget(name: str) -> None:
    assert len(gzip.compress(texts()[name].encode())) <= 25 * 1024


@pytest.mark.parametrize("name", names())
def test_an_invented_club_says_so_on_every_page(name: str) -> None:
    assert 'class="demo-banner"' in texts()[name]


def test_a_dead_link_stops_the_guide() -> None:
    pages = tuple(page for page in plan(guide()) if page.path != "glossary.html")
    files = plan_files(guide(), plan(guide()))
    with pytest.raises(GuideError, match=r"lead nowhere.*glossary\.html"):
        render(guide(), pages, files)


def test_a_withdrawn_record_keeps_its_numbers_and_recommends_nothing() -> None:
    overlay = "setup: {withdrawn: {date: 2025-09-01, reason: other hubs}}"
    collected = collect(example_files(overlay))
    withdrawn = guide_of(collected, ())
    pages = [page for page in plan(withdrawn) if "/copperbill-seven-inch" in page.path]
    made = render(withdrawn, plan(withdrawn), plan_files(withdrawn, plan(withdrawn)))
    found = {str(each.path): each.content.decode() for each in made}
    shown = [found[page.path] for page in pages]
    assert len(shown) >= 2  # page and sheet
    for page in shown:
        assert 'class="page' in page
        assert "lapsed" in page
        assert "other hubs" in page
        assert 'class="flag tone-good"' not in page
        assert not re.search("expected to clear|reported clear|reported is clear|is checked", page)
        assert "8 mm" in re.sub("<[^>]*>|\\s", " ", page)
    styles = next(text for path, text in found.items() if path.endswith(".css"))
    # its drawings and checks say good in the colour of soft words
    assert re.search(r"\.lapsed\{--ink:var\(--ink-soft\);--good:var\(--ink\)", styles)


def test_a_replaced_record_is_muted_and_says_by_which() -> None:
    for path in (OLDER, OLDER.replace(".html", ".sheet.html")):
        assert "lapsed" in texts()[path]
        assert not re.search('class="flag tone-(good|care|stop)"', texts()[path])
        assert "Replaced by the record of 20 July 2025" in texts()[path].replace("\xa0", " ")
    assert "lapsed" not in texts()[NEWER]
    listed = texts()[CHASSIS].replace("\xa0", " ")
    assert "replaced by the record of 20 July 2025" in listed
    # Its wheels have a known place and no ring; of the newer record only the rear wheel's is known.
    assert listed.count('r="6.5"') == 1


def test_members_words_are_shown_as_words() -> None:
    page = texts()[OLDER]
    assert "<script>alert" not in page
    assert "&lt;script&gt;" in page
    assert "{{ 7 * 7 }}" in page
    assert "touches &lt;b&gt;at bump&lt;/b&gt;" in page
    assert "&lt;i&gt;same&lt;/i&gt;" in page
    assert "<strong>Bold</strong>" in page


def test_what_is_not_known_stands_there_in_words() -> None:
    page = texts()[NEWER]
    assert page.count("not known") > 20
    assert "nan" not in re.sub(r"[a-z]nan|nan[a-z]", "", page.lower())
    assert ">None<" not in page


def test_a_wheel_of_unknown_place_has_no_number_for_it() -> None:
    page = texts()[NEWER]
    front = page[page.index('id="front"') : page.index('id="rear"')]
    assert re.search(r"effective offset</dt>.*?not known", front, re.DOTALL)


def test_old_and_new_record_lead_to_each_other() -> None:
    assert 'href="fernhollow-seven-inch.html"' in texts()[OLDER]
    assert "A newer record of the same car" in texts()[OLDER]
    assert 'href="copperbill-seven-inch.html"' in texts()[NEWER]


def test_a_dispute_stands_above_the_verdict() -> None:
    page = texts()[OLDER]
    assert page.index("<strong>Disputed.</strong>") < page.index('class="verdict ')


def test_every_number_is_shown_as_typed_too() -> None:
    page = texts()[OLDER]
    for typed in ("22 mm", "123.5 mm", "95 N·m", "2.0 bar", "5 mm", "9 mm"):
        number, unit = typed.split()
        in_pair = rf">\+?{re.escape(number)}\s{re.escape(unit)}</span>.{{0,150}}>typed in {unit}<"
        assert f"typed <bdi>{typed}</bdi>" in page or re.search(in_pair, page), typed


def test_both_units_stand_beside_each_other() -> None:
    # 123.5 mm / 25.4 = 4.862 in
    assert re.search(r"123\.5.*?4\.86", texts()[OLDER], re.DOTALL)


@pytest.mark.parametrize("kind", ["fasteners", "spacers", "contact", "loads", "cutting", "law"])
def test_a_setup_page_carries_its_cautions(kind: str) -> None:
    assert f"Caution, {kind}" in texts()[OLDER]


def test_the_chassis_page_has_its_setups_sites_limits_and_charts() -> None:
    page = texts()[CHASSIS]
    assert page.count('class="dw dw-chart"') == 1
    for part in ("setups", "window", "sites", "limits", "hub", "steering", "changes"):
        assert f'id="{part}"' in page
    assert "strut tube" in page
    assert "a hose that touches a tyre will fail" in page


def test_the_chart_and_the_list_have_the_same_numbers() -> None:
    page = texts()[CHASSIS]
    assert page.count("<tspan") > 0
    table = re.findall(r'data-label="Number"[^>]*>(\d+)<', page)
    assert set(table) == {"1", "2"}


def test_a_caution_of_an_article_looks_like_one() -> None:
    page = texts()["articles/measuring.html"]
    assert '<blockquote class="caution-said">' in page
    assert 'id="signs"' in page


def test_every_code_is_in_the_gallery_with_a_message_for_each_rule() -> None:
    from generator.records.checking import rules
    from generator.records.codes import all_codes

    gallery = texts()["faults.html"] + texts()["rules.html"]
    for code in all_codes():
        assert f'id="{code.code.lower()}"' in gallery, code.code
    assert texts()["rules.html"].count(">The message:<") == len(rules())


def test_every_field_is_in_the_reference() -> None:
    from generator.records.setup import Setup

    page = texts()["record-reference.html"]
    for name in Setup.model_fields:
        assert f"<code>{name}</code>" in page


def test_every_source_is_on_the_method_page_with_how_it_is_known() -> None:
    from generator.published.tables import sources

    page = texts()["method.html"]
    for source in sources():
        assert f">{source.key}<" in page
    assert "from memory" in page
    assert "common practice" in page
