"""Setups laid beside each other."""

import re
from collections.abc import Callable
from typing import TYPE_CHECKING
from urllib.parse import quote

import pytest

from generator.site.guide import Guide
from generator.site.readings import named
from tests.browser.shown_inches import pairs, scale_bars, wrong_inches

if TYPE_CHECKING:
    from playwright.sync_api import Page

Open = Callable[..., "Page"]
ONE = "ostvane-meridel/tansy-quill-wide-rear"
OTHER = "ostvane-meridel/copperbill-lips-rolled"
ELSEWHERE = "brevanor-hallin/greyling-wagon"


def laid(opened: Open, query: str, **settings: object) -> "Page":
    page = opened(f"compare.html{query}", **settings)
    page.wait_for_selector(".laid-page[data-ready]")
    return page


def row(page: "Page", end: str, label: str) -> list[str]:
    table = page.get_by_role("region", name=end, exact=True)
    cells = table.locator("tr", has=page.locator("th", has_text=label)).locator("td")
    return [text.replace("\u00a0", " ") for text in cells.all_inner_texts()]


def test_the_tyres_are_those_of_the_records(opened: Open, guide: Guide) -> None:
    page = laid(opened, f"?a={ONE}&b={OTHER}")
    expected = [guide.library.setups[name].value.rear.tyre.size.designation
                for name in (ONE, OTHER)]  # fmt: skip
    assert expected[0] != expected[1]
    table = page.get_by_role("region", name="Rear", exact=True)
    tyre = table.locator("tr", has=page.get_by_role("rowheader", name="Tyre", exact=False)).nth(0)
    assert tyre.locator("td").all_inner_texts() == expected
    assert "differs" in tyre.locator("th").inner_text()


def test_the_change_is_the_difference_of_the_columns(opened: Open) -> None:
    page = laid(opened, f"?a={ONE}&b={OTHER}&units=metric")
    first, second = row(page, "Rear", "Tyre diameter")
    numbers = [float(re.findall(r"[\d.]+", text)[0]) for text in (first, second)]
    change = re.search(r"([+\u2212])([\d.]+) mm\s+against A", second)
    assert change
    by = float(change[2]) * (1 if change[1] == "+" else -1)
    assert by == pytest.approx(numbers[1] - numbers[0], abs=0.11)


def test_inches_beside_each_other_are_those_of_the_millimetres(opened: Open) -> None:
    text = laid(opened, f"?a={ONE}&b={OTHER}&c=ostvane-meridel").content()
    assert sum(1 for _ in pairs(text)) > 50
    assert wrong_inches(text) == []
    metric, inch = scale_bars(text)[:2]
    assert (metric[2], inch[2]) == ("100 mm", "4 in")
    assert inch[1] / 101.6 == pytest.approx(metric[1] / 100.0, rel=0.01)


def test_every_outline_is_drawn_and_named(opened: Open) -> None:
    page = laid(opened, f"?a={ONE}&b={OTHER}&c=ostvane-meridel")
    for end in ("front", "rear"):
        drawing = page.locator(f"svg[aria-labelledby^=laid-{end}]")
        assert drawing.locator("> path.dw-laid").count() == 3
        key = drawing.locator("g:has(> .dw-laid)")
        assert key.locator("path").evaluate_all("all => all.map((it) => it.className.baseVal)") == [
            each.get_attribute("class") for each in drawing.locator("> path.dw-laid").all()
        ]
        assert key.locator("text").all_text_contents() == ["A", "B", "C"]
        assert drawing.locator("title").inner_html().endswith("A, B, C in section")
        assert drawing.locator("desc").inner_html().count("from the hub face") == 3


def test_the_outline_is_as_wide_as_the_tyre(opened: Open, guide: Guide) -> None:
    """The drawing has no numbers of its own: its width by its scale bar is the tyre's."""
    page = laid(opened, f"?a={ONE}&b={OTHER}")
    drawing = page.locator("svg[aria-labelledby^=laid-rear]")
    path = drawing.locator("> path.dw-laid-a").get_attribute("d") or ""
    across = [float(x) for x in re.findall(r"([\d.]+) [\d.]+", path)]
    bar = drawing.locator(".dw-scale.dw-metric path").get_attribute("d") or ""
    per_mm = float(re.search(r"h-([\d.]+)", bar)[1]) / 100  # type: ignore[index]
    fitted = guide.assessments[ONE].rear.fit.fitted
    assert fitted.faces is not None
    tyre = fitted.faces.section_width.value
    assert (max(across) - min(across)) / per_mm == pytest.approx(tyre, rel=0.02)


