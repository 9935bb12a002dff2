"""How a model declares its fields: kind of value, help, example, usual range, source.

A field is declared once, by its type and by `described(...)`. The reader, its messages, the
members' reference, the blank record, the form and the editor schema are made from that one place.
"""

import re
from collections.abc import Callable
from datetime import date
from difflib import get_close_matches
from enum import Enum
from functools import cache
from typing import Annotated, Any, TypeVar, cast, get_args

from pydantic import BaseModel, ConfigDict, Field, PlainValidator
from pydantic.fields import FieldInfo

from generator.frozen import dataclass
from generator.quantities.bolt_circle import BoltCircle, read_bolt_circle
from generator.quantities.date_code import DateCode, read_date_code
from generator.quantities.misread import Misread
from generator.quantities.quantity import Quantity, read_quantity
from generator.quantities.rim_size import RimSize, read_rim_size
from generator.quantities.seat import Seat, read_seat
from generator.quantities.thread import Thread, read_thread
from generator.quantities.tyre_size import TyreSize, read_tyre_size
from generator.quantities.units import Dimension
from generator.reading.text import first_forbidden, first_hidden, has_bidi, is_stacked, named

Read = TypeVar("Read")
Chosen = TypeVar("Chosen", bound=Enum)

SHORT_TEXT = 120
LONG_TEXT = 4096
"""Characters; longer notes make the renderer of Markdown slow on hostile input."""


class Model(BaseModel):
    """Base of everything a club writes: frozen, no unknown fields, no guessing of types."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", arbitrary_types_allowed=True, defer_build=True
    )

    def __getstate__(self) -> dict[Any, Any]:
        """Give what is kept of it: the same bytes in every process for the same record.

        The names of the fields that were given stand in a set, which has another order in each
        process. Nothing asks for them.
        """
        return {**super().__getstate__(), "__pydantic_fields_set__": set()}


@dataclass(frozen=True)
class Figure:
    """A bare number, with the text it was read from."""

    value: float
    typed: str


@dataclass(frozen=True)
class Declared:
    """What a field says of itself besides its type."""

    help: str
    example: str
    usual: tuple[float, float] | None = None
    """Outside it a warning asks; in the canonical unit of the field's dimension."""
    limit: tuple[float, float] | None = None
    """Outside it an error stops the build."""
    source: str = "common practice"


def described(
    help: str,  # noqa: A002 - the word of the trade for it
    *,
    example: str = "",
    usual: tuple[float, float] | None = None,
    limit: tuple[float, float] | None = None,
    source: str = "common practice",
    required: bool = False,
) -> Any:
    """Declare a field. A field that is not required is None, or empty, when left out.

    Where only the usual range is given, the hard limit lies half its width further out on each
    side, but never beyond zero where the usual range is not.
    """
    if usual and not limit:
        room = (usual[1] - usual[0]) / 2.0
        low = usual[0] - room if usual[0] < 0.0 else max(0.0, usual[0] - room)
        limit = (low, usual[1] + room)
    declared = Declared(help, example, usual, limit, source)
    default: Any = ... if required else None
    return Field(default, description=help, json_schema_extra=cast(Any, _Extra(declared)))


def listed(
    help: str,  # noqa: A002 - as above
    *,
    example: str = "",
    usual: tuple[float, float] | None = None,
    limit: tuple[float, float] | None = None,
) -> Any:
    """Declare a field that holds a list, empty when left out."""
    info = described(help, example=example, usual=usual, limit=limit)
    return Field((), description=help, json_schema_extra=info.json_schema_extra)


class _Extra(dict[str, Any]):
    """Carries a declaration inside pydantic's own field information."""

    def __init__(self, declared: Declared) -> None:
        super().__init__({"examples": [declared.example] if declared.example else []})
        self.declared = declared


def declared(info: FieldInfo) -> Declared:
    """Give what a field says of itself."""
    extra = info.json_schema_extra
    if isinstance(extra, _Extra):
        return extra.declared
    return Declared(info.description or "", "")


def choice(kind: type[Chosen]) -> Callable[[str], Chosen]:
    """Make the reader of a field that holds one of a few words."""

    def read(text: str) -> Chosen:
        words = [str(member.value) for member in kind]
        if text in words:
            return kind(text)
        near = get_close_matches(text.lower().replace("_", " "), words, 1, 0.6)
        listed = ", ".join(f"`{word}`" for word in words)
        raise Misread(
            "F04", f"`{text[:40]}` is not one of the words of this field", 0, len(text),
            f"one of {listed}", fix=near[0] if near else "",
        )  # fmt: skip

    return read


