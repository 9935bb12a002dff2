"""Room for words in a drawing: whether a place for them is free of lines."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import TypeAlias

from generator.frozen import dataclass
from generator.rendering.layout import LETTER, Units

Place: TypeAlias = tuple[Units, Units]
"""Across and down the sheet."""
_ASCENT: Units = 19.0
_DESCENT: Units = 6.0
"""Of text 23 units high, above and below its foot."""
_CLEAR: Units = 4.0
"""Between words and a line that is not to look as if it touched them."""


@dataclass(frozen=True)
class Box:
    """A rectangle of the sheet."""

    left: Units
    top: Units
    right: Units
    bottom: Units


def box_of(text: str, foot: Place) -> Box:
    """Give the room that words take which begin at a place.

    >>> box_of("rail", (10.0, 40.0))
    Box(left=10.0, top=21.0, right=56.0, bottom=46.0)
    """
    x, y = foot
    return Box(x, y - _ASCENT, x + LETTER * len(text), y + _DESCENT)


def free_place(text: str, places: Sequence[Place], lines: Iterable[Sequence[Place]]) -> Place:
    """Give the first place at which words lie on no line; the first of all where there is none.

    >>> free_place("rail", [(0.0, 30.0), (0.0, 90.0)], [[(20.0, 0.0), (20.0, 60.0)]])
    (0.0, 90.0)
    """
    pieces = [piece for line in lines for piece in pairwise(line)]
    for place in places:
        words = box_of(text, place)
        box = replace(words, left=words.left - _CLEAR, right=words.right + _CLEAR)
        if not any(passes(box, one, other) for one, other in pieces):
            return place
    return places[0]


def passes(box: Box, one: Place, other: Place) -> bool:
    """Tell whether a straight line passes through a rectangle.

    (The method of Liang and Barsky.)

    >>> passes(Box(0.0, 0.0, 10.0, 10.0), (-5.0, 5.0), (15.0, 6.0))
    True
    >>> passes(Box(0.0, 0.0, 10.0, 10.0), (-5.0, 5.0), (5.0, 16.0))
    False
    """
    first, last = 0.0, 1.0
    for start, end, low, high in (
        (one[0], other[0], box.left, box.right),
        (one[1], other[1], box.top, box.bottom),
    ):
        if start == end:
            if not low < start < high:
                return False
            continue
        near, far = sorted(((low - start) / (end - start), (high - start) / (end - start)))
        first, last = max(first, near), min(last, far)
    return first < last
