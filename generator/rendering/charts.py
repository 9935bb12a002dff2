"""Charts, and the only place that draws with matplotlib.

A chart is laid out on the same sheet of 640 units as the drawings, and is made to stand inside a
page: no style attributes (the page's policy refuses them), colours by class and `currentColor`, so
that both themes and forced colours hold, ids of its own, text that stays text. The same subject
gives the same bytes: fixed salt for ids, no date, default settings whatever the machine has.
"""

import re
import warnings
from functools import lru_cache
from io import StringIO
from itertools import groupby
from math import isfinite
from textwrap import wrap
from typing import TYPE_CHECKING, Any, Final, Literal
from xml.etree import ElementTree

from generator.quantities.rim_size import MM_PER_INCH
from generator.rendering.swarm import MARK, Mark, swarm
from generator.site.drawings import LimitChart, LimitRow, TyreChart

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

WIDTH = 640
_HEAD, _ROW, _FOOT, _LEGEND = 30, 30, 64, 34
"""Height of what stands above the lines of a chart, of a line of limits, of the axis below the
lines, and of what tells the marks apart."""
_LINE, _AIR, _LETTERS = 24, 3, 22
"""Height of a further line of a name, the air it asks for, and the letters that fit in one."""
_TEXT = 23
_RISE = 0.35
"""Height of the middle of a text above its line, over its size."""
_MIDDLE, _END = 15.0, 12.0
"""Breadth of the mark at the middle of a bar, and height of the marks at its ends."""
_INK, _SOFT, _GROUND = "#010101", "#020202", "#030303"
"""Stand for the page's colours while matplotlib draws; the last for what a mark is filled with that
a line passes behind."""
_COLOURS = {_INK: "currentColor", _SOFT: "currentColor", _GROUND: "none", "#ffffff": "none"}
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
_MM = re.compile(r"\bmm\b")
_DECIMAL = re.compile(r"-?\d+\.\d{2,}")


def measured_against_label(chart: TyreChart, *, inch_first: bool = False) -> str:
    """Draw how much wider tyres are than their label says, by the width of their rims.

    Raises ValueError for a number that is not finite.
    """
    numbers = [number for point in chart.points for number in (point.width, point.wider)]
    if not all(isfinite(number) for number in numbers):
        raise ValueError(f"chart {chart.id}: every point needs finite numbers")
    return _drawn(chart, inch_first)


def limits_of_sites(chart: LimitChart, *, inch_first: bool = False) -> str:
    """Draw the range of the next car's room at each site, against the sheet.

    Raises ValueError for a number that is not finite.
    """
    numbers = [number for row in chart.rows for number in (row.low, row.median, row.high)]
    if not all(isfinite(number) for number in numbers):
        raise ValueError(f"chart {chart.id}: every row needs finite numbers")
    return _drawn(chart, inch_first)


@lru_cache(maxsize=64)
def _drawn(chart: TyreChart | LimitChart, inch_first: bool) -> str:
    import matplotlib

    with warnings.catch_warnings(), matplotlib.rc_context():
        warnings.simplefilter("error")
        matplotlib.rcdefaults()
        for name, value in _SETTINGS:
            matplotlib.rcParams[name] = value
        figure = _limits(chart) if isinstance(chart, LimitChart) else _tyres(chart)
        buffer = StringIO()
        figure.savefig(buffer, format="svg", metadata={"Date": None, "Creator": None})
    return _for_page(buffer.getvalue(), chart, figure.get_figheight() * 72, inch_first)


def _limits(chart: LimitChart) -> "Figure":
    """Lay out one row a site, by ends of the car: a bar from 5 to 95 %, its middle marked."""
    rows: list[tuple[LimitRow | str, tuple[str, ...], float]] = []
    height = 0.0
    for axle, sites in groupby(chart.rows, key=lambda row: row.axle):
        for row in (axle.capitalize(), *sites):
            words = (row,) if isinstance(row, str) else _lines(row.label)
            tall = _ROW + (_LINE + _AIR) * (len(words) - 1)
            rows.append((row, words, height + tall / 2))
            height += tall
    figure, axes = _sheet(_HEAD + height + _FOOT + _LEGEND, (0.43, _FOOT + _LEGEND, 0.54, height))
    for is_known, word in ((True, "from records"), (False, "the sheet alone")):
        found = {
            y: row for row, _, y in rows
            if isinstance(row, LimitRow) and bool(row.cars) is is_known
        }  # fmt: skip
        if found:
            _bars(axes, found, word, is_known)
    axes.set_ylim(height, 0.0)
    axes.set_yticks([])
    for row, words, y in rows:
        for at, line in enumerate(words):
            level = y + _LINE * (at - (len(words) - 1) / 2)
            if isinstance(row, str):
                _beyond(axes, line, level, -0.775, "left")
            else:
                _beyond(axes, line, level, -0.025, "right")
    axes.set_xlabel("less room ← mm → more room")
    _finish(axes, "as on the sheet", 5)
    figure.legend(
        loc="lower left", bbox_to_anchor=(0.0, 0.0), ncol=2, frameon=False, handlelength=1.0,
        handletextpad=0.5, columnspacing=1.4, borderpad=0.1,
    )  # fmt: skip
    return figure


