"""A record without the parts that cannot be read, so that the rest can still be judged.

Two ways of less: `without` leaves out the smallest groups that hold a part with a fault and keeps
the model as it is, for the rules; `relaxed` is a model that needs nothing, for the ranges alone.
"""

from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from typing import Annotated, Any, TypeVar, get_args, get_origin

from pydantic import BaseModel, Field, ValidationError, create_model
from pydantic.fields import FieldInfo

from generator.reading.fields import Model
from generator.reading.source import DEEPEST, Mapping, Node, Route, Scalar, Sequence, SourceFile
from generator.reading.writing import Plain

Read = TypeVar("Read", bound=BaseModel)


def plain(node: Node, gone: frozenset[Route] = frozenset(), route: Route = ()) -> Plain:
    """Give a node as texts, lists and dicts, without the parts at the routes that are gone."""
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Sequence):
        return [
            plain(item, gone, (*route, index))
            for index, item in enumerate(node.items)
            if (*route, index) not in gone
        ]
    return {
        name: plain(value, gone, (*route, name))
        for name, value in node.entries.items()
        if (*route, name) not in gone
    }


def without(
    model: type[Read], source: SourceFile, routes: Iterable[Route]
) -> tuple[Read, SourceFile] | None:
    """Read without what stands at the routes; None if the model cannot do without it.

    A group that cannot do without one of its fields goes with it. The source file given back has
    lost the same items of lists, so that the routes of the model lead to the right lines; its
    groups are still as written.
    """
    gone = frozenset(routes)
    for _ in range(2 * DEEPEST):
        if () in gone:
            return None
        try:
            value = model.model_validate(plain(source.root, gone))
        except ValidationError as error:
            gone |= {_as_written(_holder(dict(each)), gone) for each in error.errors()}
            continue
        root = _shortened(source.root, gone, ())
        assert isinstance(root, Mapping)
        return value, replace(source, root=root)
    return None


def _holder(problem: dict[str, Any]) -> Route:
    route: Route = tuple(problem["loc"])
    return route[:-1] if problem["type"] == "missing" else route


def _as_written(route: Route, gone: frozenset[Route]) -> Route:
    """Count the indices of a route as in the file, where the lists have lost items."""
    written: Route = ()
    for step in route:
        if isinstance(step, int):
            lost = sorted(
                each[-1] for each in gone if each[:-1] == written and isinstance(each[-1], int)
            )
            for index in lost:
                step += index <= step  # noqa: PLW2901 - each lost item before it counts again
        written = (*written, step)
    return written


def _shortened(node: Node, gone: frozenset[Route], route: Route) -> Node:
    if isinstance(node, Scalar):
        return node
    if isinstance(node, Sequence):
        items = tuple(
            _shortened(item, gone, (*route, index))
            for index, item in enumerate(node.items)
            if (*route, index) not in gone
        )
        return Sequence(items, node.span)
    entries = {
        name: _shortened(value, gone, (*route, name)) for name, value in node.entries.items()
    }
    return Mapping(entries, node.keys, node.span)


def inner_model(info: FieldInfo) -> type[BaseModel] | None:
    """Give the model inside a field's type: itself, optional, or the item of a tuple."""
    return next((kind for kind in _kinds(info) if _is_model(kind)), None)


def _kinds(info: FieldInfo) -> list[Any]:
    found: list[Any] = [info.annotation]
    for kind in found:
        found.extend(get_args(kind))
    return found


def _is_model(kind: Any) -> bool:
    return isinstance(kind, type) and issubclass(kind, BaseModel)


@cache
def relaxed(model: type[BaseModel]) -> type[BaseModel]:
    """Give a model with the same fields that can do without each of them."""
    fields: dict[str, Any] = {}
    for name, info in model.model_fields.items():
        kind: Any = inner_model(info)
        if kind is None:
            kind = info.annotation
            for mark in info.metadata:
                kind = Annotated[kind, mark]
        else:
            kind = relaxed(kind)
            if any(get_origin(each) is tuple for each in _kinds(info)):
                kind = tuple[kind, ...]
        fields[name] = (kind | None, Field(None, json_schema_extra=info.json_schema_extra))
    made: type[BaseModel] = create_model(model.__name__, __base__=Model, **fields)
    return made