def word(kind: type[Chosen]) -> PlainValidator:
    """Make a choice of words usable as a field's type.

    Written as `Annotated[Kind, word(Kind)]`.
    """
    return text_reader(choice(kind))


def _of_text(read: Callable[[str], Read]) -> Callable[[object], Read]:
    """Let a reader of text be used by pydantic: only text is accepted, and some of it."""

    def checked(value: object) -> Read:
        if not isinstance(value, str):
            raise Misread("F05", "a group or list stands where one value belongs", 0, 0, "a value")
        return read(value)

    return checked


def text_reader(reader: Callable[[str], Read]) -> PlainValidator:
    """Make a reader of text usable as a field's type.

    Written as `Annotated[Kind, text_reader(read_kind)]`.
    """
    return PlainValidator(_of_text(reader))


def _of(dimension: Dimension) -> PlainValidator:
    return text_reader(lambda text: read_quantity(text, dimension))


_NUMBER = re.compile(r"-?[0-9]{1,7}(\.[0-9]{1,8})?\Z")
_SLUG = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*\Z")
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}\Z")
_LINK = re.compile(r"https://[A-Za-z0-9.-]+(:[0-9]{1,5})?(/[A-Za-z0-9._~/%+-]*)?\Z")
_MOST_COMBINING = 4


def read_number(text: str) -> Figure:
    """Read a bare decimal number."""
    if not _NUMBER.match(text):
        comma = re.fullmatch(r"(-?[0-9]+),([0-9]+)", text[:20])
        raise Misread(
            "F06", f"`{text[:24]}` is not a number", 0, len(text),
            "digits with at most one decimal point, and no unit",
            fix=f"{comma[1]}.{comma[2]}" if comma else "",
        )  # fmt: skip
    return Figure(float(text), text)


def read_count(text: str) -> int:
    """Read a whole number of things."""
    if not re.match(r"[0-9]{1,6}\Z", text):
        raise Misread("F06", f"`{text[:24]}` is not a count", 0, len(text), "a whole number")
    return int(text)


def read_day(text: str) -> date:
    """Read a date as year, month and day."""
    expected = "year, month and day, such as `2025-06-14`"
    if not _DAY.match(text):
        raise Misread("F07", f"`{text[:24]}` is not a date", 0, len(text), expected)
    try:
        day = date.fromisoformat(text)
    except ValueError:
        headline = f"there is no day `{text}`"
        raise Misread("F07", headline, 0, len(text), expected) from None
    if day.year < 1950:
        raise Misread("F07", f"`{text}` is before the guide's cars were built", 0, 4, expected)
    return day


def read_slug(text: str) -> str:
    """Read a name as used in addresses: lower-case letters, digits and single hyphens."""
    if not _SLUG.match(text) or len(text) > 80:
        near = re.sub(r"[^a-z0-9]+", "-", text.lower()[:80]).strip("-")
        raise Misread(
            "F08", f"`{text[:40]}` is not a short name", 0, len(text),
            "lower-case letters, digits and single hyphens", fix=near,
        )  # fmt: skip
    return text


def read_yes(text: str) -> bool:
    """Read yes or no."""
    if text not in ("yes", "no"):
        near = {"true": "yes", "on": "yes", "y": "yes", "false": "no", "off": "no", "n": "no"}
        low = text.lower()
        headline = f"`{text[:24]}` is neither yes nor no"
        fix = low if low in ("yes", "no") else near.get(low, "")
        raise Misread("F04", headline, 0, len(text), "`yes` or `no`", fix=fix)
    return text == "yes"


def read_line(text: str) -> str:
    """Read one line of text."""
    _check_text(text, most=SHORT_TEXT, newlines=False)
    if not text.strip():
        raise Misread("F02", "nothing is written here", 0, max(1, len(text)), "one line of text")
    hidden = first_hidden(text)
    if hidden is not None:
        headline = f"the hidden character {named(text[hidden])} stands in this text"
        raise Misread("F09", headline, hidden, hidden + 1, "letters that can be seen")
    return text


