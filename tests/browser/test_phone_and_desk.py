"""What only shows when a page is laid out: tables, folded references, the length of pages."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import pytest

from generator.site import urls
from generator.site.guide import Guide
from generator.site.plan import plan

if TYPE_CHECKING:
    from playwright.sync_api import Page

Open = Callable[..., "Page"]
ONE = "ostvane-meridel/tansy-quill-wide-rear"
OTHER = "ostvane-meridel/copperbill-lips-rolled"
PHONE, DESK = 390, 1280
SIDEWAYS = """() => [...document.querySelectorAll("main .table-region")]
  .filter((each) => each.checkVisibility() && each.scrollWidth > each.clientWidth + 1)
  .map((each) => each.querySelector("caption")?.textContent)"""
MOST_ON_A_PHONE = 9000
"""px: ten screens, so that a reference can be looked through; the same for a desk's."""


@pytest.fixture(scope="module")
def paths(guide: Guide) -> dict[str, str]:
    """Give the first page of each kind."""
    found: dict[str, str] = {}
    for page in plan(guide):
        found.setdefault(page.view, page.path)
    return found


@pytest.mark.parametrize("kind", ["setup", "chassis", "tyre_book", "maintainers", "find"])
def test_no_table_scrolls_sideways_on_a_desk(
    opened: Open, paths: dict[str, str], kind: str
) -> None:
    assert opened(paths[kind], width=DESK).evaluate(SIDEWAYS) == []


@pytest.mark.parametrize(
    "path", [urls.FAULTS, urls.RULES, urls.RECORD_REFERENCE, urls.METHOD, urls.TYRE_BOOK]
)
def test_a_reference_is_short_until_it_is_unfolded(opened: Open, path: str) -> None:
    page = opened(path, width=PHONE)
    assert page.evaluate("document.documentElement.scrollHeight") <= MOST_ON_A_PHONE


@pytest.mark.parametrize(
    ("view", "most"), [("chassis", 9000), ("mock_up_sheet", 12000), ("setup_sheet", 10800)]
)
def test_a_page_for_the_garage_is_not_too_long_for_a_phone(
    visited: Open, site: str, guide: Guide, view: str, most: int
) -> None:
    found = [page.path for page in plan(guide) if page.view == view]
    page = visited(found[0], width=PHONE)
    heights = {}
    for path in found:
        page.goto(site + path)
        heights[path] = page.evaluate("document.documentElement.scrollHeight")
    assert len(heights) > 5
    assert max(heights.values()) <= most, heights


@pytest.mark.parametrize("kind", ["article", "setup", "setup_sheet", "chassis"])
@pytest.mark.parametrize("width", [320, PHONE])
def test_no_line_parts_a_number_from_its_unit(
    visited: Open, site: str, guide: Guide, kind: str, width: int
) -> None:
    found = [page.path for page in plan(guide) if page.view == kind][:8]
    page = visited(found[0], width=width)
    count = 0
    for path in found:
        page.goto(site + path)
        page.evaluate("document.querySelectorAll('details').forEach((it) => (it.open = true))")
        kept = page.locator("main .together:visible")
        lines = kept.evaluate_all("all => all.map((it) => it.getClientRects().length)")
        assert set(lines) <= {1}
        count += len(lines)
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert count > 10


def test_a_gap_that_touches_is_said_once(visited: Open) -> None:
    # content_demo: the left quarter lip touches in full bump, the right one keeps 2 mm; the mark on
    # both has a row of its own
    page = visited("setups/kessmoor-tindle/bramble-end-too-far-out.html")
    flagged = page.locator("td[data-label=Reported] .flag", has_text="touches")
    row = page.locator("tr", has=flagged).filter(has_text="full bump")
    assert "quarter panel lip" in row.locator("th").inner_text()
    told = row.locator("td[data-label=Reported]").inner_text()
    assert " ".join(told.split()) == "touches left tight right 2 mm / 0.08 in"


def test_what_is_not_known_is_folded_on_a_phone_only(visited: Open, guide: Guide) -> None:
    """A setup's sheet: on a desk and on paper what could not be checked stands open."""
    path = urls.setup_sheet(ONE)
    seen = "all => all.map((it) => it.checkVisibility({ contentVisibilityAuto: true }))"
    for width, media, is_seen in (
        (PHONE, "screen", False), (DESK, "screen", True), (PHONE, "print", True)
    ):  # fmt: skip
        page = visited(path, width=width)
        page.emulate_media(media=media)
        found = page.locator(".spread .findings").evaluate_all(seen)
        page.emulate_media(media="screen")
        assert len(found) == 2
        assert set(found) == {is_seen}


def test_how_it_was_measured_is_told_in_a_line_on_a_phone(visited: Open, guide: Guide) -> None:
    setup = guide.library.setups[ONE].value
    page = visited(urls.setup(ONE), width=PHONE)
    line = page.locator("#road ~ details").first.locator("summary")
    told = line.inner_text().replace("\u00a0", " ")
    assert setup.road
    assert f"outcome {setup.road.outcome.value}" in told
    assert f"springs {setup.method.springs.value}" in told
    assert not page.get_by_role("heading", name="How it was measured").is_visible()
    page = visited(urls.setup(ONE), width=DESK)
    assert page.get_by_role("heading", name="How it was measured").is_visible()
    assert not line.is_visible()


def test_what_is_folded_on_a_phone_stands_open_on_a_desk(visited: Open, guide: Guide) -> None:
    path = next(page.path for page in plan(guide) if page.view == "chassis")
    seen = "all => all.map((it) => it.checkVisibility({ contentVisibilityAuto: true }))"
    for width, is_seen in ((PHONE, False), (DESK, True)):
        found = visited(path, width=width).locator(".spread dl").evaluate_all(seen)
        assert found
        assert set(found) == {is_seen}


