"""The data of the guide: tables with every column described, schemas, feeds, what git knows."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from typing import Any

from generator.assessment.report import SCHEMA as ASSESS_SCHEMA
from generator.evidence.schema import SCHEMA as TRY_SCHEMA
from generator.frozen import dataclass
from generator.site import urls
from generator.site.data import tables
from generator.site.data.columns import Table
from generator.site.data.feeds import (
    Entry,
    chassis_feed,
    entries_of,
    newest_entries,
    sitemap,
    whole_feed,
)
from generator.site.data.manifest import NAME, manifest_file, told_of
from generator.site.data.record_schema import KINDS, record_schema
from generator.site.data.table_schema import table_schema
from generator.site.data.writing import json_pretty, table_texts
from generator.site.forge_links import forge_links
from generator.site.guide import Guide
from generator.site.joining import Joining
from generator.site.lifecycle import COUNTS, replaced_by, standing
from generator.site.page import DataFile, Page
from generator.site.shell import Link, PageHead
from generator.site.views.moved import title_of

_NEWEST = 12

EXPORTS: tuple[tuple[str, str, dict[str, object]], ...] = (
    ("assess", "gapbook assess --json", ASSESS_SCHEMA),
    ("try", "gapbook try --json", TRY_SCHEMA),
)
"""What the commands write as JSON, each with its schema."""


@dataclass(frozen=True)
class ColumnLine:
    """One column, for the page."""

    name: str
    kind: str
    unit: str
    meaning: str
    example: str
    choices: tuple[str, ...]
    may_lack: bool


@dataclass(frozen=True)
class TableShown:
    """One table with its files."""

    anchor: str
    title: str
    row: str
    key: tuple[str, ...]
    files: tuple[Link, ...]
    schema: Link | None
    columns: tuple[ColumnLine, ...]


@dataclass(frozen=True)
class FileChange:
    """A file that was changed of late."""

    path: str
    see: str
    day: date
    commit: str
    is_committed: bool


@dataclass(frozen=True)
class OldRecord:
    """A record that no longer counts, or is disputed; its page stays."""

    page: Link
    word: str


@dataclass(frozen=True)
class DataPage:
    """All of the page."""

    is_invented: bool
    host: str
    folder: str
    manifest: str
    tables: tuple[TableShown, ...]
    record_schemas: tuple[Link, ...]
    export_schemas: tuple[Link, ...]
    feeds: tuple[Link, ...]
    sitemap: str
    history_told: str
    newest: tuple[FileChange, ...]
    old: tuple[OldRecord, ...]
    moved: tuple[tuple[str, Link], ...]
    gone: tuple[str, ...]


@cache
def data_tables() -> tuple[Table[Any], ...]:
    """Give the tables of `site/data/tables/`, by name of their module."""
    names = sorted(module.name for module in iter_modules(tables.__path__))
    return tuple(import_module(f"{tables.__name__}.{name}").TABLE for name in names)


@dataclass(frozen=True)
class Share:
    """What one chassis gives: records that do not simply count, by day and id; entries of feeds.

    `days` has the last day of each record, by id.
    """

    old: tuple[tuple[date, str, OldRecord], ...]
    newest: tuple[Entry, ...]
    days: Mapping[str, date]


def share(guide: Guide) -> Share:
    """Give the share of a guide of one chassis."""
    entries = entries_of(guide)
    days = {each.setup: each.day for each in entries}
    return Share(tuple(_old(guide)), newest_entries(entries), days)


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page."""
    yield from joined(guide, [share(part) for part in guide.parts()])


def joined(guide: Guide, shares: Sequence[Share]) -> Iterator[Page]:
    """Give the page from what each chassis gives to it."""
    head = PageHead(
        "Data and feeds",
        "Everything in this guide as files for programs and spreadsheets, with every column "
        "described.",
        (Link("Home", urls.HOME),),
    )
    yield Page(urls.DATA, "data", head, _view(guide, shares))


def files(guide: Guide, every_page: tuple[Page, ...]) -> Iterator[DataFile]:
    """Give the data files, their schemas and manifest, the feeds and the list of pages."""
    tables = tuple(
        DataFile(urls.data(f"{table.name}.{ending}"), text)
        for table in data_tables()
        for ending, text in table_texts(guide, table, schema_address(guide, table)).items()
    )
    yield from tables
    listed = [page.path for page in every_page if not page.moved_to]
    shares = {"data": [share(part) for part in guide.parts()]}
    yield from joined_files(Joining(guide, shares, [told_of(file) for file in tables], listed))
    yield from part_files(guide)


