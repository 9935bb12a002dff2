"""How numbers, dates and words are shown: the same on every machine, in every language setting.

A number on a page carries U+2212 as its minus and U+202F between groups of three digits from five
digits on (ISO 80000-1, 7.3.1); a number in data (`plain`) carries neither. None is "not known".
A number that is not finite never reaches a page: it is refused here as a fault of the program.
"""

import re
import unicodedata
from collections.abc import Callable, Mapping
from datetime import date
from math import floor, isfinite, log10
from typing import Final

from markupsafe import Markup

from generator.frozen import dataclass
from generator.quantities.units import BY_SPELLING, Mm, Probability, Ratio, in_unit
from generator.records.names import named_list
from generator.rendering.together import ticked, together
from generator.site.facts import told_day

NOT_KNOWN: Final = "not known"
MINUS: Final = "\u2212"
NO_BREAK: Final = "\u00a0"
THIN: Final = "\u202f"
_INCH: Final = BY_SPELLING["in"]
_MOST_DECIMALS: Final = 4
_HYPHEN: Final = re.compile(r"(?<![\w.)-])-(?=\d)")
_UNIT: Final = re.compile(
    r"(?<=\d) (?=(?:%|mm|in|km|mi|kg|lb|kN|N·m|bar|psi|cars?|entries)(?![\w-]))"
)
_SPACE: Final = f"[ {NO_BREAK}]"
_LENGTH: Final = re.compile(
    rf"(?:([+{MINUS}-]?\d+(?:\.\d+)?){_SPACE}(to|±){_SPACE})?([+{MINUS}-]?\d+(?:\.(\d+))?)"
    rf"{_SPACE}mm\b"
)


def figure(value: Ratio | None, decimals: int = 1) -> str:
    """Write a number with a fixed count of decimals.

    >>> figure(-1.25, 1) == "\u22121.2"
    True
    >>> figure(None)
    'not known'
    """
    if value is None:
        return NOT_KNOWN
    digits = plain(value, decimals)
    whole, point, rest = digits.removeprefix("-").partition(".")
    sign = MINUS if digits.startswith("-") else ""
    return sign + (_grouped(whole) if len(whole) > 4 else whole) + point + rest


def signed(value: Ratio | None, decimals: int = 1) -> str:
    """Write a number with its sign, plus included; nothing before a zero.

    >>> signed(3.0)
    '+3.0'
    """
    text = figure(value, decimals)
    is_positive = value is not None and float(plain(value, decimals)) > 0.0
    return f"+{text}" if is_positive else text


def plain(value: Ratio, decimals: int = 6) -> str:
    """Write a number as data: ASCII, decimal point, hyphen for minus, never an exponent or -0.

    >>> plain(-0.04, 1)
    '0.0'
    """
    if not isfinite(value):
        raise ValueError(f"{value} is not a number that can be shown")
    text = f"{value:.{decimals}f}"
    return text.removeprefix("-") if float(text) == 0.0 else text


def decimals_for(u: Ratio | None, otherwise: int = 1) -> int:
    """Count the decimals a standard uncertainty supports: u to one digit, two where it leads 1.

    At most two significant digits of u are of use [GUM] 7.2.6; the value ends where u ends.

    >>> decimals_for(0.4), decimals_for(0.14), decimals_for(3.0)
    (1, 2, 0)
    """
    if u is None or not u > 0.0:
        return otherwise
    exponent = floor(log10(u))
    leading = u / 10.0**exponent
    if leading >= 9.5:
        exponent, leading = exponent + 1, 1.0
    digits = 2 if leading < 1.95 else 1
    return min(max(0, digits - 1 - exponent), _MOST_DECIMALS)


def mm(value: Mm | None, decimals: int = 1) -> str:
    """Write a length in millimetres with its unit.

    >>> mm(112.54).replace(NO_BREAK, " ")
    '112.5 mm'
    """
    return _with_unit(figure(value, decimals), "mm")


def inch(value: Mm | None, decimals: int = 1) -> str:
    """Write the inches of a length, shown in mm with a count of decimals, with their unit.

    >>> inch(228.6).replace(NO_BREAK, " ")
    '9.00 in'
    """
    return _with_unit(inches(value, decimals), "in")


def inches(value: Mm | None, decimals: int = 1, *, is_signed: bool = False) -> str:
    """Write the inches of a length as it is shown in mm with a count of decimals.

    They are those of the millimetres shown, so that wherever the same millimetres stand, the same
    inches stand beside them. A hundredth of an inch is a quarter of a millimetre, so whole mm and
    tenths go with hundredths, and each further decimal with one more; none of those lies half way
    between two such inches, so that nothing rounds another way.

    >>> inches(24.04), inches(23.96), inches(24.4, 0)
    ('0.94', '0.94', '0.94')
    """
    if value is None:
        return NOT_KNOWN
    shown = in_unit(float(plain(value, decimals)), _INCH)
    return (signed if is_signed else figure)(shown, max(2, decimals + 1))


def percent(probability: Probability | None) -> str:
    """Write a probability in whole percent, never as certain when it is not.

    >>> percent(0.999).replace(NO_BREAK, " "), percent(0.5).replace(NO_BREAK, " ")
    ('> 99 %', '50 %')
    """
    if probability is None:
        return NOT_KNOWN
    if not 0.0 <= probability <= 1.0:
        raise ValueError(f"{probability} is not a probability")
    if 0.99 < probability < 1.0:
        return f">{NO_BREAK}99{NO_BREAK}%"
    if 0.0 < probability < 0.01:
        return f"<{NO_BREAK}1{NO_BREAK}%"
    return f"{probability * 100:.0f}{NO_BREAK}%"