def _lines(name: str) -> tuple[str, ...]:
    return tuple(wrap(name, _LETTERS, break_long_words=False, break_on_hyphens=False))


def _bars(axes: "Axes", found: dict[float, LimitRow], word: str, is_known: bool) -> None:
    """Draw the bars of rows by their heights; what the sheet alone says is thin and hollow."""
    lows, highs = zip(*((row.low, row.high) for row in found.values()), strict=True)
    width = 2.0 if is_known else 1.0
    axes.hlines(list(found), lows, highs, colors=_INK, linewidth=width)
    axes.plot(
        [*lows, *highs], [*found] * 2, "|", color=_INK, markersize=_END,
        markeredgewidth=width, linestyle="none",
    )  # fmt: skip
    axes.plot(
        [row.median for row in found.values()], list(found), "o", color=_INK,
        markersize=_MIDDLE, markerfacecolor=_INK if is_known else _GROUND,
        markeredgewidth=1.8, linestyle="none", label=word,
    )  # fmt: skip


def _tyres(chart: TyreChart) -> "Figure":
    """Lay out one row a width of rim, a mark a tyre; the outermost of a row bear their numbers."""
    breadth = 0.68
    laid = swarm(chart.points, breadth * WIDTH)
    figure, axes = _sheet(_HEAD + laid.height + _FOOT, (0.16, _FOOT, breadth, laid.height))
    axes.set_xlim(laid.least, laid.most)
    axes.set_ylim(laid.height, 0.0)
    marks = [mark for row in laid.rows for mark in row.marks]
    axes.plot(
        [mark.wider for mark in marks], [mark.y for mark in marks], "o", color=_INK,
        markersize=MARK - 1.0, markeredgewidth=0.0, linestyle="none",
    )  # fmt: skip
    for row in laid.rows:
        axes.axhline(row.bottom, color=_SOFT, linewidth=0.5, alpha=0.35)
        _beside(axes, row.marks[-1], 1)
        if len(row.marks) > 1:
            _beside(axes, row.marks[0], -1)
        _beyond(axes, str(len(row.marks)), row.middle, 1.2, "right")
    _beyond(axes, "tyres", -0.5 * _HEAD, 1.2, "right")
    axes.set_yticks([row.middle for row in laid.rows], [f"{row.width:g} in" for row in laid.rows])
    axes.set_xlabel("narrower ← mm → wider")
    _finish(axes, "as the label says", 6)
    return figure


def _beside(axes: "Axes", mark: Mark, side: int) -> None:
    axes.annotate(
        str(mark.number), (mark.wider, mark.y), textcoords="offset points", xytext=(side * MARK, 0),
        ha="left" if side > 0 else "right", va="center_baseline", color=_INK,
    )  # fmt: skip


def _beyond(
    axes: "Axes", words: str, y: float, share: float, side: Literal["left", "right"]
) -> None:
    """Write at a height of the axes, but beside them: at a share of their breadth."""
    axes.text(
        share, y, words, transform=axes.get_yaxis_transform(), ha=side, va="center_baseline",
        color=_INK,
    )  # fmt: skip


