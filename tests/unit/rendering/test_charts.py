"""Charts: points where their numbers are, the same bytes each time, fit for the page's policy."""

import re
import warnings
from collections.abc import Callable
from xml.etree import ElementTree

import pytest

from generator.rendering.charts import _drawn, limits_of_sites, measured_against_label
from generator.site.drawings import LimitChart, LimitRow, TyreChart, TyrePoint
from tests.processor import at_most

SVG = "{http://www.w3.org/2000/svg}"
POINTS = (
    TyrePoint(1, 7.0, 8.0),
    TyrePoint(2, 8.0, 3.0),
    TyrePoint(3, 7.5, -5.0),
    TyrePoint(4, 6.5, 11.0),
    TyrePoint(5, 8.0, -2.0),
)
CHART = TyreChart("chart-width", "Measured against $label$ <b>", POINTS)
ROWS = (
    LimitRow("front", "strut tube", -2.0, 0.5, 3.0, 4),
    LimitRow("front", "apron", -6.0, -1.0, 4.0, 2),
    LimitRow("rear", "lip", -9.0, 0.0, 9.0, 0),
)
LIMITS = LimitChart("limits-chart", "room", ROWS)
METRIC, INCH = ("dw-first dw-metric", "dw-second dw-inch")
MARK = 12.0
"""Breadth of a mark of the tyres' chart."""


def root() -> ElementTree.Element:
    return ElementTree.fromstring(measured_against_label(CHART))


def texts() -> list[str]:
    return ["".join(element.itertext()) for element in root().iter(f"{SVG}text")]


def uses(
    drawn: ElementTree.Element, shape: Callable[[str], bool] | None = None
) -> list[tuple[float, float]]:
    """Give the places of all marks whose outline is such."""
    outlines = {f"#{path.get('id')}": path.get("d", "") for path in drawn.iter(f"{SVG}path")}
    return [
        (float(use.get("x", "0")), float(use.get("y", "0")))
        for use in drawn.iter(f"{SVG}use")
        if (shape or is_round)(outlines[use.get("href", "")])
    ]


def is_round(outline: str) -> bool:
    return "C" in outline


def upright(outline: str) -> bool:
    """Tell the marks at the ends of bars, which reach as far up as down, from an axis' ticks."""
    numbers = [float(each) for each in re.findall(r"-?\d+\.?\d*", outline)]
    return not is_round(outline) and len(numbers) == 4 and numbers[1] == -numbers[3] != 0.0


def scale(drawn: ElementTree.Element, unit: str) -> tuple[float, float]:
    """Give where a unit's nought stands across the sheet, and how broad one is, by its axis."""
    places = {
        float("".join(text.itertext()).replace("\u2212", "-")): float(text.get("x", "0"))
        for group in drawn.iter(f"{SVG}g")
        if group.get("class") == unit
        for text in group.iter(f"{SVG}text")
    }
    assert len(places) >= 3
    low, high = min(places), max(places)
    each = (places[high] - places[low]) / (high - low)
    for number, place in places.items():
        assert place == pytest.approx(places[low] + each * (number - low), abs=0.2)
    return places[low] - each * low, each


def levels(drawn: ElementTree.Element) -> dict[str, float]:
    return {
        "".join(text.itertext()): float(text.get("y", "0")) for text in drawn.iter(f"{SVG}text")
    }


def test_a_tyre_stands_where_the_axis_puts_it_and_in_the_row_of_its_rim() -> None:
    drawn = root()
    nought, per_mm = scale(drawn, METRIC)
    level = levels(drawn)
    marks = uses(drawn)
    assert len(marks) == len(POINTS)
    for point in POINTS:
        x, y = nought + per_mm * point.wider, level[f"{point.width:g} in"]
        assert any(abs(px - x) < 0.5 and abs(py - y) < 1.0 for px, py in marks), point


