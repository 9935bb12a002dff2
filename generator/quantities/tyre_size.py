"""Tyre designations: every form in use on cars, read to typed values and one canonical text.

Forms read, each as ISO 4000-1, UN R30, UN R54 and the trade write it:

    205/55 R 16 91V XL      metric; prefix P, LT, HL, T and S (temporary), ST (trailer); suffix C
    225/40 ZR 18 (92Y)      brackets: above 300 km/h; RF and ZRF in place of R: run-flat
    165 SR 13               full profile, without an aspect ratio; a letter before R is the speed
    190/65 R 390            on a rim whose diameter is in mm
    185-560 R 400A          width and diameter in mm, for rims of configuration A
    31x10.50R15LT 109Q      flotation: overall diameter and width in inches
    5.60-15, 7.00-16 LT     numeric: width in inches
    E70-14, ER70-14         alpha-numeric: a load class, so the width stays unknown

Small letters are read as capitals; spaces may be left out where the trade leaves them out. RF in
the place of R means run-flat, RF at the end reinforced. What a designation does not say is None.
"""

import re
from dataclasses import replace

from generator.quantities.cursor import Cursor, number, readable
from generator.quantities.misread import Misread
from generator.quantities.tyre_faults import (
    ASPECT_MISSING,
    ASPECT_UNKNOWN,
    BRACKETS,
    CODES,
    LOAD_INDEX,
    MORE_WORDS,
    NOT_A_SIZE,
    UNKNOWN_RIM,
    UNKNOWN_SPEED,
    WIDTH_UNLIKELY,
)
from generator.quantities.tyre_marks import (
    Construction,
    LoadVersion,
    Prefix,
    Service,
    ServiceDescription,
    Suffix,
    TyreForm,
    TyreSize,
)
from generator.quantities.units import Mm

MM_PER_INCH: Mm = 25.4
SPEED_SYMBOLS: tuple[str, ...] = (
    *("A1", "A2", "A3", "A4", "A5", "A6", "A7", "A8", "B", "C", "D", "E", "F", "G", "J", "K", "L"),
    *("M", "N", "P", "Q", "R", "S", "T", "U", "H", "V", "W", "Y"),
)
"""In the order of speed [UNR30] [UNR54]; their speeds are published tables."""
GREATEST_LOAD_INDEX = 279
NARROWEST: Mm = 105.0
WIDEST: Mm = 455.0
LARGEST_FULL_PROFILE_RIM = 16.0
"""Sizes without an aspect ratio ended there, from memory; beyond, the ratio was forgotten."""
INCH_RIMS = (8.0, 30.0)
METRIC_RIMS: tuple[Mm, Mm] = (300.0, 600.0)

_EXPECTED = "a tyre size, such as `205/55 R 16 91V`"
_RIM = "([0-9]{3}|[0-9]{2}(?:[.]5)?|[89])(?![0-9.,])"
_MARK = "(ZRF|ZR|RF|[A-Z]R|R|D|B|-)(?![A-Z])"
_VERSIONS = "(XL|EXTRA LOAD|REINFORCED|REINF|RF|SL)(?![A-Z0-9])"
_LOAD_RANGE = "(?:LOAD RANGE|LR)? *([B-F])(?![A-Z0-9])"

__all__ = [
    "CODES",
    "Construction",
    "LoadVersion",
    "Prefix",
    "Service",
    "ServiceDescription",
    "Suffix",
    "TyreForm",
    "TyreSize",
    "read_tyre_size",
]


def read_tyre_size(text: str) -> TyreSize:
    """Read a tyre designation.

    Raises Misread (N101 to N109).
    Source: [ISO4000-1], [UNR30] and [UNR54] for the forms; brackets, HL, metric rims, numeric and
    alpha-numeric sizes and load ranges from memory.

    >>> size = read_tyre_size("P215/65r15 95H")
    >>> str(size), size.nominal_section_width, size.load_indices, size.speed_symbol
    ('P215/65 R 15 95H', 215.0, (95,), 'H')
    """
    cursor = Cursor(readable(text, NOT_A_SIZE, expected=_EXPECTED))
    size = (
        _flotation(cursor)
        or _configuration_a(cursor)
        or _alpha_numeric(cursor)
        or _numeric(cursor)
        or _metric(cursor)
    )
    return _with_tail(cursor, replace(size, typed=text))


