"""Words of ours that tell distances, speeds, masses, torques and pressures, told in both units.

Lengths are `filters.lengths_apart`'s; an angle, a force and a share are the same to all readers.
"""

import re
from typing import Final

from generator.frozen import dataclass
from generator.quantities.units import BY_SPELLING, in_unit
from generator.rendering.filters import MINUS, NO_BREAK, THIN, figure
from generator.site.facts import OTHER_UNIT

_OTHER: Final = {
    unit: OTHER_UNIT[BY_SPELLING[unit].dimension][0] for unit in ("km/h", "km", "kg", "N·m", "bar")
}
"""The unit of the inch readers."""
_LEAST: Final = {"bar": 1}
"""Decimals that the other unit is told with at least, where a whole one would be too coarse."""
_SPACE: Final = f"[ {NO_BREAK}]"
_NUMBER: Final = rf"(?<![\w./{THIN}])[+{MINUS}-]?\d+(?:\.\d+)?"
_NUMBERS: Final = rf"(?:(?:{_NUMBER}, )*{_NUMBER}(?:{_SPACE}to{_SPACE}| and ))?{_NUMBER}"
_TOLD: Final = re.compile(
    rf"({_NUMBERS}){_SPACE}(km/h|km|kg|N·m|bar)"
    rf"(?![\w/·-])(?:{_SPACE}\(([^()]*?){_SPACE}(mph|mi|lb ft|lb|psi)\))?"
)
_EACH: Final = re.compile(_NUMBER)


@dataclass(frozen=True)
class ToldQuantity:
    """One or more numbers with their unit, as written and in the other unit."""

    metric: str
    other: str


def quantities_apart(words: str) -> tuple[str | ToldQuantity, ...]:
    """Part words of ours at the quantities they tell.

    What they give in brackets in the other unit stands as it is: a round figure stays round.

    >>> quantities_apart("look after 50 km (30 mi), at 100 km/h")[1].other.replace(NO_BREAK, " ")
    '30 mi'
    """
    found: list[str | ToldQuantity] = []
    end = 0
    for each in _TOLD.finditer(words):
        numbers, unit, stated, other = each.groups()
        if stated is None:
            stated, other = _converted(numbers, unit), _OTHER[unit]
        found.append(words[end : each.start()])
        found.append(ToldQuantity(_joined(numbers, unit), _joined(stated, other)))
        end = each.end()
    return (*found, words[end:])


def _converted(numbers: str, unit: str) -> str:
    """Give each of some numbers in the other unit, as finely as it is written."""
    other, least = _OTHER[unit], _LEAST.get(unit, 0)

    def told(number: re.Match[str]) -> str:
        written = number[0].replace(MINUS, "-")
        value, places = float(written), len(written.partition(".")[2])
        decimals = least or max(places, 1 if 0.0 < abs(value) < 10.0 else 0)
        return figure(in_unit(value, BY_SPELLING[other]), decimals)

    return _EACH.sub(told, numbers)


def _joined(numbers: str, unit: str) -> str:
    grouped = _EACH.sub(lambda number: _grouped(number[0]), numbers)
    return f"{grouped}{NO_BREAK}{unit}"


def _grouped(number: str) -> str:
    """Group the digits of a number as pages do; its sign and decimals stay."""
    sign = number[0] if number[0] in f"+{MINUS}-" else ""
    rest = number.removeprefix(sign)
    return sign + figure(float(rest), len(rest.partition(".")[2]))