def test_the_widest_rim_stands_above_and_each_row_counts_its_tyres() -> None:
    drawn = root()
    level = levels(drawn)
    assert level["8 in"] < level["7.5 in"] < level["7 in"] < level["6.5 in"]
    counts = [
        (float(text.get("y", "0")), text.text)
        for text in drawn.iter(f"{SVG}text")
        if text.get("text-anchor") == "end" and float(text.get("x", "0")) > 600
    ]
    assert sorted(counts) == [
        (pytest.approx(level[row], abs=0.2), said)
        for row, said in (("tyres", "tyres"), ("8 in", "2"), ("7.5 in", "1"), ("7 in", "1"),
                          ("6.5 in", "1"))
    ]  # fmt: skip


def test_no_mark_lies_on_another_and_no_number_on_a_mark() -> None:
    # As many as members measured on one rim, close together, and some in the very same place.
    points = tuple(TyrePoint(at, 7.0, -4.0 + 0.7 * (at % 13)) for at in range(1, 31))
    drawn = ElementTree.fromstring(measured_against_label(TyreChart("c", "t", points)))
    marks = uses(drawn)
    assert len(marks) == 30
    for at, (x, y) in enumerate(marks):
        for other_x, other_y in marks[at + 1 :]:
            assert (x - other_x) ** 2 + (y - other_y) ** 2 > MARK**2
    numbers = [text for text in drawn.iter(f"{SVG}text") if text.text and text.text in {"13", "25"}]
    assert len(numbers) == 2  # the narrowest and the widest; others bear no number
    for text in numbers:
        x, y = float(text.get("x", "0")), float(text.get("y", "0"))
        breadth = 13.0 * len(text.text or "")
        left = x if text.get("text-anchor") == "start" else x - breadth
        assert all(
            px + MARK / 2 < left or px - MARK / 2 > left + breadth or abs(py - y) > 0.36 * 23 + 6
            for px, py in marks
        )


def test_a_rim_of_very_many_tyres_keeps_its_height_and_all_its_marks() -> None:
    points = tuple(TyrePoint(at, 7.0, 0.001 * at) for at in range(1, 301))
    text = measured_against_label(TyreChart("c", "t", points))
    drawn = ElementTree.fromstring(text)
    assert len(uses(drawn)) == 300
    assert float(drawn.get("height", "0")) < 300.0
    assert ">300<" in text


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), float("-inf")])
def test_a_number_that_is_not_finite_stops(bad: float) -> None:
    odd = TyreChart("c", "t", (TyrePoint(1, 7.0, bad),))
    with pytest.raises(ValueError, match="finite"):
        measured_against_label(odd)


def test_no_style_reaches_the_page() -> None:
    for element in root().iter():
        assert "style" not in element.attrib
        assert element.tag != f"{SVG}style"
        assert not element.tag.endswith("metadata")


def test_only_the_pages_own_colours_are_used() -> None:
    allowed = {"currentColor", "none", None}
    for element in root().iter():
        assert element.get("fill") in allowed
        assert element.get("stroke") in allowed


def test_every_id_belongs_to_the_figure_and_every_reference_is_met() -> None:
    text = measured_against_label(CHART)
    ids = set(re.findall(r' id="([^"]+)"', text))
    assert all(name.startswith("chart-width-") for name in ids)
    wanted = set(re.findall(r'href="#([^"]+)"', text)) | set(re.findall(r"url\(#([^)]+)\)", text))
    assert wanted <= ids


def test_text_stays_text_and_is_never_read_as_a_formula() -> None:
    assert "as the label says" in texts()
    title = root().find(f"{SVG}title")
    assert title is not None
    assert title.text == "Measured against $label$ <b>"


def test_the_same_subject_gives_the_same_bytes() -> None:
    first = measured_against_label(CHART)
    _drawn.cache_clear()
    assert measured_against_label(CHART) == first
    assert not re.search(r"20\d\d-\d\d-\d\d", first)


def test_a_chart_is_small_quick_and_without_warnings() -> None:
    measured_against_label(CHART)  # the library is loaded
    _drawn.cache_clear()
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        with at_most(1.0):  # a tenth of it on a machine with nothing else to do
            text = measured_against_label(CHART)
    assert len(list(ElementTree.fromstring(text).iter())) <= 300


