"""The sheet a drawing is laid out on: its scale, its paths, and labels that do not overlap.

A sheet is 640 units wide. Text is 23 units high on a phone and less elsewhere (drawing.css), so
every label is given room for 23.
"""

import re
from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import fsum, hypot
from textwrap import wrap
from typing import TypeAlias

from generator.frozen import dataclass
from generator.quantities.units import Mm, Ratio
from generator.rendering.filters import NO_BREAK, in_inches

Units: TypeAlias = float
"""Sheet units."""
Half: TypeAlias = tuple[Mm, Mm]
"""u outboard of the hub face, r or z above the spin axis."""

SHEET_WIDTH: Units = 640.0
LINE_HEIGHT: Units = 26.0
_AIR: Units = 14.0
"""Between one label and the next, so that two are not read as one."""
LETTER: Units = 11.5
"""Mean breadth of a letter at 23 units."""
WIDEST = "000.0 mm"
"""As broad as a length gets."""
EDGE: Units = 10.0
"""How near words come to the edge of the sheet."""
_WITHIN_LENGTH = re.compile(r"(?<=\d) (?=to \d|mm\b)|(?<=\d to) (?=\d)")
_TOLD = ("tight", "touches")
_STEP = LINE_HEIGHT / 23.0
_DROP = 0.35
"""From one line to the next, and from the middle of a line to its foot, in heights of the text."""


@dataclass(frozen=True)
class Scale:
    """Lays (u, r) out with outboard to the left and away from the axis upwards."""

    x_face: Units
    y_axis: Units
    per_mm: Ratio

    def x(self, u: Mm) -> Units:
        """Give where a distance outboard of the hub face lies across the sheet."""
        return round(self.x_face - self.per_mm * u, 1)

    def y(self, r: Mm) -> Units:
        """Give where a distance from the spin axis lies down the sheet."""
        return round(self.y_axis - self.per_mm * r, 1)

    def path(self, points: Iterable[Half], *, closed: bool = True) -> str:
        """Write points as the path of an SVG shape.

        >>> Scale(100.0, 50.0, 2.0).path([(0.0, 0.0), (10.0, 5.0)])
        'M100 50 80 40z'
        """
        numbers = " ".join(f"{self.x(u):g} {self.y(r):g}" for u, r in points)
        return f"M{numbers}{'z' if closed else ''}"


def simplified(points: Sequence[Half], within: float) -> tuple[Half, ...]:
    """Leave out points of a line that lie so near to the line through the others.

    Ends stay, and whatever reaches furthest. (The method of Ramer, Douglas and Peucker.)

    >>> simplified([(0.0, 0.0), (1.0, 0.1), (2.0, 0.0), (3.0, 2.0), (4.0, 0.0)], 0.2)
    ((0.0, 0.0), (2.0, 0.0), (3.0, 2.0), (4.0, 0.0))
    """
    kept = {0, len(points) - 1}
    for axis in (0, 1):
        kept.add(min(range(len(points)), key=lambda at: points[at][axis]))
        kept.add(max(range(len(points)), key=lambda at: points[at][axis]))
    waiting = list(pairwise(sorted(kept)))
    while waiting:
        first, last = waiting.pop()
        far, at = max(
            ((_off(points[at], points[first], points[last]), at) for at in range(first + 1, last)),
            default=(0.0, first),
        )
        if far > within:
            kept.add(at)
            waiting += [(first, at), (at, last)]
    return tuple(points[at] for at in sorted(kept))


def _off(point: Half, start: Half, end: Half) -> float:
    """Give how far a point lies from the line through two others."""
    across, along = end[0] - start[0], end[1] - start[1]
    length = hypot(across, along)
    u, r = point[0] - start[0], point[1] - start[1]
    return abs(across * r - along * u) / length if length else hypot(u, r)


@dataclass(frozen=True)
class Label:
    """Words beside a drawing: what they would like to stand level with, and their lines."""

    y: Units
    lines: tuple[str, ...]

    @property
    def height(self) -> Units:
        """Give the room the lines need, with a little air below."""
        return LINE_HEIGHT * len(self.lines) + _AIR

    @property
    def width(self) -> Units:
        """Give about how broad the longest line is in either unit, if its letters are broad."""
        lines = (each for line in self.lines for each in (line, in_inches(line)))
        return LETTER * max(map(len, lines), default=0) + 8.0


@dataclass(frozen=True)
class Beside:
    """Words beside a drawing that hang on the line which leads to their part.

    Their steps are in heights of the text, so that a smaller text keeps to its line. Of each line
    it tells whether it is one of the gap; one without words is the gap's number.
    """

    x: Units
    y: Units
    anchor: str
    leader: str
    lines: tuple[tuple[str, str, bool], ...]
    bottom: Units


