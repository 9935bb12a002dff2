"""Rim designations: `7 J x 16 H2`, `16x7J`, `13x5.50B`, `5J13H2`.

Which number is the width: the one with the flange letter; without a letter the smaller one, since
few car rims are wider than their diameter. A letter that would make a rim more than an inch wider
than its diameter is refused as misplaced. Canonical order: width, flange
letter, x (or a hyphen for a rim of several pieces), diameter, humps. Letters are read in either
case.

Sources: [ISO4000-2] and [DIN7817] for the forms; the list of flange letters and the hyphen of
several pieces [ISO3911] are from memory.
"""

import re
from dataclasses import field
from fractions import Fraction

from generator.frozen import dataclass
from generator.quantities.cursor import Cursor, readable
from generator.quantities.misread import Explained
from generator.quantities.units import Inch, Mm

MM_PER_INCH: Mm = 25.4
FLANGES: tuple[str, ...] = ("JJ", "JK", "J", "A", "B", "D", "E", "F", "K", "L", "P")
HUMPS: tuple[str, ...] = ("FH1-H", "FHA", "FH2", "FH", "EH2", "EH", "CH", "H2", "H1", "H")
NARROWEST: Inch = 2.0
WIDEST: Inch = 15.0
SMALLEST: Inch = 8.0
LARGEST: Inch = 30.0
"""Wide of all car rims, common practice."""
MM_SLACK: Mm = 2.5
"""How near a number of mm must lie to a quarter inch to be taken for one."""

NOT_A_RIM = Explained(
    "N201",
    "not a rim size",
    "A rim size names the width between the flanges and the diameter, both in inches, with the "
    "flange letter at the width [ISO4000-2].",
    "Write width, flange letter, x and diameter.",
    "wide 15",
    "7 J x 15",
)
OUT_OF_RANGE = Explained(
    "N202",
    "no such rim",
    "Widths of car rims lie between 2 and 15 inches, diameters between 8 and 30. A number beyond "
    "is often a width in mm or a missing decimal point.",
    "Write both numbers in inches.",
    "178x15",
    "7x15",
)
LETTER_AT_DIAMETER = Explained(
    "N203",
    "the flange letter stands at the diameter",
    "The letter names the contour of the flange and stands at the width. Here the number with the "
    "letter can only be the diameter, so one of the two is misplaced.",
    "Put the letter behind the width.",
    "7x16J",
    "7Jx16",
)
STEP = Explained(
    "N204",
    "a width that rims do not come in",
    "Rim widths go in quarter and half inches. A number between is usually a measured width or the "
    "width over the lips, which have their own fields.",
    "Write the stamped width.",
    "7.3Jx16",
    "7.25Jx16",
)
WITH_INSET = Explained(
    "N205",
    "the offset stands in the rim size",
    "The rim size ends with the diameter and the humps. Marks such as ET35 or IS44 give the "
    "offset, which is a field of its own so that it can be checked against the backspacing.",
    "Leave it out here and write it in the field `offset`.",
    "7Jx16 ET35",
    "7Jx16",
)
UNKNOWN_FLANGE = Explained(
    "N206",
    "an unknown flange letter",
    "The letters in use on car rims are J, JJ, JK, K, L, B and a few older ones [ISO4000-2].",
    "Read the stamp again, or leave the letter out.",
    "7Rx16",
    "7Jx16",
)
CODES: tuple[Explained, ...] = (
    NOT_A_RIM,
    OUT_OF_RANGE,
    LETTER_AT_DIAMETER,
    STEP,
    WITH_INSET,
    UNKNOWN_FLANGE,
)
_EXPECTED = "a rim size, such as `7 J x 16`"
_NUMBER = "([0-9]{1,3}(?:[.][0-9]{1,2})?)(?![0-9.,/])(?:[ -]([13])/([24])(?![0-9]))?"
_INCH = '(?:"|″|(?:inch|in)(?![A-WYZ]))'
# H and its kin are humps, ET and IS marks of the offset, X separates: none is a flange letter.
_LETTER = "(?!ET|IS|[CEF]?H|X)([A-Z]{1,2}?)(?=[ 0-9x×-]|$)"
_INSET = "(?:ET|IS|x|×|offset)? *([+-]?[0-9]{1,3}(?:[.][0-9]{1,2})?) *(?:mm|P|N)? *$"


@dataclass(frozen=True)
class RimSize:
    """A rim as designated; the width lies between the flanges, both numbers are in inches."""

    width_code: Inch
    diameter_code: Inch
    flange: str | None = None
    humps: str | None = None
    several_pieces: bool = False
    typed: str = field(compare=False, default="")

    @property
    def width(self) -> Mm:
        """The width between the flanges in mm."""
        return self.width_code * MM_PER_INCH

    def __str__(self) -> str:
        flange = f" {self.flange}" if self.flange else ""
        humps = f" {self.humps}" if self.humps else ""
        separator = "-" if self.several_pieces else "x"
        return f"{self.width_code:g}{flange} {separator} {self.diameter_code:g}{humps}"