def test_a_limit_chart_has_a_line_for_each_site_with_its_ends_and_its_middle() -> None:
    text = limits_of_sites(LIMITS)
    drawn = ElementTree.fromstring(text)
    nought, per_mm = scale(drawn, METRIC)
    level = levels(drawn)
    middles, ends = uses(drawn), uses(drawn, upright)
    for row in ROWS:
        for places, number in ((middles, row.median), (ends, row.low), (ends, row.high)):
            x, y = nought + per_mm * number, level[row.label]
            assert any(abs(px - x) < 0.5 and abs(py - y) < 1.0 for px, py in places), row
    assert level["Front"] < level["strut tube"] < level["apron"] < level["Rear"] < level["lip"]
    assert "3 sites, 2 with records" in text
    assert "style=" not in text
    odd = LimitChart("c", "t", (LimitRow("front", "a", float("nan"), 0.0, 1.0, 1),))
    with pytest.raises(ValueError, match="finite"):
        limits_of_sites(odd)


def test_what_records_say_is_told_apart_from_the_sheet_alone_by_a_full_mark_and_a_ring() -> None:
    drawn = ElementTree.fromstring(limits_of_sites(LIMITS))
    words = " ".join(levels(drawn))
    for wanted in ("from records", "the sheet alone", "as on the sheet"):
        assert wanted in words
    full, rings = (
        [
            use
            for use in drawn.iter(f"{SVG}use")
            if use.get("fill") == fill and use.get("class") == look and use.get("href") in round_
        ]
        for round_ in [{f"#{p.get('id')}" for p in drawn.iter(f"{SVG}path")
                        if is_round(p.get("d", ""))}]
        for fill, look in (("currentColor", None), ("none", "dw-ring"))
    )  # fmt: skip
    # each once more than its sites, for the legend
    assert (len(full), len(rings)) == (3, 2)


def test_the_mark_at_the_middle_stands_out_from_its_bar_however_small_the_chart() -> None:
    # On a phone a chart of 640 units is 332 px broad, the least that figure.css lets it be; a bar
    # keeps the breadth it is drawn with in px. Three bars and more across: our own measure.
    drawn = ElementTree.fromstring(limits_of_sites(LIMITS))
    thickest = max(
        float(path.get("stroke-width", "0"))
        for path in drawn.iter(f"{SVG}path")
        if path.get("stroke") == "currentColor"
    )
    outline = next(p.get("d", "") for p in drawn.iter(f"{SVG}path") if is_round(p.get("d", "")))
    reach = max(float(each) for each in re.findall(r"-?\d+\.?\d*", outline))
    assert 2.0 * reach * 332.0 / 640.0 > 3.0 * thickest


@pytest.mark.parametrize("unit", [METRIC, INCH])
def test_an_axis_has_round_numbers_in_either_unit(unit: str) -> None:
    drawn = root()
    nought, each = scale(drawn, unit)
    other, per_mm = scale(drawn, METRIC)
    assert nought == pytest.approx(other, abs=0.3)
    # An inch is 25.4 mm exactly [ISO 80000-3].
    assert each == pytest.approx(per_mm * (25.4 if unit == INCH else 1.0), rel=0.01)
    for group in drawn.iter(f"{SVG}g"):
        if group.get("class") == unit:
            for text in group.iter(f"{SVG}text"):
                number = "".join(text.itertext()).replace("\u2212", "-")
                assert len(number.replace("-", "").replace(".", "").lstrip("0")) <= 2


def test_the_words_of_an_axis_and_the_clubs_first_unit_follow() -> None:
    text = measured_against_label(CHART)
    assert f'<tspan class="{METRIC}">narrower ← mm → wider</tspan>' in text
    assert f'<tspan class="{INCH}">narrower ← in → wider</tspan>' in text
    first = measured_against_label(CHART, inch_first=True)
    assert 'class="dw-second dw-metric">narrower' in first
    assert 'class="dw-first dw-inch">narrower' in first
