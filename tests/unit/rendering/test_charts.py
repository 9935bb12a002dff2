"""Charts: points where their numbers are, the same bytes each time, fit for the page's policy."""

import re
import warnings
from time import perf_counter
from xml.etree import ElementTree

import pytest

from generator.rendering.charts import _drawn, width_against_offset
from generator.site.drawings import ChartPoint, OffsetChart

SVG = "{http://www.w3.org/2000/svg}"
POINTS = (
    ChartPoint(1, 7.0, 22.0, "no mark"),
    ChartPoint(2, 8.0, 10.0, "mark found"),
    ChartPoint(3, 7.5, -15.0, "not driven"),
    ChartPoint(4, 6.5, 30.0, "not told"),
    ChartPoint(5, 8.0, -4.0, "withdrawn"),
)
CHART = OffsetChart("chart-front", "Front: width against $offset$ <b>", 6.0, 24.0, POINTS)


def root() -> ElementTree.Element:
    return ElementTree.fromstring(width_against_offset(CHART))


def texts() -> list[str]:
    return [element.text or "" for element in root().iter(f"{SVG}text")]


def uses() -> dict[str, list[tuple[float, float]]]:
    """Give the places of all markers, by the shape that is placed."""
    found: dict[str, list[tuple[float, float]]] = {}
    for use in root().iter(f"{SVG}use"):
        place = (float(use.get("x", "0")), float(use.get("y", "0")))
        found.setdefault(use.get("href", ""), []).append(place)
    return found


def tick_places() -> tuple[dict[float, float], dict[float, float]]:
    """Give where the numbers of the two axes stand: of offset across, of width down."""
    across, down = {}, {}
    for text in root().iter(f"{SVG}text"):
        words = (text.text or "").replace("\u2212", "-")
        if not re.fullmatch(r"-?\d+(\.\d+)?", words) or "axis" in words:
            continue
        if text.get("text-anchor") == "middle" and not text.get("transform", "").startswith(
            "rotate(-90"
        ):
            across[float(words)] = float(text.get("x", "0"))
        elif text.get("text-anchor") == "end":
            down[float(words)] = float(text.get("y", "0"))
    return across, down


def test_a_point_stands_where_the_axes_put_it() -> None:
    across, down = tick_places()
    offsets, widths = sorted(across), sorted(down)
    per_mm = (across[offsets[-1]] - across[offsets[0]]) / (offsets[-1] - offsets[0])
    per_inch = (down[widths[-1]] - down[widths[0]]) / (widths[-1] - widths[0])
    places = [place for group in uses().values() for place in group]
    for point in POINTS:
        x = across[offsets[0]] + per_mm * (point.effective_offset - offsets[0])
        y = down[widths[0]] + per_inch * (point.width - widths[0])
        # a tick's number stands a third of its height below its tick
        assert any(abs(px - x) < 1.0 and abs(py - y) < 12.0 for px, py in places), point


def test_each_outcome_has_a_shape_of_its_own() -> None:
    words = texts()
    for point in POINTS:
        assert point.outcome in words
    assert "stock wheel" in words
    markers = {
        href
        for href, places in uses().items()
        if len(places) == 2  # one in the chart, one in the legend
    }
    assert len(markers) == len(POINTS) + 1


def test_an_outcome_without_a_shape_stops() -> None:
    odd = OffsetChart("c", "t", 6.0, 24.0, (ChartPoint(1, 7.0, 20.0, "exploded"),))
    with pytest.raises(ValueError, match="no marker"):
        width_against_offset(odd)


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), float("-inf")])
def test_a_number_that_is_not_finite_stops(bad: float) -> None:
    odd = OffsetChart("c", "t", 6.0, 24.0, (ChartPoint(1, 7.0, bad, "no mark"),))
    with pytest.raises(ValueError, match="finite"):
        width_against_offset(odd)


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
    text = width_against_offset(CHART)
    ids = set(re.findall(r' id="([^"]+)"', text))
    assert all(name.startswith("chart-front-") for name in ids)
    wanted = set(re.findall(r'href="#([^"]+)"', text)) | set(re.findall(r"url\(#([^)]+)\)", text))
    assert wanted <= ids


def test_text_stays_text_and_is_never_read_as_a_formula() -> None:
    assert "effective offset, mm" in texts()
    title = root().find(f"{SVG}title")
    assert title is not None
    assert title.text == "Front: width against $offset$ <b>"


def test_the_same_subject_gives_the_same_bytes() -> None:
    first = width_against_offset(CHART)
    _drawn.cache_clear()
    assert width_against_offset(CHART) == first
    assert not re.search(r"20\d\d-\d\d-\d\d", first)


def test_points_close_together_share_one_label() -> None:
    points = (
        ChartPoint(1, 7.0, 22.0, "no mark"),
        ChartPoint(2, 7.0, 20.5, "no mark"),
        ChartPoint(3, 7.0, -20.0, "no mark"),
    )
    text = width_against_offset(OffsetChart("c", "t", 6.0, 24.0, points))
    assert ">2, 1<" in text
    assert ">3<" in text


def test_a_chart_is_small_quick_and_without_warnings() -> None:
    width_against_offset(CHART)  # the library is loaded
    _drawn.cache_clear()
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        start = perf_counter()
        text = width_against_offset(CHART)
        took = perf_counter() - start
    assert took < 1.0  # a tenth of it on a machine with nothing else to do
    assert len(list(ElementTree.fromstring(text).iter())) <= 300
