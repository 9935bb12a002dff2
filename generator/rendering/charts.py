"""Charts, and the only place that draws with matplotlib.

A chart is laid out on the same sheet of 640 units as the drawings, and is made to stand inside a
page: no style attributes (the page's policy refuses them), colours by class and `currentColor`, so
that both themes and forced colours hold, ids of its own, text that stays text. The same subject
gives the same bytes: fixed salt for ids, no date, default settings whatever the machine has.
"""

import re
import warnings
from collections.abc import Iterator
from functools import lru_cache
from io import StringIO
from itertools import groupby
from math import isfinite
from typing import TYPE_CHECKING, Any, Final
from xml.etree import ElementTree

from generator.frozen import dataclass
from generator.quantities.units import Inch, Mm, Ratio
from generator.rendering import filters
from generator.site.drawings import LimitChart, TyreChart, TyrePoint

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

WIDTH, HEIGHT = 640, 460
_ROW, _FOOT = 30, 116
"""Height of a line of a limit chart, and of what stands below the lines."""
_TEXT = 23
_INK, _SOFT = "#010101", "#020202"
"""Stand for the page's colours while matplotlib draws."""
_COLOURS = {_INK: "currentColor", _SOFT: "currentColor", "#ffffff": "none"}
_MARKERS = {"both ends": "o", "front": "^", "rear": "s"}
"""One shape for each end of a car; a word not listed here stops the build."""
_ROOM: Mm = 8.0
"""Room left of the least and right of the greatest difference, together."""
_MOST_NUMBERS = 3
"""Numbers in one label; of more tyres close together the count is told."""
_CLOSE: Ratio = 0.045
_LETTER: Ratio = 0.026
"""Breadth of a marker with its air, and of a letter, over that of the chart."""
_SETTINGS: Final[tuple[tuple[Any, object], ...]] = (
    ("svg.hashsalt", "gapbook"),
    ("svg.fonttype", "none"),
    ("text.parse_math", False),
    ("font.size", _TEXT),
    ("axes.edgecolor", _INK),
    ("axes.labelcolor", _INK),
    ("text.color", _INK),
    ("xtick.color", _INK),
    ("ytick.color", _INK),
    ("axes.linewidth", 1.0),
)
_SVG = "http://www.w3.org/2000/svg"
_LINK = "{http://www.w3.org/1999/xlink}href"
_DROPPED_STYLES = frozenset({"", "stroke-miterlimit", "font-size", "font-family", "font"})
_ACROSS = "matplotlib.axis_1"
"""The group of the axis across the chart, along which lengths stand."""
_NUMBER = re.compile(r"-?\d+(\.\d+)?")
_MM = re.compile(r"\bmm\b")
_DECIMAL = re.compile(r"-?\d+\.\d{2,}")


def measured_against_label(chart: TyreChart) -> str:
    """Draw how much wider tyres are than their label says, by the width of their rims.

    Raises ValueError for a number that is not finite.
    """
    numbers = [number for point in chart.points for number in (point.width, point.wider)]
    if not all(isfinite(number) for number in numbers):
        raise ValueError(f"chart {chart.id}: every point needs finite numbers")
    return _drawn(chart)


def limits_of_sites(chart: LimitChart) -> str:
    """Draw the range of the next car's room at each site, against the sheet.

    Raises ValueError for a number that is not finite.
    """
    numbers = [number for row in chart.rows for number in (row.low, row.median, row.high)]
    if not all(isfinite(number) for number in numbers):
        raise ValueError(f"chart {chart.id}: every row needs finite numbers")
    return _drawn(chart)


@lru_cache(maxsize=64)
def _drawn(chart: TyreChart | LimitChart) -> str:
    import matplotlib

    with warnings.catch_warnings(), matplotlib.rc_context():
        warnings.simplefilter("error")
        matplotlib.rcdefaults()
        for name, value in _SETTINGS:
            matplotlib.rcParams[name] = value
        figure = _limits(chart) if isinstance(chart, LimitChart) else _figure(chart)
        buffer = StringIO()
        figure.savefig(buffer, format="svg", metadata={"Date": None, "Creator": None})
    return _for_page(buffer.getvalue(), chart)


def _height(chart: TyreChart | LimitChart) -> int:
    return _FOOT + _ROW * len(chart.rows) if isinstance(chart, LimitChart) else HEIGHT


