"""Drawings that explain: shapes, words and lengths on a sheet, in the one line style of all.

Their coordinates are sheet units; such a drawing is to scale only where its caption says so. The
numbers on it are an example, computed, and stand in its table again.
"""

from collections.abc import Iterable
from dataclasses import replace
from math import cos, radians, sin
from typing import TypeAlias

from generator.frozen import dataclass
from generator.quantities.units import Deg
from generator.rendering.layout import LINE_HEIGHT, Units
from generator.site.facts import Fact, Kind, Shown

Point: TypeAlias = tuple[Units, Units]
"""Across and down the sheet."""
_BEYOND: Units = 6.0
_NARROW: Units = 44.0
_TAIL: Units = 34.0


@dataclass(frozen=True)
class Shape:
    """A path and its look, by the classes of components/drawing/drawing.css."""

    look: str
    d: str


@dataclass(frozen=True)
class Words:
    """Words at a place, and a value that follows them in the reader's unit."""

    x: Units
    y: Units
    text: str
    anchor: str = "start"
    shown: Shown | None = None
    is_length: bool = False


@dataclass(frozen=True)
class Measure:
    """A dimension: its ends along its own line, and the levels its extension lines start from."""

    ends: tuple[Units, Units]
    at: Units
    begin: tuple[Units, Units]
    name: str
    shown: Shown | None = None


@dataclass(frozen=True)
class Sketch:
    """The whole drawing."""

    id: str
    title: str
    desc: str
    caption: str
    height: Units
    shapes: tuple[Shape, ...]
    words: tuple[Words, ...]
    numbers: tuple[Fact, ...]


def polygon(look: str, points: Iterable[Point], *, closed: bool = True) -> Shape:
    """Give a shape by its corners.

    >>> polygon("dw-edge", [(0.0, 0.0), (10.0, 5.0)], closed=False).d
    'M0 0 10 5'
    """
    corners = " ".join(f"{round(x, 1):g} {round(y, 1):g}" for x, y in points)
    return Shape(look, f"M{corners}{'z' if closed else ''}")


def box(look: str, corner: Point, size: Point) -> Shape:
    """Give a rectangle by its upper left corner, breadth and height."""
    (x, y), (width, height) = corner, size
    return Shape(look, f"M{x:g} {y:g}h{width:g}v{height:g}h{-width:g}z")


def circle(look: str, centre: Point, radius: Units) -> Shape:
    """Give a circle."""
    x, y = centre
    arc = f"a{radius:g} {radius:g} 0 1 0"
    return Shape(look, f"M{x - radius:g} {y:g}{arc} {2 * radius:g} 0{arc} {-2 * radius:g} 0z")


def turned(points: Iterable[Point], about: Point, by: Deg) -> tuple[Point, ...]:
    """Turn points about a centre, clockwise on the sheet.

    >>> turned([(10.0, 0.0)], (0.0, 0.0), 90.0)
    ((0.0, 10.0),)
    """
    c, s = cos(radians(by)), sin(radians(by))
    x0, y0 = about
    return tuple(
        (
            round(x0 + c * (x - x0) - s * (y - y0), 1),
            round(y0 + s * (x - x0) + c * (y - y0), 1),
        )
        for x, y in points
    )


def across(measure: Measure) -> tuple[tuple[Shape, ...], Words]:
    """Give a dimension along the sheet; a narrow one has its arrows outside."""
    left, right = sorted(measure.ends)
    y = measure.at
    lines = [
        Shape("dw-thin", f"M{x:g} {start:g}V{y + (_BEYOND if y > start else -_BEYOND):g}")
        for x, start in zip(measure.ends, measure.begin, strict=True)
    ]
    if right - left < _NARROW:
        ends = (f"M{left - _TAIL:g} {y:g}H{left:g}", f"M{right + _TAIL:g} {y:g}H{right:g}")
        lines += [Shape("dw-thin dw-arrow-end", end) for end in ends]
    else:
        lines.append(Shape("dw-thin dw-arrows", f"M{left:g} {y:g}H{right:g}"))
    text = Words((left + right) / 2.0, y + 24.0, measure.name, "middle", measure.shown, True)
    return tuple(lines), text


def upright(measure: Measure, text: Point, anchor: str) -> tuple[tuple[Shape, ...], Words]:
    """Give a dimension down the sheet, its words where asked."""
    top, bottom = sorted(measure.ends)
    x = measure.at
    lines = [
        Shape("dw-thin", f"M{start:g} {y:g}H{x + (_BEYOND if x > start else -_BEYOND):g}")
        for y, start in zip(measure.ends, measure.begin, strict=True)
    ]
    if bottom - top < _NARROW:
        ends = (f"M{x:g} {top - _TAIL:g}V{top:g}", f"M{x:g} {bottom + _TAIL:g}V{bottom:g}")
        lines += [Shape("dw-thin dw-arrow-end", end) for end in ends]
    else:
        lines.append(Shape("dw-thin dw-arrows", f"M{x:g} {top:g}V{bottom:g}"))
    return tuple(lines), Words(*text, measure.name, anchor, measure.shown, True)


def led(part: Point, words: Words) -> tuple[tuple[Shape, ...], Words]:
    """Give words with a thin line that ends in a dot on the part they name."""
    start = words.x + {"start": -8.0, "middle": 0.0, "end": 8.0}[words.anchor]
    level = words.y - 8.0 if words.anchor != "middle" else words.y + 8.0
    x, y = part
    return (Shape("dw-leader", f"M{start:g} {level:g}L{x:g} {y:g}"),), words


def lines(words: Words, more: Iterable[str]) -> tuple[Words, ...]:
    """Set further lines below words."""
    return words, *(
        replace(words, y=words.y + LINE_HEIGHT * at, text=text, shown=None)
        for at, text in enumerate(more, 1)
    )


def angle(value: Deg) -> Shown:
    """Show an angle of an example."""
    return Shown(Kind.QUANTITY, value=value, decimals=1, unit="°")
