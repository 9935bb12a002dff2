"""A number with its unit, as a member types it: one anchored pattern, one closed table of units.

Read are `35 mm`, `-1.5 deg`, `0.200 in`, `3/8 in`, `84 lb ft`. Everything else is refused with the
text to type instead; nothing is guessed. What was typed is kept beside the canonical value.
"""

import re
from difflib import get_close_matches
from unicodedata import decimal

from generator.frozen import dataclass
from generator.quantities.misread import Explained, Misread
from generator.quantities.units import BY_SPELLING, Dimension, Unit, factor, units_of

LONGEST = 24
"""Characters; the longest sensible quantity, `-1234.567 centimetres`, has 21."""

_DECIMALS = 9
"""Far below any measurement; keeps 1.5 in at 38.1 mm and not 38.099999999999994."""

# Number, then at most one space, then a unit of letters and signs. No nested quantifiers.
_SHAPE = re.compile(r"([+-]?)([0-9]{1,6})?(\.[0-9]{0,6})?(?:/([0-9]{1,3}))?( ?)(\D{0,14})\Z")
_MIXED = re.compile(r"(-?)([0-9]{1,3})[ -]([0-9]{1,2})/([0-9]{1,2}) ?(in|inch|inches)")
_BINARY = (2, 4, 8, 16, 32, 64)
_LOOKALIKE_MINUS = str.maketrans({"−": "-", "–": "-", "—": "-", "‐": "-", "‑": "-"})
_FRACTION_SIGNS = str.maketrans({
    "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8",
})  # fmt: skip
_INCH_MARKS = ('"', "″", "”", "“", "''", "'", "′", "’")


@dataclass(frozen=True)
class Quantity:
    """A number in the canonical unit of its dimension, and the text it was read from.

    `resolution` is one step of the last digit typed (the denominator of a fraction), in the
    canonical unit. `canonical` is the same text in its usual form when the form typed was odd
    (`+35 mm`, `035 mm`, `.5 in`), else equal to `typed`.
    """

    value: float
    typed: str
    unit: Unit
    resolution: float
    canonical: str


def read_quantity(text: str, dimension: Dimension) -> Quantity:
    """Read a number with its unit.

    Raises Misread for anything but one number and one unit of the dimension.
    Source: own notation; the unit symbols are those of ISO 80000 and NIST SP 811.

    >>> read_quantity("3/8 in", Dimension.LENGTH).value
    9.525
    """
    if len(text) > LONGEST:
        raise Misread(
            "Q09", f"{len(text)} characters are too many for a {dimension.value}", 0, len(text),
            f"at most {LONGEST} characters, such as `{_example(dimension)}`",
        )  # fmt: skip
    if text.translate(_FRACTION_SIGNS) != text:
        raise _fraction_sign(text)
    match = _SHAPE.match(text)
    if match is None or not (match[2] or (match[3] or "") > "."):
        raise _explain(text, dimension)
    sign, whole, decimals, denominator, gap, spelling = match.groups()
    if not spelling:
        raise Misread(
            "Q08", f"`{text}` has no unit", len(text), len(text) + 1,
            f"a {dimension.value} with its unit, such as `{_example(dimension)}`",
            why="a bare number does not say in which unit it was read",
            fix=f"{text.strip()} {'in' if denominator else units_of(dimension)[0].symbol}",
        )  # fmt: skip
    unit = _unit(text, match.start(6), spelling, dimension)
    _check_fraction(text, decimals, denominator, unit)
    number = float(f"{whole or '0'}{decimals or ''}") / float(denominator or 1)
    if sign == "-":
        number = -number
    step = 1.0 / float(denominator) if denominator else 10.0 ** -len((decimals or ".")[1:])
    tidy = _tidy(sign, whole, decimals, denominator, spelling)
    near = f"{tidy[: -len(spelling)].rstrip()}{gap}{spelling}"
    return Quantity(
        value=round(number * factor(unit), _DECIMALS) + 0.0,
        typed=text,
        unit=unit,
        resolution=round(step * factor(unit), _DECIMALS),
        canonical=text if near == text else tidy,
    )


def _tidy(
    sign: str, whole: str | None, decimals: str | None, denominator: str | None, spelling: str
) -> str:
    digits = (whole or "0").lstrip("0") or "0"
    tail = decimals if decimals and decimals != "." else ""
    if denominator:
        tail = f"/{denominator}"
    zero = float(f"{digits}{tail}" if not denominator else digits) == 0.0
    return f"{'-' if sign == '-' and not zero else ''}{digits}{tail} {spelling}"


