"""Writing a site so that readers find the whole old one or the whole new one, whatever happens.

The steps: look at the ground, take the lock, mend what a crash left, write everything into a new
folder beside the target, read all of it again, swap by two renames, clear the old folder. A
target is replaced only if it is absent, empty (a lone `.gitignore` is kept) or holds our marker.
With a cache at hand the old folder is put aside there instead, and the next build's new folder is
made of it (`spare.py`).

Files in it that this tool did not write are foreign: they are never deleted or overwritten. They
are carried over into the new site by rename, at once after the swap, and listed in the result. If
the new site wants the place of one of them, or if a link or special file is among them, nothing is
written at all.
"""

import os
from collections.abc import Collection, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import field
from functools import partial
from pathlib import Path, PurePosixPath

from generator.frozen import dataclass
from generator.reading.trouble import GuideError, shown
from generator.rendering.disk import (
    OutputFailed,
    OutputRefused,
    create_file,
    link_file,
    read_file,
    sync_all,
    sync_file,
    sync_folder,
)
from generator.rendering.ground import Ground, survey, survey_again
from generator.rendering.inside import Inside, looks_inside, names_inside
from generator.rendering.lock import held
from generator.rendering.looks import Look
from generator.rendering.manifest import MARKER, Artifact, Entry, Kept, Manifest, manifest_of
from generator.rendering.recovery import (
    Holding,
    discard,
    holding,
    is_half_done,
    named,
    recover,
    settle,
    swap,
)
from generator.rendering.spare import put_aside, take_spare

__all__ = [
    "Artifact",
    "Kept",
    "KeptDamaged",
    "OutputFailed",
    "OutputRefused",
    "Written",
    "recover_site",
    "write_site",
]

_MANY = 200
"""Files; more are made to last all at once."""


@dataclass(frozen=True)
class Written:
    """What a build did to the site: counts of files, bytes in all, and what was not ours.

    `changed` counts files that are new or differ from the earlier site, `removed` those that
    are gone. If the folder held this very site already, `unchanged` is set and nothing was written.
    `foreign` lists the files in the folder that this tool did not write and that it kept.
    `untouched` are the looks of files that stayed as they were, and `fresh` are then the paths of
    all others; where nothing can be said of any, both are empty.
    """

    files: int
    size: int
    changed: int
    removed: int
    unchanged: bool
    foreign: tuple[str, ...]
    untouched: Mapping[str, Look] = field(default_factory=dict)
    fresh: tuple[str, ...] = ()


class KeptDamaged(OutputFailed):
    """Nothing was replaced, for files kept elsewhere do not hold what they were kept for."""

    def __init__(self, told: str, files: tuple[str, ...]) -> None:
        super().__init__(told)
        self.files = files


def write_site(
    artifacts: Iterable[Artifact | Kept],
    target: Path,
    *,
    source: Path,
    looks: Mapping[str, Look] | None = None,
    spare: Path | None = None,
) -> Written:
    """Replace the site at `target` by these files, or raise a GuideError and leave it whole.

    `looks` are those of the files of the site that is there, when their bytes were last seen to be
    those of its list. A file that still has its look, and is wanted, is not written anew: it gets a
    second name in the new site. Files are never changed in place, so that no name of one can change
    what another shows. `spare` is where the site before the last may lie, and where this one's
    forerunner may be put.

    OutputRefused: nothing was changed, for the reason given. OutputFailed: the machine failed;
    the old site is whole in its place, unless the message says that the new one is. KeptDamaged:
    the same, and the files that it names are to be made again.
    """
    listed = tuple(artifacts)
    manifest = manifest_of(listed)
    if not manifest.entries:
        raise OutputRefused("there is no file to write, and a site is not replaced by nothing")
    with _told(target):
        ground = survey(target, source=source)
        with held(ground.lock):
            recover(ground)
            return _replace(survey(target, source=source), listed, manifest, looks or {}, spare)


def recover_site(target: Path, *, source: Path) -> bool:
    """Finish or undo what an earlier build left half done; say whether there was anything."""
    with _told(target):
        ground = survey(target, source=source)
        if not is_half_done(ground):
            return False
        with held(ground.lock):
            recover(ground)
        return True


