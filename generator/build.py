"""The path of a record, from a member's file to the published guide: eight steps, one way.

What is imported at the start is what tells that there is nothing to do; the rest comes when needed.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from generator.cache.store import Store
from generator.frozen import dataclass
from generator.glance import Asked, Glance, Said
from generator.reading.fault import Fault, Severity, has_error
from generator.workers import Crew, cores

if TYPE_CHECKING:
    from generator.rendering.output import Written

_SMALLEST = 1 << 30
_TIMES = 3
"""The cache holds a gigabyte, or three times what this build's site has where that is more."""


@dataclass(frozen=True)
class Built:
    """What came of a build: all faults, one line to tell, and notes about the machine."""

    faults: tuple[Fault, ...]
    has_errors: bool
    told: str
    notes: tuple[str, ...] = ()


def build(
    content: Path,
    out: Path,
    *,
    leave_out_faulty: bool,
    today: date,
    cache: Store | None = None,
    workers: int | None = 1,
) -> Built:
    """Build the guide of a content folder into a folder.

    An error in any file ends the build before anything is written, unless faulty setups are left
    out. `cache` spares what an earlier build made; the site is the same without. Raises GuideError
    if the guide cannot be made or written.
    """
    asked = Asked(content, out, leave_out_faulty, today)
    workers = cores() if workers is None else workers
    if cache is None or not content.is_dir():
        with _passing_store() as store:
            return _built(asked, store, None, workers)
    glance = Glance(asked, cache)
    said = glance.said()
    if said is not None:
        return Built(said.faults, said.has_errors, _told(asked, said, (0, 0)))
    return _built(asked, cache, glance, workers)


@contextmanager
def _passing_store() -> Iterator[Store]:
    """Give a store for one build alone."""
    from generator.passing import passing_folder

    with passing_folder() as folder:
        yield Store(folder, bytes(32))


def _built(asked: Asked, store: Store, glance: Glance | None, workers: int) -> Built:
    from generator.passing import clear_passed
    from generator.rendering.output import KeptDamaged, recover_site

    clear_passed()
    recover_site(asked.out, source=asked.content)
    with Crew(workers) as crew:
        try:
            return _made(asked, store, glance, crew)
        except KeptDamaged as damaged:
            # Who edits a page of the site edits the kept file of which the page is a second name.
            store.forget_files(damaged.files)
            return _made(asked, store, glance, crew)


def _made(asked: Asked, store: Store, glance: Glance | None, crew: Crew) -> Built:
    from generator.building import files_of, open_up
    from generator.rendering.output import write_site
    from generator.rendering.spare import NAME

    state = open_up(asked.content, asked.today, store, crew)
    errors = has_error(state.faults)
    if errors and not (asked.leave_out_faulty and _only_setups(state.faults)):
        told = f"{state.summary}; nothing was written"
        return Built(state.faults, True, told, tuple(store.told.values()))
    artifacts = files_of(state, store, crew)
    looks, spare = (glance.looks(), store.folder / NAME) if glance else ({}, None)
    written = write_site(artifacts, asked.out, source=asked.content, looks=looks, spare=spare)
    said = Said(state.faults, errors, state.summary, written.files, len(written.foreign))
    if glance is not None:
        glance.keep(said, written.untouched, written.fresh)
        _prune(store, written)
    told = _told(asked, said, (written.changed, written.removed))
    return Built(state.faults, errors, told, tuple(store.told.values()))


def _prune(store: Store, written: "Written") -> None:
    if store.is_written:
        store.prune_if_due(max(_SMALLEST, _TIMES * written.size))


def _only_setups(faults: tuple[Fault, ...]) -> bool:
    return all(
        fault.place.path.startswith(("setups/", "photos/"))
        for fault in faults
        if fault.severity is Severity.ERROR
    )


def _told(asked: Asked, said: Said, changes: tuple[int, int]) -> str:
    kept = f"; {said.foreign} other files kept" if said.foreign else ""
    return (
        f"{said.summary}; {said.files} files in {asked.out} "
        f"({changes[0]} changed, {changes[1]} removed){kept}"
    )