def long_date(day: date | None) -> str:
    """Write a date with the month as a word, so that no reader swaps day and month.

    >>> long_date(date(2026, 3, 4)).replace(NO_BREAK, " ")
    '4 March 2026'
    """
    if day is None:
        return NOT_KNOWN
    return told_day(day).replace(" ", NO_BREAK)


def plural(count: int, one: str, many: str = "") -> str:
    """Write a count with its noun.

    >>> plural(1, "car").replace(NO_BREAK, " "), plural(3, "entry", "entries")[-7:]
    ('1 car', 'entries')
    """
    return f"{figure(count, 0)}{NO_BREAK}{one if count == 1 else many or one + 's'}"


def ident(text: str) -> str:
    """Make an id for an element: letters, digits and hyphens of ASCII, a letter first.

    Different texts may give one id; who needs unique ids puts something unique before it.

    >>> ident("Strut tube (left)")
    'strut-tube-left'
    """
    ascii_text = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    words = re.sub(r"[^a-z0-9]+", "-", ascii_text.lower()).strip("-")
    return words if words[:1].isalpha() else f"n-{words or 'x'}"


def _grouped(whole: str) -> str:
    head = len(whole) % 3
    parts = [whole[:head]] if head else []
    return THIN.join(parts + [whole[at : at + 3] for at in range(head, len(whole), 3)])


def _with_unit(text: str, unit: str) -> str:
    return text if text == NOT_KNOWN else f"{text}{NO_BREAK}{unit}"


def typeset(sentence: str) -> str:
    """Give the numbers of a sentence of ours the page's minus, and keep each with its unit.

    >>> typeset("from -7 to 7 mm (1.4 %), seen 2024-05-11").replace(NO_BREAK, "~")
    'from −7 to 7~mm (1.4~%), seen 2024-05-11'
    """
    return _UNIT.sub(NO_BREAK, _HYPHEN.sub(MINUS, sentence))


def _typeset_kept(sentence: str) -> Markup:
    return together(typeset(sentence))


@dataclass(frozen=True)
class ToldLength:
    """A length within words of ours, in mm, and how it was written there.

    `spread` is what was said to be its uncertainty, `upto` the end of a range that it begins.
    """

    mm: Mm
    decimals: int
    is_signed: bool = False
    spread: Mm | None = None
    upto: Mm | None = None


def lengths_apart(words: str) -> tuple[str | ToldLength, ...]:
    """Part words of ours at the lengths they tell, which then follow the reader's unit.

    >>> lengths_apart("62 mm up from standing")[1:]
    (ToldLength(mm=62.0, decimals=0, is_signed=False, spread=None, upto=None), ' up from standing')
    """
    found: list[str | ToldLength] = []
    end = 0
    for each in _LENGTH.finditer(words):
        found.append(typeset(words[end : each.start()]))
        found.append(_told_length(each))
        end = each.end()
    return (*found, typeset(words[end:]))


def _told_length(found: re.Match[str]) -> ToldLength:
    before, between, number, places = found.groups(default="")
    last, decimals = float(number.replace(MINUS, "-")), len(places)
    if between:
        first = float(before.replace(MINUS, "-"))
        if between == "to":
            return ToldLength(first, decimals, upto=last)
        return ToldLength(first, decimals, before.startswith("+"), spread=last)
    return ToldLength(last, decimals, number.startswith("+"))


def in_both_units(words: str) -> str:
    """Add inches to each length that plain words of ours tell in mm, such as those of a title.

    >>> in_both_units("The tyre stands 25.4 mm inside, 3 to 6 mm off.").replace(NO_BREAK, " ")
    'The tyre stands 25.4 mm (1.00 in) inside, 3 to 6 mm (0.12 to 0.24 in) off.'
    """
    return _LENGTH.sub(lambda each: f"{each.group(0)} ({_inches_told(_told_length(each))})", words)


def in_inches(words: str) -> str:
    """Tell each length of plain words in inches instead.

    >>> in_inches("more than 38.1 mm").replace(NO_BREAK, " ")
    'more than 1.50 in'
    """
    return _LENGTH.sub(lambda each: _inches_told(_told_length(each)), words)


def _inches_told(length: ToldLength) -> str:
    told = inches(length.mm, length.decimals, is_signed=length.is_signed)
    for joined, other in (("to", length.upto), ("±", length.spread)):
        if other is not None:
            told = f"{told} {joined} {inches(other, length.decimals)}"
    return f"{told}{NO_BREAK}in"


FILTERS: Final[Mapping[str, Callable[..., object]]] = {
    "figure": figure,
    "signed": signed,
    "plain": plain,
    "mm": mm,
    "inch": inch,
    "inches": inches,
    "percent": percent,
    "date": long_date,
    "plural": plural,
    "ident": ident,
    "ticked": ticked,
    "decimals_for": decimals_for,
    "together": together,
    "typeset": _typeset_kept,
    "lengths_apart": lengths_apart,
    "in_both_units": in_both_units,
    "in_inches": in_inches,
    "named_list": named_list,
}
