"""A content folder under watch: looked at again and again, computed anew where it changed."""

import os
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from functools import lru_cache, partial
from pathlib import Path
from time import monotonic, sleep
from typing import cast

from generator.cache.once import lend
from generator.cache.store import Store
from generator.computing import guide_of, inputs_of
from generator.frozen import dataclass
from generator.lazy_site import LazySite
from generator.memory import Memory, StoredMemory
from generator.reading.fault import Fault, has_error
from generator.reading.folder import content_files
from generator.reading.history import history_of
from generator.reading.photos import photo_files
from generator.reading.trouble import GuideError
from generator.records.checking import check
from generator.records.collect import ReadFile, collect, file_read_once
from generator.remembered import Remembered
from generator.rendering.photos import photo_artifact

_SETTLING = 0.03
_MOST_WAITS = 30
_REMEMBERED = 4096
"""Files that are not read again from the cache while the program runs."""
_Signature = tuple[tuple[str, int, int, int], ...]


@dataclass(frozen=True)
class Version:
    """What is to be shown: the last site without an error, and the faults of the files now.

    `site` is None until there is one. `trouble` says what stopped the guide altogether. `took` is
    the time it took to compute.
    """

    number: int
    site: LazySite | None
    faults: tuple[Fault, ...] = ()
    trouble: str = ""
    took: timedelta = timedelta()

    @property
    def is_good(self) -> bool:
        """Whether the site shown is that of the files as they are."""
        return self.site is not None and not self.trouble and not has_error(self.faults)


class Watched:
    """A content folder and the version of the guide that it makes."""

    def __init__(
        self, content: Path, today: Callable[[], date], store: Store | None = None
    ) -> None:
        """Watch a folder. `store` is a cache of builds to read from."""
        self._content = content
        self._today = today
        self._store = store
        self._read_file: ReadFile = file_read_once
        if store is not None:
            lend(store)
            read_once = lru_cache(_REMEMBERED)(Remembered(store).file)
            self._read_file = cast("ReadFile", read_once)
        self._memory = Memory()
        self._seen: _Signature | None = None
        self.version = Version(0, None)

    def look(self) -> bool:
        """Look at the folder once; compute and say so if anything in it changed."""
        seen = _signature(self._content)
        if seen == self._seen:
            return False
        # An editor empties a file before it fills it: wait until nothing moves any more.
        for _ in range(_MOST_WAITS):
            sleep(_SETTLING)
            before, seen = seen, _signature(self._content)
            was_emptied = any(size == 0 for _, _, size, _ in set(seen) - set(self._seen or ()))
            if seen == before and not was_emptied:
                break
        self._seen = seen
        begin = monotonic()
        made = self._made()
        self.version = replace(made, took=timedelta(seconds=monotonic() - begin))
        return True

    def _made(self) -> Version:
        last = self.version
        try:
            files, odd = content_files(self._content)
            photos, unfit = photo_files(self._content)
            collected = collect(files, photos, read_file=self._read_file)
            memory = self._next_memory()
            ruled = check(collected.library, today=self._today(), of_case=memory.faults)
            found = {*odd, *unfit, *collected.faults, *ruled}
            faults = tuple(sorted(found, key=lambda fault: fault.order))
            if has_error(faults):
                return Version(last.number + 1, last.site, faults)
            guide = replace(
                guide_of(collected, faults, memory),
                inputs=inputs_of(files, photos),
                history=history_of(self._content, files),
            )
            photo = partial(photo_artifact, self._content, guide)
            site = LazySite(guide, last.site, photo, self._store)
        except GuideError as trouble:
            return Version(last.number + 1, last.site, (), str(trouble))
        self._memory = memory.forget_earlier()
        return Version(last.number + 1, site, faults)

    def _next_memory(self) -> Memory:
        if self._store is None:
            return Memory(self._memory)
        return StoredMemory(self._store, self._memory)


def _signature(folder: Path) -> _Signature:
    """Tell two states of a folder apart by names, sizes, times and places on the disk."""
    found, waiting = [], [folder]
    while waiting:
        here = waiting.pop()
        try:
            with os.scandir(here) as entries:
                for entry in entries:
                    if entry.name.startswith("."):
                        continue
                    if entry.is_dir(follow_symlinks=False):
                        waiting.append(Path(entry.path))
                        continue
                    state = entry.stat(follow_symlinks=False)
                    found.append((entry.path, state.st_mtime_ns, state.st_size, state.st_ino))
        except OSError:
            # A file or folder that goes while it is looked at is seen to be gone at the next look.
            found.append((str(here), 0, 0, 0))
    return tuple(sorted(found))
