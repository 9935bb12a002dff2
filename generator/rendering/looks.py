"""Telling that a file is still the one that was read, without reading it again.

Its size, the times of its last change and of the last change to its entry, and its place on the
disk: a program that writes a file changes one of them, for nobody can set the second time. A file
that changed within moments of the look could change again within the same tick of the disk's
clock, and has no look that can be trusted.
"""

import os
import stat
from collections.abc import Iterable, Iterator
from pathlib import Path

from generator.frozen import dataclass

_TICK = 50_000_000
"""Nanoseconds: longer than any tick by which a local disk tells the time of a change."""


@dataclass(frozen=True)
class Look:
    """What a file looks like from outside."""

    size: int
    changed: int
    entry_changed: int
    place: int
    device: int


def look_at(path: Path | str) -> Look | None:
    """Look at an ordinary file; None if there is none."""
    try:
        state = os.lstat(path)
    except OSError:
        return None
    return look_of(state) if stat.S_ISREG(state.st_mode) else None


def looks_below(folder: Path | str) -> dict[str, Look | None]:
    """Look at all that lies below a folder, by path with slashes; None for what is no file.

    An empty folder counts as such a thing.
    """
    return dict(_below(str(folder), ""))


def settled(looks: Iterable[Look | None], begun: int) -> bool:
    """Tell whether all files had been left alone for a tick when something began; by its time."""
    return all(look is not None and look.entry_changed < begun - _TICK for look in looks)


def _below(folder: str, within: str) -> Iterator[tuple[str, Look | None]]:
    try:
        entries = list(os.scandir(folder))
    except OSError:
        yield within, None
        return
    if not entries:
        yield within, None
    for entry in entries:
        path = f"{within}{entry.name}"
        if entry.is_dir(follow_symlinks=False):
            yield from _below(entry.path, f"{path}/")
        else:
            state = entry.stat(follow_symlinks=False)
            yield path, look_of(state) if stat.S_ISREG(state.st_mode) else None


def look_of(state: os.stat_result) -> Look:
    """Tell the look of an ordinary file by what the system says of it."""
    return Look(state.st_size, state.st_mtime_ns, state.st_ctime_ns, state.st_ino, state.st_dev)