def part_files(guide: Guide) -> Iterator[DataFile]:
    """Give the feed of one chassis, or of several."""
    for part in guide.parts():
        yield from (chassis_feed(guide, each, entries_of(part)) for each in part.chassis())


def schema_address(guide: Guide, table: Table[Any]) -> str:
    """Give the address of the schema of a table, with the guide's own before it."""
    return f"{guide.club.address}/{urls.schema(f'table-{table.name}')}"


def joined_files(joining: Joining) -> Iterator[DataFile]:
    """Give what stands beside the tables, which are finished: schemas, manifest, feeds, sitemap."""
    guide, shares = joining.guide, joining.shares["data"]
    schemas = tuple(_schemas(guide))
    yield from schemas
    yield manifest_file(guide, (*joining.tables, *map(told_of, schemas)))
    yield whole_feed(guide, (entry for each in shares for entry in each.newest))
    days = {name: day for each in shares for name, day in each.days.items()}
    yield sitemap(guide, joining.pages, days)


def _schemas(guide: Guide) -> Iterator[DataFile]:
    for table in data_tables():
        if "json" in table.endings:
            document = table_schema(table, schema_address(guide, table))
            yield DataFile(urls.schema(f"table-{table.name}"), json_pretty(document))
    for name, title, model in KINDS:
        path = urls.schema(name)
        document = record_schema(title, model, f"{guide.club.address}/{path}")
        yield DataFile(path, json_pretty(document))
    for name, _, export in EXPORTS:
        yield DataFile(urls.schema(name), json_pretty(export))


def _view(guide: Guide, shares: Sequence[Share]) -> DataPage:
    feed_links = [Link("All setups", urls.FEED)]
    feed_links += [Link(each.value.name, urls.feed(each.id)) for each in guide.chassis()]
    moved = [
        (move.old, Link(title_of(guide, move.new), urls.record(move.new)))
        for move in guide.club.moved
    ]
    old = sorted((each for share in shares for each in share.old), key=_newest_first)
    return DataPage(
        is_invented=guide.club.invented,
        host=f"{guide.club.address}/",
        folder=f"{urls.DATA_FOLDER}/",
        manifest=urls.data(NAME),
        tables=tuple(_shown(table) for table in data_tables()),
        record_schemas=tuple(Link(title, urls.schema(name)) for name, title, _ in KINDS),
        export_schemas=tuple(Link(title, urls.schema(name)) for name, title, _ in EXPORTS),
        feeds=tuple(feed_links),
        sitemap=urls.SITEMAP,
        history_told=guide.history.told,
        newest=_newest(guide),
        old=tuple(each for _, _, each in old),
        moved=tuple(moved),
        gone=_gone(guide),
    )


def _shown(table: Table[Any]) -> TableShown:
    return TableShown(
        anchor=f"table-{table.name}",
        title=table.title,
        row=table.row,
        key=table.key,
        files=tuple(
            Link(f"{table.name}.{ending}", urls.data(f"{table.name}.{ending}"))
            for ending in table.endings
        ),
        schema=Link("its JSON Schema", urls.schema(f"table-{table.name}"))
        if "json" in table.endings
        else None,
        columns=tuple(
            ColumnLine(
                each.name, each.kind.value, "" if each.unit == "1" else each.unit, each.meaning,
                each.example, each.choices, each.may_lack,
            )
            for each in table.columns
        ),
    )  # fmt: skip


def _newest(guide: Guide) -> tuple[FileChange, ...]:
    found = [
        FileChange(
            path, forge_links(guide.club.forge, path).history, file.last.day, file.last.commit,
            file.is_committed,
        )
        for path, file in sorted(guide.history.files.items())
    ]  # fmt: skip
    return tuple(sorted(found, key=lambda each: each.day, reverse=True)[:_NEWEST])


def _newest_first(old: tuple[date, str, OldRecord]) -> tuple[int, str]:
    return (-old[0].toordinal(), old[1])


def _old(guide: Guide) -> Iterator[tuple[date, str, OldRecord]]:
    replaced = replaced_by(guide.library)
    for filed in guide.setups():
        word = standing(filed, replaced)
        if word != COUNTS:
            link = Link(filed.value.title, urls.setup(filed.id))
            yield filed.value.date, filed.id, OldRecord(link, word)


def _gone(guide: Guide) -> tuple[str, ...]:
    """Give the files that were there once and have neither a page nor an address that leads on."""
    led = {move.old for move in guide.club.moved}
    pages_of = ("setups/", "chassis/", "articles/")
    return tuple(
        path
        for path in guide.history.gone
        if path.startswith(pages_of) and path.rsplit(".", 1)[0] not in led
    )
