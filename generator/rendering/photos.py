"""The files of the photos that pages show, each made of pixels alone.

A file is kept under the digest of the photo it was made of: one photo beside two records is made
once. Photos that no record shows, or that have an error, are made into nothing.
"""

from collections.abc import Iterator, Mapping
from pathlib import Path, PurePosixPath

from generator.cache.digests import digest
from generator.cache.program import program
from generator.cache.store import Store
from generator.reading.photos import PhotoFile, picture_of
from generator.reading.pictures.parts import NoPicture
from generator.reading.pictures.pixels import files
from generator.reading.trouble import GuideError
from generator.records.library import Library, photo_path
from generator.rendering.manifest import Artifact, Entry, Kept
from generator.site.guide import Guide
from generator.site.photos_shown import sources_of


def files_of_photos(content: Path, guide: Guide, store: Store) -> tuple[Kept, ...]:
    """Make the files of all photos that are shown, in order of address, or give those kept.

    Raises GuideError if a photo changed since it was looked at.
    """
    kept = (
        Kept(entry, store.path_of_file(entry.sha256))
        for photo in shown_photos(guide.library).values()
        for entry in _entries(content, photo, store)
    )
    return tuple(sorted(kept, key=lambda each: each.entry.path))


def _entries(content: Path, photo: PhotoFile, store: Store) -> tuple[Entry, ...]:
    name = digest("photo", program(), photo.sha256)
    known: tuple[Entry, ...] | None = store.get(name)
    if known is not None and all(store.has_file(entry.sha256) for entry in known):
        return known
    made = tuple(
        Entry(str(each.path), len(each.content), store.keep_file(each.content))
        for each in _made(content, photo)
    )
    store.put(name, made)
    return made


def photo_artifact(content: Path, guide: Guide, path: str) -> bytes | None:
    """Make the file at one address; None where the guide has none."""
    for photo in shown_photos(guide.library).values():
        if any(source.path == path for source in sources_of(photo)):
            made = {str(each.path): each.content for each in _made(content, photo)}
            return made[path]
    return None


def shown_photos(library: Library) -> Mapping[str, PhotoFile]:
    """Give the photos that some record shows, by digest."""
    beside = library.photos or {}
    wanted = {
        photo_path(name, photo) for name, each in library.listed.items() for photo in each.photos
    }
    found = (beside[path] for path in sorted(wanted) if path in beside)
    return {photo.sha256: photo for photo in found if photo.is_sound}


def _made(content: Path, photo: PhotoFile) -> Iterator[Artifact]:
    try:
        made = tuple(files(picture_of(content, photo)))
    except NoPicture as trouble:
        raise GuideError(f"`{photo.path}` cannot be shown: {trouble.headline}") from trouble
    for source, body in zip(sources_of(photo), made, strict=True):
        yield Artifact(PurePosixPath(source.path), body)
