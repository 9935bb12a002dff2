"""A build with a store at hand: chassis by chassis, only what changed, by several processes.

The store is the cache, or for a build without one a folder that goes when the build ends. Either
way the same is done: what is kept is what would be made.
"""

from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from functools import cache, partial
from pathlib import Path, PurePosixPath
from typing import Any

from generator.cache.digests import digest_of
from generator.cache.once import lend
from generator.cache.program import program
from generator.cache.store import Store
from generator.checked import Checked, checked
from generator.computing import frame_of, inputs_of
from generator.frozen import dataclass
from generator.reading.history import history_of
from generator.reading.trouble import GuideError
from generator.remembered import Remembered
from generator.rendering.environment import template_folder
from generator.rendering.manifest import Artifact, Entry, Kept
from generator.rendering.offline import install_files, worker_files
from generator.rendering.photos import files_of_photos
from generator.rendering.render import Renderer, told_of_dead
from generator.shares import Job, Share, jobs_of, kept_share, make_share, parts_of_pages
from generator.site import urls
from generator.site.data.columns import Table
from generator.site.data.writing import Chunks, table_file, table_rows
from generator.site.guide import Guide, Input
from generator.site.joining import Joining
from generator.site.links import PageLinks, dead_among
from generator.site.plan import joined_files, joined_pages, part_shares
from generator.site.views.data import data_tables, schema_address
from generator.workers import Crew

File = Artifact | Kept


def open_up(content: Path, today: date, store: Store, crew: Crew) -> Checked:
    """Read and check a content folder. Raises GuideError if it cannot be read."""
    lend(store)
    wrong = Remembered(store).disagreements()
    if wrong:
        raise GuideError(f"the factors of {', '.join(wrong)} are not those of pint")
    return checked(content, today, store, crew)


def files_of(state: Checked, store: Store, crew: Crew) -> tuple[File, ...]:
    """Give all files of the guide of a folder that was read and checked.

    Raises GuideError for a template that cannot be rendered and for a link that leads nowhere.
    """
    frame = replace(
        frame_of(state.library, state.faults),
        inputs=inputs_of(state.files, state.photos),
        history=history_of(state.content, state.files),
    )
    jobs = tuple(jobs_of(frame, state.faults))
    shares = _shares(frame, jobs, store, crew)
    crew.dismiss()
    tables = tuple(_tables(frame, jobs, shares, store))
    joining = _joining(frame, shares, tables)
    renderer = Renderer(frame, is_kept=frame.club.offline is not False, store=store)
    pages = joined_pages(joining)
    rendered = {page.path: renderer.linked(page) for page in pages}
    texts = {path: text for path, (text, _) in rendered.items()}
    standing = [page.path for page in pages if not page.moved_to]
    joining = replace(
        joining, pages=[*(path for share in shares for path in share.pages), *standing]
    )
    own = (entry for share in shares for entry in share.files)
    files: list[File] = [
        *(Kept(entry, store.path_of_file(entry.sha256)) for entry in (*own, *tables)),
        *(_artifact(path, text) for path, text in texts.items()),
        *(_artifact(file.path, file.text) for file in joined_files(joining)),
        *renderer.assets(),
        *install_files(frame, template_folder()),
        *files_of_photos(state.content, frame, store),
    ]
    links = {path: each for path, (_, each) in rendered.items()}
    _refuse_dead_links(_Linked(jobs, shares, store), links, [file.entry.path for file in files])
    return (*files, *worker_files(frame, files, template_folder()))


def _shares(frame: Guide, jobs: tuple[Job, ...], store: Store, crew: Crew) -> tuple[Share, ...]:
    """Give the share of each chassis: those that were kept, and the others anew."""
    kept = {job.name: kept_share(job, store) for job in jobs}
    shares = {name: share for name, share in kept.items() if share is not None}
    waiting = [job for job in jobs if job.name not in shares]
    # A part is put together when its turn comes, so that the records of few are held at a time.
    parts = ((job, frame.part(job.chassis)) for job in waiting)
    made = crew.mapped(partial(make_share, store=store), parts)
    for job, share in zip(waiting, made, strict=True):
        shares[job.name] = share
    return tuple(shares[job.name] for job in jobs)