def test_on_a_phone_columns_that_say_the_same_share_a_cell(opened: Open) -> None:
    page = laid(opened, f"?a={ONE}&b={OTHER}&c=ostvane-meridel&d={ELSEWHERE}")
    page.locator("main details").evaluate_all("all => all.forEach((it) => (it.open = true))")
    desk = page.locator(".laid-table td")
    assert desk.count() == page.locator(".laid-table td:visible").count()
    rows = page.locator(".laid-table tbody tr").all()
    whole = [
        {cell.get_attribute("data-label"): cell.text_content() for cell in row.locator("td").all()}
        for row in rows
    ]
    page.set_viewport_size({"width": 390, "height": 900})
    for row, wanted in zip(rows, whole, strict=True):
        told = {}
        for cell in row.locator("td:visible").all():
            for letter in (cell.get_attribute("data-letters") or "").split():
                told[letter] = cell.text_content()
        assert told == wanted
    assert page.locator(".laid-table td:visible").count() < desk.count()


def test_the_day_is_that_of_the_measuring_not_of_the_withdrawal(opened: Open) -> None:
    # content_demo: measured 2023-08-12 and withdrawn 2023-08-19
    page = laid(opened, f"?a=ostvane-meridel/hollybank-no-stops&b={OTHER}")
    told = page.locator(".laid .small.soft").first.inner_text()
    assert " ".join(told.split()) == "Hollybank, 12 August 2023"


def test_only_a_clear_site_of_one_car_alone_is_folded(opened: Open, guide: Guide) -> None:
    tight = "kessmoor-tindle/gantry-fifteens"
    page = laid(opened, f"?a={ONE}&b={tight}")
    labels = [
        {named(site) for site in guide.library.chassis[name].value.sites}
        for name in ("ostvane-meridel", "kessmoor-tindle")
    ]
    alone = labels[0] ^ labels[1]
    fold = page.locator("main details")
    folded = [row.locator("th").evaluate("it => it.firstChild.data")
              for row in fold.locator("tbody tr").all()]  # fmt: skip
    words = [row.locator("td .flag").all_text_contents() for row in fold.locator("tbody tr").all()]
    assert folded
    assert set(folded) <= alone
    assert {" ".join(each).strip() for each in words} == {"clears"}
    told = fold.locator("summary").inner_text().replace("\u00a0", " ")
    assert told.startswith(f"{len(folded)} sites that only one of these cars has")
    shown = page.get_by_role("region", name="Gaps", exact=True).locator("th[scope=row]")
    others = {each.evaluate("it => it.firstChild.data") for each in shown.all()}
    assert "front wire of the speed sensor" in others
    assert labels[0] | labels[1] == others | set(folded)
    # From the front of the cars to their rear, whichever car has the site.
    for names in (folded, [each.evaluate("it => it.firstChild.data") for each in shown.all()]):
        assert names == sorted(names, key=lambda name: name.startswith("rear"))


def rows_of(page: "Page", table: str) -> dict[str, tuple[bool, list[str]]]:
    """Give the rows of a table by name: whether it is said to differ, and its cells."""
    found = {}
    for each in page.get_by_role("region", name=table, exact=True).locator("tbody tr").all():
        head = each.locator("th")
        cells = [" ".join(text.split()) for text in each.locator("td").all_inner_texts()]
        name = head.evaluate("it => it.firstChild.data")
        found[name] = (head.get_by_text("differs").count() > 0, cells)
    return found


def counted(page: "Page", table: str) -> dict[str, int]:
    """Give what the head of a table counts: how many of its rows differ, and so on."""
    words = page.get_by_role("region", name=table, exact=True).locator("caption").inner_text()
    return {what: int(count) for count, what in re.findall(r"(\d+) (differ|alike|cannot)", words)}


