"""The offset window: for each wheel width the effective offsets at which a usual tyre clears.

One row for each width, the widest at the top; outboard is to the left. Each stretch has the ground
of its word. Setups of the club stand on their row by the number they have on the page.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby
from math import ceil, floor

from generator.evidence.window import OffsetWindow, WidthRow
from generator.frozen import dataclass
from generator.quantities.rim_size import MM_PER_INCH
from generator.quantities.units import Inch, Mm
from generator.rendering.layout import LETTER, SHEET_WIDTH, Units
from generator.site.drawings import ChartPoint, WindowSubject
from generator.site.facts import Fact
from generator.site.window_shown import rows_shown

_LEFT: Units = 74.0
_RIGHT: Units = 12.0
_TOP: Units = 18.0
_ROW: Units = 58.0
_AXIS: Units = 64.0
_LEGEND: Units = 30.0
_TICK: Mm = 20.0
_NARROW: Mm = 100.0
"""An axis shorter than this has room for half inches."""
_MARK: Units = 7.0
_AROUND: Mm = 12.0
_STAR: Units = 64.0
_GROUNDS = {
    "clears": "dw-region-clears",
    "tight": "dw-region-tight",
    "touches": "dw-region-touches",
    "not known": "dw-region-unknown",
}


@dataclass(frozen=True)
class Stretch:
    """One stretch of one width: its ground, and its word where there is room."""

    ground: str
    x: Units
    width: Units
    word: str


@dataclass(frozen=True)
class Point:
    """Setups that stand close together on one row: a mark for each, one label for all."""

    marks: tuple[Units, ...]
    x: Units
    label: str


@dataclass(frozen=True)
class Row:
    """One width."""

    y: Units
    text: str
    text_y: Units
    word_y: Units
    mark_y: Units
    stretches: tuple[Stretch, ...]
    points: tuple[Point, ...]


@dataclass(frozen=True)
class Scene:
    """All coordinates of the drawing, in sheet units, and its words."""

    id: str
    title: str
    desc: str
    caption: str
    height: Units
    rows: tuple[Row, ...]
    row: Units
    left: Units
    right: Units
    bottom: Units
    ticks: tuple[tuple[str, tuple[tuple[Units, str], ...]], ...]
    stock_x: Units
    stock_y: Units
    legend: tuple[tuple[Units, str, str], ...]
    legend_y: Units
    numbers: tuple[Fact, ...] = ()


@dataclass(frozen=True)
class _Across:
    """Lays effective offsets across the sheet."""

    low: Mm
    high: Mm

    def held(self, offset: Mm) -> Mm:
        """Keep an offset on the sheet."""
        return min(max(offset, self.low), self.high)

    def x(self, offset: Mm) -> Units:
        share = (offset - self.low) / (self.high - self.low)
        return round(_LEFT + (SHEET_WIDTH - _LEFT - _RIGHT) * share, 1)


def scene(subject: WindowSubject) -> Scene:
    """Lay the drawing out."""
    window = subject.window
    across = _across(window, subject.points)
    shown = rows_shown(window, subject.points)[::-1]
    widths = [each.width for each in shown]
    nearest = min(widths, key=lambda width: abs(width - window.stock_width))
    rows = tuple(
        _row(each, _TOP + at * _ROW, across, _on_row(each.width, subject.points, shown))
        for at, each in enumerate(shown)
    )
    bottom = _TOP + len(rows) * _ROW
    rows = tuple(
        _without_word(row, across.x(window.stock_offset)) if width == nearest else row
        for row, width in zip(rows, widths, strict=True)
    )
    return Scene(
        id=subject.id,
        title=f"{window.axle.value.capitalize()}: wheel width against effective offset",
        desc=_described(window, subject),
        caption=f"{window.axle.value.capitalize()}. " + _caption(window),
        height=round(bottom + _AXIS + 2.0 * _LEGEND + 14.0, 1),
        rows=rows,
        row=_ROW,
        left=_LEFT,
        right=SHEET_WIDTH - _RIGHT,
        bottom=bottom,
        ticks=(
            ("metric", tuple(_ticks(across, _TICK, 1.0))),
            ("inch", tuple(_ticks(across, _inch_step(across), MM_PER_INCH))),
        ),
        stock_x=across.x(window.stock_offset),
        stock_y=round(_TOP + (widths.index(nearest) + 1.0) * _ROW - 16.0, 1),
        legend=tuple((_LEFT + 140.0 * at, *each) for at, each in enumerate(_GROUNDS.items())),
        legend_y=round(bottom + _AXIS + 14.0, 1),
    )


def _across(window: OffsetWindow, points: tuple[ChartPoint, ...]) -> _Across:
    """Take what is of interest: all that does not touch, all points, and a little around."""
    wanted = [window.stock_offset, *(point.effective_offset for point in points)]
    for row in window.rows:
        for each in row.stretches:
            if each.word != "touches":
                wanted += [each.low, each.high]
    return _Across(min(wanted) - _AROUND, max(wanted) + _AROUND)


def _on_row(
    width: Inch, points: tuple[ChartPoint, ...], shown: tuple[WidthRow, ...]
) -> list[ChartPoint]:
    """Give the setups whose width is nearest this row's."""
    widths = [row.width for row in shown]
    return [
        point for point in points if min(widths, key=lambda each: abs(each - point.width)) == width
    ]


