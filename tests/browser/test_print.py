"""Paper: pages, words and boxes of the sheets, on A4 and Letter, in black.

Rules: [web reference, 9.3]. Chromium makes the PDF, pypdf reads it.
"""

import functools
import io
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from generator.site import urls
from generator.site.guide import Guide

sys.path.insert(0, str(Path(__file__).parent))
from conftest import settled

if TYPE_CHECKING:
    from playwright.sync_api import Page
    from pypdf import PageObject, PdfReader

Open = Callable[..., "Page"]
FORMATS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
MARGINS = 24.0
PX_PER_MM = 96.0 / 25.4
MOST = {"sheet": 3, "mock-up": 11, "trial": 13, "setup": 8}
BOX = 9.0
COLOURED = """() => {
  const grey = (text) => {
    const [r, g, b, a = 1] = (text.match(/[\\d.]+/g) || [0, 0, 0]).map(Number);
    return a === 0 || (Math.abs(r - g) < 3 && Math.abs(g - b) < 3);
  };
  const names = ["color", "backgroundColor", "fill", "stroke", "borderTopColor", "borderLeftColor"];
  return [...document.querySelectorAll("body *")].filter((each) => each.checkVisibility())
    .flatMap((each) => names.map((name) => [each.tagName + "." + each.getAttribute("class"), name,
      getComputedStyle(each)[name]]))
    .filter(([, , value]) => value.startsWith("rgb") && !grey(value))
    .map((each) => each.join(" "));
}"""
OVER = """(width) => [...document.querySelectorAll("main *")]
  .filter((each) => each.checkVisibility() && !each.closest("svg, .hidden"))
  .filter((each) => each.getBoundingClientRect().right > width + 1)
  .map((each) => each.outerHTML.slice(0, 120))"""


DRAWN = """() => [...document.querySelectorAll("main svg.dw text")]
  .filter((each) => each.checkVisibility() && each.getBoundingClientRect().width)
  .map((each) => parseFloat(getComputedStyle(each).fontSize) * each.getScreenCTM().a)"""
LENGTHS = """() => {
  const found = { both: [], alone: [] };
  const cells = ".gaps-written th, .finding, td[data-label=Where], td[data-label=Wanted]";
  for (const each of document.querySelectorAll(cells)) {
    if (!each.checkVisibility()) continue;
    for (const one of each.querySelectorAll(".pair")) {
      found.both.push(one.textContent);
      one.remove();
    }
    if (/\\d\\s*mm\\b/.test(each.textContent)) found.alone.push(each.textContent);
  }
  return found;
}"""
FAILING = "kessmoor-tindle/bramble-end-too-far-out"
SMALLEST = 7.0 * 96.0 / 72.0
"""Points that text in a printed drawing has at least, in px: what print is read at (our own)."""


def printed(page: "Page", paper: str) -> "PdfReader":
    from pypdf import PdfReader

    return PdfReader(io.BytesIO(page.pdf(format=paper)))


def words_of(paper: "PdfReader") -> str:
    return " ".join(" ".join(each.extract_text() for each in paper.pages).split())


def lay_out(page: "Page", paper: str) -> float:
    """Lay the page out as for paper and give the width between the margins in px."""
    width = (FORMATS[paper][0] - MARGINS) * PX_PER_MM
    page.set_viewport_size({"width": int(width), "height": 1000})
    page.emulate_media(media="print")
    return width


@pytest.fixture(scope="session")
def sheets(guide: Guide) -> dict[str, str]:
    name = max(guide.setups(), key=lambda each: len(each.value.gaps)).id
    chassis = guide.library.setups[name].value.chassis
    return {
        "setup": urls.setup(name),
        "sheet": urls.setup_sheet(name),
        "mock-up": urls.mock_up(chassis),
        "trial": urls.trial(chassis) + "?f.width=7",
    }


def shown(opened: Open, sheets: dict[str, str], kind: str) -> "Page":
    """Open a sheet; that of a trial is filled in by its script when it is printed."""
    page = opened(sheets[kind])
    if kind == "trial":
        settled(page)
        page.evaluate("dispatchEvent(new Event('beforeprint'))")
    return page