def test_what_is_not_known_is_no_difference_and_is_counted(opened: Open) -> None:
    page = laid(opened, f"?a={ONE}&b={OTHER}&units=metric")
    for end in ("Front", "Rear"):
        rows = rows_of(page, end)
        lost = [not {"not known", "none written"}.isdisjoint(cells) for _, cells in rows.values()]
        assert not [name for name, (is_other, cells) in rows.items() if is_other and
                    not {"not known", "none written"}.isdisjoint(cells)]  # fmt: skip
        assert counted(page, end) == {
            "differ": sum(is_other for is_other, _ in rows.values()),
            "alike": len(rows) - sum(lost) - sum(is_other for is_other, _ in rows.values()),
            "cannot": sum(lost),
        }
        assert sum(lost) > 0
    # 22.1 ± 0.9 against 22.0 ± 1.0 mm: apart by less than hypot(0.9, 1.0) = 1.3
    assert not rows_of(page, "Rear")["Effective offset"][0]
    # 25.0 ± 1.0 against 22.0 ± 0.7 mm: apart by more than hypot(1.0, 0.7) = 1.2
    assert rows_of(page, "Front")["Effective offset"][0]


def test_gaps_differ_by_what_was_measured_in_one_position(opened: Open) -> None:
    page = laid(opened, f"?a={ONE}&b={OTHER}")
    rows = rows_of(page, "Gaps")
    # content_demo: 1/2 in against 16.5 mm, both by drill shanks (±0.5 mm) and standing
    assert rows["front strut tube"][0]
    # more than 1.1 in against 28 mm, both with this side up: 27.9 mm and more leaves 28 mm open
    assert not rows["rear inner wheelhouse"][0]
    # 23.8 mm at toe-in lock against 9 to 11 mm over the whole sweep: not the same position
    assert not rows["front liner ahead of the wheel"][0]
    for is_other, cells in rows.values():
        assert not (is_other and any(text.startswith("not known") for text in cells))
    told = counted(page, "Gaps")
    assert sum(told.values()) == len(rows)
    assert told["differ"] == sum(is_other for is_other, _ in rows.values())


def test_stock_is_missing_among_the_gaps_with_a_word(opened: Open) -> None:
    page = laid(opened, f"?a=ostvane-meridel&b={OTHER}")
    told = "A is not in this table: nobody reports the gaps of the car as stock."
    assert page.get_by_text(told).is_visible()


def test_the_column_of_a_withdrawn_record_is_muted_and_says_so(opened: Open) -> None:
    page = laid(opened, f"?a={ONE}&b=ostvane-meridel/hollybank-no-stops")
    cells = page.locator(".laid-table td[data-label=B]")
    assert cells.count() == cells.and_(page.locator(".soft")).count() > 20
    assert cells.locator(".tone-good, .tone-care, .tone-stop").count() == 0
    assert set(cells.locator("s").all_inner_texts()) == {"clears"}
    for table in ("Front", "Rear", "Gaps"):
        region = page.get_by_role("region", name=table, exact=True)
        assert "B is withdrawn" in region.locator("caption").inner_text()
        assert "B (withdrawn)" in region.locator("thead").inner_text()
    # What is withdrawn counts no more, so that nothing of it is held against another.
    for table in ("Front", "Rear", "Gaps"):
        assert counted(page, table) == {"cannot": len(rows_of(page, table))}
    assert page.get_by_role("listitem").filter(has_text="B (withdrawn), front:").count() == 1
    drawing = page.locator("svg[aria-labelledby^=laid-front]")
    key = drawing.locator("g:has(> .dw-laid) text")
    assert key.all_text_contents() == ["A", "B (withdrawn)"]
    faint = drawing.locator(".dw-laid[opacity]")
    assert faint.count() == 2
    assert faint.count() == faint.and_(drawing.locator(".dw-laid-b")).count()


def test_a_replaced_column_has_no_flag_and_its_differences_still_count(opened: Open) -> None:
    page = laid(opened, "?a=ostvane-meridel/copperbill-first-try&b=ostvane-meridel")
    cells = page.locator(".laid-table td[data-label=A]")
    assert cells.count() == cells.and_(page.locator(".soft")).count() > 20
    assert cells.locator(".flag").count() == 0
    assert "A (replaced)" in page.get_by_role("region", name="Front").locator("thead").inner_text()
    assert counted(page, "Front")["differ"] > 0
    # What the car does as stock is computed as a trial from stock is: something is said of it.
    weakest = rows_of(page, "Rear")["Expected weakest site"]
    assert re.search("clears|tight|touches", weakest[1][1])