def _row(row: WidthRow, y: Units, across: _Across, points: list[ChartPoint]) -> Row:
    spans = [(each.word, each.low, each.high) for each in row.stretches]
    spans = spans or [("not known", across.low, across.high)]
    placed = [
        (word, across.x(across.held(low)), across.x(across.held(high))) for word, low, high in spans
    ]
    return Row(
        y=round(y, 1),
        text=f"{row.width:g} in",
        text_y=round(y + _ROW / 2.0 + 8.0, 1),
        word_y=round(y + _ROW - 8.0, 1),
        mark_y=round(y + _MARK + 9.0, 1),
        stretches=tuple(_stretch(*each) for each in placed if each[2] > each[1]),
        points=tuple(_points(points, across)),
    )


def _stretch(word: str, low: Units, high: Units) -> Stretch:
    room = high - low > LETTER * len(word) + 8.0
    return Stretch(_GROUNDS[word], low, round(high - low, 1), word if room else "")


def _without_word(row: Row, x: Units) -> Row:
    """Leave out the word that the star would stand on."""
    stretches = tuple(
        replace(each, word="") if abs(each.x + each.width / 2.0 - x) < _STAR else each
        for each in row.stretches
    )
    return replace(row, stretches=stretches)


def _points(points: list[ChartPoint], across: _Across) -> Iterator[Point]:
    """Put setups whose labels would overlap under one label, from left to right."""
    cluster: list[ChartPoint] = []
    for point in sorted(points, key=lambda each: (each.effective_offset, each.number)):
        if cluster:
            before = _point(cluster, across)
            if across.x(point.effective_offset) < before.x + LETTER * (len(before.label) + 1):
                cluster.append(point)
                continue
            yield before
        cluster = [point]
    if cluster:
        yield _point(cluster, across)


def _point(cluster: list[ChartPoint], across: _Across) -> Point:
    marks = tuple(dict.fromkeys(across.x(each.effective_offset) for each in cluster))
    return Point(marks, marks[-1] + _MARK + 4.0, ", ".join(_numbers(cluster)))


def _numbers(cluster: list[ChartPoint]) -> Iterator[str]:
    """Write runs of numbers shortly."""
    numbers = sorted(each.number for each in cluster)
    for _, run in groupby(enumerate(numbers), key=lambda each: each[1] - each[0]):
        found = [number for _, number in run]
        yield str(found[0]) if len(found) < 3 else f"{found[0]}–{found[-1]}"
        if len(found) == 2:
            yield str(found[1])


def _inch_step(across: _Across) -> Inch:
    return 0.5 if across.high - across.low < _NARROW else 1.0


def _ticks(across: _Across, step: float, unit: Mm) -> Iterator[tuple[Units, str]]:
    """Divide the axis into round steps of a unit."""
    first, last = ceil(across.low / (step * unit)), floor(across.high / (step * unit))
    for at in range(first, last + 1):
        yield across.x(at * step * unit), f"{at * step:g}".replace("-", "\u2212")


def _described(window: OffsetWindow, subject: WindowSubject) -> str:
    counted = len(subject.points)
    return (
        f"Stock: {window.stock_width:g} in wide, effective offset {window.stock_offset:.0f} mm. "
        f"{counted} setup{'' if counted == 1 else 's'}."
    )


def _caption(window: OffsetWindow) -> str:
    unknown = ""
    if window.unknown_sites:
        unknown = f" Nothing is said to clear: {'; '.join(window.unknown_sites)}."
    return (
        "Further left is further outboard. The star is the stock wheel; rings are setups, by their "
        "numbers." + unknown
    )
