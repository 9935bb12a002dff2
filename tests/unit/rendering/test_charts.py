"""Charts: points where their numbers are, the same bytes each time, fit for the page's policy."""

import re
import warnings
from xml.etree import ElementTree

import pytest

from generator.rendering.charts import _drawn, measured_against_label
from generator.site.drawings import TyreChart, TyrePoint
from tests.processor import at_most

SVG = "{http://www.w3.org/2000/svg}"
POINTS = (
    TyrePoint(1, 7.0, 8.0, "front"),
    TyrePoint(2, 8.0, 3.0, "rear"),
    TyrePoint(3, 7.5, -5.0, "front"),
    TyrePoint(4, 6.5, 11.0, "rear"),
    TyrePoint(5, 8.0, -2.0, "front"),
)
CHART = TyreChart("chart-width", "Measured against $label$ <b>", POINTS)


def root() -> ElementTree.Element:
    return ElementTree.fromstring(measured_against_label(CHART))


def said(text: ElementTree.Element) -> str:
    """Give the words of a text as a reader of millimetres sees them."""
    metric = text.find(f"{SVG}tspan[@class='dw-first dw-metric']")
    return (text if metric is None else metric).text or ""


def texts() -> list[str]:
    return [said(element) for element in root().iter(f"{SVG}text")]


def uses() -> dict[str, list[tuple[float, float]]]:
    """Give the places of all markers, by the shape that is placed."""
    found: dict[str, list[tuple[float, float]]] = {}
    for use in root().iter(f"{SVG}use"):
        place = (float(use.get("x", "0")), float(use.get("y", "0")))
        found.setdefault(use.get("href", ""), []).append(place)
    return found


def tick_places() -> tuple[dict[float, float], dict[float, float]]:
    """Give where the numbers of the two axes stand: of difference across, of width down."""
    across, down = {}, {}
    for text in root().iter(f"{SVG}text"):
        words = said(text).replace("\u2212", "-")
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
    wider, widths = sorted(across), sorted(down)
    per_mm = (across[wider[-1]] - across[wider[0]]) / (wider[-1] - wider[0])
    per_inch = (down[widths[-1]] - down[widths[0]]) / (widths[-1] - widths[0])
    places = [place for group in uses().values() for place in group]
    for point in POINTS:
        x = across[wider[0]] + per_mm * (point.wider - wider[0])
        y = down[widths[0]] + per_inch * (point.width - widths[0])
        # a tick's number stands a third of its height below its tick
        assert any(abs(px - x) < 1.0 and abs(py - y) < 12.0 for px, py in places), point


def test_each_end_of_a_car_has_a_shape_of_its_own() -> None:
    words = texts()
    assert {"front", "rear", "as the label says"} <= set(words)
    # each shape once more than its points, for the legend
    counts = sorted(len(places) for places in uses().values() if len(places) > 2)
    assert counts[:2] == [3, 4]


def test_a_word_without_a_shape_stops() -> None:
    odd = TyreChart("c", "t", (TyrePoint(1, 7.0, 20.0, "middle"),))
    with pytest.raises(ValueError, match="no marker"):
        measured_against_label(odd)


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), float("-inf")])
def test_a_number_that_is_not_finite_stops(bad: float) -> None:
    odd = TyreChart("c", "t", (TyrePoint(1, 7.0, bad, "front"),))
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
    assert "wider than the label says, mm" in texts()
    title = root().find(f"{SVG}title")
    assert title is not None
    assert title.text == "Measured against $label$ <b>"


def test_the_same_subject_gives_the_same_bytes() -> None:
    first = measured_against_label(CHART)
    _drawn.cache_clear()
    assert measured_against_label(CHART) == first
    assert not re.search(r"20\d\d-\d\d-\d\d", first)


def test_points_close_together_share_one_label() -> None:
    points = (
        TyrePoint(1, 7.0, 9.0, "front"),
        TyrePoint(2, 7.0, 8.6, "front"),
        TyrePoint(3, 7.0, -9.0, "front"),
    )
    text = measured_against_label(TyreChart("c", "t", points))
    assert ">2, 1<" in text
    assert ">3<" in text


def test_many_points_close_together_are_counted() -> None:
    points = tuple(TyrePoint(at, 7.0, 2.0 + 0.01 * at, "front") for at in range(1, 6))
    assert ">5 tyres<" in measured_against_label(TyreChart("c", "t", points))


def test_a_chart_is_small_quick_and_without_warnings() -> None:
    measured_against_label(CHART)  # the library is loaded
    _drawn.cache_clear()
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        with at_most(1.0):  # a tenth of it on a machine with nothing else to do
            text = measured_against_label(CHART)
    assert len(list(ElementTree.fromstring(text).iter())) <= 300


def test_a_limit_chart_has_a_line_for_each_site_and_is_told_apart_by_mark() -> None:
    from generator.rendering.charts import limits_of_sites
    from generator.site.drawings import LimitChart, LimitRow

    rows = (LimitRow("F strut tube", -2.0, 0.5, 3.0, 4), LimitRow("R lip", -9.0, 0.0, 9.0, 0))
    text = limits_of_sites(LimitChart("limits-chart", "room", rows))
    for words in ("F strut tube", "R lip", "from records", "the sheet alone", "as on the sheet"):
        assert words in text
    assert "2 sites, 1 with records" in text
    assert "style=" not in text
    with pytest.raises(ValueError, match="finite"):
        limits_of_sites(LimitChart("c", "t", (LimitRow("a", float("nan"), 0.0, 1.0, 1),)))


def test_lengths_along_a_chart_stand_in_both_units() -> None:
    text = measured_against_label(CHART)
    # By hand: 10 mm / 25.4 = 0.394 in.
    assert '>10</tspan><tspan class="dw-second dw-inch">0.39</tspan>' in text
    assert "wider than the label says, mm</tspan>" in text
    assert "wider than the label says, in</tspan>" in text
    assert "rim width, in</text>" in text