def _flotation(cursor: Cursor) -> TyreSize | None:
    found = cursor.take("([2-5][0-9](?:[.][0-9]{1,2})?) *[x×] *([0-9]{1,2}[.][0-9]{1,2})(?![0-9,])")
    if found is None:
        return None
    _, construction, _ = _mark(cursor)
    rim = _rim(cursor)
    mark = "-" if construction is Construction.DIAGONAL else construction.value
    return TyreSize(
        TyreForm.FLOTATION,
        f"{number(found.group(1))}x{float(found.group(2)):.2f}{mark}{rim}",
        construction,
        rim,
        nominal_section_width=round(float(found.group(2)) * MM_PER_INCH, 3),
        nominal_diameter=round(float(found.group(1)) * MM_PER_INCH, 3),
        suffix=Suffix.LT if cursor.take("LT(?![A-Z0-9])") else None,
    )


def _configuration_a(cursor: Cursor) -> TyreSize | None:
    found = cursor.take("([0-9]{3}) *- *([0-9]{3}) *R *([0-9]{3}) *A(?![A-Z0-9])")
    if found is None:
        return None
    width, diameter, rim = found.groups()
    return TyreSize(
        TyreForm.CONFIGURATION_A,
        f"{width}-{diameter} R {rim}A",
        Construction.RADIAL,
        rim,
        nominal_section_width=_width(cursor, found),
        nominal_diameter=float(diameter),
    )


def _alpha_numeric(cursor: Cursor) -> TyreSize | None:
    found = cursor.take("([A-HJ-N])(R?) *([0-9]{2}) *- *(?=[0-9])")
    if found is None:
        return None
    load_class, radial, aspect = found.group(1).upper(), found.group(2).upper(), found.group(3)
    if aspect not in ("50", "60", "70", "78", "83"):
        raise _unknown_aspect(found, 3)
    rim = _rim(cursor)
    return TyreSize(
        TyreForm.ALPHA_NUMERIC,
        f"{load_class}{radial}{aspect}-{rim}",
        Construction.RADIAL if radial else Construction.DIAGONAL,
        rim,
        aspect_ratio=float(aspect),
    )


def _numeric(cursor: Cursor) -> TyreSize | None:
    found = cursor.take("([0-9]{1,2}[.][0-9]{2})(?![0-9,])")
    if found is None:
        return None
    letters, construction, run_flat = _mark(cursor)
    rim = _rim(cursor)
    mark = f" {construction.value} " if construction is not Construction.DIAGONAL else "-"
    return TyreSize(
        TyreForm.NUMERIC,
        f"{float(found.group(1)):.2f}{mark}{rim}",
        construction,
        rim,
        nominal_section_width=round(float(found.group(1)) * MM_PER_INCH, 3),
        suffix=_suffix(cursor, None),
        size_letters=letters,
        run_flat=run_flat,
    )


def _metric(cursor: Cursor) -> TyreSize:
    letters = cursor.take("(LT|HL|ST|P|T|S) *(?=[0-9])")
    prefix = Prefix(letters.group(1).upper()) if letters else None
    found = cursor.take("([0-9]{2,3})(?![0-9.,])")
    if found is None:
        raise cursor.unexpected(NOT_A_SIZE, expected=_EXPECTED, fix=_guess(cursor.text))
    slash = cursor.take("/")
    ratio = cursor.take("([0-9]{2,3})(?![0-9.,])") if slash else None
    if ratio is not None:
        _check_swapped(cursor.text, found, ratio)
    width = _width(cursor, found)
    if slash and ratio is None:
        raise ASPECT_MISSING.misread(
            "the slash is not followed by an aspect ratio",
            slash.end() - 1,
            slash.end(),
            expected="the aspect ratio, such as `205/55`",
        )
    aspect = _aspect(ratio) if ratio else None
    size_letters, construction, run_flat = _mark(cursor)
    rim = _rim(cursor)
    if aspect is None and float(rim) > LARGEST_FULL_PROFILE_RIM:
        raise ASPECT_MISSING.misread(
            f"`{found.group(1)}` has no aspect ratio",
            *found.span(1),
            expected=f"width and aspect ratio, such as `{found.group(1)}/45`",
        )
    return TyreSize(
        _metric_form(aspect, rim),
        _metric_name(found.group(1), aspect, construction, rim),
        construction,
        rim,
        nominal_section_width=width,
        aspect_ratio=aspect,
        prefix=prefix,
        suffix=_suffix(cursor, prefix),
        size_letters=size_letters,
        run_flat=run_flat,
    )


