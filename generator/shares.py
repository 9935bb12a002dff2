"""One chassis at a time: what is computed of it, its finished pages, and its share of the rest.

A share follows from few texts: the club's, the sheet's and those of the chassis' own records. It is
kept under a name made of all of them, and its files beside it by their digests.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from generator.cache.digests import digest_of
from generator.cache.once import lend
from generator.cache.program import program_and_templates
from generator.cache.store import Store
from generator.evidence import club, verdict
from generator.finished import Finished, entry_of, finished
from generator.frozen import dataclass
from generator.reading.fault import Fault
from generator.records.library import setup_path
from generator.rendering.manifest import Entry
from generator.rendering.render import Renderer
from generator.site import advice
from generator.site.data.columns import Table
from generator.site.data.writing import put_together, table_rows
from generator.site.guide import Guide
from generator.site.links import PageLinks, unsettled
from generator.site.plan import part_files, part_pages, part_shares
from generator.site.planned import by_path, page_grounds
from generator.site.views.data import data_tables


@dataclass(frozen=True)
class Share:
    """What one chassis gives to the guide.

    `files` are its own pages and files, of which `pages` are the pages that stand for themselves.
    `views` is what each view needs of it, `tables` the rows of each table's files, by the name of
    the file, as digests. `waiting` are the links that lead out of it.
    """

    files: tuple[Entry, ...]
    pages: tuple[str, ...]
    views: Mapping[str, Any]
    tables: Mapping[str, str]
    waiting: Mapping[str, PageLinks]


@dataclass(frozen=True)
class Job:
    """One share to be made: its name, whose it is, and the faults of its records."""

    name: str
    chassis: str
    faults: tuple[Fault, ...]


def jobs_of(frame: Guide, faults: tuple[Fault, ...]) -> Iterator[Job]:
    """Say what there is to do for each chassis, without reading any record."""
    found = by_path(faults)
    around = _around(frame)
    texts = {each.path: each.sha256 for each in frame.inputs}
    for name in frame.part_names():
        paths = map(setup_path, frame.ids_of(name))
        own = tuple(each for path in paths for each in found.get(path, ()))
        told = page_grounds(frame, name, found, texts.get)
        yield Job(digest_of((*around, *told)), name, own)


def _around(frame: Guide) -> tuple[str, ...]:
    """Give all that the share of any chassis follows from."""
    club = frame.library.club
    return (
        "share",
        program_and_templates(),
        club.source.text if club else "",
        frame.data_as_of,
        str(frame.records),
        frame.history.told,
    )


def kept_share(job: Job, store: Store) -> Share | None:
    """Give a share that was made before, if all its files are there."""
    share: Share | None = store.get(job.name)
    if share is None or not all(map(store.has_file, _digests(share))):
        return None
    return share


def _digests(share: Share) -> Iterator[str]:
    yield from (entry.sha256 for entry in share.files)
    yield from share.tables.values()


def parts_of_pages(job_name: str, store: Store) -> Mapping[str, frozenset[str]]:
    """Give the parts of each page of a share that can be linked to."""
    return store.get(_parts_name(job_name)) or {}


def _parts_name(job_name: str) -> str:
    return digest_of(("parts", job_name))


def make_share(asked: tuple[Job, Guide], store: Store) -> Share:
    """Compute, draw and write one chassis, from the guide of it alone."""
    from generator.computing import computed
    from generator.memory import StoredMemory

    lend(store)
    job, frame = asked
    part = computed(frame, job.faults, StoredMemory(store))
    renderer = Renderer(part, is_kept=part.club.offline is not False, store=store)
    files: list[Entry] = []
    links: dict[str, PageLinks] = {}
    every = tuple(finished(part, job.faults, renderer, store))
    for own in every:
        files += own.files
        links |= own.links
    for page in part_pages(part):
        text, links[page.path] = renderer.linked(page)
        files.append(entry_of(store, page.path, text))
    files += [entry_of(store, file.path, file.text) for file in part_files(part)]
    tables = {
        f"{table.name}.{ending}": store.keep_file(text.encode("utf-8"))
        for table in data_tables()
        if table.by_chassis
        for ending, text in _rows(part, table, every).items()
    }
    share = Share(
        tuple(files),
        tuple(links),
        part_shares(part),
        tables,
        unsettled(links, [entry.path for entry in files]),
    )
    store.put(_parts_name(job.name), {path: each.ids for path, each in links.items()})
    store.put(job.name, share)
    # No other chassis asks for any of it.
    advice.forget()
    club.forget()
    verdict.forget()
    return share


def _rows(part: Guide, table: Table[Any], every: tuple[Finished, ...]) -> dict[str, str]:
    if table.rows_of is None:
        return table_rows(part, table)
    return {
        ending: put_together(ending, (own.rows[f"{table.name}.{ending}"] for own in every))
        for ending in table.endings
    }