def _check_fraction(text: str, decimals: str | None, denominator: str | None, unit: Unit) -> None:
    if denominator is None:
        return
    start = text.index("/")
    if decimals or unit.symbol != "in" or int(denominator) not in _BINARY:
        raise Misread(
            "Q06", f"`{text}` is not a fraction of the inch", start, start + 1 + len(denominator),
            "halves to sixty-fourths of an inch, such as `3/8 in`, or a decimal number",
            why="only binary fractions of the inch are marked on rules and drills",
        )  # fmt: skip


def _unit(text: str, start: int, spelling: str, dimension: Dimension) -> Unit:
    unit = BY_SPELLING.get(spelling)
    allowed = [u.symbol for u in units_of(dimension)]
    expected = f"a {dimension.value} in " + " or ".join(f"`{symbol}`" for symbol in allowed)
    if unit is None:
        if any(mark in spelling for mark in _INCH_MARKS):
            raise _inch_mark(text, dimension)
        near = get_close_matches(spelling, [s for u in units_of(dimension) for s in u.spellings], 1)
        close = near or ([spelling.lower()] if spelling.lower() in BY_SPELLING else [])
        raise Misread(
            "Q03", f"`{spelling.strip()}` is not a unit of the guide", start, len(text), expected,
            fix=f"{text[:start].rstrip()} {close[0]}" if close else "",
        )  # fmt: skip
    if unit.dimension is not dimension:
        raise Misread(
            "Q04", f"`{spelling}` measures {unit.dimension.value}, not {dimension.value}",
            start, len(text), expected,
        )  # fmt: skip
    return unit


def _fraction_sign(text: str) -> Misread:
    plain = text.translate(_FRACTION_SIGNS).strip()
    at = next(i for i, sign in enumerate(text) if sign.translate(_FRACTION_SIGNS) != sign)
    whole = re.fullmatch(r"1/2|[13]/4|[1357]/8", re.sub(r" ?(in|inch|inches)?$", "", plain))
    mixed = _MIXED.fullmatch(plain)
    return Misread(
        "Q06", f"`{text}` has a fraction in one sign", at, at + 1,
        "a plain fraction such as `3/8 in`, or a decimal number",
        fix=_decimal_inches(mixed) if mixed else f"{whole[0]} in" if whole else "",
    )  # fmt: skip


def _inch_mark(text: str, dimension: Dimension) -> Misread:
    start = min(text.index(mark) for mark in _INCH_MARKS if mark in text)
    plain = re.fullmatch(r'(-?[0-9.]+) ?["″”]', text)
    return Misread(
        "Q06", f"`{text}` uses a tick for a unit", start, len(text),
        f"a {dimension.value} with its unit spelled, such as `{_example(dimension)}`",
        why="one tick is feet to some and minutes of arc to others",
        fix=f"{plain[1]} in" if plain else "",
    )  # fmt: skip


def _explain(text: str, dimension: Dimension) -> Misread:
    """Say which slip made the text unreadable; the first that fits."""
    expected = f"one number and one unit, such as `{_example(dimension)}`"
    if not text.strip():
        return Misread("Q01", "nothing is written here", 0, max(len(text), 1), expected)
    plain = text.translate(_LOOKALIKE_MINUS)
    if plain != text and plain.isascii():
        at = next(i for i, (a, b) in enumerate(zip(text, plain, strict=True)) if a != b)
        return Misread(
            "Q07", f"`{text}` has a dash that is not the minus sign of a keyboard", at, at + 1,
            "the plain hyphen for minus", fix=plain,
        )  # fmt: skip
    digits = "".join(str(decimal(sign)) if sign.isdecimal() else sign for sign in text)
    if digits != text and _SHAPE.match(digits):
        at = next(i for i, (a, b) in enumerate(zip(text, digits, strict=True)) if a != b)
        return Misread(
            "Q02", f"`{text}` has digits of another script", at, at + 1, "the digits 0 to 9",
            fix=digits,
        )  # fmt: skip
    slip = _comma_slip(text) or _inch_slip(text, dimension, expected)
    if slip is not None:
        return slip
    bad = next((i for i, sign in enumerate(text) if not (sign.isascii() and sign.isprintable())), 0)
    return Misread(
        "Q02", f"`{text}` is not a {dimension.value}", bad, len(text), expected,
    )  # fmt: skip


def _comma_slip(text: str) -> Misread | None:
    comma = re.fullmatch(r"([+-]?[0-9]{1,6}),([0-9]{1,6})( ?)(\D{0,14})", text)
    many = re.fullmatch(r"[+-]?[0-9]{1,6}([.,][0-9]{1,6}){2,4} ?\D{0,14}", text)
    if not comma and not (many and "," in text):
        return None
    at = text.index(",")
    # Three digits behind a comma may as well be thousands: only who measured knows.
    is_thousands = comma is not None and len(comma[2]) == 3 and comma[1].strip("+-0") != ""
    return Misread(
        "Q05", f"`{text}` has a comma", at, at + 1, "a decimal point, and no thousands mark",
        why="a comma is a decimal mark to some and a thousands mark to others",
        fix=f"{comma[1]}.{comma[2]}{comma[3]}{comma[4]}" if comma and not is_thousands else "",
    )  # fmt: skip


