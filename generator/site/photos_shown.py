"""The photos of a setup as its page shows them: words, sizes, and addresses by content.

An address holds the digest of the photo that was sent, so that a browser may keep what it has for
good, and a photo that is replaced has another address.
"""

from collections.abc import Iterator, Mapping

from generator.frozen import dataclass
from generator.reading.photos import PhotoFile
from generator.reading.pictures.pixels import sizes
from generator.records.library import Case, photo_path
from generator.site import urls
from generator.site.guide import Guide
from generator.site.readings import named

_DEFAULT_WIDTH = 800


@dataclass(frozen=True)
class Source:
    """One file of a photo: its address and its width in pixels."""

    path: str
    width: int


@dataclass(frozen=True)
class PhotoShown:
    """One photo. `width` and `height` are those of the file that is loaded where none is chosen."""

    alt: str
    caption: str
    site: str
    width: int
    height: int
    main: Source
    largest: Source
    sources: tuple[Source, ...]


def photos_shown(guide: Guide, case: Case) -> tuple[PhotoShown, ...]:
    """Give the photos of a setup that can be shown, in the order of the record."""
    return tuple(_shown(guide.library.photos or {}, case))


def _shown(beside: Mapping[str, PhotoFile], case: Case) -> Iterator[PhotoShown]:
    for photo in case.setup.value.photos:
        file = beside.get(photo_path(case.setup.id, photo.file))
        if file is None or not file.is_sound:
            continue
        sources = sources_of(file)
        fitting = [source for source in sources if source.width <= _DEFAULT_WIDTH]
        main = fitting[-1]
        sites = case.sites(photo.site) if photo.site else ()
        yield PhotoShown(
            alt=photo.alt,
            caption=photo.caption or "",
            site=named(sites[0]) if sites else photo.site or "",
            width=main.width,
            height=next(s.height for s in sizes(file.width, file.height) if s.width == main.width),
            main=main,
            largest=sources[-1],
            sources=sources,
        )


def sources_of(file: PhotoFile) -> tuple[Source, ...]:
    """Give the files that are made of a photo, the smallest first."""
    return tuple(
        Source(urls.photo(file.sha256, size.width), size.width)
        for size in sizes(file.width, file.height)
    )