def _replace(
    ground: Ground,
    artifacts: tuple[Artifact | Kept, ...],
    manifest: Manifest,
    looks: Mapping[str, Look],
    spare: Path | None,
) -> Written:
    seen = looks_inside(ground.target) if looks and ground.target_identity else None
    before = _allowed(ground, manifest, seen)
    same = _same(before.manifest, manifest, looks, seen.files if seen else {})
    if before.manifest == manifest and _difference(ground.target, manifest, same) is None:
        return _summary(before, manifest, {}, unchanged=True)
    with _discarding(ground):
        kept = take_spare(ground, spare, manifest, same)
        linked = _write_new(ground, artifacts, manifest, same, kept)
        _verify(ground.new, artifacts, manifest, linked, {path: same[path] for path in kept})
        survey_again(ground)
        before = _allowed(ground, manifest)  # again, for writing takes time
        swap(ground)
    try:
        settle(ground, partial(put_aside, ground, spare, manifest, same))
    except (OSError, GuideError) as cause:
        raise OutputFailed(
            f"the new site is in place, but the end of the work in {shown(str(ground.old))} failed "
            f"and is left to the next build: {_reason(cause)}"
        ) from cause
    untouched = {} if before.foreign else {path: same[path] for path in kept}
    return _summary(before, manifest, untouched, unchanged=False)


def _allowed(ground: Ground, manifest: Manifest, seen: Inside[Look] | None = None) -> Holding:
    """Look at what the target holds; raise OutputRefused if the site cannot take its place."""
    if ground.target_identity is None:
        return Holding(None, ())
    held_now = holding(ground.target, seen)
    # case is folded, for there are disks that do not tell it apart
    taken = [path for path in held_now.foreign if _collides(path.casefold(), manifest)]
    if taken:
        raise OutputRefused(
            f"{shown(str(ground.target))} holds files that this tool did not write, where the new "
            f"site has its own; move or rename {named(taken)}"
        )
    return held_now


def _collides(path: str, manifest: Manifest) -> bool:
    place = PurePosixPath(path)
    return (
        str(place) in manifest.files
        or (not path.endswith("/") and path in manifest.folders)
        or any(str(parent) in manifest.files for parent in place.parents)
    )


def _same(
    before: Manifest | None,
    manifest: Manifest,
    looks: Mapping[str, Look],
    seen: Mapping[str, Look],
) -> dict[str, Look]:
    """Give the files of the site that is there whose bytes are known to be those wanted."""
    if before is None or not looks:
        return {}
    earlier = {entry.path: entry.sha256 for entry in before.entries}
    return {
        entry.path: seen[entry.path]
        for entry in manifest.entries
        if earlier.get(entry.path) == entry.sha256
        and entry.path in seen
        and looks.get(entry.path) == seen[entry.path]
    }


def _write_new(
    ground: Ground,
    artifacts: tuple[Artifact | Kept, ...],
    manifest: Manifest,
    same: Collection[str],
    kept: frozenset[str],
) -> frozenset[str]:
    """Write all files into a folder that must not exist yet, but those it has, and make them last.

    Gives the files that the earlier site has under the same name too.
    """
    new = ground.new
    if not kept:
        new.mkdir()
        # the marker comes first, so that whatever is found here later is told from foreign files
        create_file(new / MARKER, manifest.text)
        sync_file(new / MARKER)
    sync_folder(new)
    for folder in sorted(manifest.folders):
        if not kept or not (new / folder).is_dir():
            (new / folder).mkdir()
    place, target = str(new), str(ground.target)  # paths are text here, for speed
    linked = set(kept)
    for artifact in artifacts:
        path = artifact.entry.path
        if path in kept:
            continue
        if path in same and link_file(f"{place}/{path}", f"{target}/{path}"):
            linked.add(path)
        elif isinstance(artifact, Artifact):
            create_file(f"{place}/{path}", artifact.content)
        elif not link_file(f"{place}/{path}", artifact.file):
            create_file(f"{place}/{path}", read_file(artifact.file, artifact.entry.size))
    _make_last(new, manifest, frozenset(linked))
    return frozenset(linked)


def _make_last(new: Path, manifest: Manifest, linked: frozenset[str]) -> None:
    written = [entry.path for entry in manifest.entries if entry.path not in linked]
    if len(written) > _MANY:
        sync_all()
        return
    for path in written:  # in a second round, for then the disk has begun already
        sync_file(new / path)
    for folder in sorted(manifest.folders):
        sync_folder(new / folder)
    sync_folder(new)


