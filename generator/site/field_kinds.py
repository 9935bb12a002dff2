"""What kind of value a field holds, in words for members."""

from enum import Enum
from typing import Any, get_args, get_origin

from pydantic.fields import FieldInfo

from generator.frozen import dataclass
from generator.quantities.units import CANONICAL, Dimension, units_of
from generator.reading import fields
from generator.reading.reader import inner_model

_QUANTITIES: tuple[tuple[Any, Dimension], ...] = (
    (fields.Length, Dimension.LENGTH),
    (fields.Distance, Dimension.DISTANCE),
    (fields.Angle, Dimension.ANGLE),
    (fields.Mass, Dimension.MASS),
    (fields.Torque, Dimension.TORQUE),
    (fields.Pressure, Dimension.PRESSURE),
    (fields.Speed, Dimension.SPEED),
    (fields.AnglePerLength, Dimension.ANGLE_PER_LENGTH),
)
_WORDS: tuple[tuple[Any, str], ...] = (
    (fields.Number, "number without a unit"),
    (fields.Count, "whole number"),
    (fields.Day, "date, year-month-day"),
    (fields.Slug, "short name"),
    (fields.YesNo, "yes or no"),
    (fields.Line, "one line of text"),
    (fields.Name, "name"),
    (fields.Prose, "longer text in Markdown"),
    (fields.Link, "address, https"),
    (fields.Tyre, "tyre size"),
    (fields.Rim, "rim size"),
    (fields.Screw, "thread"),
    (fields.Bolts, "bolt circle"),
    (fields.Week, "date code"),
    (fields.SeatForm, "seat form"),
)
_BY_TYPE = {
    "Extent": "length or range of lengths",
    "GapReading": "gap: a length, a range, clears, touches, more than …, not checked",
    "Ramp": "length, range or ramp of lengths",
}


@dataclass(frozen=True)
class FieldKind:
    """The kind in words; `unit` is the one ranges are given in; `choices` the words to choose."""

    words: str
    unit: str = ""
    choices: tuple[str, ...] = ()


def kind_of(info: FieldInfo) -> FieldKind:
    """Say what a field holds, from its declared type alone."""
    parts = list(_parts(info.annotation))
    validators = [*info.metadata, *(part for part in parts if not isinstance(part, type))]
    is_list = get_origin(_bare(info.annotation)) is tuple
    found = _single(validators, [part for part in parts if isinstance(part, type)], info)
    if not is_list:
        return found
    return FieldKind(f"list: {found.words}", found.unit, found.choices)


def _single(validators: list[Any], types: list[type], info: FieldInfo) -> FieldKind:
    if inner_model(info) is not None:
        return FieldKind("group")
    for alias, dimension in _QUANTITIES:
        if any(each is get_args(alias)[1] for each in validators):
            units = ", ".join(unit.symbol for unit in units_of(dimension))
            return FieldKind(f"{dimension.value} in {units}", CANONICAL[dimension].symbol)
    for alias, words in _WORDS:
        if any(each is get_args(alias)[1] for each in validators):
            return FieldKind(words)
    for kind in types:
        if issubclass(kind, Enum):
            return FieldKind("one of", "", tuple(str(member.value) for member in kind))
    names = {kind.__name__ for kind in types}
    words = next((words for name, words in _BY_TYPE.items() if name in names), "text")
    return FieldKind(words)


def _bare(annotation: Any) -> Any:
    """Take the None off an optional type."""
    options = [option for option in get_args(annotation) if option is not type(None)]
    is_optional = type(None) in get_args(annotation)
    return options[0] if is_optional and len(options) == 1 else annotation


def _parts(annotation: Any) -> list[Any]:
    """Give all types and validators inside a type, at any depth."""
    found, waiting = [], [annotation]
    while waiting:
        part = waiting.pop()
        inner = get_args(part)
        waiting.extend(inner)
        if not inner:
            found.append(part)
    return found
