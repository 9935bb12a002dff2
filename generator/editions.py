"""Two states of the records side by side: from files or from git's objects to a review."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from hashlib import sha1, sha256
from pathlib import Path

from generator.cache.once import lend
from generator.cache.store import Store
from generator.computing import guide_of
from generator.memory import Memory, StoredMemory
from generator.reading.fault import Fault, Place, Severity
from generator.reading.folder import Found, content_files, read_at_most
from generator.reading.photos import PhotoFile, photo_files, photo_of
from generator.reading.pictures.picture import LARGEST_PHOTO
from generator.reading.trouble import GuideError
from generator.records.checking import check
from generator.records.collect import collect
from generator.review.edition import Edition
from generator.review.repository import Repository, Snapshot
from generator.review.review import Review, review
from generator.site import urls
from generator.site.planned import Planned, planned

_SHA1_DIGITS = 40


def edition(
    name: str,
    files: tuple[Found, ...],
    odd: tuple[Fault, ...],
    photos: tuple[PhotoFile, ...] = (),
    *,
    today: date,
    memory: Memory,
) -> Edition:
    """Compute one state of the records. Setups with errors are left out of its guide."""
    collected = collect(files, photos)
    faults = {
        *odd,
        *collected.faults,
        *check(collected.library, today=today, of_case=memory.faults),
    }
    ordered = tuple(sorted(faults, key=lambda fault: fault.order))
    texts = {file.path: file.content for file in files}
    if collected.library.club is None:
        return Edition(name, texts, ordered, None, Planned())
    guide = guide_of(collected, ordered, memory)
    return Edition(name, texts, ordered, guide, planned(guide, ordered))


def review_of(
    content: Path, base: str, head: str | None, *, today: date, store: Store | None = None
) -> tuple[Review, str]:
    """Compare a revision with the working tree, or with another revision merged into it.

    `store` spares what a build made. Gives the review, and the path of the content folder below
    the repository's top. Raises GuideError if there is no such revision, no repository, or nothing
    to compare.
    """
    repository = Repository(content)
    start = repository.commit(base)
    before = repository.snapshot(start)
    outside: tuple[str, ...] = ()
    named = {path: _named(path, name) for path, name in before.photos.items()}
    if head is None:
        files, odd = content_files(content)
        photos, unfit = _photos_on_disk(content, named)
        name = "the working tree"
    else:
        tree = repository.merged(start, repository.commit(head))
        after = repository.snapshot(tree)
        files, odd = after.files, after.odd
        photos, unfit = _photos_in(repository, after, named)
        outside = repository.outside(start, tree)
        name = f"{head}, merged"
    if not files:
        raise GuideError("there are no records to compare")
    if store is not None:
        lend(store)
    first = _memory(store)
    known = tuple(named.values())
    old = edition(base, before.files, before.odd, known, today=today, memory=first)
    new = edition(name, files, (*odd, *unfit), photos, today=today, memory=_memory(store, first))
    new = replace(new, faults=(*new.faults, *_ended(old, new)))
    return review(old, new, outside=outside), repository.prefix


def _memory(store: Store | None, earlier: Memory | None = None) -> Memory:
    return Memory(earlier) if store is None else StoredMemory(store, earlier)


def _ended(old: Edition, new: Edition) -> tuple[Fault, ...]:
    """Say which published pages would end: their file is gone, and no old address leads on."""
    if new.guide is None:
        return ()
    gone = (path for path in sorted(set(old.texts) - set(new.texts)))
    ways = {path: path.rpartition(".")[0] for path in gone if "/" in path}
    return tuple(
        Fault(
            "Y17", Severity.ERROR, "the page of this file is published and would end", Place(path),
            "an address that leads on", "Links to it stand in forums and on paper.",
            "put the file back, with `withdrawn: {date: …, reason: …}` if it no longer counts; or "
            f"add `- {{old: {way}, new: …}}` to `moved` in club.yaml if it has a new name",
        )
        for path, way in ways.items()
        if urls.record(way) in old.pages.addresses() - new.pages.addresses()
    )  # fmt: skip


def _named(path: str, name: str) -> PhotoFile:
    """Give a photo by the name that git has for its content; nobody looked into it."""
    return PhotoFile(path, name, 0, 1, 1)


def _photos_in(
    repository: Repository, after: Snapshot, before: Mapping[str, PhotoFile]
) -> tuple[tuple[PhotoFile, ...], tuple[Fault, ...]]:
    """Look into the photos that changed or came; the others were looked at in their time."""
    photos: list[PhotoFile] = []
    faults: list[Fault] = []
    for path, name in sorted(after.photos.items()):
        photo = _named(path, name)
        if before.get(path) != photo:
            looked, its_faults = photo_of(path, repository.photo(name))
            photo = looked
            faults += its_faults
        photos.append(photo)
    return tuple(photos), tuple(faults)


def _photos_on_disk(
    content: Path, before: Mapping[str, PhotoFile]
) -> tuple[tuple[PhotoFile, ...], tuple[Fault, ...]]:
    """Look into the photos of the folder; those that git has too are named as git names them."""
    photos, faults = photo_files(content)
    return tuple(_same(content, photo, before.get(photo.path)) for photo in photos), faults


def _same(content: Path, photo: PhotoFile, before: PhotoFile | None) -> PhotoFile:
    if before is None:
        return photo
    kind = sha1 if len(before.sha256) == _SHA1_DIGITS else sha256
    body = read_at_most(content / photo.path, LARGEST_PHOTO)
    name = kind(b"blob %d\0" % len(body) + body, usedforsecurity=False).hexdigest()
    return before if name == before.sha256 else photo
