"""Values as pages show them: a number with both units, its spread and its ground, or words.

What nobody knows is a Shown too, without a value: templates write it as the words "not known".
"""

from dataclasses import replace
from datetime import date
from enum import Enum
from math import floor, log10

from generator.frozen import dataclass
from generator.quantities.estimate import Estimate
from generator.quantities.misread import Misread
from generator.quantities.quantity import Quantity, read_quantity
from generator.quantities.span import GapReading, Said
from generator.quantities.units import BY_SPELLING, Dimension, Mm, Ratio, in_unit

_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
OTHER_UNIT = {
    Dimension.DISTANCE: ("mi", 0),
    Dimension.MASS: ("lb", 0),
    Dimension.TORQUE: ("lb ft", 0),
    Dimension.PRESSURE: ("psi", 0),
    Dimension.SPEED: ("mph", 0),
    Dimension.ANGLE_PER_LENGTH: ("°/in", 2),
}
"""The unit of the inch readers and its decimals; an angle is the same to all."""
_METRIC_UNIT = {
    Dimension.DISTANCE: "km",
    Dimension.ANGLE: "°",
    Dimension.MASS: "kg",
    Dimension.TORQUE: "N·m",
    Dimension.PRESSURE: "bar",
    Dimension.SPEED: "km/h",
    Dimension.ANGLE_PER_LENGTH: "°/mm",
}
_MOST_DECIMALS = 3


class Kind(Enum):
    """How a value is written."""

    LENGTH = "length"
    QUANTITY = "quantity"
    WORDS = "words"
    TOLD = "told"
    """The guide's own words, whose lengths, in mm, follow the reader's unit."""
    UNKNOWN = "unknown"


@dataclass(frozen=True)
class Shown:
    """A value for a page; `value` in mm for a length, else in `unit`, and `other` its twin."""

    kind: Kind
    value: Ratio | None = None
    u: Ratio | None = None
    decimals: int = 1
    is_signed: bool = False
    unit: str = ""
    other: Ratio | None = None
    other_unit: str = ""
    other_decimals: int = 0
    text: str = ""
    typed: str = ""
    basis: str = ""


UNKNOWN = Shown(Kind.UNKNOWN)


@dataclass(frozen=True)
class Fact:
    """A name and its value; `note` is a remark in the guide's own words."""

    label: str
    value: Shown
    note: str = ""


def words(text: str | None) -> Shown:
    """Show words; nothing written is not known."""
    return Shown(Kind.WORDS, text=text) if text else UNKNOWN


def chosen(word: Enum | None) -> Shown:
    """Show one of the words a record may choose from."""
    return words(str(word.value)) if word is not None else UNKNOWN


def yes_no(answer: bool | None) -> Shown:
    """Show a yes or no."""
    return UNKNOWN if answer is None else words("yes" if answer else "no")


def given(quantity: Quantity | None, *, is_signed: bool = False) -> Shown:
    """Show what a member wrote: in both units, with as many decimals as typed, and as typed."""
    if quantity is None:
        return UNKNOWN
    decimals = _decimals(quantity.resolution)
    dimension = quantity.unit.dimension
    if dimension is Dimension.LENGTH:
        places = _length_decimals(quantity.resolution)
        return Shown(Kind.LENGTH, quantity.value, None, places, is_signed, typed=quantity.typed)
    other = OTHER_UNIT.get(dimension)
    return Shown(
        Kind.QUANTITY,
        quantity.value,
        None,
        decimals,
        is_signed,
        unit=_METRIC_UNIT[dimension],
        other=in_unit(quantity.value, BY_SPELLING[other[0]]) if other else None,
        other_unit=other[0] if other else "",
        other_decimals=_other_decimals(other[1], quantity.value) if other else 0,
        typed=quantity.typed,
    )