def _metric_form(aspect: float | None, rim: str) -> TyreForm:
    if aspect is None:
        return TyreForm.FULL_PROFILE
    return TyreForm.METRIC_RIM if float(rim) >= METRIC_RIMS[0] else TyreForm.METRIC


def _metric_name(width: str, aspect: float | None, construction: Construction, rim: str) -> str:
    if aspect is not None:
        return f"{width}/{aspect:g} {construction.value} {rim}"
    mark = "-" if construction is Construction.DIAGONAL else f" {construction.value} "
    return f"{width}{mark}{rim}"


def _check_swapped(text: str, first: re.Match[str], second: re.Match[str]) -> None:
    if float(first.group(1)) < NARROWEST <= float(second.group(1)) <= WIDEST:
        raise WIDTH_UNLIKELY.misread(
            "section width and aspect ratio are swapped",
            first.start(1),
            second.end(1),
            expected="the width first",
            fix=f"{text[: first.start(1)]}{second.group(1)}/{first.group(1)}"
            f"{text[second.end(1) :]}",
        )


def _width(cursor: Cursor, found: re.Match[str]) -> Mm:
    width = float(found.group(1))
    if NARROWEST <= width <= WIDEST:
        return width
    raise WIDTH_UNLIKELY.misread(
        f"a section width of {width:g} mm is not one of a car tyre",
        *found.span(1),
        expected="a nominal section width from 105 to 455 mm",
        fix=_guess(cursor.text),
    )


def _aspect(found: re.Match[str]) -> float:
    aspect = int(found.group(1))
    if aspect == 82 or (20 <= aspect <= 95 and aspect % 5 == 0):
        return float(aspect)
    raise _unknown_aspect(found, 1)


def _unknown_aspect(found: re.Match[str], group: int) -> Misread:
    return ASPECT_UNKNOWN.misread(
        f"`{found.group(group)}` is not an aspect ratio in use",
        *found.span(group),
        expected="20 to 95 in steps of five, or 82",
    )


def _mark(cursor: Cursor) -> tuple[str, Construction, bool]:
    """Give the letters before R, the construction, and whether R is followed by F."""
    found = cursor.take(_MARK)
    if found is None:
        raise cursor.unexpected(
            NOT_A_SIZE,
            expected="the construction: R for a radial, D or a hyphen for a diagonal tyre",
            fix=_guess(cursor.text),
        )
    mark = found.group(1).upper()
    if mark in ("D", "-"):
        return "", Construction.DIAGONAL, False
    if mark == "B":
        return "", Construction.BIAS_BELTED, False
    run_flat = mark.endswith("F")
    letters = mark.removesuffix("F")[:-1]
    if letters not in ("", "Z", *SPEED_SYMBOLS):
        raise _unknown_speed(letters, found.start(1), found.start(1) + 1)
    return letters, Construction.RADIAL, run_flat


def _rim(cursor: Cursor) -> str:
    found = cursor.take(_RIM)
    if found is None:
        joined = re.match(r" *([12][0-9])(?=[0-9]{2,3}[A-Z])", cursor.text[cursor.at :])
        at = cursor.at + joined.end() if joined else 0
        fix = f"{cursor.text[:at]} {cursor.text[at:]}" if joined else ""
        raise cursor.unexpected(UNKNOWN_RIM, expected="the rim code, such as `16`", fix=fix)
    rim = number(found.group(1))
    if not any(least <= float(rim) <= most for least, most in (INCH_RIMS, METRIC_RIMS)):
        raise UNKNOWN_RIM.misread(
            f"`{found.group(1)}` is not a rim code",
            *found.span(1),
            expected="8 to 30, or 300 to 600 for a rim in mm",
            fix=_guess(cursor.text),
        )
    return rim