def _limits(chart: LimitChart) -> "Figure":
    """Lay out one line a site: a bar from 5 to 95 %, and a mark at the middle."""
    from matplotlib.figure import Figure

    height = _height(chart)
    figure = Figure(figsize=(WIDTH / 72, height / 72), dpi=72)
    axes = figure.add_axes((0.44, (_FOOT - 8) / height, 0.53, 1.0 - _FOOT / height))
    figure.patch.set_visible(False)
    axes.patch.set_visible(False)
    axes.axvline(0.0, color=_INK, linewidth=1.2, linestyle=(0, (7, 4)), label="as on the sheet")
    for is_known, word in ((True, "from records"), (False, "the sheet alone")):
        found = [(at, row) for at, row in enumerate(chart.rows) if bool(row.cars) is is_known]
        if found:
            axes.hlines(
                [at for at, _ in found], [row.low for _, row in found],
                [row.high for _, row in found], colors=_INK,
                linewidth=3.0 if is_known else 1.0,
            )  # fmt: skip
            axes.plot(
                [row.median for _, row in found], [at for at, _ in found],
                "o" if is_known else "|", color=_INK, markersize=9,
                linestyle="none", label=word,
            )  # fmt: skip
    axes.set_ylim(len(chart.rows) - 0.4, -0.6)
    axes.set_yticks(range(len(chart.rows)), [row.label for row in chart.rows])
    axes.set_xlabel("less room ← mm → more room")
    axes.locator_params(axis="x", nbins=5)
    axes.grid(visible=True, axis="x", color=_SOFT, linewidth=0.5, alpha=0.35)
    for side in ("top", "right", "left"):
        axes.spines[side].set_visible(False)
    figure.legend(
        loc="lower left", bbox_to_anchor=(0.0, 0.0), ncol=3, frameon=False, handlelength=1.2,
        handletextpad=0.5, columnspacing=1.2, borderpad=0.1,
    )  # fmt: skip
    return figure


def _figure(chart: TyreChart) -> "Figure":
    from matplotlib.figure import Figure

    figure = Figure(figsize=(WIDTH / 72, HEIGHT / 72), dpi=72)
    axes = figure.add_axes((0.16, 0.29, 0.80, 0.665))
    figure.patch.set_visible(False)
    axes.patch.set_visible(False)
    axes.axvline(0.0, color=_INK, linewidth=1.2, linestyle=(0, (7, 4)), label="as the label says")
    for word, marker in _MARKERS.items():
        found = [point for point in chart.points if point.end == word]
        if found:
            axes.plot(
                [point.wider for point in found], [point.width for point in found],
                marker, color=_INK, markersize=13, markerfacecolor="none",
                markeredgewidth=1.8, label=word,
            )  # fmt: skip
    unknown = {point.end for point in chart.points} - set(_MARKERS)
    if unknown:
        raise ValueError(f"chart {chart.id}: no marker for {sorted(unknown)}")
    _finish(axes, chart)
    figure.legend(
        loc="lower left", bbox_to_anchor=(0.0, 0.0), ncol=2, frameon=False, handlelength=1.2,
        handletextpad=0.5, columnspacing=1.4, labelspacing=0.35, borderpad=0.1,
    )  # fmt: skip
    return figure


def _finish(axes: "Axes", chart: TyreChart) -> None:
    for place in _places(chart.points):
        axes.annotate(
            place.label, (place.wider, place.width), textcoords="offset points",
            xytext=(11, 9), color=_INK,
        )  # fmt: skip
    wider = [0.0, *(point.wider for point in chart.points)]
    widths = [point.width for point in chart.points]
    axes.set_xlim(min(wider) - 0.4 * _ROOM, max(wider) + _ROOM)
    axes.set_ylim(min(widths) - 0.6, max(widths) + 0.8)
    axes.set_xlabel("wider than the label says, mm")
    axes.set_ylabel("rim width, in")
    axes.set_yticks(_half_inches(min(widths), max(widths)))
    axes.locator_params(axis="x", nbins=5)
    axes.grid(visible=True, color=_SOFT, linewidth=0.5, alpha=0.35)
    axes.set_axisbelow(True)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)


def _half_inches(least: Inch, most: Inch) -> list[Inch]:
    first, last = round(least * 2.0), round(most * 2.0)
    step = 1 if last - first <= 6 else 2
    return [half / 2.0 for half in range(first, last + 1, step)]


@dataclass(frozen=True)
class _Place:
    """A place in the chart with the numbers of all setups that stand there."""

    width: Inch
    wider: Mm
    label: str


def _places(points: tuple[TyrePoint, ...]) -> Iterator[_Place]:
    """Put points of one width that stand close together under one label, from left to right."""
    wider = [0.0, *(point.wider for point in points)]
    breadth = max(wider) - min(wider) + _ROOM
    for width, group in groupby(sorted(points, key=_along), key=lambda point: point.width):
        cluster: list[TyrePoint] = []
        for point in group:
            if cluster and not _would_overlap(cluster, point, breadth):
                yield _labelled(width, cluster)
                cluster = []
            cluster.append(point)
        yield _labelled(width, cluster)


