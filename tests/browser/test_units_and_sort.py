"""The choice of units, and tables that sort."""

from collections.abc import Callable
from decimal import ROUND_HALF_EVEN, Decimal
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from generator.site.guide import Guide
from tests.browser.shown_inches import in_inches, pairs, scale_bars, wrong_inches

if TYPE_CHECKING:
    from playwright.sync_api import Page

Open = Callable[..., "Page"]
SETUP = "setups/ostvane-meridel/copperbill-lips-rolled.html"
CHASSIS = "chassis/ostvane-meridel.html"


def choose(page: "Page", unit: str) -> None:
    page.wait_for_load_state("networkidle")
    page.get_by_role("radio", name=unit, exact=True).check()


def shown(page: "Page") -> tuple[int, int]:
    """Count the numbers in either unit, but those that a member typed so: they stay in both."""
    beside = ":not(:has(+ .same-metric), :has(+ .same-inch))"
    pairs = f".pair{beside}:not(.fact-value:has(+ .same-metric) *, .fact-value:has(+ .same-inch) *)"
    return (
        page.locator(f"{pairs} .metric:visible").count(),
        page.locator(f"{pairs} .inch:visible").count(),
    )


def test_one_switch_shows_one_unit_everywhere(opened: Open) -> None:
    page = opened(SETUP)
    metric, inch = shown(page)
    assert metric == inch > 0
    choose(page, "in")
    assert shown(page) == (0, inch)
    choose(page, "mm")
    assert shown(page) == (metric, 0)
    choose(page, "both")
    assert shown(page) == (metric, inch)


def test_the_inches_of_every_page_are_those_of_the_millimetres_beside_them(
    site_folder: Path,
) -> None:
    """So the same millimetres are the same inches wherever they stand, to the same decimals."""
    seen, bars = 0, []
    for path in sorted(site_folder.rglob("*.html")):
        text = path.read_text(encoding="utf-8")
        seen += sum(1 for _ in pairs(text))
        assert wrong_inches(text) == [], path.name
        bars += scale_bars(text)
    assert seen > 10_000
    for metric, inch in zip(bars[::2], bars[1::2], strict=True):
        mm, inches = (float(bar[2].partition(" ")[0]) for bar in (metric, inch))
        assert (metric[0], mm % 50.0, inch[0], inches % 1.0) == ("metric", 0.0, "inch", 0.0)
        # Lengths are drawn to a tenth of a unit, then written in whole ones.
        assert inch[1] == pytest.approx(metric[1] * inches * 25.4 / mm, abs=1.1)
    assert len(bars) > 100


ROUNDED = """async ([path, values]) => {
  const { figure, inches } = await import(path);
  return values.map(([value, decimals]) => [figure(value, decimals), inches(value, decimals)]);
}"""


def test_scripts_round_as_pages_do(visited: Open, site_folder: Path) -> None:
    """What lies half way goes to the even digit (ISO 80000-1, rule A of annex B, from memory)."""
    values = [(0.5, 0), (2.5, 0), (12.25, 1), (12.75, 1), (0.125, 2), (-3.25, 1), (25.04, 1),
              (24.96, 1), (24.0, 1), (0.15, 1), (1.005, 2), (9.525, 2)]  # fmt: skip
    page = visited("index.html")
    (module,) = (site_folder / "assets").glob("numbers.*.js")
    told = page.evaluate(ROUNDED, [f"/assets/{module.name}", values])
    for (value, decimals), (figure, inches) in zip(values, told, strict=True):
        mm = Decimal(value).quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_EVEN)
        assert figure.replace("\u2212", "-") == str(mm)
        assert inches.replace("\u2212", "-") == str(in_inches(str(mm)))


TOLD = """async ([path, words, first]) => {
  document.documentElement.dataset.first = first;
  const { withLengths } = await import(path + "?" + first);
  const told = document.createElement("p");
  told.append(...withLengths(words));
  return told.textContent;
}"""


def test_scripts_tell_quantities_in_both_units_with_the_clubs_own_first(
    visited: Open, site_folder: Path
) -> None:
    # By hand: 30.46 psi, 113.1 mph, 1821.0 lb, 70.07 lb ft, 0.31 in.
    page = visited("index.html")
    (module,) = (site_folder / "assets").glob("numbers.*.js")
    words = "At 2.1 bar and 182 km/h 826 kg; 95 N\u00b7m, 8 mm, after 50 to 100 km (30 to 60 mi)."

    def told(first: str) -> str:
        return page.evaluate(TOLD, [f"/assets/{module.name}", words, first]).replace("\u00a0", " ")

    assert told("metric") == (
        "At 2.1 bar / 30.5 psi and 182 km/h / 113 mph 826 kg / 1821 lb; 95 N\u00b7m / 70 lb ft, "
        "8 mm / 0.31 in, after 50 to 100 km / 30 to 60 mi."
    )
    assert told("inch").startswith("At 30.5 psi / 2.1 bar and 113 mph / 182 km/h 1821 lb / 826 kg;")
    assert "0.31 in / 8 mm" in told("inch")