def _suffix(cursor: Cursor, prefix: Prefix | None) -> Suffix | None:
    if cursor.take("LT(?![A-Z0-9])"):
        return Suffix.LT
    # Behind a prefix a C is the load range: LT235/75 R 15 C.
    if prefix is None and cursor.take("C(?![A-Z0-9])"):
        return Suffix.C
    return None


def _with_tail(cursor: Cursor, size: TyreSize) -> TyreSize:
    while cursor.rest:
        if not str(size.service_description) and cursor.sees("[0-9(]"):
            size = replace(size, service_description=_service_description(cursor))
        elif size.load_version is None and (found := cursor.take(_VERSIONS)):
            standard = found.group(1).upper() == "SL"
            version = LoadVersion.STANDARD if standard else LoadVersion.EXTRA
            size = replace(size, load_version=version)
        elif size.load_range is None and (found := cursor.take(_LOAD_RANGE)):
            size = replace(size, load_range=found.group(1).upper())
        else:
            raise cursor.unexpected(
                MORE_WORDS,
                expected="load index and speed symbol, `XL`, a load range, or nothing more",
                fix=str(size),
            )
    return size


def _service_description(cursor: Cursor) -> ServiceDescription:
    bracket = cursor.take("[(]")
    # Behind a space, B to F are load ranges: LT235/85 R 16 120/116 E.
    found = cursor.take(
        "([0-9]{2,3})(?:/([0-9]{2,3}))?(?:([A-Z][0-9]?)| +([AG-Z][0-9]?))?(?![A-Z0-9/])"
    )
    if found is None:
        raise cursor.unexpected(
            MORE_WORDS, expected="load index and speed symbol, such as `91V`, behind the size"
        )
    single, dual = found.group(1), found.group(2)
    group = 3 if found.group(3) else 4
    symbol = (found.group(group) or "").upper() or None
    if symbol is not None and symbol not in SPEED_SYMBOLS:
        raise _unknown_speed(symbol, *found.span(group))
    indices = (int(single), int(dual)) if dual else (int(single),)
    if max(indices) > GREATEST_LOAD_INDEX or indices != tuple(sorted(indices, reverse=True)):
        swapped = max(indices) <= GREATEST_LOAD_INDEX
        text = cursor.text
        raise LOAD_INDEX.misread(
            f"`{found.group(1)}{'/' + dual if dual else ''}` cannot be the load index",
            found.start(1),
            found.end(2) if dual else found.end(1),
            expected="up to 279, the index for single mounting first",
            fix=f"{text[: found.start(1)]}{dual}/{single}{text[found.end(2) :]}" if swapped else "",
        )
    if bracket is not None and (cursor.take("[)]") is None or symbol != "Y" or dual):
        raise BRACKETS.misread(
            "these brackets do not fit",
            bracket.end() - 1,
            cursor.at,
            expected="brackets round load index and Y, such as `(92Y)`, or none",
            fix=f"{cursor.text[: bracket.end() - 1]}({single}Y)" if symbol == "Y" else "",
        )
    return ServiceDescription(indices, symbol, bracket is not None)


def _unknown_speed(letters: str, start: int, end: int) -> Misread:
    return UNKNOWN_SPEED.misread(
        f"`{letters}` is not a speed symbol",
        start,
        end,
        expected=f"one of {', '.join(SPEED_SYMBOLS[-12:])}",
    )


def _guess(text: str) -> str:
    """Give a metric size for three numbers written some other way, if that is plain."""
    found = re.match(
        r" ?([1-4][0-9]5)[ /.,\\-]{1,3}([2-9][05])[ /.,\\-]{0,3}Z?R?[ /.,\\-]{0,3}([12][0-9])\b",
        text,
        re.ASCII | re.IGNORECASE,
    )
    return (
        f"{found.group(1)}/{found.group(2)} R {found.group(3)}{text[found.end() :]}"
        if found
        else ""
    )
