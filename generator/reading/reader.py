"""From text nodes to a frozen model: everything that is wrong is collected, nothing is thrown.

pydantic does the work; the locations of its errors are the routes by which the source file finds
line and column. Where some fields cannot be read, the rest is read without them, so that the rules
that look across fields can still speak about it.
"""

from collections.abc import Iterator
from difflib import get_close_matches
from typing import Any, Generic, TypeVar

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from generator.frozen import dataclass
from generator.quantities.misread import Misread
from generator.quantities.quantity import Quantity, read_quantity
from generator.quantities.units import BY_SPELLING, CANONICAL, in_unit, units_of
from generator.reading.fault import Fault, Place, Severity, has_error
from generator.reading.fields import Figure, Model, declared
from generator.reading.pruning import inner_model, plain, relaxed, without
from generator.reading.source import Node, Route, Scalar, SourceFile
from generator.reading.text import shown

Read = TypeVar("Read", bound=Model)


@dataclass(frozen=True)
class Reading(Generic[Read]):
    """What came of one file: the model, or what could be saved of it, and all its faults."""

    source: SourceFile
    """The file; its lists are without the items that the partial model is without."""
    value: Read | None
    """None where the file has an error."""
    partial: Read | None
    """The model without the groups and fields that could not be read; value where all could."""
    faults: tuple[Fault, ...]


def read(model: type[Read], source: SourceFile) -> Reading[Read]:
    """Read a source file as a model."""
    faults: list[Fault] = list(source.faults)
    try:
        value = model.model_validate(plain(source.root))
    except ValidationError as error:
        problems: list[dict[str, Any]] = [dict(problem) for problem in error.errors()]
    else:
        faults.extend(_remarks(value, source, ()))
        whole = None if has_error(faults) else value
        return Reading(source, whole, value, _in_order(faults))
    routes: list[Route] = [problem["loc"] for problem in problems]
    for route, problem in zip(routes, problems, strict=True):
        faults.append(_fault(model, source, route, problem))
    left = without(model, source, routes)
    judged = without(relaxed(model), source, routes)
    if judged is not None:
        faults.extend(_remarks(judged[0], judged[1], ()))
    partial, shortened = left if left is not None else (None, source)
    return Reading(shortened, None, partial, _in_order(faults))


def _in_order(faults: list[Fault]) -> tuple[Fault, ...]:
    return tuple(sorted(faults, key=lambda fault: fault.order))


def _fault(model: type[Model], source: SourceFile, route: Route, problem: dict[str, Any]) -> Fault:
    kind = str(problem["type"])
    misread = problem.get("ctx", {}).get("error")
    if isinstance(misread, Misread):
        field = route if isinstance(route[-1], str) else route[:-1]
        return _misread_fault(_info(model, field), source, route, misread)
    name = str(route[-1]) if route else "this file"
    if kind == "missing":
        return _missing_fault(model, source, route, name)
    if kind == "extra_forbidden":
        return _unknown_fault(model, source, route, name)
    place = source.place(route)
    if isinstance(source.node(route), Scalar) and source.node(route) == _empty(source, route):
        return Fault("F02", Severity.ERROR, f"`{name}` has no value", place, "a value")
    wanted = "a list, one item a line after `- `" if "tuple" in kind else "a group of fields"
    headline = f"`{shown(name, 40)}` holds another kind of thing"
    return Fault("F05", Severity.ERROR, headline, place, wanted)


def _empty(source: SourceFile, route: Route) -> Node | None:
    node = source.node(route)
    return node if isinstance(node, Scalar) and not node.text.strip() else None


def _misread_fault(
    info: FieldInfo | None, source: SourceFile, route: Route, misread: Misread
) -> Fault:
    node = source.node(route)
    name = str(route[-1]) if isinstance(route[-1], str) else str(route[-2])
    if isinstance(node, Scalar) and not node.text.strip():
        return _empty_fault(info, name, source.key_place(route))
    whole = misread.code == "F05" or misread.end <= misread.start
    place = source.place(route) if whole else source.place(route, misread.start, misread.end)
    key = f"{name}: " if isinstance(route[-1], str) else ""
    texts = [f"`{key}{text}`" for text in _instead(info, misread)] if misread.fix else []
    fix = f"write {' or '.join(texts)}" if texts else ""
    if len(texts) > 1:
        fix += ", whichever was read"
    headline = shown(misread.headline, 160)
    return Fault(
        misread.code, Severity.ERROR, headline, place, misread.expected, misread.why, fix
    )  # fmt: skip


def _empty_fault(info: FieldInfo | None, name: str, place: Place) -> Fault:
    """Say what belongs into an empty field; one that may be left out may stay unknown."""
    says = declared(info) if info else None
    example = f", such as `{name}: {says.example}`" if says and says.example else ""
    may_go = "" if info is not None and info.is_required() else ", or leave the line out"
    return Fault(
        "F02", Severity.ERROR, f"`{name}` has no value", place,
        says.help if says and says.help else "a value", fix=f"write the value{example}{may_go}",
    )  # fmt: skip


def _instead(info: FieldInfo | None, misread: Misread) -> list[str]:
    """Give what to type instead: a bare number with each unit in which it would be usual.

    Centimetres and thousandths are offered where nothing else is: few numbers are read in them.
    """
    says = declared(info) if info else None
    bare = misread.fix.rpartition(" ")
    unit = BY_SPELLING.get(bare[2])
    if misread.code != "Q08" or "/" in misread.fix or unit is None or not says or not says.usual:
        return [misread.fix]
    low, high = says.usual
    found = [
        each.symbol
        for each in units_of(unit.dimension)
        if low <= read_quantity(f"{bare[0]} {each.symbol}", unit.dimension).value <= high
    ]
    kept = [symbol for symbol in found if symbol not in ("cm", "thou")] or found
    return [f"{bare[0]} {symbol}" for symbol in kept] or [misread.fix]