def _tables(
    frame: Guide, jobs: tuple[Job, ...], shares: tuple[Share, ...], store: Store
) -> Iterator[Entry]:
    """Put the tables together from the rows of each chassis, in order of the setups' ids."""
    ordered = sorted(zip(jobs, shares, strict=True), key=lambda each: f"{each[0].chassis}/")
    for table in data_tables():
        whole = {} if table.by_chassis else table_rows(frame, table)
        for ending in table.endings:
            name = f"{table.name}.{ending}"
            if table.by_chassis:
                pieces = tuple(share.tables[name] for _, share in ordered)
                size, digest = _joined_table(frame, table, ending, pieces, store)
            else:
                size, digest = _written(frame, table, Chunks(ending, (whole[ending],)), store)
            yield Entry(urls.data(name), size, digest)


def _joined_table(
    frame: Guide, table: Table[Any], ending: str, pieces: tuple[str, ...], store: Store
) -> tuple[int, str]:
    """Give size and digest of a file of a table, or those of before if no piece changed.

    A large club's tables hold most of its bytes, and few of them change with a record.
    """
    club = frame.library.club
    around = (program(), club.source.text if club else "", table.name, ending)
    name = digest_of(("table", *around, *pieces))
    known: tuple[int, str] | None = store.get(name)
    if known is None or not store.has_file(known[1]):
        chunks = Chunks(ending, (_text(store, piece) for piece in pieces))
        known = _written(frame, table, chunks, store)
        store.put(name, known)
    return known


def _written(frame: Guide, table: Table[Any], chunks: Chunks, store: Store) -> tuple[int, str]:
    file = table_file(frame, table, schema_address(frame, table), chunks)
    digest, size = store.keep_pieces(piece.encode("utf-8") for piece in file)
    return size, digest


def _text(store: Store, digest: str) -> str:
    content = store.file(digest)
    if content is None:
        raise GuideError(f"the cache in {store.folder} was changed during the build; build again")
    return content.decode("utf-8")


def _joining(frame: Guide, shares: tuple[Share, ...], tables: tuple[Entry, ...]) -> Joining:
    names = {name for share in shares for name in share.views} or set(part_shares(frame))
    by_view = {name: [share.views[name] for share in shares] for name in names}
    return Joining(frame, by_view, [Input(each.path, each.size, each.sha256) for each in tables])


def _artifact(path: str, text: str) -> Artifact:
    return Artifact(PurePosixPath(path), text.encode("utf-8"))


@dataclass(frozen=True)
class _Linked:
    """The parts of the pages of all chassis, read from the store when a link asks for them."""

    jobs: tuple[Job, ...]
    shares: tuple[Share, ...]
    store: Store

    def parts(self) -> Callable[[str], Container[str]]:
        """Give the parts of a page of some chassis."""
        owner = {
            path: job.name
            for job, share in zip(self.jobs, self.shares, strict=True)
            for path in share.pages
        }
        read = cache(partial(parts_of_pages, store=self.store))

        def parts(path: str) -> Container[str]:
            return read(owner[path]).get(path, ()) if path in owner else ()

        return parts


def _refuse_dead_links(
    linked: _Linked, links: Mapping[str, PageLinks], files: Iterable[str]
) -> None:
    """Raise GuideError for a link that leads nowhere, on a page of one chassis or of the whole."""
    elsewhere = linked.parts()

    def parts(path: str) -> Container[str]:
        return links[path].ids if path in links else elsewhere(path)

    waiting = {path: each for share in linked.shares for path, each in share.waiting.items()}
    dead = dead_among({**waiting, **links}, frozenset(files), parts)
    if dead:
        raise GuideError(told_of_dead(dead))
