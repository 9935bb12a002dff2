"""What only shows when a page is laid out: words of drawings, tables, folded references."""

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
SETUPS = (ONE, OTHER, "veltharn-orsey/mallow-nines-behind", "kessmoor-tindle/dovecote-odd-pair")
PHONE, DESK = 390, 1280
# Words of one drawing that lie on each other by more than a hair, or reach over its edge.
CLASHES = """() => [...document.querySelectorAll("main svg.dw")].flatMap((sheet) => {
  const frame = sheet.getBoundingClientRect();
  const words = [...sheet.querySelectorAll("text")].map((each) => {
    const at = each.getBoundingClientRect();
    const { left, right, top, bottom } = at;
    return { told: each.textContent, left, right, top, bottom };
  }).filter((each) => each.right > each.left);
  const out = words.filter((each) => each.left < frame.left - 1 || each.right > frame.right + 1
    || each.top < frame.top - 1 || each.bottom > frame.bottom + 1)
    .map((each) => `over the edge: ${each.told}`);
  const both = words.flatMap((one, at) => words.slice(at + 1)
    .filter((other) => Math.min(one.right, other.right) - Math.max(one.left, other.left) > 2
      && Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top) > 5)
    .map((other) => `${one.told} on ${other.told}`));
  return [...out, ...both];
})"""
SIDEWAYS = """() => [...document.querySelectorAll("main .table-region")]
  .filter((each) => each.checkVisibility() && each.scrollWidth > each.clientWidth + 1)
  .map((each) => each.querySelector("caption")?.textContent)"""
MOST_ON_A_PHONE = 9000
"""px: ten screens, so that a reference can be looked through."""


@pytest.fixture(scope="module")
def paths(guide: Guide) -> dict[str, str]:
    """Give the first page of each kind."""
    found: dict[str, str] = {}
    for page in plan(guide):
        found.setdefault(page.view, page.path)
    return found


def drawn(guide: Guide) -> list[str]:
    """Give pages with drawings of every kind."""
    known = [urls.setup(name) for name in SETUPS]
    articles = [page.path for page in plan(guide) if page.view == "article"]
    return [urls.HOME, urls.METHOD, *known, *(urls.chassis(name) for name in guide.library.chassis),
            *articles]  # fmt: skip


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_no_words_of_a_drawing_lie_on_each_other(
    opened: Open, site: str, guide: Guide, width: int
) -> None:
    page = opened(urls.HOME, width=width)
    found: dict[str, Any] = {}
    for path in drawn(guide):
        page.goto(site + path)
        clashes = page.evaluate(CLASHES)
        if clashes:
            found[path] = clashes
    assert not found


@pytest.mark.parametrize("kind", ["setup", "chassis", "tyre_book", "maintainers", "find"])
def test_no_table_scrolls_sideways_on_a_desk(
    opened: Open, paths: dict[str, str], kind: str
) -> None:
    assert opened(paths[kind], width=DESK).evaluate(SIDEWAYS) == []


@pytest.mark.parametrize("path", [urls.FAULTS, urls.RULES, urls.RECORD_REFERENCE, urls.METHOD])
def test_a_reference_is_short_until_it_is_unfolded(opened: Open, path: str) -> None:
    page = opened(path, width=PHONE)
    assert page.evaluate("document.documentElement.scrollHeight") <= MOST_ON_A_PHONE


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