def _sheet(height: float, box: tuple[float, float, float, float]) -> tuple["Figure", "Axes"]:
    """Give a sheet and axes on it; the box in shares of the breadth, and in units of the height."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(WIDTH / 72, height / 72), dpi=72)
    axes = figure.add_axes((box[0], box[1] / height, box[2], box[3] / height))
    figure.patch.set_visible(False)
    axes.patch.set_visible(False)
    return figure, axes


def _finish(axes: "Axes", zero: str, steps: int) -> None:
    """Mark where nothing differs, name it above, and leave of the frame the axis below alone."""
    axes.axvline(0.0, color=_INK, linewidth=1.2, linestyle=(0, (7, 4)))
    axes.annotate(
        zero, (0.0, 1.0), xycoords=axes.get_xaxis_transform(), textcoords="offset points",
        xytext=(0, 0.5 * _HEAD), ha="center", va="center_baseline", color=_INK,
    )  # fmt: skip
    axes.set_axisbelow(True)
    axes.tick_params(axis="y", length=0, pad=8)
    for side in ("top", "right", "left"):
        axes.spines[side].set_visible(False)
    _two_scales(axes, steps)


def _two_scales(axes: "Axes", steps: int) -> None:
    """Divide the axis across into round millimetres, and a second time into round inches."""
    from matplotlib.ticker import MaxNLocator

    low, high = axes.get_xlim()
    axes.xaxis.remove_overlapping_locs = False  # either scale has its own nought
    for is_second, (unit, size) in enumerate((("metric", 1.0), ("inch", MM_PER_INCH))):
        rounds = MaxNLocator(steps, steps=[1, 2, 5, 10]).tick_values(low / size, high / size)
        inside = [each for each in rounds if low <= each * size <= high]
        labels = [f"{each:g}".replace("-", "\u2212") for each in inside]
        axes.set_xticks([each * size for each in inside], labels, minor=bool(is_second))
        ticks = axes.xaxis.get_minor_ticks() if is_second else axes.xaxis.get_major_ticks()
        for at, tick in enumerate(ticks):
            for part, artist in enumerate((tick.gridline, tick.tick1line, tick.label1)):
                artist.set_gid(f"{unit}-{at}-{part}")
    axes.set_xlim(low, high)
    axes.tick_params(axis="x", which="both", length=4, pad=4, labelsize=_TEXT)
    axes.grid(visible=True, which="both", axis="x", color=_SOFT, linewidth=0.5, alpha=0.35)


def _for_page(text: str, chart: TyreChart | LimitChart, height: float, inch_first: bool) -> str:
    """Turn matplotlib's file into a drawing of the guide."""
    ElementTree.register_namespace("", _SVG)
    root = ElementTree.fromstring(text)
    for unwanted in ("metadata", "defs/style"):
        path = "/".join(f"{{{_SVG}}}{part}" for part in unwanted.split("/"))
        _remove(root, path)
    for element in root.iter():
        _plain_attributes(element, chart.id)
    _in_either_unit(root, chart.id, inch_first)
    root.attrib.clear()
    for name, value in (
        ("class", "dw dw-chart"),
        ("role", "img"),
        ("aria-labelledby", f"{chart.id}-title {chart.id}-desc"),
        ("viewBox", f"0 0 {WIDTH} {height:.0f}"),
        ("width", str(WIDTH)),
        ("height", f"{height:.0f}"),
        ("stroke-linejoin", "round"),
    ):
        root.set(name, value)
    for at, (tag, words) in enumerate((("title", chart.title), ("desc", _described(chart)))):
        element = ElementTree.Element(f"{{{_SVG}}}{tag}", {"id": f"{chart.id}-{tag}"})
        element.text = words
        root.insert(at, element)
    return re.sub(r">\s+<", "><", ElementTree.tostring(root, encoding="unicode"))


def _in_either_unit(root: ElementTree.Element, prefix: str, inch_first: bool) -> None:
    """Let the reader's unit choose between the axes of both, and between their words."""
    classes = {
        "metric": f"dw-{'second' if inch_first else 'first'} dw-metric",
        "inch": f"dw-{'first' if inch_first else 'second'} dw-inch",
    }
    for element in root.iter():
        unit = element.get("id", "").removeprefix(f"{prefix}-").partition("-")[0]
        if unit in classes:
            element.set("class", classes[unit])
        if element.tag == f"{{{_SVG}}}text" and _MM.search(words := element.text or ""):
            element.text = None
            for unit, said in (("metric", words), ("inch", _MM.sub("in", words))):
                tspan = ElementTree.SubElement(
                    element, f"{{{_SVG}}}tspan", {"class": classes[unit]}
                )
                tspan.text = said


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
    if element.get("fill") == _GROUND:
        element.set("class", "dw-ring")
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
        for name in ("fill", "font-size", "font-family", "transform"):
            element.attrib.pop(name, None)
        # Text is shown smaller than it is laid out for where there is room, and stays at its level.
        element.set("y", f"{float(element.get('y', '0')) - _RISE * _TEXT:.1f}")
        element.set("dominant-baseline", "central")