def length_and_words(text: str | None) -> tuple[Shown, str]:
    """Part a member's words after the length that they begin with; without one all are words.

    Where the rest has a number too, its unit may be that of the length, and nothing is parted.

    >>> length, rest = length_and_words("8 mm at the seam")
    >>> length.value, rest
    (8.0, ' at the seam')
    """
    head = " ".join((text or "").split(" ", 2)[:2]).rstrip(",;")
    rest = (text or "")[len(head) :]
    if any(sign.isdigit() for sign in rest):
        return words(text), ""
    try:
        return given(read_quantity(head, Dimension.LENGTH)), rest
    except Misread:
        return words(text), ""


def _other_decimals(least: int, value: Ratio) -> int:
    return max(1, least) if 0.0 < abs(value) < 10.0 else least


def estimated(estimate: Estimate | None, *, is_signed: bool = False) -> Shown:
    """Show a computed length with its standard uncertainty and what it stands on."""
    if estimate is None:
        return UNKNOWN
    return Shown(
        Kind.LENGTH,
        estimate.value,
        estimate.u or None,
        1,
        is_signed,
        basis=estimate.basis.value,
    )


def said(reading: GapReading) -> Shown:
    """Show what a record says of a gap: the numbers as finely as typed, or the words."""
    if reading.low is not None and reading.low == reading.high:
        decimals = _length_decimals(reading.resolution)
        return Shown(Kind.LENGTH, reading.low, None, decimals, typed=reading.typed)
    if reading.said in (Said.BETWEEN, Said.MORE_THAN):
        return Shown(Kind.TOLD, text=in_mm(reading), typed=reading.typed)
    return words(reading.typed)


def told_day(day: date) -> str:
    """Write a day with the month as a word, so that no reader swaps day and month.

    >>> told_day(date(2025, 6, 4))
    '4 June 2025'
    """
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year:04d}"


def in_mm(reading: GapReading) -> str:
    """Tell a gap in words whose lengths are in mm, as finely as typed; those without one, as typed.

    >>> in_mm(GapReading(Said.MORE_THAN, 27.94, None, 2.54, "more than 1.1 in"))
    'more than 27.9 mm'
    """
    if reading.said not in (Said.MEASURED, Said.BETWEEN, Said.MORE_THAN):
        return reading.typed
    places = _length_decimals(reading.resolution)
    bounds = dict.fromkeys(
        f"{end:.{places}f}" for end in (reading.low, reading.high) if end is not None
    )
    more = "more than " if reading.said is Said.MORE_THAN else ""
    return f"{more}{' to '.join(bounds)} mm"


def below(shown: Shown, bound: Mm) -> Shown:
    """Show a length that misses a bound with so many decimals that it does not read as the bound.

    >>> below(exact_length(7.986), 8.0).decimals, below(exact_length(7.9), 8.0).decimals
    (2, 1)
    """
    decimals = shown.decimals
    if shown.value is not None and shown.value < bound:
        while decimals < _MOST_DECIMALS and round(shown.value, decimals) >= bound:
            decimals += 1
    return replace(shown, decimals=decimals)


def exact_length(value: Mm, decimals: int = 1) -> Shown:
    """Show a length that is neither typed nor estimated, such as one of a standard."""
    return Shown(Kind.LENGTH, value, None, decimals)


def percent(estimate: Estimate | None) -> Shown:
    """Show a change in per cent, with its sign."""
    if estimate is None:
        return UNKNOWN
    return Shown(
        Kind.QUANTITY,
        estimate.value,
        estimate.u or None,
        1,
        is_signed=True,
        unit="%",
        basis=estimate.basis.value,
    )


def _decimals(resolution: Mm) -> int:
    if not resolution > 0.0:
        return 0
    return min(_MOST_DECIMALS, max(0, -floor(log10(resolution) + 1e-9)))


def _length_decimals(resolution: Mm) -> int:
    """Count the decimals of mm; a length typed in inches has enough for the same inches again."""
    steps = log10(resolution) if resolution > 0.0 else 0.0
    return max(_decimals(resolution), 0 if abs(steps - round(steps)) < 1e-9 else 1)
