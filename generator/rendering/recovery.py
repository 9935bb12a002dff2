"""Putting a new site in the place of an old one, and mending what a crash left half done.

The work folders and what they mean, when a build finds them at its start:

    old     target    what happened                           what is done
    there   absent    ended between the two renames           old gets its place back
    there   a site    ended while old was cleared, or         clearing is finished
                      before it was put aside
    there   empty     the same as absent, and made again      old gets its place back
    absent  any       ended before the renames                nothing
    new there         it was being written or was not used    it is removed, by its own manifest

The target is thus the whole old site or the whole new one at every moment but the one between
the renames, and then the whole old one is back as soon as any build starts.
"""

import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from generator.frozen import dataclass
from generator.reading.trouble import shown
from generator.rendering.disk import (
    Found,
    Kind,
    OutputFailed,
    OutputRefused,
    children,
    kind_of,
    sync_folder,
    walk,
)
from generator.rendering.ground import Ground
from generator.rendering.inside import Inside, names_inside
from generator.rendering.manifest import MARKER, NEXT_MARKER, Manifest, read_manifest

# the one file that a folder without a site may hold: repositories use it to keep the folder empty
IGNORE_FILE = ".gitignore"
_SHOWN_NAMES = 5


@dataclass(frozen=True)
class Holding:
    """What a folder holds: the site in it, if any, and the files that this tool did not write."""

    manifest: Manifest | None
    foreign: tuple[str, ...]


def holding(folder: Path, inside: Inside[Any] | None = None) -> Holding:
    """Look through a folder; raise OutputRefused unless it is empty or holds a site of ours.

    `inside` is what was seen in it, if somebody looked already.
    """
    manifest = read_manifest(folder)
    if manifest is None:
        names = children(folder)
        strange = [f.path for f in names if f != Found(IGNORE_FILE, Kind.FILE)]
        if strange:
            raise OutputRefused(
                f"{shown(str(folder))} is not empty and was not made by this tool; it was left as "
                f"it is, and holds {named(strange)}"
            )
        return Holding(None, tuple(found.path for found in names))
    inside = inside or names_inside(folder)
    if inside.others:
        raise OutputRefused(
            f"{shown(str(folder))} holds links, mounts or special files, which are neither "
            f"followed nor moved; take them out: {named(list(inside.others))}"
        )
    return Holding(manifest, tuple(sorted(_foreign(inside, manifest))))


def _foreign(inside: Inside[Any], manifest: Manifest) -> Iterator[str]:
    yield from inside.files.keys() - manifest.files - {MARKER}
    strange = inside.folders - manifest.folders
    if strange:
        # an empty folder counts, a full one is seen by its files
        parents = {path.rpartition("/")[0] for path in (*inside.files, *inside.folders)}
        yield from (f"{path}/" for path in strange - parents)


def named(paths: list[str]) -> str:
    """Name the first few of many paths, on one line."""
    first = ", ".join(f"`{shown(path)}`" for path in paths[:_SHOWN_NAMES])
    more = len(paths) - _SHOWN_NAMES
    return f"{first} and {more} more" if more > 0 else first


def is_half_done(ground: Ground) -> bool:
    """Say whether an earlier build ended in the middle of its work."""
    return os.path.lexists(ground.old) or os.path.lexists(ground.new)


def recover(ground: Ground) -> None:
    """Finish or undo what an earlier build left half done; the lock must be held."""
    if os.path.lexists(ground.old):
        _expect_folder(ground.old)
        if not os.path.lexists(ground.target) or _is_given_way(ground):
            holding(ground.old)  # refuses what is not ours
            ground.old.rename(ground.target)
            sync_folder(ground.parent)
        else:
            settle(ground)
    discard(ground)


def _is_given_way(ground: Ground) -> bool:
    """Clear the target if it was made again, empty, since; say whether it is gone."""
    _expect_folder(ground.target)
    now = holding(ground.target)
    if now.manifest is not None:
        return False
    for name in now.foreign:
        if not _move(ground.target / name, ground.old / name):
            raise OutputRefused(
                f"{shown(str(ground.old))} holds the site of a build that was cut short, but "
                f"{shown(str(ground.target))} was made again since, with another `{name}`; "
                "delete that file"
            )
    ground.target.rmdir()
    return True


def _expect_folder(path: Path) -> None:
    if kind_of(path) is not Kind.FOLDER:
        raise OutputRefused(f"{shown(str(path))} is in the way: it is not a folder of this tool")