def read_name(text: str) -> str:
    """Read the name or alias of a member, a car or a chassis: one line, at most 60 characters."""
    line = read_line(text)
    if len(line) > 60:
        raise Misread("F09", f"this name has {len(line)} characters", 60, len(line), "at most 60")
    if line != line.strip():
        headline = "this name begins or ends with a blank"
        raise Misread("F09", headline, 0, len(line), "no blank there", fix=line.strip())
    return line


def read_prose(text: str) -> str:
    """Read a longer text in Markdown."""
    _check_text(text, most=LONG_TEXT, newlines=True)
    return text


def read_link(text: str) -> str:
    """Read the address of a site, https only."""
    if len(text) > 200 or not _LINK.match(text):
        expected = "an address that begins with `https://`"
        raise Misread("F09", f"`{text[:60]}` is not an address", 0, len(text), expected)
    return text.rstrip("/")


def _check_text(text: str, *, most: int, newlines: bool) -> None:
    if len(text) > most:
        headline = f"this text has {len(text)} characters"
        raise Misread("F09", headline, most, len(text), f"at most {most}")
    bad = first_forbidden(text, newlines=newlines)
    if bad is not None:
        headline = f"the character {named(text[bad])} cannot stand here"
        raise Misread("F09", headline, bad, bad + 1, "printable text on one line")
    run = 0
    for at, sign in enumerate(text if not text.isascii() else ""):
        run = run + 1 if is_stacked(sign) else 0
        if run > _MOST_COMBINING:
            headline = "more than four accents are stacked on one letter"
            raise Misread("F09", headline, at, at + 1, "ordinary letters")
    word = max(text.split(), key=len, default="")
    if len(word) > SHORT_TEXT:
        at = text.index(word)
        headline = f"one word of this text has {len(word)} characters"
        raise Misread("F09", headline, at, at + len(word), f"words of at most {SHORT_TEXT}")


Length = Annotated[Quantity, _of(Dimension.LENGTH)]
Distance = Annotated[Quantity, _of(Dimension.DISTANCE)]
Angle = Annotated[Quantity, _of(Dimension.ANGLE)]
Mass = Annotated[Quantity, _of(Dimension.MASS)]
Torque = Annotated[Quantity, _of(Dimension.TORQUE)]
Pressure = Annotated[Quantity, _of(Dimension.PRESSURE)]
Speed = Annotated[Quantity, _of(Dimension.SPEED)]
AnglePerLength = Annotated[Quantity, _of(Dimension.ANGLE_PER_LENGTH)]
Number = Annotated[Figure, text_reader(read_number)]
Count = Annotated[int, text_reader(read_count)]
Day = Annotated[date, text_reader(read_day)]
Slug = Annotated[str, text_reader(read_slug)]
YesNo = Annotated[bool, text_reader(read_yes)]
Line = Annotated[str, text_reader(read_line)]
Name = Annotated[str, text_reader(read_name)]
Prose = Annotated[str, text_reader(read_prose)]
Link = Annotated[str, text_reader(read_link)]


@cache
def _prose_of(kind: type[Model]) -> frozenset[str]:
    """Name the fields of longer text that may be left out."""
    found = kind.model_fields.items()
    return frozenset(name for name, info in found if Prose in get_args(info.annotation))


def without_prose(value: Model) -> Model:
    """Give a record without the longer texts that it may leave out; no number follows from them."""
    return value.model_copy(update=dict.fromkeys(_prose_of(type(value))))


Tyre = Annotated[TyreSize, text_reader(read_tyre_size)]
Rim = Annotated[RimSize, text_reader(read_rim_size)]
Screw = Annotated[Thread, text_reader(read_thread)]
Bolts = Annotated[BoltCircle, text_reader(read_bolt_circle)]
Week = Annotated[DateCode, text_reader(read_date_code)]
SeatForm = Annotated[Seat, text_reader(read_seat)]

__all__ = [
    "Angle", "AnglePerLength", "Bolts", "Count", "Day", "Declared", "Distance", "Figure", "Length",
    "Line", "Link", "Mass", "Model", "Name", "Number", "Pressure", "Prose", "Rim", "Screw",
    "SeatForm", "Slug", "Speed", "Torque", "Tyre", "Week", "YesNo", "declared",
    "described", "has_bidi", "listed", "text_reader", "word",
]  # fmt: skip