def _missing_fault(model: type[Model], source: SourceFile, route: Route, name: str) -> Fault:
    info = _info(model, route)
    example = declared(info).example if info else ""
    fix = f"add `{name}: {example or '…'}`" + (f" to `{route[-2]}`" if len(route) > 1 else "")
    return Fault(
        "F01", Severity.ERROR, f"`{name}` is missing", source.key_place(route[:-1]),
        declared(info).help if info else "", fix=fix,
    )  # fmt: skip


def _unknown_fault(model: type[Model], source: SourceFile, route: Route, name: str) -> Fault:
    known = sorted(_fields(model, route[:-1]))
    near = get_close_matches(name.strip().lower().replace(" ", "_"), known, 1, 0.6)
    listed = near or known[:40]
    expected = ("perhaps " if near else "one of ") + ", ".join(f"`{field}`" for field in listed)
    where = f"`{route[-2]}`" if len(route) > 1 else "this kind of file"
    return Fault(
        "F03", Severity.ERROR, f"`{shown(name, 40)}` is not a field of {where}",
        source.key_place(route), expected,
        fix=f"write `{near[0]}` if that was meant" if near else "",
    )  # fmt: skip


def model_at(model: type[BaseModel], route: Route) -> type[BaseModel] | None:
    """Give the model that describes the group of fields at a route."""
    here: type[BaseModel] | None = model
    for step in route:
        if isinstance(step, int):
            continue
        info = here.model_fields.get(step) if here else None
        here = inner_model(info) if info else None
    return here


def _fields(model: type[BaseModel], route: Route) -> list[str]:
    here = model_at(model, route)
    return list(here.model_fields) if here else []


def _info(model: type[BaseModel], route: Route) -> FieldInfo | None:
    here = model_at(model, route[:-1])
    return here.model_fields.get(str(route[-1])) if here and route else None


def _remarks(value: BaseModel, source: SourceFile, route: Route) -> Iterator[Fault]:
    """Compare every number of a model with the range its field declares."""
    for name, info in type(value).model_fields.items():
        here = getattr(value, name)
        there = (*route, name)
        items = enumerate(here) if isinstance(here, tuple) else [(None, here)]
        for index, item in items:
            spot = there if index is None else (*there, index)
            if isinstance(item, BaseModel):
                yield from _remarks(item, source, spot)
            elif isinstance(item, Quantity):
                yield from _range_faults(item.value, item, info, source, spot)
                if item.canonical != item.typed:
                    yield _odd_form(item, source, spot)
            elif isinstance(item, Figure):
                yield from _range_faults(item.value, None, info, source, spot)


def _odd_form(quantity: Quantity, source: SourceFile, route: Route) -> Fault:
    headline = f"`{quantity.typed}` was read as `{quantity.canonical}`"
    return Fault("Q10", Severity.NOTE, headline, source.place(route), fix=quantity.canonical)


def _range_faults(
    number: float, quantity: Quantity | None, info: FieldInfo, source: SourceFile, route: Route
) -> Iterator[Fault]:
    says = declared(info)
    if says.usual is None or says.limit is None or says.usual[0] <= number <= says.usual[1]:
        return
    node = source.node(route)
    typed = quantity.typed if quantity else (node.text if isinstance(node, Scalar) else "")
    beyond = not says.limit[0] <= number <= says.limit[1]
    symbol = f" {CANONICAL[quantity.unit.dimension].symbol}" if quantity else ""
    usual = f"{says.usual[0]:g} to {says.usual[1]:g}{symbol}"
    if quantity and quantity.unit is not CANONICAL[quantity.unit.dimension]:
        low, high = (in_unit(bound, quantity.unit) for bound in says.usual)
        usual += f" ({low:.3g} to {high:.3g} {quantity.unit.symbol})"
    name = next(str(step) for step in reversed(route) if isinstance(step, str))
    reach = "far outside" if beyond else "outside"
    yield Fault(
        "F10" if beyond else "F11",
        Severity.ERROR if beyond else Severity.WARNING,
        f"`{shown(typed, 30)}` is {reach} the usual range of `{name}`",
        source.place(route),
        f"usually {usual}",
        f"{says.help} [{says.source}]",
        slip(number, quantity, says.usual),
    )


def slip(number: float, quantity: Quantity | None, usual: tuple[float, float]) -> str:
    """Name the slip of hand that would bring a number back into its usual range, if one does.

    Tried are inch written as millimetre and the reverse, a lost sign, and a decimal point one
    place off.
    """
    inches = quantity is not None and quantity.unit.symbol == "in"
    millimetres = quantity is not None and quantity.unit.symbol == "mm"
    tries = (
        (millimetres, 25.4, "write it in `in` if inches were meant"),
        (inches, 1 / 25.4, "write it in `mm` if millimetres were meant"),
        (number != 0.0, -1.0, "turn the sign if the other direction was meant"),
        (True, 0.1, "move the decimal point if it slipped one place"),
        (True, 10.0, "move the decimal point if it slipped one place"),
    )
    for applies, times, words in tries:
        if applies and usual[0] <= number * times <= usual[1]:
            return words
    return ""


__all__ = ["Reading", "inner_model", "model_at", "read", "slip"]
