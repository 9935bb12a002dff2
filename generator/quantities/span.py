"""Lengths that are more than one number: an extent, a ramp, and what a member says of a gap.

- `12 mm` is one length;
- `-25 to 25 mm` is an extent: everything between, independent of other coordinates;
- `-139 -> -154 mm` is a ramp: from the first to the second, together with the other ramps of the
  same thing;
- a gap is a length, an extent, `clears`, `touches`, `more than 10 mm` or `not checked`.
"""

import re
from enum import Enum

from generator.frozen import dataclass
from generator.quantities.misread import Explained, Misread
from generator.quantities.quantity import Quantity, read_quantity
from generator.quantities.units import Dimension, Mm

LONGEST = 40

_NUMBER = r"[+-]?[0-9]{1,6}(?:\.[0-9]{1,6})?(?:/[0-9]{1,3})?"
_PAIR = re.compile(rf"({_NUMBER}) (to|->) ({_NUMBER} ?\D{{1,14}})\Z")
_MORE = "more than "


@dataclass(frozen=True)
class Extent:
    """All lengths from low to high; equal where one length was written."""

    low: Mm
    high: Mm
    typed: str


@dataclass(frozen=True)
class Ramp:
    """From one length to another, in step with the other ramps of the same thing."""

    start: Mm
    end: Mm
    typed: str


class Said(Enum):
    """What a member says of a gap; the value is the word in a record, and for people."""

    MEASURED = "measured"
    BETWEEN = "between"
    CLEARS = "clears"
    TOUCHES = "touches"
    MORE_THAN = "more than"
    NOT_CHECKED = "not checked"


@dataclass(frozen=True)
class GapReading:
    """What a member says of one gap: the word, and the bounds it puts on the true gap.

    `low` and `high` are None where the words give no bound on that side. A measured gap has both
    equal; `clears` means more than nothing, `touches` nothing or less.
    """

    said: Said
    low: Mm | None
    high: Mm | None
    resolution: Mm
    typed: str


def read_coordinate(text: str) -> Extent | Ramp:
    """Read a coordinate: a length, an extent or a ramp.

    Raises Misread for anything else.
    """
    pair = _pair(text)
    if pair is None:
        one = read_quantity(text, Dimension.LENGTH)
        return Extent(one.value, one.value, text)
    first, word, second = pair
    if word == "->":
        return Ramp(first.value, second.value, text)
    return _extent(text, first, second)


def read_extent(text: str) -> Extent:
    """Read a range of lengths, such as the rim widths a tyre is approved for.

    Raises Misread for anything else.
    """
    pair = _pair(text)
    if pair is None:
        one = read_quantity(text, Dimension.LENGTH)
        return Extent(one.value, one.value, text)
    first, word, second = pair
    if word == "->":
        at = text.index("->")
        fix = text.replace("->", "to")
        raise Misread("S02", "an arrow stands in a range", at, at + 2, "the word `to`", fix=fix)
    return _extent(text, first, second)


def _pair(text: str) -> tuple[Quantity, str, Quantity] | None:
    match = _PAIR.match(text) if len(text) <= LONGEST else None
    if match is None:
        return None
    second = _later(text, match.start(3))
    first = read_quantity(f"{match[1]} {second.unit.symbol}", Dimension.LENGTH)
    return first, match[2], second


def _extent(text: str, first: Quantity, second: Quantity) -> Extent:
    if first.value > second.value:
        raise Misread(
            "S01", f"`{text}` runs from more to less", 0, len(text), "the smaller number first"
        )
    return Extent(first.value, second.value, text)


def read_gap(text: str) -> GapReading:
    """Read what a member says of a gap.

    Raises Misread for anything but a length, a range, or one of the agreed words.

    >>> read_gap("more than 10 mm").low
    10.0
    """
    if text == "clears":
        return GapReading(Said.CLEARS, 0.0, None, 0.0, text)
    if text == "touches":
        return GapReading(Said.TOUCHES, None, 0.0, 0.0, text)
    if text == "not checked":
        return GapReading(Said.NOT_CHECKED, None, None, 0.0, text)
    if text.startswith(_MORE):
        bound = _later(text, len(_MORE))
        return GapReading(Said.MORE_THAN, bound.value, None, bound.resolution, text)
    pair = _pair(text)
    if pair is not None and pair[1] == "to":
        range_ = _extent(text, pair[0], pair[2])
        return GapReading(Said.BETWEEN, range_.low, range_.high, pair[2].resolution, text)
    if text[:1].isalpha():
        near = _NEAR.get(" ".join(text[:LONGEST].lower().strip(" .!").split()), "")
        raise Misread(
            "S03", f"`{text[:40]}` does not say how large the gap is", 0, len(text),
            "a length such as `6 mm`, a range such as `4 to 5 mm`, or `clears`, `touches`, "
            "`more than 10 mm`, `not checked`",
            why="only these words have one meaning for the computation", fix=near,
        )  # fmt: skip
    measured = read_quantity(text, Dimension.LENGTH)
    return GapReading(Said.MEASURED, measured.value, measured.value, measured.resolution, text)


def _later(text: str, by: int) -> Quantity:
    """Read a quantity that begins later in a text, with places counted from the text's start."""
    try:
        return read_quantity(text[by:], Dimension.LENGTH)
    except Misread as slip:
        fix = f"{text[:by]}{slip.fix}" if slip.fix else ""
        raise Misread(
            slip.code, slip.headline, slip.start + by, slip.end + by, slip.expected, slip.why, fix
        ) from None


_NEAR = {
    "clears": "clears", "touches": "touches", "not checked": "not checked",
    "clear": "clears", "ok": "clears", "fine": "clears", "no rub": "clears", "touch": "touches",
    "rubs": "touches", "rub": "touches", "contact": "touches", "unknown": "not checked",
    "not measured": "not checked", "n/a": "not checked",
}  # fmt: skip

CODES: tuple[Explained, ...] = (
    Explained(
        "S01", "a range that runs backwards",
        "A range goes from the smaller number to the larger one; reversed ends are often a lost "
        "minus sign.",
        "Write the smaller number first, or put the sign back.",
        "25 to -25 mm", "-25 to 25 mm",
    ),
    Explained(
        "S02", "an arrow in a range",
        "An arrow means a slope whose coordinates run together; a range has no direction.",
        "Write the word `to`.",
        "5.5 -> 7.5 in", "5.5 to 7.5 in",
    ),
    Explained(
        "S03", "words that do not say how large a gap is",
        "Plenty, fine and tight mean different things to different people, and unknown is never "
        "counted as clear.",
        "Measure the gap, or write `clears`, `touches`, `more than 10 mm` or `not checked`.",
        "plenty", "more than 10 mm",
    ),
)  # fmt: skip
