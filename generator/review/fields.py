"""A record field by field: what was written before, what is written now, in both units."""

from collections.abc import Iterator
from difflib import SequenceMatcher

from generator.frozen import dataclass
from generator.quantities.misread import Misread
from generator.quantities.quantity import read_quantity
from generator.quantities.units import BY_SPELLING, Dimension, in_unit
from generator.reading.fault import Place
from generator.reading.source import Mapping, Node, Route, Scalar, Sequence, SourceFile

_NAMES_OF_ITEMS = {
    "gaps": ("site", "axle", "side", "state"),
    "rubs": ("site", "axle", "side", "when"),
    "sites": ("axle", "name"),
    "confirmations": ("member", "date"),
    "corrections": ("date",),
    "disputes": ("member", "date"),
    "remedies": ("kind", "site"),
}
"""The fields by which an item of a list is the same item when others come before it."""


_MOST_LINES = 6000
"""Above it a comparison line by line would take long, and all lines count as changed."""


@dataclass(frozen=True)
class FieldChange:
    """One value of a file: where, in words, and its text before and after; None is not there."""

    where: str
    old: str | None
    new: str | None
    place: Place | None
    """Where it stands now; None where it is gone."""


def field_changes(old: SourceFile, new: SourceFile) -> tuple[FieldChange, ...]:
    """Compare two states of a file value by value, in the order of the newer one."""
    before, after = dict(leaves(old)), dict(leaves(new))
    places = dict(_routes(new))
    found = []
    for where in dict.fromkeys([*after, *before]):
        if before.get(where) != after.get(where):
            place = new.place(places[where]) if where in places else None
            found.append(FieldChange(where, before.get(where), after.get(where), place))
    return tuple(found)


def changed_lines(old: bytes | None, new: bytes) -> tuple[tuple[int, int], ...]:
    r"""Give the runs of lines of a file that are new or changed: first and last, from 1.

    >>> changed_lines(b"a\nb\nc\n", b"a\nx\nc\n")
    ((2, 2),)
    """
    after = new.split(b"\n")
    before = old.split(b"\n") if old is not None else []
    if not before or len(before) + len(after) > _MOST_LINES:
        return ((1, len(after)),)
    steps = SequenceMatcher(None, before, after).get_opcodes()
    return tuple(
        (low + 1, high) for kind, _, _, low, high in steps if kind != "equal" and high > low
    )


def leaves(source: SourceFile) -> Iterator[tuple[str, str]]:
    """Give every value of a file with the words for its place."""
    for where, _, text in _walk(source.root, (), ""):
        yield where, text


def both_units(text: str) -> str:
    """Write a length with its twin in the other system; anything else as it is.

    >>> both_units("35 mm"), both_units("3/8 in"), both_units("4x118")
    ('35 mm (1.378 in)', '3/8 in (9.53 mm)', '4x118')
    """
    try:
        length = read_quantity(text, Dimension.LENGTH)
    except Misread:
        return text
    if length.unit.symbol == "in":
        return f"{text} ({length.value:.2f} mm)"
    return f"{text} ({in_unit(length.value, BY_SPELLING['in']):.3f} in)"


def _routes(source: SourceFile) -> Iterator[tuple[str, Route]]:
    for where, route, _ in _walk(source.root, (), ""):
        yield where, route


def _walk(node: Node, route: Route, where: str) -> Iterator[tuple[str, Route, str]]:
    if isinstance(node, Scalar):
        yield where, route, node.text
    elif isinstance(node, Mapping):
        for key, value in node.entries.items():
            yield from _walk(value, (*route, key), f"{where} {key}".strip())
    else:
        yield from _items(node, route, where)


def _items(node: Sequence, route: Route, where: str) -> Iterator[tuple[str, Route, str]]:
    """Walk a list; an item is named by its fields, or by its turn among equal names."""
    names = _NAMES_OF_ITEMS.get(str(route[-1]) if route else "", ())
    turns: dict[str, int] = {}
    for index, item in enumerate(node.items):
        name = _name(item, names) or str(index + 1)
        turns[name] = turns.get(name, 0) + 1
        turn = f" no. {turns[name]}" if turns[name] > 1 else ""
        yield from _walk(item, (*route, index), f"{where} [{name}{turn}]")


def _name(item: Node, names: tuple[str, ...]) -> str:
    if not isinstance(item, Mapping):
        return ""
    parts = [item.entries.get(name) for name in names]
    return ", ".join(part.text for part in parts if isinstance(part, Scalar))
