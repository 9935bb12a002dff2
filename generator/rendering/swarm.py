"""Where the marks of a chart stand that has a row for each width of rim, and a mark for each tyre.

Marks that would lie on each other stand above and below each other instead, each at its own length
along the row. All in units of the sheet that charts are laid out on, y down.
"""

from collections.abc import Iterator
from itertools import groupby
from typing import Final

from generator.frozen import dataclass
from generator.quantities.units import Inch, Mm
from generator.site.drawings import TyrePoint

MARK: Final = 13.0
"""Breadth of a mark."""
_PITCH: Final = 14.5
"""From one mark to the next one beside, above or below it that leaves a gap."""
_MOST_LEVELS: Final = 7
"""Where more would stand above each other, they overlap and the row keeps its height."""
_LEAST_ROW: Final = 32.0
_AIR: Final = 14.0
"""Least height of a row, and what is free of it above and below its marks together."""
_DIGIT: Final = 13.0
"""Breadth of a digit of the largest text a chart is shown with."""
_CLEAR: Final = 8.0
"""Between a number and what stands beside the rows."""
_LEAST_BREADTH: Mm = 4.0
"""Least breadth of what the axis shows between the numbers."""


@dataclass(frozen=True)
class Mark:
    """A tyre: how much wider than its label it is, and where it stands down the sheet."""

    number: int
    wider: Mm
    y: float


@dataclass(frozen=True)
class Row:
    """All tyres on rims of one width, from left to right, between two heights of the sheet."""

    width: Inch
    top: float
    bottom: float
    marks: tuple[Mark, ...]

    @property
    def middle(self) -> float:
        """Give the height at which the row's own words stand."""
        return (self.top + self.bottom) / 2.0


@dataclass(frozen=True)
class Swarm:
    """All rows, the widest rim first, and the lengths at both ends of the axis across."""

    rows: tuple[Row, ...]
    least: Mm
    most: Mm
    height: float


def swarm(points: tuple[TyrePoint, ...], breadth: float) -> Swarm:
    """Lay tyres out in rows on a breadth of the sheet; beside each row stands a number's room."""
    wider = [0.0, *(point.wider for point in points)]
    least, most = min(wider), max(wider)
    digits = len(str(max(point.number for point in points)))
    beside = MARK + _DIGIT * digits + _CLEAR
    per_unit = max(most - least, _LEAST_BREADTH) / (breadth - 2.0 * beside)
    rows, top = [], 0.0
    for width, group in groupby(sorted(points, key=_from_the_widest), key=lambda each: each.width):
        row = _row(width, tuple(group), top, _PITCH * per_unit)
        rows.append(row)
        top = row.bottom
    return Swarm(tuple(rows), least - beside * per_unit, most + beside * per_unit, top)


def _from_the_widest(point: TyrePoint) -> tuple[Inch, Mm, int]:
    return (-point.width, point.wider, point.number)


def _row(width: Inch, points: tuple[TyrePoint, ...], top: float, apart: Mm) -> Row:
    levels = tuple(_levels(points, apart))
    highest, lowest = max(levels), min(levels)
    step = _PITCH * min(1.0, (_MOST_LEVELS - 1) / max(highest - lowest, 1))
    height = max(_LEAST_ROW, (highest - lowest) * step + MARK + _AIR)
    middle = top + height / 2.0 - (highest + lowest) / 2.0 * step
    marks = tuple(
        Mark(point.number, point.wider, middle + level * step)
        for point, level in zip(points, levels, strict=True)
    )
    return Row(width, top, top + height, marks)


def _levels(points: tuple[TyrePoint, ...], apart: Mm) -> Iterator[int]:
    """Give each point, from left to right, the level nearest the row's own where it lies free."""
    last: list[Mm] = []
    for point in points:
        free = (at for at, before in enumerate(last) if point.wider - before >= apart)
        at = next(free, len(last))
        last[at : at + 1] = [point.wider]
        yield (at + 1) // 2 * (1 if at % 2 else -1)