@pytest.mark.parametrize("paper", list(FORMATS))
@pytest.mark.parametrize("kind", list(MOST))
def test_the_count_of_pages_is_reasonable(
    opened: Open, sheets: dict[str, str], kind: str, paper: str
) -> None:
    made = printed(shown(opened, sheets, kind), paper)
    assert 2 <= len(made.pages) <= MOST[kind]
    wanted = [side / 25.4 * 72 for side in FORMATS[paper]]
    found = (float(made.pages[0].mediabox.width), float(made.pages[0].mediabox.height))
    assert found == pytest.approx(wanted, abs=1.5)


@pytest.mark.parametrize("paper", list(FORMATS))
def test_cautions_and_both_units_are_on_paper(
    opened: Open, sheets: dict[str, str], paper: str
) -> None:
    page = opened(sheets["sheet"] + "?units=metric")
    text = words_of(printed(page, paper))
    for wanted in (
        "Caution, fasteners",
        "Caution, loads",
        "Caution, law",
        " mm",
        " in",
        "Data as of",
    ):
        assert wanted in text


@pytest.mark.parametrize("kind", ["mock-up", "trial"])
def test_the_mock_up_sheet_has_cautions_before_the_work(
    opened: Open, sheets: dict[str, str], kind: str
) -> None:
    text = words_of(printed(shown(opened, sheets, kind), "A4"))
    text = text[text.index("Bench, car, road") :]
    at = [text.index(word) for word in ("1. Bench", "2. Car", "Caution, jacking",
          "Caution, springs", "Full droop, front", "Full bump", "3. Road", "Caution, fasteners",
          "after 50 km")]  # fmt: skip
    assert at == sorted(at)
    for word in ("left 1", "right 3", "date", "member or alias"):
        assert word in text


@pytest.mark.parametrize("kind", ["setup", "sheet", "mock-up", "trial"])
@pytest.mark.parametrize("paper", list(FORMATS))
def test_nothing_runs_off_the_paper(
    opened: Open, sheets: dict[str, str], kind: str, paper: str
) -> None:
    page = shown(opened, sheets, kind)
    assert page.evaluate(OVER, lay_out(page, paper)) == []


@pytest.mark.parametrize("kind", ["setup", "sheet", "mock-up", "trial"])
def test_paper_has_no_colour(opened: Open, sheets: dict[str, str], kind: str) -> None:
    page = shown(functools.partial(opened, theme="dark"), sheets, kind)
    lay_out(page, "A4")
    assert page.evaluate(COLOURED) == []


@pytest.mark.parametrize("kind", ["mock-up", "trial"])
@pytest.mark.parametrize("paper", list(FORMATS))
def test_a_box_to_write_in_is_large_enough(
    opened: Open, sheets: dict[str, str], kind: str, paper: str
) -> None:
    page = shown(opened, sheets, kind)
    lay_out(page, paper)
    boxes = page.evaluate(
        "() => [...document.querySelectorAll('.box:not(.no-box)')]"
        ".filter((each) => each.checkVisibility())"
        ".map((each) => each.getBoundingClientRect()).map((at) => [at.width, at.height])"
    )
    assert len(boxes) > 100
    assert min(min(box) for box in boxes) >= BOX * PX_PER_MM


def test_rows_stay_whole_and_heads_repeat(opened: Open, sheets: dict[str, str]) -> None:
    page = opened(sheets["setup"])
    lay_out(page, "A4")
    kept = page.evaluate(
        "() => [...document.querySelectorAll('main tr')]"
        ".every((row) => getComputedStyle(row).breakInside === 'avoid')"
    )
    heads = page.evaluate(
        "() => [...document.querySelectorAll('main thead')]"
        ".every((head) => getComputedStyle(head).display === 'table-header-group')"
    )
    assert kept
    assert heads