def _verify(
    new: Path,
    artifacts: tuple[Artifact | Kept, ...],
    manifest: Manifest,
    linked: frozenset[str],
    kept: Mapping[str, Look],
) -> None:
    """Read the new site again and raise OutputFailed if it is not what it should be.

    Of the files that it had already, each must be the one that was seen.
    """
    inside = names_inside(new)
    strange = (inside.files.keys() ^ {*manifest.files, MARKER}) | (
        inside.folders ^ manifest.folders
    )
    wrong = sorted({*strange, *inside.others})
    wrong = wrong or [p for p, look in kept.items() if inside.files[p] != look.place]
    if not wrong:
        differs = _difference(new, manifest, linked)
        wrong = [differs] if differs else []
    if wrong:
        told = (
            "the site as written is not the site as made, which points to a failing disk or to "
            f"another program in {shown(str(new))}; see {named(wrong)}"
        )
        damaged = tuple(_damaged(each for each in artifacts if each.entry.path not in linked))
        raise KeptDamaged(told, damaged) if damaged else OutputFailed(told)


def _damaged(artifacts: Iterable[Artifact | Kept]) -> Iterator[str]:
    """Give the files kept elsewhere that do not hold what they were kept for."""
    for each in artifacts:
        if isinstance(each, Kept):
            try:
                content = read_file(each.file, each.entry.size)
            except (OSError, OutputRefused):
                content = None
            if content is None or Entry.of(each.entry.path, content) != each.entry:
                yield str(each.file)


def _difference(folder: Path, manifest: Manifest, known: Collection[str]) -> str | None:
    """Name the first file of a site that is not, byte for byte, what its manifest says.

    Files whose bytes are known are not read.
    """
    marker = manifest.text
    entries = (entry for entry in manifest.entries if entry.path not in known)
    for entry in (Entry.of(MARKER, marker), *entries):
        try:
            content = read_file(f"{folder}/{entry.path}", entry.size)
        except (OSError, OutputRefused):
            return entry.path
        if Entry.of(entry.path, content) != entry:
            return entry.path
    return None


def _summary(
    before: Holding, manifest: Manifest, untouched: Mapping[str, Look], *, unchanged: bool
) -> Written:
    earlier = before.manifest or Manifest(())
    known = {entry.path: entry.sha256 for entry in earlier.entries}
    fresh = () if not untouched else (MARKER, *(manifest.files - untouched.keys()))
    return Written(
        files=len(manifest.entries),
        size=sum(entry.size for entry in manifest.entries),
        changed=sum(known.get(entry.path) != entry.sha256 for entry in manifest.entries),
        removed=len(earlier.files - manifest.files),
        unchanged=unchanged,
        foreign=before.foreign,
        untouched=untouched,
        fresh=fresh,
    )


@contextmanager
def _discarding(ground: Ground) -> Iterator[None]:
    """Remove the new folder if it is not put in place, and say what could not be removed."""
    try:
        yield
    except BaseException as cause:
        with suppress(OSError, GuideError):
            discard(ground)
        if not isinstance(cause, (OSError, MemoryError)):
            raise
        left = ""
        if os.path.lexists(ground.new):
            left += f"; {shown(str(ground.new))} is left behind, and the next build removes it"
        if os.path.lexists(ground.old) and not os.path.lexists(ground.target):
            left += f"; the old site stands in {shown(str(ground.old))}, the next build restores it"
        raise OutputFailed(_failed(ground.target, cause) + left) from cause


@contextmanager
def _told(target: Path) -> Iterator[None]:
    """Tell a failure of the machine in one line."""
    try:
        yield
    except (OSError, MemoryError) as cause:
        raise OutputFailed(_failed(target, cause)) from cause


def _failed(target: Path, cause: BaseException) -> str:
    return f"the site could not be written to {shown(str(target))}: {_reason(cause)}"


def _reason(cause: BaseException) -> str:
    if isinstance(cause, MemoryError):
        return "there is not enough memory"
    if isinstance(cause, OSError):
        where = f" at {shown(str(cause.filename))}" if cause.filename else ""
        return f"{(cause.strerror or 'no reason given').lower()}{where}"
    return str(cause)
