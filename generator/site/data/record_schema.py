r"""JSON Schema of the files that members write, for editors: from the declarations of the fields.

A value is text in the form the guide reads, so that an editor shows a slip while it is typed. Bare
numbers are also allowed where the guide wants no unit, since an editor takes them for numbers. The
patterns are no gate: the guide's own reader decides, and says more.
"""

import re
from enum import Enum
from typing import Any, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from generator.quantities.span import Extent, GapReading, Ramp
from generator.quantities.units import CANONICAL, Dimension, units_of
from generator.reading import fields
from generator.reading.fields import declared
from generator.reading.pruning import inner_model
from generator.records.article import ArticleHead
from generator.records.chassis import Chassis
from generator.records.club import Club
from generator.records.setup import Setup
from generator.site.data.table_schema import DRAFT

KINDS: tuple[tuple[str, str, type[BaseModel]], ...] = (
    ("setup", "A setup", Setup),
    ("chassis", "A chassis sheet", Chassis),
    ("article", "The head of an article", ArticleHead),
    ("club", "The club", Club),
)
"""Name of the schema's file, its title, and the model it describes."""

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
_SIMPLE: tuple[tuple[Any, dict[str, object]], ...] = (
    (fields.Number, {"type": ["string", "number"], "pattern": r"^-?[0-9]{1,7}(\.[0-9]{1,8})?$"}),
    (fields.Count, {"type": ["string", "integer"], "pattern": "^[0-9]{1,6}$", "minimum": 0}),
    (fields.Week, {"type": ["string", "integer"], "pattern": "^[0-9]{4}$"}),
    (fields.Day, {"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}),
    (fields.Slug, {"type": "string", "pattern": "^[a-z0-9]+(-[a-z0-9]+)*$", "maxLength": 80}),
    (fields.YesNo, {"enum": ["yes", "no"]}),
    (fields.Line, {"type": "string", "minLength": 1, "maxLength": fields.SHORT_TEXT}),
    (fields.Name, {"type": "string", "minLength": 1, "maxLength": 60}),
    (fields.Prose, {"type": "string", "maxLength": fields.LONG_TEXT}),
    (fields.Link, {"type": "string", "pattern": "^https://", "maxLength": 200}),
)
_NUMBER = r"[+-]?(?:[0-9]{1,6}(?:\.[0-9]{0,6})?|\.[0-9]{1,6})(?:/[0-9]{1,3})?"
_SAID = "clears|touches|not checked"


def record_schema(title: str, model: type[BaseModel], address: str) -> dict[str, object]:
    """Describe one kind of file."""
    groups: dict[str, object] = {}
    waiting, seen = [model], {model}
    while waiting:
        for info in waiting.pop().model_fields.values():
            inner = inner_model(info)
            if inner is not None and inner not in seen:
                seen.add(inner)
                waiting.append(inner)
    for each in seen - {model}:
        groups[_name(each)] = _group(each)
    return {
        "$schema": DRAFT,
        "$id": address,
        "title": title,
        **_group(model),
        "$defs": {name: groups[name] for name in sorted(groups)},
    }


def _name(model: type[BaseModel]) -> str:
    return model.__name__.lower()


def _group(model: type[BaseModel]) -> dict[str, object]:
    return {
        "type": "object",
        "description": (model.__doc__ or "").strip().split("\n")[0],
        "properties": {name: _field(info) for name, info in model.model_fields.items()},
        "required": sorted(n for n, info in model.model_fields.items() if info.is_required()),
        "additionalProperties": False,
    }


def _field(info: FieldInfo) -> dict[str, object]:
    says, inner = declared(info), inner_model(info)
    found: dict[str, object]
    parts = _parts(info)
    found = {"$ref": f"#/$defs/{_name(inner)}"} if inner is not None else _value(parts, says)
    if any(get_origin(part) is tuple for part in parts):
        return {"description": says.help, "type": "array", "items": found}
    return {"description": says.help} | found


def _value(parts: list[Any], says: fields.Declared) -> dict[str, object]:
    schema = _bare_value(parts)
    if says.usual is not None:
        unit = next((CANONICAL[of].symbol for alias, of in _QUANTITIES if _has(parts, alias)), "")
        usual = f"usually {says.usual[0]:g} to {says.usual[1]:g} {unit}".rstrip()
        schema["description"] = f"{says.help} ({usual})"
    if says.example:
        schema["examples"] = [says.example]
    return schema


def _bare_value(parts: list[Any]) -> dict[str, object]:
    for alias, dimension in _QUANTITIES:
        if _has(parts, alias):
            return {"type": "string", "pattern": f"^{_quantity(dimension)}$"}
    for alias, schema in _SIMPLE:
        if _has(parts, alias):
            return dict(schema)
    for part in parts:
        if isinstance(part, type) and issubclass(part, Enum):
            return {"enum": [str(member.value) for member in part]}
    length = _quantity(Dimension.LENGTH)
    pair = rf"{_NUMBER} (?:to|->) {length}"
    if GapReading in parts:
        return {"type": "string", "pattern": f"^(?:{_SAID}|(?:more than )?{length}|{pair})$"}
    if Ramp in parts or Extent in parts:
        return {"type": "string", "pattern": f"^(?:{length}|{pair})$"}
    return {"type": "string", "minLength": 1}


def _has(parts: list[Any], alias: Any) -> bool:
    """Tell whether a field's type has the reader of an alias in it."""
    return any(part is get_args(alias)[1] for part in parts)


def _quantity(dimension: Dimension) -> str:
    spellings = sorted({text for unit in units_of(dimension) for text in unit.spellings})
    return f"{_NUMBER} ?(?:{'|'.join(_escaped(text) for text in spellings)})"


def _escaped(text: str) -> str:
    """Escape a text for the regular expressions of ECMA-262, which know fewer escapes."""
    return re.sub(r"[\\^$.*+?()[\]{}|]", r"\\\g<0>", text)


def _parts(info: FieldInfo) -> list[Any]:
    """Give all types and readers inside a field's type, at any depth."""
    found: list[Any] = [info.annotation, *info.metadata]
    for part in found:
        found.extend(get_args(part))
    return found
