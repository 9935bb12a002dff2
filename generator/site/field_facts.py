"""Facts from a group of a record: what is given, in the words of its fields, and what is not."""

from enum import Enum

from generator.frozen import dataclass
from generator.quantities.bolt_circle import BoltCircle
from generator.quantities.date_code import DateCode
from generator.quantities.quantity import Quantity
from generator.quantities.rim_size import RimSize
from generator.quantities.seat import Seat
from generator.quantities.span import GapReading
from generator.quantities.thread import Thread
from generator.quantities.tyre_marks import TyreSize
from generator.quantities.units import Dimension
from generator.reading.fields import Model
from generator.site.facts import Fact, Kind, Shown, chosen, given, said, words, yes_no

_SIGNED = frozenset({
    "offset", "offset_measured", "change", "camber", "toe", "static_camber", "rod_change",
    "axle_error", "face_moved",
})  # fmt: skip
"""Fields whose sign carries the meaning."""


@dataclass(frozen=True)
class Group:
    """One group of a record: its title, its facts, and the names of the fields left out."""

    title: str
    facts: tuple[Fact, ...]
    not_given: tuple[str, ...]


def group(title: str, model: Model | None, skip: tuple[str, ...] = ()) -> Group:
    """Show the single values of a group; groups and lists of groups inside it are left out."""
    if model is None:
        return Group(title, (), (title,))
    facts, missing = [], []
    for name in type(model).model_fields:
        value = getattr(model, name)
        if name in skip or isinstance(value, Model) or _is_groups(value):
            continue
        if value is None or value == ():
            missing.append(label(name))
        else:
            facts.append(Fact(label(name), shown(value, is_signed=name in _SIGNED)))
    inner = _optional_groups(model)
    return Group(title, tuple(facts), tuple(each for each in missing if each not in inner))


def _optional_groups(model: Model) -> frozenset[str]:
    from generator.reading.reader import inner_model

    fields = type(model).model_fields.items()
    return frozenset(label(name) for name, info in fields if inner_model(info) is not None)


def _is_groups(value: object) -> bool:
    return isinstance(value, tuple) and any(isinstance(item, Model) for item in value)


def label(name: str) -> str:
    """Give the name of a field in words.

    >>> label("flange_inboard")
    'flange inboard'
    """
    return name.replace("_", " ")


def shown(value: object, *, is_signed: bool = False) -> Shown:
    """Show any single value of a record."""
    if isinstance(value, Quantity):
        return given(value, is_signed=is_signed)
    if value is None or isinstance(value, bool):
        return yes_no(value)
    if isinstance(value, GapReading | Enum):
        return said(value) if isinstance(value, GapReading) else chosen(value)
    if isinstance(value, RimSize | TyreSize | Thread | BoltCircle | Seat | DateCode):
        return Shown(Kind.WORDS, text=str(value), typed=value.typed)
    if isinstance(value, tuple):
        return _shown_list(value)
    return words(_one(value))


def _shown_list(items: tuple[object, ...]) -> Shown:
    """Show several values in words; masses in the guide's own, so that they follow the unit."""
    text = ", ".join(_one(item) for item in items)
    masses = [item for item in items if isinstance(item, Quantity)]
    if len(masses) < len(items) or any(
        each.unit.dimension is not Dimension.MASS for each in masses
    ):
        return words(text)
    each_given = [given(mass) for mass in masses]
    told = ", ".join(f"{each.value:.{each.decimals}f} {each.unit}" for each in each_given)
    return Shown(Kind.TOLD, text=told, typed="" if told == text else text)


def _one(item: object) -> str:
    """Write an item in words: a day, a bare number, a range, what was said of a gap, or text."""
    if isinstance(item, Enum):
        return str(item.value)
    return str(getattr(item, "typed", item))