def lines_of(page: "PageObject") -> list[str]:
    """Give the lines of a page from its top to its margin below."""
    lines: dict[int, list[str]] = {}

    def see(text: str, cm: list[float], tm: list[float], *_: object) -> None:
        if text.strip():
            lines.setdefault(round(cm[3] * tm[5] + cm[5]), []).append(text.strip())

    page.extract_text(visitor_text=see)
    margin = MARGINS / 2.0 / 25.4 * 72.0
    return [" ".join(lines[at]) for at in sorted(lines, reverse=True) if at > margin]


@pytest.mark.parametrize("kind", ["sheet", "mock-up", "trial"])
@pytest.mark.parametrize("paper", list(FORMATS))
def test_no_page_ends_with_the_head_of_a_table(
    opened: Open, sheets: dict[str, str], kind: str, paper: str
) -> None:
    page = shown(opened, sheets, kind)
    # Boxes without words follow their caption on its page, and have nothing that could be read.
    worded = "main thead tr, main table:has(tbody td:not(.box)) caption, main h2, main h3"
    parts = page.locator(worded).all_inner_texts()
    heads = {" ".join(part.split()) for part in parts}
    assert len(heads) > 5
    ends = [lines_of(each)[-1] for each in printed(page, paper).pages]
    assert not heads & set(ends)


def test_folded_gaps_are_open_on_paper_and_references_where_the_reader_opened_them(
    opened: Open, sheets: dict[str, str]
) -> None:
    page = opened(sheets["setup"])
    text = words_of(printed(page, "A4"))
    assert "gaps reported clear" in text
    assert "How measured" in text
    assert "Rolling, front" not in text
    page.locator("summary", has_text="Positions, change and rolling, front").click()
    assert "Rolling, front" in words_of(printed(page, "A4"))


def test_what_a_member_needs_of_a_setup_is_on_its_paper(
    opened: Open, sheets: dict[str, str]
) -> None:
    text = words_of(printed(opened(sheets["setup"]), "Letter"))
    for wanted in (
        "seen from behind",
        "seen from above",
        "Computed",
        "Studs, nuts, seats and torque",
        "Caution, fasteners",
        "Caution, loads",
        "Caution, law",
    ):
        assert wanted in text


@pytest.mark.parametrize("kind", ["setup", "sheet", "mock-up"])
def test_each_printed_page_tells_what_it_is_of_which_day_and_its_number(
    opened: Open, sheets: dict[str, str], kind: str
) -> None:
    page = opened(sheets[kind])
    title = " ".join(page.title().split())
    made = printed(page, "A4").pages
    for at, each in enumerate(made, 1):
        words = " ".join(each.extract_text().split())
        assert f"{at} / {len(made)}" in words
        assert title in words
        assert "Data as of" in words


def test_a_head_that_sorts_is_repeated_on_paper(opened: Open, sheets: dict[str, str]) -> None:
    chassis = sheets["mock-up"].replace(".mock-up", "")
    made = printed(opened(chassis), "A4")
    pages = [" ".join(each.extract_text().split()) for each in made.pages]
    assert sum("Next car against the sheet" in each for each in pages) > 1


@pytest.mark.parametrize("paper", list(FORMATS))
@pytest.mark.parametrize("kind", ["setup", "sheet", "chassis", "tyre book", "article"])
def test_words_in_a_printed_drawing_can_be_read(
    opened: Open, sheets: dict[str, str], kind: str, paper: str
) -> None:
    others = {
        "chassis": sheets["mock-up"].replace(".mock-up", ""),
        "tyre book": "tyre-book.html",
        "article": "articles/spacers-studs-nuts-seats.html",
    }
    page = opened({**sheets, **others}[kind])
    lay_out(page, paper)
    sizes = page.evaluate(DRAWN)
    assert len(sizes) > 5
    assert min(sizes) >= SMALLEST


