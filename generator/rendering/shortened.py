"""Drawings written in whole units of the sheet, their paths from point to point.

A sheet is at most as many pixels broad as it has units, so that half a unit is not seen; a page
with five drawings is a tenth smaller for it.
"""

import re
from collections.abc import Iterator

from generator.rendering.layout import Units

_PATH = re.compile(r' d="([-MLHVhvz\d. ]+)"')
_PLACE = re.compile(r' (x|y|cx|cy|width|height)="(-?\d+\.\d+)"')
_FRAME = re.compile(r' viewBox="0 0 (\d+) (\d+\.\d+)"')
_PIECE = re.compile(r"([MLHVhvz])|(-?[\d.]+)")


def shortened(svg: str) -> str:
    """Round the places in a drawing to whole units of its sheet; what else it says stays.

    >>> shortened('<path d="M1.2 2 4.4 2 4.4 9.7z"/><text x="7.8" y="3">1.25 mm</text>')
    '<path d="M1 2h3v8z"/><text x="8" y="3">1.25 mm</text>'
    """
    svg = _PATH.sub(lambda found: f' d="{_rewritten(found[1])}"', svg)
    svg = _PLACE.sub(lambda found: f' {found[1]}="{round(float(found[2]))}"', svg)
    return _FRAME.sub(lambda found: f' viewBox="0 0 {found[1]} {round(float(found[2]))}"', svg)


def _rewritten(path: str) -> str:
    """Write a path anew: the first point where it lies, each other by its way from the last."""
    words: list[str] = []
    before: tuple[int, int] | None = None
    start, last = (0, 0), ""
    for letter, (exact_x, exact_y) in _points(path):
        if letter == "z":
            words.append("z")
            before, last = start, letter
            continue
        at = (round(exact_x), round(exact_y))
        across, along = (at[0] - before[0], at[1] - before[1]) if before else (0, 0)
        if before is None:
            words.append(f"M{at[0]} {at[1]}")
            start, last = at, "M"  # numbers that follow it without a letter would be places
        elif letter == "M":
            words.append(f"m{_pair(across, along)}")
            start, last = at, "l"
        elif across or along:
            step, numbers = _step(across, along)
            words.append(step + numbers if step != last else _after(numbers))
            last = step
        before = at
    return "".join(words)


def _step(across: int, along: int) -> tuple[str, str]:
    """Give the shortest command for a step, and its numbers."""
    if not along:
        return "h", f"{across}"
    if not across:
        return "v", f"{along}"
    return "l", _pair(across, along)


def _pair(across: int, along: int) -> str:
    return f"{across}{_after(str(along))}"


def _after(numbers: str) -> str:
    """Write numbers behind others: a minus sign parts them by itself."""
    return numbers if numbers.startswith("-") else f" {numbers}"


def _points(path: str) -> Iterator[tuple[str, tuple[Units, Units]]]:
    """Give each command of a path with the point it leads to."""
    x = y = 0.0
    letter, first = "", (0.0, 0.0)
    numbers: list[float] = []
    for found in _PIECE.finditer(path):
        if found[1] == "z":
            x, y = first
            yield "z", first
        elif found[1]:
            letter = found[1]
        else:
            numbers.append(float(found[2]))
            if letter in "ML" and len(numbers) < len("xy"):
                continue
            x, y = _reached(letter, numbers, (x, y))
            numbers = []
            yield letter, (x, y)
            if letter == "M":
                first, letter = (x, y), "L"


def _reached(letter: str, numbers: list[float], at: tuple[Units, Units]) -> tuple[Units, Units]:
    x, y = at
    if letter in "ML":
        return numbers[0], numbers[1]
    across = {"H": numbers[0], "h": x + numbers[0]}
    along = {"V": numbers[0], "v": y + numbers[0]}
    return across.get(letter, x), along.get(letter, y)