def test_a_withdrawn_column_adds_no_difference(opened: Open) -> None:
    """7 rows of the front differed without it, and 11 with it."""
    page = laid(opened, f"?a={ONE}&b={OTHER}")
    alone = {table: counted(page, table).get("differ", 0) for table in ("Front", "Rear")}
    page = laid(opened, f"?a={ONE}&b={OTHER}&c=ostvane-meridel/hollybank-no-stops")
    assert alone == {table: counted(page, table).get("differ", 0) for table in alone}


def test_only_what_differs_can_be_shown(opened: Open) -> None:
    page = laid(opened, f"?a={ONE}&b={OTHER}")
    before = page.locator("tbody tr:visible").count()
    page.get_by_role("checkbox", name="only what differs").check()
    assert 0 < page.locator("tbody tr:visible").count() < before
    assert page.locator("tbody tr.same:visible").count() == 0


def test_one_can_be_taken_away_and_brought_back(opened: Open) -> None:
    page = laid(opened, f"?a={ONE}&b={OTHER}")
    page.get_by_role("link", name="Remove").first.click()
    page.wait_for_function("() => document.querySelectorAll('.laid').length === 1")
    assert page.url.endswith(f"?a={quote(OTHER, safe='')}")
    page.go_back()
    page.wait_for_function("() => document.querySelectorAll('.laid').length === 2")


def test_other_cars_are_warned_of(opened: Open) -> None:
    page = laid(opened, f"?a={ONE}&b={ELSEWHERE}")
    assert "says nothing about the other" in page.locator("main").inner_text()
    assert page.locator("svg > path.dw-laid").count() == 4


def test_an_unknown_setup_is_named(opened: Open) -> None:
    page = laid(opened, f"?a={ONE}&b=ostvane-meridel/never-was")
    assert "never-was" in page.locator("[data-part=notes]").inner_text()
    assert page.locator(".laid").count() == 1
    opened.watched.told.clear()  # type: ignore[attr-defined]


HOSTILE = {
    "markup": f"?a={quote('<img src=x onerror=alert(1)>')}",
    "paths": "?a=../../secret&b=//evil.example/x&c=https://evil.example",
    "encoded": "?a=%2e%2e%2f%2e%2e%2fdata&b=x%2fy%2fz",
    "same": f"?a={ONE}&b={ONE}",
    "keys": "?__proto__=x&e=ostvane-meridel",
    "length": "?a=" + "x" * 20_000,
}


@pytest.mark.parametrize("query", HOSTILE.values(), ids=HOSTILE)
def test_hostile_addresses_do_nothing(opened: Open, query: str) -> None:
    page = laid(opened, query)
    assert page.locator("[data-part=notes]").is_visible()
    assert page.locator("main img").count() == 0


def test_without_a_script_the_page_explains(opened: Open, guide: Guide) -> None:
    page = opened("compare.html", java_script_enabled=False)
    text = page.locator("main").inner_text()
    assert "needs a script" in text
    assert page.get_by_role("link", name="Find a setup").is_visible()


def test_two_columns_lay_front_and_rear_beside_each_other_on_a_desk(opened: Open) -> None:
    page = laid(opened, f"?a={ONE}&b={OTHER}")
    front, rear = (page.get_by_role("region", name=end, exact=True) for end in ("Front", "Rear"))
    boxes = [front.bounding_box(), rear.bounding_box()]
    assert boxes[0]
    assert boxes[1]
    assert boxes[0]["y"] == boxes[1]["y"]
    assert boxes[0]["x"] + boxes[0]["width"] <= boxes[1]["x"]
    for table in (front, rear):
        assert table.evaluate("it => it.scrollWidth <= it.clientWidth + 1")


@pytest.mark.parametrize("width", [390, 1280])
def test_four_columns_stay_inside_the_screen(opened: Open, width: int) -> None:
    third = "ostvane-meridel/marrowgate-deep-dish"
    page = laid(opened, f"?a={ONE}&b={OTHER}&c={third}&d={ELSEWHERE}", width=width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
