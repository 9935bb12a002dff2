"""Dimension lines of a drawing: across the sheet, with the number they carry."""

from generator.frozen import dataclass
from generator.quantities.rim_size import MM_PER_INCH
from generator.quantities.units import Inch, Mm, Ratio
from generator.rendering.filters import NO_BREAK
from generator.rendering.layout import SHEET_WIDTH, Scale, Units
from generator.site.facts import Shown

_NARROW: Units = 52.0
"""A length drawn shorter than this has its arrows outside."""
_TAIL: Units = 34.0
_BEYOND: Units = 6.0
_HALF_TEXT: Units = 8.0
_BAR: Mm = 100.0
_BAR_INCHES: Inch = 4.0
"""A scale bar is round in either unit, and drawn as long as it says."""
_EDGE: Units = 24.0


@dataclass(frozen=True)
class Dimension:
    """A dimension line: its arrows, its extension lines, and the number on it."""

    name: str
    shown: Shown
    arrows: tuple[str, ...]
    is_outside: bool
    extensions: tuple[str, ...]
    x: Units
    y: Units
    anchor: str = "middle"
    is_in_two: bool = False
    """Whether the number stands below the name."""


@dataclass(frozen=True)
class Bar:
    """A scale bar that ends at (x, y): for each unit how long it is drawn, and its words."""

    x: Units
    y: Units
    units: tuple[tuple[str, Units, str], ...]


@dataclass(frozen=True)
class Line:
    """Where a dimension runs, and the level its extension lines start from."""

    left: Units
    right: Units
    y: Units
    from_y: Units


def across(scale: Scale, ends: tuple[Mm, Mm], y: Units, from_y: Units) -> Line:
    """Lay a dimension between two distances outboard of the hub face."""
    left, right = sorted((scale.x(ends[0]), scale.x(ends[1])))
    return Line(left, right, round(y, 1), from_y)


def dimension(name: str, shown: Shown, line: Line, text: Units = 24.0) -> Dimension:
    """Give a dimension line; a narrow one has its arrows outside and its words behind them."""
    narrow = line.right - line.left < _NARROW
    beyond = line.y + (_BEYOND if line.y > line.from_y else -_BEYOND)
    extensions = tuple(f"M{x:g} {line.from_y:g}V{beyond:g}" for x in (line.left, line.right))
    arrows: tuple[str, ...] = (f"M{line.left:g} {line.y:g}H{line.right:g}",)
    if narrow:
        arrows = (
            f"M{line.left - _TAIL:g} {line.y:g}H{line.left:g}",
            f"M{line.right + _TAIL:g} {line.y:g}H{line.right:g}",
        )
        beside = line.right + _TAIL + _BEYOND
        x, y = round(beside, 1), round(line.y + _HALF_TEXT, 1)
        return Dimension(name, shown, arrows, True, extensions, x, y, "start")
    middle = round((line.left + line.right) / 2.0, 1)
    return Dimension(name, shown, arrows, False, extensions, middle, round(line.y + text, 1))


def scale_bar(per_mm: Ratio, y: Units) -> Bar:
    """Give the scale bar of a sheet, at its lower right.

    >>> [length for _, length, _ in scale_bar(0.5, 400.0).units]
    [50.0, 50.8]
    """
    return Bar(
        SHEET_WIDTH - _EDGE,
        y,
        (
            ("metric", round(_BAR * per_mm, 1), f"{_BAR:.0f}{NO_BREAK}mm"),
            (
                "inch",
                round(_BAR_INCHES * MM_PER_INCH * per_mm, 1),
                f"{_BAR_INCHES:.0f}{NO_BREAK}in",
            ),
        ),
    )