def test_unfolded_limits_and_numbers_of_drawings_are_read_straight_down_on_a_phone(
    visited: Open,
) -> None:
    page = visited(urls.chassis("ostvane-meridel"), width=PHONE)
    for place in ("#limits-front > details", ".plate details"):
        folded = page.locator(place)
        assert folded.count() >= 2
        folded.evaluate_all("all => all.forEach((it) => (it.open = true))")
        assert folded.locator("td:visible").count() >= 20
    assert page.evaluate(SIDEWAYS) == []


def test_computed_gaps_of_a_setup_are_read_straight_down_on_a_phone(visited: Open) -> None:
    page = visited(urls.setup(ONE), width=PHONE)
    page.locator("details:has(.plate), .plate details").evaluate_all(
        "all => all.forEach((it) => (it.open = true))"
    )
    assert page.get_by_text("Computed gaps, front").is_visible()
    assert page.evaluate(SIDEWAYS) == []


def test_numbers_of_a_sheet_end_where_the_rules_of_its_tables_do(visited: Open) -> None:
    page = visited(urls.setup_sheet(ONE), width=PHONE)
    ends = page.locator(".narrow td:last-child").evaluate_all(
        "all => all.map((it) => getComputedStyle(it).paddingRight)"
    )
    assert len(ends) >= 20
    assert set(ends) == {"0px"}


def test_all_setups_of_a_car_are_a_touch_away_on_a_phone(visited: Open) -> None:
    page = visited(urls.chassis("ostvane-meridel"), width=PHONE)
    page.wait_for_selector(".sorts th > button", state="attached")
    rows = page.locator(".sorts >> nth=0 >> tbody tr:visible")
    assert rows.count() == 5
    page.locator(".more summary").click()
    assert rows.count() == 12


def test_a_mock_up_sheet_lays_both_ends_beside_each_other_on_a_desk(
    visited: Open, site: str, guide: Guide
) -> None:
    found = [page.path for page in plan(guide) if page.view == "mock_up_sheet"]
    page = visited(found[0], width=DESK)
    tall = {}
    for path in found:
        page.goto(site + path)
        assert not page.locator(".box:visible, .to-write:visible").count()
        tall[path] = page.evaluate("document.documentElement.scrollHeight")
    assert len(tall) > 5
    assert max(tall.values()) <= MOST_ON_A_PHONE, tall


@pytest.mark.parametrize(
    ("path", "anchor", "words"),
    [
        (urls.RULES, "r01", "half the width"),
        (urls.FAULTS, "q05", "comma"),
        (urls.RECORD_REFERENCE, "setup-gap", "site"),
        (urls.METHOD, "source-unr30", "UN Regulation No. 30"),
    ],
)
def test_a_link_opens_what_it_leads_to(
    opened: Open, site_folder: Any, path: str, anchor: str, words: str
) -> None:
    text = (site_folder / path).read_text("utf-8")
    ident = next(part.split('"')[0] for part in text.split('id="')[1:]
                 if part.split('"')[0].casefold() == anchor)  # fmt: skip
    target = opened(f"{path}#{ident}").locator(f"[id='{ident}']")
    target.wait_for(state="visible")
    assert words in target.inner_text()


def test_a_comparison_shows_all_its_columns_on_a_phone(opened: Open) -> None:
    page = opened(f"compare.html?a={ONE}&b={OTHER}", width=PHONE)
    page.wait_for_selector(".laid-page[data-ready]")
    edges = page.locator(".laid-table td").evaluate_all(
        "all => all.map((it) => it.getBoundingClientRect().right)"
    )
    assert len(edges) > 40
    assert max(edges) <= PHONE


def test_four_setups_side_by_side_are_not_too_long_for_a_phone(opened: Open) -> None:
    """13,300 px once; what all say stands on one line, and who is compared with is told once."""
    others = "ostvane-meridel/hollybank-no-stops", "kessmoor-tindle/gantry-fifteens"
    page = opened(f"compare.html?a={ONE}&b={OTHER}&c={others[0]}&d={others[1]}", width=PHONE)
    page.wait_for_selector(".laid-page[data-ready]")
    assert page.get_by_text("In italics: the change against A, taken before rounding.").is_visible()
    assert page.evaluate("document.documentElement.scrollHeight") <= 12000
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE


def test_an_open_menu_covers_nothing_of_the_row_it_hangs_from(visited: Open) -> None:
    page = visited(urls.HOME, width=PHONE)
    handle = page.locator(".band-menu summary")
    before = handle.bounding_box()
    handle.click()
    assert page.get_by_role("link", name="Glossary").first.is_visible()
    assert handle.bounding_box() == before
    units, menu = page.locator(".units").bounding_box(), handle.bounding_box()
    assert units
    assert menu
    assert units["x"] + units["width"] <= menu["x"]


def test_the_first_page_finds(opened: Open) -> None:
    page = opened(urls.HOME)
    page.get_by_label("Find a setup").fill("lips rolled")
    page.keyboard.press("Enter")
    page.wait_for_selector(".find[data-ready]")
    assert page.locator("#words").input_value() == "lips rolled"
    assert "words=lips" in page.url


def test_a_trial_starts_from_the_stock_offset_as_it_was_written(opened: Open, guide: Guide) -> None:
    offset = guide.library.chassis["ostvane-meridel"].value.front.stock_wheel.offset
    assert offset is not None
    page = opened(urls.trial("ostvane-meridel") + "?units=metric")
    field = page.locator("#front-offset")
    page.wait_for_function("() => document.querySelector('#front-offset').value")
    assert f"{field.input_value()} mm" == offset.typed