def _would_overlap(cluster: list[TyrePoint], point: TyrePoint, breadth: Mm) -> bool:
    label = _labelled(point.width, cluster).label
    room = breadth * (_CLOSE + _LETTER * len(label))
    return point.wider - cluster[-1].wider < room


def _along(point: TyrePoint) -> tuple[Inch, Mm, int]:
    return (point.width, point.wider, point.number)


def _labelled(width: Inch, cluster: list[TyrePoint]) -> _Place:
    numbers = ", ".join(str(point.number) for point in cluster)
    if len(cluster) > _MOST_NUMBERS:
        numbers = f"{len(cluster)} tyres"
    return _Place(width, cluster[-1].wider, numbers)


def _for_page(text: str, chart: TyreChart | LimitChart) -> str:
    """Turn matplotlib's file into a drawing of the guide."""
    ElementTree.register_namespace("", _SVG)
    root = ElementTree.fromstring(text)
    for unwanted in ("metadata", "defs/style"):
        path = "/".join(f"{{{_SVG}}}{part}" for part in unwanted.split("/"))
        _remove(root, path)
    for element in root.iter():
        _plain_attributes(element, chart.id)
    _in_both_units(root, chart.id)
    root.attrib.clear()
    for name, value in (
        ("class", "dw dw-chart"),
        ("role", "img"),
        ("aria-labelledby", f"{chart.id}-title {chart.id}-desc"),
        ("viewBox", f"0 0 {WIDTH} {_height(chart)}"),
        ("width", str(WIDTH)),
        ("height", str(_height(chart))),
        ("stroke-linejoin", "round"),
    ):
        root.set(name, value)
    for at, (tag, words) in enumerate((("title", chart.title), ("desc", _described(chart)))):
        element = ElementTree.Element(f"{{{_SVG}}}{tag}", {"id": f"{chart.id}-{tag}"})
        element.text = words
        root.insert(at, element)
    return re.sub(r">\s+<", "><", ElementTree.tostring(root, encoding="unicode"))


def _in_both_units(root: ElementTree.Element, prefix: str) -> None:
    """Write the lengths along the chart in inches too; the reader's unit chooses."""
    for axis in root.iter(f"{{{_SVG}}}g"):
        if axis.get("id") == f"{prefix}-{_ACROSS}":
            for element in axis.iter(f"{{{_SVG}}}text"):
                words = element.text or ""
                element.text = None
                for class_, said in (
                    ("dw-first dw-metric", words),
                    ("dw-second dw-inch", _in_inches(words)),
                ):
                    tspan = ElementTree.SubElement(element, f"{{{_SVG}}}tspan", {"class": class_})
                    tspan.text = said


def _in_inches(words: str) -> str:
    """Give a number of millimetres, or the words of an axis, for readers of inches."""
    number = words.replace("\u2212", "-")
    if _NUMBER.fullmatch(number):
        return filters.figure(filters.inches(float(number)), 2)
    return _MM.sub("in", words)


def _described(chart: TyreChart | LimitChart) -> str:
    if isinstance(chart, LimitChart):
        known = len([row for row in chart.rows if row.cars])
        return f"{len(chart.rows)} sites, {known} with records; the numbers are in the tables."
    counted = len(chart.points)
    return f"{counted} tyre{'' if counted == 1 else 's'}, by the numbers of the table below."


def _remove(root: ElementTree.Element, path: str) -> None:
    parent_path, _, tag = path.rpartition("/{")
    for parent in root.findall(parent_path) if parent_path else [root]:
        for child in parent.findall("{" + tag if parent_path else path):
            parent.remove(child)


def _plain_attributes(element: ElementTree.Element, prefix: str) -> None:
    """Turn style into attributes and colours into the page's; make ids the figure's own."""
    for declaration in element.attrib.pop("style", "").split(";"):
        name, _, value = (part.strip() for part in declaration.partition(":"))
        if name not in _DROPPED_STYLES:
            element.set(name, value)
    if element.tag == f"{{{_SVG}}}text":
        element.set("class", "dw-text")
    for name, value in list(element.attrib.items()):
        if name == "id":
            element.set("id", f"{prefix}-{value}")
        elif name == _LINK:
            del element.attrib[name]
            element.set("href", value.replace("#", f"#{prefix}-"))
        elif "url(#" in value:
            element.set(name, value.replace("url(#", f"url(#{prefix}-"))
        elif value in _COLOURS:
            element.set(name, _COLOURS[value])
        else:
            element.set(name, _DECIMAL.sub(lambda m: f"{float(m[0]):.1f}", value))
    if element.tag == f"{{{_SVG}}}text":
        for name in ("fill", "font-size", "font-family"):
            element.attrib.pop(name, None)