@pytest.mark.parametrize("kind", ["setup", "sheet", "mock-up", "trial"])
def test_positions_and_outcomes_on_paper_are_in_both_units(
    opened: Open, sheets: dict[str, str], kind: str
) -> None:
    # Of a setup, one with checks that fail: their lengths stand open on paper.
    page = shown(opened, {**sheets, "setup": urls.setup(FAILING)}, kind)
    lay_out(page, "A4")
    told = page.evaluate(LENGTHS)
    assert len(told["both"]) >= 3
    assert not told["alone"]


def test_what_fails_and_what_replaced_it_heads_the_sheet_of_a_setup(site_folder: Path) -> None:
    def above(name: str) -> str:
        text = (site_folder / urls.setup_sheet(name)).read_text("utf-8")
        return text[: text.index('id="numbers"')]

    failing = above(FAILING)
    assert "Do not drive. Touches" in failing
    assert "load capacity of the tyres (front); put it right: scrub radius (front)" in failing
    assert "replaces this one" in above("ostvane-meridel/copperbill-first-try")
    # Nothing follows from what was withdrawn.
    assert "Hardware and loads fail" not in above("ostvane-meridel/hollybank-no-stops")


@pytest.mark.parametrize("paper", list(FORMATS))
@pytest.mark.parametrize("kind", ["mock-up", "trial"])
def test_a_step_that_goes_on_overleaf_is_named_there(
    opened: Open, sheets: dict[str, str], kind: str, paper: str
) -> None:
    tops = [lines_of(each)[0] for each in printed(shown(opened, sheets, kind), paper).pages]
    assert len(tops) > 5
    assert not [top for top in tops if top.startswith("site")]


def test_where_a_step_begins_its_second_name_is_covered(
    opened: Open, sheets: dict[str, str]
) -> None:
    page = opened(sheets["mock-up"])
    lay_out(page, "A4")
    steps = page.evaluate(
        "() => [...document.querySelectorAll('.is-long')].map((step) => {"
        "  const range = document.createRange();"
        "  range.selectNodeContents(step.querySelector('.step-again th'));"
        "  const name = range.getBoundingClientRect();"
        "  const ticks = step.querySelector('.ticks').getBoundingClientRect();"
        "  const head = step.querySelector('tr:not(.step-again) > th').getBoundingClientRect();"
        "  return [ticks.top, name.top, name.bottom, ticks.bottom, head.top];"
        "})"
    )
    assert steps
    for step in steps:
        assert step == sorted(step)


@pytest.mark.parametrize("name", ["kessmoor-tindle/sedge-bank-winter", None])
def test_the_foot_of_the_guide_is_not_alone_on_a_page(
    opened: Open, sheets: dict[str, str], name: str | None
) -> None:
    page = opened(urls.setup(name) if name else sheets["setup"])
    lines = [lines_of(each) for each in printed(page, "A4").pages]
    at = next(at for at, line in enumerate(lines[-1]) if "it approves nothing" in line)
    assert at > 0
    assert "Data as of" in " ".join(lines[-1][at:])


def test_on_paper_a_chart_is_explained_and_nothing_is_named_that_is_not_there(
    opened: Open, sheets: dict[str, str]
) -> None:
    chassis = words_of(printed(opened(sheets["mock-up"].replace(".mock-up", "")), "A4"))
    assert "Clears: 90 % or more likely" in chassis.replace("\u00a0", " ")
    assert "Read on" not in chassis
    assert "suggest a change" not in chassis
    found = words_of(printed(opened("find.html"), "A4"))
    assert "The newest" in found
    assert "Compare" not in found


def test_the_longest_sheets_keep_to_three_pages(opened: Open, guide: Guide) -> None:
    setups = sorted(guide.setups(), key=lambda each: (len(each.value.gaps), each.id))
    # The last has the tallest drawing.
    names = [*(each.id for each in setups[-6:]), "kessmoor-tindle/hob-end-sevens"]
    paths = [urls.setup_sheet(name) for name in names]
    page = opened(paths[0])
    for path in paths:
        page.goto(page.url.partition("setups/")[0] + path)
        assert len(printed(page, "Letter").pages) <= MOST["sheet"], path
