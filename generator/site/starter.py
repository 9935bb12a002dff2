"""A record to begin with: every field with its help, unit and range, made from the fields.

What a record cannot do without stands there with nothing behind it; all else is a comment that
begins with `# ` and becomes a field when that sign and the blank after it are deleted. Remarks
begin with `#:` and stay.
"""

from collections.abc import Iterator
from textwrap import wrap

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from generator.frozen import dataclass
from generator.quantities.span import Said
from generator.reading.fields import declared
from generator.reading.reader import inner_model
from generator.reading.writing import scalar
from generator.records.chassis import Chassis
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.records.words import Side, State
from generator.site.field_kinds import FieldKind, kind_of

LATER = ("confirmations", "corrections", "disputes", "supersedes", "withdrawn")
"""What happens to a record after it was reported: no part of a first report."""

_WIDTH = 98
_REMARK = "#:"
_HEAD = (
    "A setup: one car, one set of wheels, what was measured, changed, rubbed and driven.",
    "Lines with #: are remarks. Lines with # are fields left out: delete the # and the blank after "
    "it to use one. Write each number with its unit, as you read it: 9 in, 3/8 in, 5 mm, 84 lb ft, "
    "-1.5 deg. Leave out what you did not measure; unknown is a good answer, and it is never "
    "counted as clear.",
    "Wheels, springs, brakes and steering can kill: the maker's data for the car, local codes and "
    "licensed practice come before anything in this guide.",
    "`gapbook check` says at which line something is missing or odd.",
)


@dataclass(frozen=True)
class _Field:
    name: str
    info: FieldInfo
    kind: FieldKind
    inner: type[BaseModel] | None

    @property
    def is_list(self) -> bool:
        return self.kind.words.startswith("list")

    @property
    def example(self) -> str:
        return declared(self.info).example


def starter(chassis: Filed[Chassis]) -> str:
    """Write a record of a chassis to begin with."""
    lines = [line for part in _HEAD for line in (*_remark(part, ""), _REMARK)]
    for field in _fields(Setup):
        if field.name in LATER:
            continue
        lines.append("")
        if field.name == "chassis":
            lines += [*_told(field, ""), f"chassis: {chassis.id}"]
        elif field.name == "gaps":
            lines += [*_told(field, ""), *_gaps(chassis.value)]
        else:
            lines += _lines(field, "", is_used=field.info.is_required())
    return "\n".join(lines) + "\n"


def _fields(model: type[BaseModel]) -> Iterator[_Field]:
    for name, info in model.model_fields.items():
        yield _Field(name, info, kind_of(info), inner_model(info))


def _lines(field: _Field, margin: str, *, is_used: bool, is_filled: bool = False) -> list[str]:
    """Write one field with what it holds; one that is not used is a comment with its example."""
    lines = [f"{margin}{field.name}:"]
    if field.is_list:
        item = _item(field.inner) if field.inner is not None else scalar(field.example)
        lines.append(f"{margin}  - {item}")
    elif field.inner is not None:
        for each in _fields(field.inner):
            filled = is_filled or not is_used
            lines += _lines(each, margin + "  ", is_used=each.info.is_required(), is_filled=filled)
    elif field.kind.words.startswith("longer text"):
        lines = [f"{margin}{field.name}: |", f"{margin}  …"]
    elif is_filled or not is_used:
        lines = [f"{margin}{field.name}: {scalar(field.example)}"]
    told = _told(field, margin)
    return [*told, *lines] if is_used else [*told, *(_left_out(line, margin) for line in lines)]


def _left_out(line: str, margin: str) -> str:
    return line if line.lstrip().startswith(_REMARK) else f"{margin}# {line[len(margin) :]}"


def _told(field: _Field, margin: str) -> list[str]:
    """Say what a field holds: help, kind, range, words to choose from."""
    says = declared(field.info)
    parts = [says.help]
    if field.kind.choices:
        of = "some of" if field.is_list else "one of"
        parts.append(f"{of}: {', '.join(field.kind.choices)}")
    elif field.inner is None:
        parts.append(field.kind.words)
    if says.usual is not None:
        unit = f" {field.kind.unit}" if field.kind.unit else ""
        parts.append(f"usually {says.usual[0]:g} to {says.usual[1]:g}{unit}")
    if field.info.is_required() and says.example and field.inner is None:
        parts.append(f"such as {scalar(says.example)}")
    return _remark("; ".join(parts), margin)


def _remark(text: str, margin: str) -> list[str]:
    return [f"{margin}{_REMARK} {line}" for line in wrap(text, _WIDTH - len(margin))]


def _item(model: type[BaseModel]) -> str:
    parts = [
        f"{field.name}: {scalar(field.example)}"
        for field in _fields(model)
        if field.info.is_required() or field.name in ("axle", "tool")
    ]
    return f"{{{', '.join(parts)}}}"


def _gaps(chassis: Chassis) -> Iterator[str]:
    """Write a line for each site of the sheet, as a comment: no gap is claimed unmeasured."""
    yield "# gaps:"
    for site in chassis.sites:
        yield (
            f"#   - {{site: {site.name}, axle: {site.axle.value}, side: {Side.BOTH.value}, "
            f"state: {State.SWEEP.value}, gap: {Said.NOT_CHECKED.value}}}"
        )


__all__ = ["LATER", "starter"]
