"""The offset window: for each wheel width the effective offsets at which a usual tyre clears.

One row for each width, the widest at the top; outboard is to the left. Each stretch has the ground
of its word. Setups of the club stand on their row as rings. Their numbers on the page stand on bare
paper above the row, where no word of a stretch and no hatching comes near them; a line leads from
each to its ring.
"""

from collections.abc import Iterator
from math import ceil, floor, fsum

from generator.evidence.window import OffsetWindow, WidthRow
from generator.frozen import dataclass
from generator.quantities.rim_size import MM_PER_INCH
from generator.quantities.units import Inch, Mm
from generator.rendering.layout import LETTER, SHEET_WIDTH, Units, spread
from generator.site.drawings import ChartPoint, WindowSubject
from generator.site.facts import Fact
from generator.site.window_shown import rows_shown

_LEFT: Units = 74.0
_RIGHT: Units = 12.0
_TOP: Units = 18.0
_ROW: Units = 58.0
_STRIP: Units = 40.0
"""Above a row with setups, for their numbers and the lines that lead down to the rings."""
_AXIS: Units = 64.0
_LEGEND: Units = 30.0
_WITHIN = (_LEFT, SHEET_WIDTH - _RIGHT)
_TICK: Mm = 20.0
_NARROW: Mm = 100.0
"""An axis shorter than this has room for half inches."""
_MARK: Units = 7.0
_AROUND: Mm = 16.0
_STAR: Units = 18.0
_APART: Units = 12.0
_ONE: Units = 4.0
"""Rings that lie nearer look like one."""
_MOST_NUMBERS = 6
"""Numbers of one ring at most; more are counted, and stand in the table."""
_WORD: dict[str, Units] = {"clears": 58.0, "tight": 44.0, "touches": 74.0, "not known": 96.0}
"""Breadth of each word as it is set, with a little around it."""
_GROUNDS = {
    "clears": "dw-region-clears",
    "tight": "dw-region-tight",
    "touches": "dw-region-touches",
    "not known": "dw-region-unknown",
}


@dataclass(frozen=True)
class Stretch:
    """One stretch of one width: its ground, and its word with its middle, where there is room."""

    ground: str
    x: Units
    width: Units
    word: str
    word_x: Units


@dataclass(frozen=True)
class Point:
    """Setups that one label tells of: a mark for each, and the line from the label to them."""

    marks: tuple[Units, ...]
    x: Units
    label: str
    lead: str


@dataclass(frozen=True)
class Row:
    """One width."""

    y: Units
    text: str
    text_y: Units
    word_y: Units
    mark_y: Units
    label_y: Units
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
    star = across.x(window.stock_offset)
    rows, bottom = [], _TOP
    for each in shown:
        points = _on_row(each.width, subject.points, shown)
        bottom += _STRIP if points else 0.0
        placed = _Placed(each, bottom, star if each.width == nearest else None)
        rows.append(_row(placed, across, points))
        bottom += _ROW
    starred = rows[widths.index(nearest)]
    return Scene(
        id=subject.id,
        title=f"{window.axle.value.capitalize()}: wheel width against effective offset",
        desc=_described(window, subject),
        caption=f"{window.axle.value.capitalize()}. {_caption(subject)}".strip(),
        height=round(bottom + _AXIS + _LEGEND + 26.0, 1),
        rows=tuple(rows),
        row=_ROW,
        left=_LEFT,
        right=SHEET_WIDTH - _RIGHT,
        bottom=bottom,
        ticks=(
            ("metric", tuple(_ticks(across, _TICK, 1.0))),
            ("inch", tuple(_ticks(across, _inch_step(across), MM_PER_INCH))),
        ),
        stock_x=star,
        stock_y=round(starred.y + _ROW - 16.0, 1),
        legend=tuple((_LEFT + 140.0 * at, *each) for at, each in enumerate(_grounds(rows))),
        legend_y=round(bottom + _AXIS + 14.0, 1),
    )


