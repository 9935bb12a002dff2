"""Writing a site so that readers find the whole old one or the whole new one, whatever happens.

The steps: look at the ground, take the lock, mend what a crash left, write everything into a new
folder beside the target, read all of it again, swap by two renames, clear the old folder. A
target is replaced only if it is absent, empty (a lone `.gitignore` is kept) or holds our marker.

Files in it that this tool did not write are foreign: they are never deleted or overwritten. They
are carried over into the new site by rename, at once after the swap, and listed in the result. If
the new site wants the place of one of them, or if a link or special file is among them, nothing is
written at all.
"""

import os
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path, PurePosixPath

from generator.frozen import dataclass
from generator.reading.trouble import GuideError, shown
from generator.rendering.disk import (
    Kind,
    OutputFailed,
    OutputRefused,
    create_file,
    link_file,
    read_file,
    sync_all,
    sync_file,
    sync_folder,
    walk,
)
from generator.rendering.ground import Ground, survey, survey_again
from generator.rendering.lock import held
from generator.rendering.looks import Look, look_at
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

__all__ = [
    "Artifact",
    "Kept",
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
    """

    files: int
    size: int
    changed: int
    removed: int
    unchanged: bool
    foreign: tuple[str, ...]


def write_site(
    artifacts: Iterable[Artifact | Kept],
    target: Path,
    *,
    source: Path,
    looks: Mapping[str, Look] | None = None,
) -> Written:
    """Replace the site at `target` by these files, or raise a GuideError and leave it whole.

    `looks` are those of the files of the site that is there, when their bytes were last seen to be
    those of its list. A file that still has its look, and is wanted, is not written anew: it gets a
    second name in the new site. Files are never changed in place, so that no name of one can change
    what another shows.

    OutputRefused: nothing was changed, for the reason given. OutputFailed: the machine failed;
    the old site is whole in its place, unless the message says that the new one is.
    """
    listed = tuple(artifacts)
    manifest = manifest_of(listed)
    if not manifest.entries:
        raise OutputRefused("there is no file to write, and a site is not replaced by nothing")
    with _told(target):
        ground = survey(target, source=source)
        with held(ground.lock):
            recover(ground)
            return _replace(survey(target, source=source), listed, manifest, looks or {})


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
) -> Written:
    before = _allowed(ground, manifest)
    same = _same(ground.target, before.manifest, manifest, looks)
    if before.manifest == manifest and _difference(ground.target, manifest, same) is None:
        return _summary(before, manifest, unchanged=True)
    with _discarding(ground):
        linked = _write_new(ground, artifacts, manifest, same)
        _verify(ground.new, manifest, linked)
        survey_again(ground)
        before = _allowed(ground, manifest)  # again, for writing takes time
        swap(ground)
    try:
        settle(ground)
    except (OSError, GuideError) as cause:
        raise OutputFailed(
            f"the new site is in place, but the end of the work in {shown(str(ground.old))} failed "
            f"and is left to the next build: {_reason(cause)}"
        ) from cause
    return _summary(before, manifest, unchanged=False)


def _allowed(ground: Ground, manifest: Manifest) -> Holding:
    """Look at what the target holds; raise OutputRefused if the site cannot take its place."""
    if ground.target_identity is None:
        return Holding(None, ())
    held_now = holding(ground.target)
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
    target: Path, before: Manifest | None, manifest: Manifest, looks: Mapping[str, Look]
) -> frozenset[str]:
    """Name the files of the site that is there whose bytes are known to be those wanted."""
    if before is None or not looks:
        return frozenset()
    earlier = {entry.path: entry.sha256 for entry in before.entries}
    wanted = (e.path for e in manifest.entries if earlier.get(e.path) == e.sha256)
    return frozenset(path for path in wanted if looks.get(path) == look_at(f"{target}/{path}"))


def _write_new(
    ground: Ground,
    artifacts: tuple[Artifact | Kept, ...],
    manifest: Manifest,
    same: frozenset[str],
) -> frozenset[str]:
    """Write all files into a folder that must not exist yet, and make them last.

    Gives the files that the earlier site has under the same name too.
    """
    new = ground.new
    new.mkdir()
    # the marker comes first, so that whatever is found here later can be told from foreign files
    create_file(new / MARKER, manifest.text)
    sync_file(new / MARKER)
    sync_folder(new)
    for folder in sorted(manifest.folders):
        (new / folder).mkdir()
    linked = set()
    for artifact in artifacts:
        path = artifact.entry.path
        place = f"{new}/{path}"  # paths are text here, for speed
        if path in same and link_file(place, f"{ground.target}/{path}"):
            linked.add(path)
        elif isinstance(artifact, Artifact):
            create_file(place, artifact.content)
        elif not link_file(place, artifact.file):
            create_file(place, read_file(artifact.file, artifact.entry.size))
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


def _verify(new: Path, manifest: Manifest, known: frozenset[str]) -> None:
    """Read the new site again and raise OutputFailed if it is not what it should be."""
    kinds = {found.path: found.kind for found in walk(new)}
    expected = dict.fromkeys((*manifest.files, MARKER), Kind.FILE)
    expected.update(dict.fromkeys(manifest.folders, Kind.FOLDER))
    wrong = sorted(path for path, _ in kinds.items() ^ expected.items())
    if not wrong:
        differs = _difference(new, manifest, known)
        wrong = [differs] if differs else []
    if wrong:
        raise OutputFailed(
            "the site as written is not the site as made, which points to a failing disk or to "
            f"another program in {shown(str(new))}; see {named(wrong)}"
        )


def _difference(folder: Path, manifest: Manifest, known: frozenset[str]) -> str | None:
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


def _summary(before: Holding, manifest: Manifest, *, unchanged: bool) -> Written:
    earlier = before.manifest or Manifest(())
    return Written(
        files=len(manifest.entries),
        size=sum(entry.size for entry in manifest.entries),
        changed=len(set(manifest.entries) - set(earlier.entries)),
        removed=len(earlier.files - manifest.files),
        unchanged=unchanged,
        foreign=before.foreign,
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