def _inch_slip(text: str, dimension: Dimension, expected: str) -> Misread | None:
    mixed = _MIXED.fullmatch(text)
    if mixed and int(mixed[4]) in _BINARY:
        return Misread(
            "Q06", f"`{text}` mixes a whole number and a fraction", len(mixed[1]), mixed.end(4),
            "a decimal number, or a fraction below one", fix=_decimal_inches(mixed),
        )  # fmt: skip
    feet = re.fullmatch(r"([0-9]{1,3}) ?(?:ft|feet|foot) ?([0-9]{1,2}(?:\.[0-9]{1,4})?) ?in", text)
    if feet:
        fix = f"{int(feet[1]) * 12 + float(feet[2]):.6g} in"
        return Misread("Q06", f"`{text}` mixes feet and inches", 0, len(text), expected, fix=fix)
    return _inch_mark(text, dimension) if any(mark in text for mark in _INCH_MARKS) else None


def _decimal_inches(mixed: re.Match[str]) -> str:
    value = int(mixed[2]) + int(mixed[3]) / int(mixed[4])
    return f"{mixed[1]}{value:.6g} in"


def _example(dimension: Dimension) -> str:
    return _EXAMPLES[dimension]


_EXAMPLES = {
    Dimension.LENGTH: "35 mm",
    Dimension.DISTANCE: "120 km",
    Dimension.ANGLE: "-1.5 deg",
    Dimension.MASS: "7.4 kg",
    Dimension.TORQUE: "95 N·m",
    Dimension.PRESSURE: "2.1 bar",
    Dimension.SPEED: "190 km/h",
    Dimension.ANGLE_PER_LENGTH: "-0.013 deg/mm",
}

CODES: tuple[Explained, ...] = (
    Explained(
        "Q01", "an empty quantity",
        "A field that needs a number has no text.",
        "Write the number with its unit, or leave the whole line out.",
        "", "35 mm",
    ),
    Explained(
        "Q02", "not a quantity",
        "A quantity is one number and one unit. Words, sums, brackets, several numbers and numbers "
        "such as `nan` or `1e3` are refused, because a slip in them could pass unseen.",
        "Write the number with digits and at most one decimal point, one space, and the unit.",
        "about 5 mm", "5 mm",
    ),
    Explained(
        "Q03", "an unknown unit",
        "The unit is not in the guide's table. Spelling and capitals count: `Mm` is not `mm`.",
        "Use one of the units that the message lists.",
        "5 MM", "5 mm",
    ),
    Explained(
        "Q04", "a unit of another kind",
        "The unit measures something else than the field does.",
        "Check that the number stands in the right field; then use one of the units listed.",
        "35 deg", "35 mm",
    ),
    Explained(
        "Q05", "a decimal comma",
        "A comma is a decimal mark to some readers and a thousands mark to others; read the wrong "
        "way it changes the number a thousandfold.",
        "Write a decimal point.",
        "5,5 mm", "5.5 mm",
    ),
    Explained(
        "Q06", "a mixed number, feet and inches, or a tick",
        "Whole numbers with fractions, feet with inches and tick marks are read in several ways. "
        "Plain fractions of the inch from halves to sixty-fourths are read.",
        "Write a decimal number, or a plain fraction such as `3/8 in`.",
        "1 1/2 in", "1.5 in",
    ),
    Explained(
        "Q07", "a dash that is not a minus sign",
        "Editors turn a typed hyphen into a dash. It looks like a minus and is another character.",
        "Type the plain hyphen.",
        "–12 mm", "-12 mm",
    ),
    Explained(
        "Q08", "a number without a unit",
        "The guide is used in millimetres and in inches; a bare number does not say which.",
        "Add the unit.",
        "35", "35 mm",
    ),
    Explained(
        "Q09", "a quantity that is too long",
        "No sensible quantity needs so many characters.",
        "Round the number to what was measured, and put remarks into the notes.",
        "3.1415926535897932384626433832 mm", "3.14 mm",
    ),
    Explained(
        "Q10", "an odd form of a number",
        "The number was read, in a form that is easily misread: a plus sign, leading zeros, a "
        "bare decimal point or minus zero.",
        "Write it in the form shown. Nothing else is wrong with it.",
        "+035 mm", "35 mm",
    ),
)  # fmt: skip
