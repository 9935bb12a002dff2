"""Telling at a glance that a build would change nothing.

After a build, what its files and those of its site look like from outside is kept, with what the
build had to say. A later build that finds the same looks, the same commit and the same program
says the same and is done. Whatever differs, however little, makes it look closely.
"""

from collections.abc import Iterable, Mapping
from datetime import date
from pathlib import Path
from time import sleep, time_ns

from generator.cache.digests import digest
from generator.cache.program import program_and_templates
from generator.cache.store import Store
from generator.frozen import dataclass
from generator.reading.fault import Fault
from generator.reading.history import commit_of
from generator.rendering.looks import Look, look_at, looks_below, settled

_TICK = 0.06
"""Seconds: longer than any tick by which a local disk tells the time of a change."""


@dataclass(frozen=True)
class Asked:
    """What a build was asked for; all of it decides what comes of it."""

    content: Path
    out: Path
    leave_out_faulty: bool
    today: date


@dataclass(frozen=True)
class Said:
    """What a build said: its faults, how many files it read, wrote and left alone."""

    faults: tuple[Fault, ...]
    has_errors: bool
    summary: str
    files: int
    foreign: int


@dataclass(frozen=True)
class _Kept:
    program: str
    leave_out_faulty: bool
    today: date
    commit: str
    content: dict[str, Look | None]
    out: dict[str, Look | None]
    said: Said


class Glance:
    """A look at a content folder before anything of it is read."""

    def __init__(self, asked: Asked, store: Store) -> None:
        self._asked = asked
        self._store = store
        self._name = digest("glance", str(asked.content.resolve()), str(asked.out.resolve()))
        self._content = looks_below(asked.content)
        if not settled(self._content.values(), time_ns()):
            # Who writes and builds in one breath is waited for, so that no change goes unseen.
            sleep(_TICK)
            self._content = looks_below(asked.content)
        self._commit = commit_of(asked.content)
        self._kept: _Kept | None = store.get(self._name)

    def said(self) -> Said | None:
        """Give what the last build said, if this one would say and write the same."""
        kept, asked = self._kept, self._asked
        if (
            kept is None
            or kept.program != program_and_templates()
            or kept.leave_out_faulty != asked.leave_out_faulty
            # A date that lay in the future once is in a fault; without one, no later day matters.
            or (kept.today != asked.today and (kept.said.faults or kept.today > asked.today))
            or kept.commit != self._commit
            or kept.content != self._content
            or kept.out != looks_below(asked.out)
        ):
            return None
        return kept.said

    def looks(self) -> dict[str, Look]:
        """Give what the files of the site looked like when they were last known to be right."""
        out = self._kept.out if self._kept else {}
        return {path: look for path, look in out.items() if look is not None}

    def keep(self, said: Said, untouched: Mapping[str, Look], fresh: Iterable[str]) -> None:
        """Keep what this build said, unless something moved meanwhile.

        `untouched` are the looks of files of the site that stayed as they were, `fresh` the paths
        of its other files; where both are empty, the whole site is looked at.
        """
        asked = self._asked
        if looks_below(asked.content) != self._content or commit_of(asked.content) != self._commit:
            return
        # What changes after this look is told by its time from what changed before it.
        sleep(0.02)
        out: dict[str, Look | None] = {**untouched}
        out |= {path: look_at(f"{asked.out}/{path}") for path in fresh}
        out = out or looks_below(asked.out)
        self._store.put(
            self._name,
            _Kept(
                program_and_templates(), asked.leave_out_faulty, asked.today, self._commit,
                self._content, out,
                said,
            ),
        )  # fmt: skip