@dataclass(frozen=True)
class Column:
    """Where the labels of one side end at the left, or begin at the right: all in one line.

    A leader then starts before all of them and passes through none.
    """

    is_left: bool
    width: Units


def column(labels: Iterable[Label], *, is_left: bool) -> Column:
    """Give a column in which the broadest label has room."""
    return Column(is_left, max((label.width for label in labels), default=0.0))


def beside(label: Label, y: Units, to: tuple[Units, Units], within: Column, gap: int = 0) -> Beside:
    """Lay a label out from its first line's foot: at the left its lines end, else begin, in line.

    `gap` is the count of its last lines that tell the gap.

    >>> label = Label(50.0, ("strut", "tube"))
    >>> beside(label, 50.0, (300.0, 40.0), column([label], is_left=True)).leader
    'M79.5 55 300 40'
    """
    is_left = within.is_left
    wide = EDGE + within.width
    x = wide if is_left else SHEET_WIDTH - wide
    count = len(label.lines)
    level = round(y - _DROP * 23.0 + LINE_HEIGHT * (count - 1) / 2.0)
    first = _DROP - _STEP * (count - 1) / 2.0
    steps = (f"{first:.2f}em", *(f"{_STEP:.2f}em" for _ in label.lines[1:]))
    start = x + 4.0 if is_left else x - 4.0
    return Beside(
        x,
        level,
        "end" if is_left else "start",
        f"M{start:g} {level:g} {to[0]:g} {to[1]:g}",
        tuple(
            (step, "" if line == WIDEST else line, at >= count - gap)
            for at, (step, line) in enumerate(zip(steps, label.lines, strict=True))
        ),
        y + LINE_HEIGHT * (count - 1),
    )


def judgement(word: str) -> tuple[str, ...]:
    """Give the line that says of a gap what its colour says; one that clears needs none.

    >>> judgement("tight"), judgement("clears")
    (('tight',), ())
    """
    return (word,) if word in _TOLD else ()


def broken(text: str, most: int = 11) -> tuple[str, ...]:
    """Break words into lines of a margin's breadth; a length is not parted from its unit.

    >>> broken("quarter panel lip")
    ('quarter', 'panel lip')
    """
    whole = _WITHIN_LENGTH.sub(NO_BREAK, text)
    return tuple(wrap(whole, most, break_long_words=False)) or (whole,)


def stacked(labels: Iterable[Label], top: Units, bottom: Units) -> tuple[Units, ...]:
    """Give the first baseline of each label, in the given order, so that none covers another.

    Labels keep their order from top to bottom by the place they want. The bottom gives way where
    there is too little room for all.

    >>> stacked([Label(50.0, ("a",)), Label(52.0, ("b",))], 0.0, 200.0)
    (50.0, 90.0)
    """
    wanted = list(labels)
    order = sorted(range(len(wanted)), key=lambda at: wanted[at].y)
    places: dict[int, Units] = {}
    floor = top + LINE_HEIGHT
    for at in order:
        places[at] = max(wanted[at].y, floor)
        floor = places[at] + wanted[at].height
    ceiling = max(bottom, top + fsum(label.height for label in wanted))
    for at in reversed(order):
        places[at] = min(places[at], ceiling - wanted[at].height + LINE_HEIGHT)
        ceiling = places[at] - LINE_HEIGHT
    return tuple(round(places[at], 1) for at in range(len(wanted)))


def spread(
    wanted: Sequence[Units],
    breadths: Sequence[Units],
    within: tuple[Units, Units],
    apart: Units,
) -> tuple[Units, ...]:
    """Give the middle of each label of one line, so that none comes nearer to another than `apart`.

    `wanted` rises from left to right, and so do the places: each as near to where it is wanted as
    the others allow (least squares: where neighbours clash, they share their way). What does not
    fit between the edges runs over the right one.

    >>> spread([50.0, 52.0, 200.0], [20.0, 20.0, 20.0], (0.0, 300.0), 10.0)
    (36.0, 66.0, 200.0)
    """
    ahead, steps = 0.0, []
    for at, breadth in enumerate(breadths):
        ahead += (breadths[at - 1] + breadth) / 2.0 + apart if at else 0.0
        steps.append(ahead)
    pools: list[tuple[float, int]] = []
    for want, step in zip(wanted, steps, strict=True):
        pools.append((want - step, 1))
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (right, many), (left, more) = pools.pop(), pools.pop()
            pools.append(((left * more + right * many) / (more + many), more + many))
    level = [mean for mean, count in pools for _ in range(count)]
    low, high = (
        (within[0] + breadths[0] / 2.0, within[1] - breadths[-1] / 2.0 - steps[-1])
        if breadths
        else within
    )
    return tuple(
        round(max(min(each, high), low) + step, 1) for each, step in zip(level, steps, strict=True)
    )
