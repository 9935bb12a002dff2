"""The fields of a setup and of a chassis sheet as data, for the form and for its reader.

Everything here is taken from the declarations of the fields; nothing is written a second time.
"""

from enum import Enum
from functools import cache
from typing import Any, TypeAlias, cast, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from generator.quantities.units import CANONICAL, Dimension, units_of
from generator.reading import fields
from generator.reading.fields import declared
from generator.reading.reader import inner_model
from generator.records.chassis import Chassis
from generator.records.setup import Setup
from generator.site.field_kinds import kind_of

Json: TypeAlias = "str | float | bool | list[Json] | dict[str, Json] | None"

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
_OF_QUANTITIES = "generator.quantities.quantity.read_quantity"
_OF_WORDS = "generator.reading.fields.choice"


@cache
def models() -> dict[str, dict[str, Json]]:
    """Give all groups of fields of a setup and of a sheet, by name."""
    found: dict[str, dict[str, Json]] = {}
    waiting: list[type[BaseModel]] = [Setup, Chassis]
    while waiting:
        model = waiting.pop(0)
        if model.__name__ in found:
            continue
        listed: list[Json] = [_field(name, info) for name, info in model.model_fields.items()]
        found[model.__name__] = {"about": (model.__doc__ or "").split("\n")[0], "fields": listed}
        inner = (inner_model(info) for info in model.model_fields.values())
        waiting += [each for each in inner if each is not None]
    return found


def readers() -> tuple[tuple[str, str], ...]:
    """Give module and name of the readers that the fields use, in order."""
    listed = (field for model in models().values() for field in cast(list[Any], model["fields"]))
    found = {str(field["reader"]) for field in listed if field["reader"]}
    return tuple(sorted((module, name) for module, _, name in (r.rpartition(".") for r in found)))


def units() -> dict[str, Json]:
    """Give the units that each kind of quantity may be typed in, its own first."""
    return {
        dimension.name: [unit.symbol for unit in units_of(dimension)] for dimension in Dimension
    }


def _field(name: str, info: FieldInfo) -> dict[str, Json]:
    says, kind, inner = declared(info), kind_of(info), inner_model(info)
    reader, words = ("", "") if inner else _reader(info)
    unit = CANONICAL[Dimension[words]].symbol if reader == _OF_QUANTITIES else ""
    return {
        "name": name,
        "declared": {
            "help": says.help, "example": says.example, "source": says.source,
            "usual": list(says.usual) if says.usual else None,
            "limit": list(says.limit) if says.limit else None,
        },
        "reader": reader,
        "words": words,
        "choices": list(kind.choices),
        "kind": kind.words,
        "unit": unit,
        "inner": inner.__name__ if inner else None,
        "isRequired": info.is_required(),
        "isList": any(get_origin(each) is tuple for each in _inside(info.annotation)),
        "isMaybe": type(None) in get_args(info.annotation),
    }  # fmt: skip


def _reader(info: FieldInfo) -> tuple[str, str]:
    """Name the reader of a single value, and the dimension or the enumeration it reads."""
    parts = [*info.metadata, *_inside(info.annotation)]
    for alias, dimension in _QUANTITIES:
        if any(each is get_args(alias)[1] for each in parts):
            return _OF_QUANTITIES, dimension.name
    for each in parts:
        if isinstance(each, type) and issubclass(each, Enum):
            return _OF_WORDS, each.__name__
    for each in parts:
        for cell in getattr(getattr(each, "func", None), "__closure__", None) or ():
            read = cell.cell_contents
            if callable(read):
                return f"{read.__module__}.{read.__qualname__}", ""
    raise ValueError(f"no reader is known for {info!r}")


def _inside(annotation: Any) -> list[Any]:
    """Give all types and marks inside a type, itself first."""
    found = [annotation]
    for each in found:
        found.extend(get_args(each))
    return found
