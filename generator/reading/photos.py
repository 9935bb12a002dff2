"""The photos of a content folder: which there are, what is wrong with each, and their bytes.

A photo lies at photos/<chassis>/<setup>/<name>: beside its record, which names it by its last part.
Its bytes are not kept in memory: they are looked at, and read once more when the guide is written.
"""

from hashlib import sha256
from pathlib import Path

from generator.frozen import dataclass
from generator.reading.fault import Fault, Place, Severity
from generator.reading.folder import PHOTOS, is_photo, oddity, read_at_most, walk
from generator.reading.pictures.picture import LARGEST_PHOTO, NoPicture, Picture, look
from generator.reading.pictures.pixels import check_pixels
from generator.reading.text import shown
from generator.reading.trouble import GuideError

_REMEMBERED = 8192
_MOST_PHOTOS = 20_000


@dataclass(frozen=True)
class PhotoFile:
    """A photo: its path below the content folder, its digest, and its size.

    `width` and `height` are those of the upright picture, in pixels; `size` is in bytes. A photo
    with an error is not sound and is not shown.
    """

    path: str
    sha256: str
    size: int
    width: int
    height: int
    is_sound: bool = True


@dataclass(frozen=True)
class _Seen:
    """What a look at some bytes found, whatever their path."""

    width: int = 0
    height: int = 0
    trouble: NoPicture | None = None
    carried: tuple[str, ...] = ()
    is_located: bool = False


def photo_files(content: Path) -> tuple[tuple[PhotoFile, ...], tuple[Fault, ...]]:
    """Look at all photos of a content folder, and say which cannot be shown, and why.

    Raises GuideError if a folder or file cannot be read.
    """
    folder = content / PHOTOS
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        odd = oddity(folder, PHOTOS)
        return (), (odd,) if odd else ()
    if not folder.is_dir():
        return (), ()
    found: list[PhotoFile] = []
    faults: list[Fault] = []
    for path in sorted(walk(folder)):
        name = "/".join(path.relative_to(content).parts)
        fault = oddity(path, name)
        if fault is not None:
            faults.append(fault)
        elif is_photo(name):
            if len(found) == _MOST_PHOTOS:
                raise GuideError(f"the folder holds more than {_MOST_PHOTOS} photos")
            photo, its_faults = photo_of(name, read_at_most(path, LARGEST_PHOTO))
            found.append(photo)
            faults += its_faults
    return tuple(found), tuple(faults)


def photo_of(path: str, content: bytes) -> tuple[PhotoFile, tuple[Fault, ...]]:
    """Look at one photo and say what is wrong with it."""
    digest = sha256(content).hexdigest()
    ending = f".{path.rpartition('.')[2]}"
    seen = _seen((digest, ending), content)
    place = Place(shown(path, 200))
    if seen.trouble is not None:
        it = seen.trouble
        fault = Fault(it.code, Severity.ERROR, it.headline, place, it.expected, "", it.fix)
        return PhotoFile(path, digest, len(content), 0, 0, is_sound=False), (fault,)
    is_sound = not seen.is_located
    photo = PhotoFile(path, digest, len(content), seen.width, seen.height, is_sound)
    if seen.is_located:
        return photo, (_located(place),)
    return photo, (_carrying(place, seen.carried),) if seen.carried else ()


def picture_of(content: Path, photo: PhotoFile) -> Picture:
    """Read a photo once more, to show it. Raises GuideError if it is not the one looked at."""
    body = read_at_most(content / photo.path, LARGEST_PHOTO)
    if sha256(body).hexdigest() != photo.sha256:
        raise GuideError(f"`{photo.path}` changed while the guide was made; build it again")
    return look(body, f".{photo.path.rpartition('.')[2]}")


_known: dict[tuple[str, str], _Seen] = {}


def _seen(key: tuple[str, str], content: bytes) -> _Seen:
    """Look at bytes, by digest and ending: a program looks at the same bytes once."""
    if key not in _known:
        if len(_known) >= _REMEMBERED:
            _known.clear()
        _known[key] = _looked(content, key[1])
    return _known[key]


def _looked(content: bytes, ending: str) -> _Seen:
    try:
        picture = look(content, ending)
        check_pixels(picture)
    except NoPicture as trouble:
        return _Seen(trouble=trouble)
    return _Seen(
        picture.width,
        picture.height,
        carried=picture.parts.carried,
        is_located=picture.is_located,
    )


def _located(place: Place) -> Fault:
    return Fault(
        "P04", Severity.ERROR, "this photo says where it was taken", place,
        "a picture without its place",
        "Whoever has the records can read it in the file, and git keeps the file for good.",
        "write it anew with `gapbook photo`, and send the change on a new branch",
    )  # fmt: skip


def _carrying(place: Place, carried: tuple[str, ...]) -> Fault:
    return Fault(
        "P05", Severity.NOTE, f"this photo carries {', '.join(carried)}", place,
        "the picture alone",
        "The guide shows the picture without it; in the file it stays among the records.",
        "write it anew with `gapbook photo`",
    )  # fmt: skip
