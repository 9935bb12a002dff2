"""A content folder read and checked, chassis by chassis: what a build and `gapbook check` do first.

A store spares what was read and checked before. Without one, each chassis is read, checked and let
go, so that a large club needs no more memory than its largest chassis.
"""

from datetime import date
from pathlib import Path

from generator.cache.store import Nowhere, Store
from generator.frozen import dataclass
from generator.gists import known_of
from generator.reading.fault import Fault
from generator.reading.folder import Found, content_files
from generator.reading.photos import PhotoFile, photo_files
from generator.reading.report import summary
from generator.records.inspection import Inspected
from generator.records.library import Library
from generator.workers import Crew, cores


@dataclass(frozen=True)
class Checked:
    """A content folder read and checked: all faults of all files, and a line that counts them."""

    faults: tuple[Fault, ...]
    summary: str
    content: Path
    files: tuple[Found, ...]
    photos: tuple[PhotoFile, ...]
    library: Library


def checked(content: Path, today: date, store: Store, crew: Crew) -> Checked:
    """Read and check a content folder. Raises GuideError if it cannot be read."""
    files, odd = content_files(content)
    photos, unfit = photo_files(content)
    known = known_of(files, photos, today=today, store=store, crew=crew)
    found = {*odd, *unfit, *known.faults}
    faults = tuple(sorted(found, key=lambda fault: fault.order))
    return Checked(faults, summary(faults, len(files)), content, files, photos, known.library)


def inspected(content: Path, *, today: date, store: Store | None = None) -> Inspected:
    """Check a content folder with all processors. Raises GuideError if it cannot be read."""
    with Crew(cores()) as crew:
        state = checked(content, today, store or Nowhere(), crew)
    return Inspected(state.faults, len(state.files))