@dataclass(frozen=True)
class _Part:
    """One of the two numbers, its letter, and the characters it takes."""

    value: Inch
    letter: str | None
    start: int
    end: int


def read_rim_size(text: str) -> RimSize:
    """Read a rim designation in either order.

    Raises Misread (N201 to N206).
    Source: [ISO4000-2] designation; [DIN7817] for `5 J 13 H2` and the humps.

    >>> str(read_rim_size("16x7J")), str(read_rim_size("13 x 5.50 B")), str(read_rim_size("5J13H2"))
    ('7 J x 16', '5.5 B x 13', '5 J x 13 H2')
    """
    cursor = Cursor(readable(text, NOT_A_RIM, expected=_EXPECTED))
    first = _part(cursor)
    separator = cursor.take("[x×-]")
    if separator is None and first.letter is None:
        raise cursor.unexpected(NOT_A_RIM, expected=f"x and the other number: {_EXPECTED}")
    second = _part(cursor)
    width, diameter = _in_order(first, second)
    _check_ranges(width, diameter)
    humps = cursor.take(f"({'|'.join(map(re.escape, HUMPS))})(?![A-Z0-9])")
    size = RimSize(
        width.value,
        diameter.value,
        width.letter,
        humps.group(1).upper() if humps else None,
        separator is not None and separator.group().strip(" ") == "-",
        text,
    )
    _check_end(cursor, size)
    return size


def _part(cursor: Cursor) -> _Part:
    found = cursor.take(_NUMBER)
    if found is None:
        fix = cursor.text.strip(" ").replace(",", ".") if "," in cursor.rest else ""
        raise cursor.unexpected(NOT_A_RIM, expected="a number of inches", fix=fix)
    value = float(found.group(1))
    if found.group(2) is not None:
        value += float(Fraction(int(found.group(2)), int(found.group(3))))
    cursor.take(_INCH)
    letter = cursor.take(_LETTER)
    if letter is None:
        return _Part(value, None, found.start(1), found.end())
    name = letter.group(1).upper()
    if name not in FLANGES:
        raise UNKNOWN_FLANGE.misread(
            f"`{name}` is not a flange letter",
            *letter.span(1),
            expected="J, JJ, JK, K, L or B",
        )
    return _Part(value, name, found.start(1), letter.end())


def _in_order(first: _Part, second: _Part) -> tuple[_Part, _Part]:
    """Give the width and the diameter."""
    small, large = sorted((first, second), key=lambda part: part.value)
    if first.letter is None and second.letter is None:
        return small, large
    width, diameter = (first, second) if first.letter else (second, first)
    if diameter.letter is None and width.value <= diameter.value + 1.0:
        return width, diameter
    letter = small.letter or large.letter
    raise LETTER_AT_DIAMETER.misread(
        "the flange letter stands at the diameter",
        large.start,
        large.end,
        expected=f"the letter at the width, {small.value:g}",
        fix=f"{small.value:g} {letter} x {large.value:g}",
    )


def _check_ranges(width: _Part, diameter: _Part) -> None:
    for part, least, greatest, what in (
        (width, NARROWEST, WIDEST, "width"),
        (diameter, SMALLEST, LARGEST, "diameter"),
    ):
        if least <= part.value <= greatest:
            continue
        other = diameter if part is width else width
        inches = round(part.value / MM_PER_INCH * 4.0) / 4.0
        from_mm = abs(inches * MM_PER_INCH - part.value) < MM_SLACK
        raise OUT_OF_RANGE.misread(
            f"{part.value:g} inches is not the {what} of a car rim",
            part.start,
            part.end,
            expected=f"a {what} from {least:g} to {greatest:g} inches",
            fix=f"{inches:g} x {other.value:g}"
            if from_mm and inches >= NARROWEST and part is width and other.value <= LARGEST
            else "",
        )
    quarter = round(width.value * 4.0) / 4.0
    if quarter != width.value or not (diameter.value * 2.0).is_integer():
        part = diameter if quarter == width.value else width
        raise STEP.misread(
            f"rims are not stamped {part.value:g}",
            part.start,
            part.end,
            expected="a width in quarter inches and a diameter in half inches",
            fix=f"{quarter:g} {width.letter or ''} x {round(diameter.value * 2.0) / 2.0:g}".replace(
                "  ", " "
            ),
        )


def _check_end(cursor: Cursor, size: RimSize) -> None:
    if not cursor.rest:
        return
    inset = cursor.take(_INSET)
    if inset is None:
        raise cursor.unexpected(
            NOT_A_RIM, expected="humps such as `H2`, or nothing more", fix=str(size)
        )
    start = inset.end() - len(inset.group().strip(" "))
    raise WITH_INSET.misread(
        f"`{inset.group().strip(' ')}` is not part of the rim size",
        start,
        len(cursor.text.rstrip(" ")),
        expected=f"the rim alone; write `offset: {inset.group(1)} mm` on its own line",
        fix=str(size),
    )