def test_a_hyphen_typed_for_a_minus_is_not_told_as_another_number(site_folder: Path) -> None:
    text = (site_folder / CHASSIS).read_text(encoding="utf-8")
    assert "\u221260\u00a0mm" in text
    assert "<bdi>-60 mm</bdi>" not in text


IN_MM = r"""() => [...document.querySelectorAll("main .card dl, main .gaps-written th")]
  .filter((it) => it.checkVisibility() && /\d\smm\b/.test(it.innerText)).length"""


@pytest.mark.parametrize("path", ["index.html", "chassis/ostvane-meridel.mock-up.html"])
def test_cards_and_positions_follow_the_unit(opened: Open, path: str) -> None:
    page = opened(path)
    choose(page, "mm")
    assert page.evaluate(IN_MM) > 3
    choose(page, "in")
    assert page.evaluate(IN_MM) == 0


def test_the_choice_is_remembered_and_in_the_address(opened: Open) -> None:
    page = opened(SETUP)
    choose(page, "in")
    assert page.url.endswith("?units=inch")
    page.goto(page.url.replace(SETUP, CHASSIS).partition("?")[0])
    assert shown(page)[0] == 0
    assert page.locator(".units input[value=inch]").is_checked()


def test_the_address_goes_before_what_is_remembered(opened: Open) -> None:
    page = opened(SETUP)
    choose(page, "in")
    page.goto(page.url.partition("?")[0] + "?units=metric")
    assert shown(page)[1] == 0


def test_without_storage_links_carry_the_choice(opened: Open) -> None:
    closed = "Storage.prototype.setItem = () => { throw new DOMException('full'); };"
    page = opened(SETUP, before=closed)
    choose(page, "in")
    page.locator("main .lead a").first.click()
    page.wait_for_url("**/chassis/*")
    assert shown(page)[0] == 0


def test_hostile_units_change_nothing(opened: Open) -> None:
    page = opened(SETUP + "?units=%3Cscript%3E&units=__proto__")
    metric, inch = shown(page)
    assert metric == inch > 0


def test_what_was_typed_stays(opened: Open) -> None:
    page = opened(SETUP)
    typed = page.locator(".typed:visible").count()
    choose(page, "mm")
    assert page.locator(".typed:visible").count() == typed > 0


def test_a_length_typed_in_the_other_unit_stays_beside_the_chosen_one(opened: Open) -> None:
    page = opened(SETUP)
    choose(page, "in")
    pairs = page.locator(".fact-value:visible:has(+ .same-metric)")
    assert pairs.count() > 1
    for at in range(2):
        told = pairs.nth(at).inner_text()
        assert "mm" in told
        assert "in" in told
    assert page.locator(".same-metric:visible").first.inner_text() == "typed in mm"
    choose(page, "mm")
    assert "in" not in pairs.first.inner_text()


def column(page: "Page", at: int) -> list[float]:
    cells = page.locator(f"#setups ~ .sorts >> nth=0 >> tbody tr > :nth-child({at})")
    return [float(each) for each in cells.evaluate_all("all => all.map((it) => it.dataset.sort)")]


def test_a_header_sorts_its_column_both_ways(opened: Open, guide: Guide) -> None:
    page = opened(CHASSIS)
    button = page.get_by_role("button", name="Front effective offset")
    button.click()
    header = page.locator("th", has=button)
    assert header.get_attribute("aria-sort") == "ascending"
    at = header.evaluate("it => it.cellIndex") + 1
    values = column(page, at)
    assert values == sorted(values)
    assert len(values) == len(guide.setups_of("ostvane-meridel"))
    button.click()
    assert header.get_attribute("aria-sort") == "descending"
    assert column(page, at) == sorted(values, reverse=True)


def test_only_the_sorted_header_says_so(opened: Open) -> None:
    page = opened(CHASSIS)
    page.get_by_role("button", name="Front effective offset").click()
    page.get_by_role("button", name="Rear effective offset").click()
    assert page.locator("th[aria-sort]").count() == 1
    told = page.locator("[role=status]", has_text="rear effective offset")
    told.wait_for(state="attached")
    assert told.count() == 1


def test_a_phone_has_the_sorting_buttons_too(opened: Open) -> None:
    page = opened(CHASSIS, width=390)
    page.locator(".more summary").click()
    button = page.get_by_role("button", name="Number")
    button.click()
    assert button.is_visible()
    assert page.locator("th[aria-sort=ascending]").count() == 1
