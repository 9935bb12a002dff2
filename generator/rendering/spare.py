"""The site before the last, kept aside: the next one is made of it by changing what differs.

A site is written beside the one that readers see and swapped with it. Made anew, it needs a second
name for each of its files, and the old site must lose as many: forty thousand of each in a large
club, for one changed record. So the old site is put aside in the cache when it has been replaced.
The next build takes it as its new folder and touches only what two builds changed.

Nothing is believed of a spare. A file of it stays only if it is the very file, by its place on the
disk, that readers see now under the same name, whose bytes were found to be those wanted; all else
is taken out and made as in a new folder. A spare with anything in it that its own list does not
name, or with a folder of another account or with other rights, is not used, and goes.
"""

import os
import shutil
from collections.abc import Collection, Mapping
from contextlib import suppress
from pathlib import Path

from generator.frozen import dataclass
from generator.reading.trouble import GuideError
from generator.rendering.disk import Kind, create_file, kind_of, sync_file
from generator.rendering.ground import Ground, Identity
from generator.rendering.inside import Inside, names_inside
from generator.rendering.looks import Look
from generator.rendering.manifest import MARKER, NEXT_MARKER, Manifest, read_manifest

NAME = "spare-site"
"""Of the folder in the cache: there is room for one."""
_GONE = "spare-site-gone"
_FEWEST = 0.5
"""Of the files wanted: a spare that has less of them is no help."""
_MOST = 0.25
"""Of the bytes of a site: where a build changed more, the old site would only take up room."""


@dataclass(frozen=True)
class _Spare:
    manifest: Manifest
    inside: Inside[int]


def take_spare(
    ground: Ground, place: Path | None, wanted: Manifest, seen: Mapping[str, Look]
) -> frozenset[str]:
    """Put the spare in the place of the new folder, with nothing in it but files that are wanted.

    `seen` are the looks of the files of the site that readers see, of those alone that are wanted
    as they are. Gives the paths of the files that the new folder has then; of none, if there is no
    spare that helps, and then there is no new folder either.
    """
    if place is None or not seen:
        return frozenset()
    with suppress(FileNotFoundError):
        own = Identity.of(place)
        spare = _fit(place, os.lstat(ground.target).st_mode)
        if spare is None:
            _drop(place)
            return frozenset()
        kept = _kept(spare, own.device, seen)
        if len(kept) >= _FEWEST * len(wanted.entries) and _is_taken(place, ground.new, own):
            _clear_but(ground.new, spare.manifest, kept, wanted)
            return kept
    return frozenset()


def _is_taken(place: Path, new: Path, own: Identity) -> bool:
    """Take the spare that was looked through, if no other build did, and the disk is the same."""
    try:
        place.rename(new)
    except OSError:
        return False
    if Identity.of(new) == own:
        return True
    new.rename(place)  # another build has put its own there meanwhile
    return False


def put_aside(ground: Ground, place: Path | None, written: Manifest, same: Collection[str]) -> bool:
    """Put the old site aside, which holds none but our own files; say whether that was done.

    `same` are the paths of the files of the new site that the old one has too.
    """
    if place is None:
        return False
    entries = written.entries
    changed = sum(entry.size for entry in entries if entry.path not in same)
    with suppress(OSError):
        if os.path.lexists(place):
            _drop(place)
        if changed <= _MOST * sum(entry.size for entry in entries):
            ground.old.rename(place)
            return True
    return False


def _fit(folder: Path, mode: int) -> _Spare | None:
    """Look through a spare; None if it is not, name by name, what its list says.

    `mode` is that of the site's own folder, as every folder of a site has it.
    """
    try:
        manifest = read_manifest(folder) if kind_of(folder) is Kind.FOLDER else None
    except GuideError:
        return None
    if manifest is None:
        return None
    inside = names_inside(folder)
    is_ours = (
        not inside.others
        and inside.files.keys() == {*manifest.files, MARKER}
        and inside.folders == manifest.folders
        and all(_is_own(f"{folder}/{each}", mode) for each in ("", *inside.folders))
    )
    return _Spare(manifest, inside) if is_ours else None


def _is_own(folder: str, mode: int) -> bool:
    """Tell whether a folder is of this account, for another could go on writing into the site."""
    state = os.lstat(folder)
    return state.st_mode == mode and (not hasattr(os, "getuid") or state.st_uid == os.getuid())


def _kept(spare: _Spare, device: int, seen: Mapping[str, Look]) -> frozenset[str]:
    places = spare.inside.files
    return frozenset(
        path
        for path, look in seen.items()
        if places.get(path) == look.place and look.device == device
    )


def _clear_but(folder: Path, listed: Manifest, kept: frozenset[str], wanted: Manifest) -> None:
    """Take out all files but those that stay, and mark the folder with the list of its new site.

    At every moment its marker names all that is in it.
    """
    for path in listed.files - kept:
        os.unlink(f"{folder}/{path}")  # noqa: PTH108 - paths are text here, for speed
    for path in sorted(listed.folders - wanted.folders, reverse=True):
        (folder / path).rmdir()
    create_file(folder / NEXT_MARKER, wanted.text)
    sync_file(folder / NEXT_MARKER)
    (folder / NEXT_MARKER).replace(folder / MARKER)


def _drop(place: Path) -> None:
    """Delete a spare, under a name by which no build takes it; one that holds a mount stays."""
    gone = place.with_name(_GONE)
    shutil.rmtree(gone, ignore_errors=True)
    if kind_of(place) is Kind.FOLDER and not names_inside(place).others:
        place.rename(gone)
        shutil.rmtree(gone, ignore_errors=True)
