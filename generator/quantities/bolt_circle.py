"""Bolt circles: how many fixings on a circle of which diameter, such as `4x118`.

The diameter is in mm unless the text says inch. Source: [UNR124] (at least three fixings) and
common practice of the trade for the notation.
"""

import re
from dataclasses import field

from generator.frozen import dataclass
from generator.quantities.cursor import Cursor, number, readable
from generator.quantities.misread import Explained
from generator.quantities.units import Mm

MM_PER_INCH: Mm = 25.4
FEWEST_FIXINGS = 3
MOST_FIXINGS = 8
SMALLEST_CIRCLE: Mm = 70.0
LARGEST_CIRCLE: Mm = 260.0
"""Well outside anything on a car, common practice; a number beyond is a slip of unit."""

NOT_A_BOLT_CIRCLE = Explained(
    "N401",
    "not a bolt circle",
    "A bolt circle is the number of studs or bolts and the diameter of the circle through their "
    "centres, with an x between them.",
    "Write count, x and diameter; a wheel drilled twice gets the circle that is used.",
    "5-117",
    "5x117",
)
COUNT_OUT_OF_RANGE = Explained(
    "N402",
    "an unlikely number of fixings",
    "A wheel has at least three fixings [UNR124]; more than eight are not used on cars. Count and "
    "diameter are easily swapped.",
    "Write the count first: from 3 to 8.",
    "118x4",
    "4x118",
)
DIAMETER_OUT_OF_RANGE = Explained(
    "N403",
    "an unlikely bolt circle diameter",
    "Without a unit the diameter is in mm. Circles of cars lie between 70 and 260 mm, so a number "
    "such as 4.5 is in inches, and has to say so.",
    "Write the diameter in mm, or put `in` behind it.",
    "5x4.5",
    "5x4.5 in",
)
CODES: tuple[Explained, ...] = (NOT_A_BOLT_CIRCLE, COUNT_OUT_OF_RANGE, DIAMETER_OUT_OF_RANGE)
_EXPECTED = "count and diameter, such as `4x118` or `5x4.5 in`"


@dataclass(frozen=True)
class BoltCircle:
    """Number of fixings and the diameter of the circle through their centres."""

    count: int
    diameter: Mm
    typed: str = field(compare=False, default="")

    def __str__(self) -> str:
        return f"{self.count}x{number(str(self.diameter))}"


def read_bolt_circle(text: str) -> BoltCircle:
    """Read a bolt circle; the diameter is kept in mm, to a thousandth.

    Raises Misread (N401 to N403).
    Source: common practice of the trade.

    >>> str(read_bolt_circle("5 × 4.5 in"))
    '5x114.3'
    """
    cursor = Cursor(readable(text, NOT_A_BOLT_CIRCLE, expected=_EXPECTED))
    count = cursor.take("([0-9]{1,3}(?:[.][0-9]{1,3})?)(?![0-9.])")
    if count is None or cursor.take("[x×]") is None:
        raise cursor.unexpected(NOT_A_BOLT_CIRCLE, expected=_EXPECTED, fix=_with_x(text))
    diameter = cursor.take("([0-9]{1,3}(?:[.][0-9]{1,4})?)(?![0-9.,])")
    if diameter is None:
        fix = text.strip(" ").replace(",", ".") if text.count(",") == 1 else ""
        raise cursor.unexpected(NOT_A_BOLT_CIRCLE, expected=_EXPECTED, fix=fix)
    unit = cursor.take('(mm|inch|in|"|″)(?![A-Z])')
    if cursor.rest:
        raise cursor.unexpected(NOT_A_BOLT_CIRCLE, expected="nothing more, or `mm` or `in`")
    _check_count(count, diameter)
    inch = unit is not None and unit.group(1).lower() != "mm"
    value = round(float(diameter.group(1)) * (MM_PER_INCH if inch else 1.0), 3)
    if not SMALLEST_CIRCLE <= value <= LARGEST_CIRCLE:
        could_be_inch = SMALLEST_CIRCLE <= value * MM_PER_INCH <= LARGEST_CIRCLE
        raise DIAMETER_OUT_OF_RANGE.misread(
            f"a circle of {value:g} mm is not one of a car",
            *diameter.span(1),
            expected="a diameter from 70 to 260 mm",
            fix=f"{count.group(1)}x{diameter.group(1)} in" if could_be_inch and not inch else "",
        )
    return BoltCircle(int(count.group(1)), value, text)


def _check_count(count: re.Match[str], diameter: re.Match[str]) -> None:
    fixings = float(count.group(1))
    is_usual = fixings.is_integer() and FEWEST_FIXINGS <= fixings <= MOST_FIXINGS
    if is_usual and count.group(1).isdigit():
        return
    other = float(diameter.group(1))
    swapped = other.is_integer() and FEWEST_FIXINGS <= other <= MOST_FIXINGS
    raise COUNT_OUT_OF_RANGE.misread(
        f"`{count.group(1)}` is not a number of fixings",
        *count.span(1),
        expected="a whole number from 3 to 8, then x and the diameter",
        fix=f"{other:.0f}x{count.group(1)}"
        if swapped
        else f"{fixings:.0f}x{diameter.group(1)}"
        if is_usual
        else "",
    )


def _with_x(text: str) -> str:
    pair = re.fullmatch(r"([3-8]) ?[-*/ ] ?([0-9]{2,3}(?:[.][0-9]{1,2})?)", text.strip(" "))
    return f"{pair.group(1)}x{pair.group(2)}" if pair else ""