def _grounds(rows: list[Row]) -> Iterator[tuple[str, str]]:
    """Give the words that occur with their grounds."""
    drawn = {each.ground for row in rows for each in row.stretches}
    return ((word, ground) for word, ground in _GROUNDS.items() if ground in drawn)


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


@dataclass(frozen=True)
class _Placed:
    """One width, where its row begins, and where the star of the stock wheel stands on it."""

    row: WidthRow
    y: Units
    star: Units | None


def _row(at: _Placed, across: _Across, points: list[ChartPoint]) -> Row:
    row, y = at.row, at.y
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
        label_y=round(y - _STRIP + 24.0, 1),
        stretches=tuple(_stretch(*each, at.star) for each in placed if each[2] > each[1]),
        points=tuple(_points(points, across, y)),
    )


def _stretch(word: str, low: Units, high: Units, star: Units | None) -> Stretch:
    """Write the word in the middle of what is free of the star."""
    free = [(low, high)]
    if star is not None and low < star < high:
        free = [(low, star - _STAR), (star + _STAR, high)]
    left, right = max(free, key=lambda each: each[1] - each[0])
    room = right - left > _WORD[word]
    middle = round((left + right) / 2.0, 1)
    return Stretch(_GROUNDS[word], low, round(high - low, 1), word if room else "", middle)


@dataclass(frozen=True)
class _Ring:
    """Setups whose marks lie upon each other, from the left one on, with their numbers."""

    marks: tuple[Units, ...]
    numbers: tuple[int, ...]

    @property
    def middle(self) -> Units:
        """Give where its label would like to stand."""
        return (self.marks[0] + self.marks[-1]) / 2.0

    @property
    def label(self) -> str:
        """Give its numbers, or how many they are."""
        if len(self.numbers) > _MOST_NUMBERS:
            return f"{len(self.numbers)} setups"
        return "+".join(map(str, self.numbers))


def _points(points: list[ChartPoint], across: _Across, y: Units) -> Iterator[Point]:
    """Give each ring its label above it, moved aside where labels would run into each other.

    Where even so there is no room for all, one label counts them and spans them.
    """
    rings = _rings(points, across)
    breadths = [_breadth(ring.label) for ring in rings]
    if fsum(breadths) + _APART * len(rings) > SHEET_WIDTH - _LEFT - _RIGHT:
        marks = tuple(mark for ring in rings for mark in ring.marks)
        words = f"{len(points)} setups"
        (x,) = spread([(marks[0] + marks[-1]) / 2.0], [_breadth(words)], _WITHIN, _APART)
        yield Point(marks, x, words, f"M{marks[0]} {y + 9.0:g}V{y - 9.0:g}H{marks[-1]}V{y + 9.0:g}")
        return
    places = spread([ring.middle for ring in rings], breadths, _WITHIN, _APART)
    for ring, x in zip(rings, places, strict=True):
        lead = f"M{x} {y - 11.0:g}L{ring.middle:g} {y:g}V{y + 9.0:g}"
        yield Point(ring.marks, x, ring.label, lead)


def _rings(points: list[ChartPoint], across: _Across) -> list[_Ring]:
    """Take marks that cannot be told apart together."""
    rings: list[_Ring] = []
    for point in sorted(points, key=lambda each: (each.effective_offset, each.number)):
        x = across.x(point.effective_offset)
        if rings and x - rings[-1].marks[0] < _ONE:
            marks = tuple(dict.fromkeys((*rings[-1].marks, x)))
            rings[-1] = _Ring(marks, (*rings[-1].numbers, point.number))
        else:
            rings.append(_Ring((x,), (point.number,)))
    return rings


def _breadth(label: str) -> Units:
    """Give the breadth of a label; a space takes half."""
    return LETTER * fsum(0.5 if each == " " else 1.0 for each in label)


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


def _caption(subject: WindowSubject) -> str:
    window, unknown = subject.window, ""
    if window.unknown_sites:
        unknown = f" Nothing is said to clear: {'; '.join(window.unknown_sites)}."
    return f"{subject.stock}{unknown}".strip()
