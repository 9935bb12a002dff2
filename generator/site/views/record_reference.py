"""The fields of records, for members: what each holds, its unit, usual range and an example."""

from collections.abc import Iterator

from pydantic import BaseModel

from generator.frozen import dataclass
from generator.reading.fields import declared
from generator.reading.reader import inner_model
from generator.records.article import ArticleHead
from generator.records.chassis import Chassis
from generator.records.club import Club
from generator.records.setup import Setup
from generator.site import urls
from generator.site.field_kinds import kind_of
from generator.site.guide import Guide
from generator.site.page import Page
from generator.site.shell import Link, PageHead

_FILES: tuple[tuple[str, str, str, type[BaseModel]], ...] = (
    ("setup", "A setup", "setups/<chassis>/<short-name>.yaml", Setup),
    ("chassis", "A chassis sheet", "chassis/<chassis>.yaml", Chassis),
    ("article", "The head of an article", "articles/<short-name>.md", ArticleHead),
    ("club", "The club", "club.yaml", Club),
)


@dataclass(frozen=True)
class FieldLine:
    """One field: its name, help, kind in words, choices, usual range, example."""

    name: str
    help: str
    kind: str
    choices: tuple[str, ...]
    usual: str
    example: str
    is_required: bool
    group_href: str


@dataclass(frozen=True)
class FieldGroup:
    """The fields of one group; `routes` are the places in a file where the group may stand."""

    anchor: str
    title: str
    about: str
    routes: tuple[str, ...]
    fields: tuple[FieldLine, ...]


@dataclass(frozen=True)
class FileKind:
    """One kind of file with all its groups, its own fields first."""

    anchor: str
    title: str
    path: str
    groups: tuple[FieldGroup, ...]


@dataclass(frozen=True)
class RecordReference:
    """All kinds of files."""

    kinds: tuple[FileKind, ...]


def pages(guide: Guide) -> Iterator[Page]:
    """Give the reference."""
    kinds = tuple(
        FileKind(anchor, title, path, tuple(_groups(anchor, model)))
        for anchor, title, path, model in _FILES
    )
    head = PageHead(
        "Fields of a record",
        "What may be written in a record, in which unit, within which range, with an example.",
        (Link("Home", urls.HOME), Link("Articles", urls.ARTICLES)),
    )
    yield Page(urls.RECORD_REFERENCE, "record_reference", head, RecordReference(kinds))


def _groups(anchor: str, top: type[BaseModel]) -> Iterator[FieldGroup]:
    routes: dict[type[BaseModel], list[str]] = {top: []}
    order = [top]
    for model in order:
        for name, info in model.model_fields.items():
            inner = inner_model(info)
            if inner is None:
                continue
            if inner not in routes:
                routes[inner] = []
                order.append(inner)
            above = routes[model] or [""]
            routes[inner] += [f"{route}.{name}".lstrip(".") for route in above]
    for model in order:
        yield FieldGroup(
            anchor=_anchor(anchor, model),
            title=_title(model),
            about=(model.__doc__ or "").strip().split("\n")[0],
            routes=tuple(dict.fromkeys(routes[model])),
            fields=tuple(_fields(anchor, model)),
        )


def _anchor(file: str, model: type[BaseModel]) -> str:
    return f"{file}-{model.__name__.lower()}"


def _title(model: type[BaseModel]) -> str:
    name = model.__name__
    spaced = "".join(f" {sign.lower()}" if sign.isupper() else sign for sign in name).strip()
    return spaced[:1].upper() + spaced[1:]


def _fields(file: str, model: type[BaseModel]) -> Iterator[FieldLine]:
    for name, info in model.model_fields.items():
        says, inner = declared(info), inner_model(info)
        kind = kind_of(info)
        usual = ""
        if says.usual is not None:
            unit = f" {kind.unit}" if kind.unit else ""
            usual = f"{says.usual[0]:g} to {says.usual[1]:g}{unit}"
        href = f"{urls.RECORD_REFERENCE}#{_anchor(file, inner)}" if inner else ""
        yield FieldLine(
            name, says.help, kind.words, kind.choices, usual, says.example,
            info.is_required(), href,
        )  # fmt: skip