def discard(ground: Ground) -> None:
    """Remove the new folder, if there is one, by its manifest; refuse if it holds anything else."""
    new = ground.new
    if not os.path.lexists(new):
        return
    _expect_folder(new)
    files, folders = _written(new)
    within = tuple(walk(new))
    strange = [
        f.path
        for f in within
        if not (f.kind is Kind.FILE and (f.path in (MARKER, NEXT_MARKER) or f.path in files))
        and not (f.kind is Kind.FOLDER and f.path in folders)
    ]
    if strange:
        raise OutputRefused(
            f"{shown(str(new))} is in the way: it holds what this tool did not write there, "
            f"{named(strange)}; move it elsewhere"
        )
    for found in reversed(within):  # files before their folder
        if found.kind is Kind.FOLDER:
            (new / found.path).rmdir()
        elif found.path != MARKER:
            (new / found.path).unlink()
    _remove_emptied(ground, new)


def _written(new: Path) -> tuple[frozenset[str], frozenset[str]]:
    """Give the files and folders that may lie in the new folder."""
    try:
        manifest = read_manifest(new)
    except OutputRefused:
        manifest = None  # the build ended while it wrote the marker, which is always the first file
    if manifest is None:
        return frozenset(), frozenset()
    return manifest.files, manifest.folders


def swap(ground: Ground) -> None:
    """Put the new folder in the target's place; what was there stands at `old` afterwards."""
    moved = placed = False
    try:
        if os.path.lexists(ground.target):
            ground.target.rename(ground.old)
            moved = True
            sync_folder(ground.parent)
        ground.new.rename(ground.target)
        placed = True
    finally:
        if moved and not placed and not os.path.lexists(ground.target):
            ground.old.rename(ground.target)


def settle(ground: Ground, is_put_aside: Callable[[], bool] = lambda: False) -> None:
    """Clear the old folder: what this tool wrote is deleted, all else moves into the new site.

    `is_put_aside` may take the folder away whole instead, when it holds nothing but our own files,
    and says whether it did.
    """
    sync_folder(ground.parent)  # the renames last before anything is deleted
    old = ground.old
    if not os.path.lexists(old):
        return
    now = holding(old)
    manifest = now.manifest or Manifest(())
    if now.foreign:
        _refuse_left(old, tuple(_clear(ground, manifest, "", leaving=True)))
    if now.manifest is not None and is_put_aside():
        sync_folder(ground.parent)
        return
    _refuse_left(old, tuple(_clear(ground, manifest, "", leaving=False)))
    _remove_emptied(ground, old)


def _refuse_left(old: Path, left: tuple[str, ...]) -> None:
    if left:
        raise OutputFailed(
            f"the new site is in place, but files that this tool did not write are still in "
            f"{shown(str(old))}, for their places are taken: {named(list(left))}"
        )


def _clear(ground: Ground, manifest: Manifest, within: str, *, leaving: bool) -> Iterator[str]:
    """Clear one folder of the old site and those in it; give what could not be moved.

    `leaving` leaves our own files and their folders where they are.
    """
    for found in children(ground.old / within, within):
        if found.kind is Kind.FILE and found.path in manifest.files:
            if not leaving:
                os.unlink(f"{ground.old}/{found.path}")  # noqa: PTH108 - text here, for speed
            continue
        path, to = ground.old / found.path, ground.target / found.path
        if found.path == MARKER:
            continue  # the last to go, for it is needed if clearing is cut short
        elif found.kind is Kind.FOLDER and (
            found.path in manifest.folders or kind_of(to) is Kind.FOLDER
        ):
            left = tuple(_clear(ground, manifest, found.path, leaving=leaving))
            yield from left
            if not left and not (leaving and found.path in manifest.folders):
                path.rmdir()
        elif not _move(path, to):
            yield found.path


def _move(path: Path, to: Path) -> bool:
    """Move a thing to a place that is free or holds the same bytes; say whether it was done."""
    if os.path.lexists(to):
        both_files = kind_of(path) is kind_of(to) is Kind.FILE
        if not both_files or path.read_bytes() != to.read_bytes():
            return False
    to.parent.mkdir(parents=True, exist_ok=True)
    path.replace(to)
    sync_folder(to.parent)
    return True


def _remove_emptied(ground: Ground, folder: Path) -> None:
    if os.path.lexists(folder / MARKER):
        (folder / MARKER).unlink()
    folder.rmdir()
    sync_folder(ground.parent)
