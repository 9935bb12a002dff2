"""The files of a content folder, in a fixed order, ordinary files only."""

import os
import re
import stat
from collections.abc import Iterator
from pathlib import Path

from generator.frozen import dataclass
from generator.reading.decoding import LARGEST
from generator.reading.fault import Fault, Place, Severity
from generator.reading.text import shown
from generator.reading.trouble import GuideError

_STEM = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*\Z")
_ENDINGS = (".yaml", ".md")
_PHOTO_ENDINGS = (".jpg", ".png", ".webp")
PHOTOS = "photos"
_DEVICES = frozenset({"con", "nul", "aux", "prn"})
_RESERVED = _DEVICES | {"index"} | {f"{port}{n}" for port in ("com", "lpt") for n in range(10)}
"""Names of devices on some systems, and the name of a folder's own page."""
_LONGEST_NAME = 85


@dataclass(frozen=True)
class Found:
    """One file: its path below the content folder, with forward slashes, and its bytes."""

    path: str
    content: bytes


def content_files(folder: Path) -> tuple[tuple[Found, ...], tuple[Fault, ...]]:
    """Read all records and articles of a content folder, and say which files are not read.

    Raises GuideError if the folder cannot be read.
    """
    if not folder.is_dir():
        raise GuideError(f"there is no folder `{folder}`")
    found, faults = [], []
    for path in sorted(walk(folder, without=PHOTOS)):
        name = "/".join(path.relative_to(folder).parts)
        fault = oddity(path, name)
        if fault is not None:
            faults.append(fault)
        elif is_wanted(name):
            found.append(Found(name, read_at_most(path, LARGEST)))
    return tuple(found), tuple(faults)


def one_file(path: Path) -> bytes:
    """Read one file named on the command line.

    Raises GuideError if it cannot be read.
    """
    return read_at_most(path, LARGEST)


def walk(folder: Path, *, without: str = "") -> Iterator[Path]:
    """Give all files below a folder, and what is odd in place of one; links are not followed.

    `without` names one thing in the folder itself that is passed by. Raises GuideError if a folder
    cannot be read.
    """
    try:
        entries = sorted(os.scandir(folder), key=lambda entry: entry.name)
    except OSError as error:
        raise GuideError(f"cannot read the folder `{folder}`: {error.strerror}") from error
    for entry in entries:
        if entry.name.startswith(".") or entry.name == without:
            continue
        path = folder / entry.name
        is_file = entry.name.endswith((*_ENDINGS, *_PHOTO_ENDINGS))
        if entry.is_dir(follow_symlinks=False) and not is_file:
            yield from walk(path)
        else:
            yield path


def is_wanted(name: str) -> bool:
    """Tell whether a file of the guide is read from this path."""
    parts = name.split("/")
    if len(parts) == 1:
        return name == "club.yaml"
    if parts[0] == "articles":
        return len(parts) == 2 and name.endswith(".md")
    depth = {"chassis": 2, "setups": 3}.get(parts[0])
    return len(parts) == depth and name.endswith(".yaml")


def is_photo(name: str) -> bool:
    """Tell whether a photo of the guide is read from this path."""
    parts = name.split("/")
    return len(parts) == 4 and parts[0] == PHOTOS and name.endswith(_PHOTO_ENDINGS)


def oddity(path: Path, name: str) -> Fault | None:
    """Say why a file is not read, if it is not: a link, an odd name, a place without records."""
    mode = path.lstat().st_mode
    if not stat.S_ISREG(mode):
        place = Place(shown(name, 200))
        kind = "a link" if stat.S_ISLNK(mode) else "not an ordinary file"
        return Fault("Y16", Severity.ERROR, "this is " + kind, place, "an ordinary file")
    return odd_name(name)


def odd_name(name: str) -> Fault | None:
    """Say what is odd about a path below the content folder, whatever kind of file it leads to."""
    place = Place(shown(name, 200))
    *folders, last = name.split("/")
    odd = next((part for part in folders if not _is_name(part)), None)
    if odd is not None:
        headline = f"`{shown(odd, 60)}` is not a name for a folder of the guide"
        expected = "lower-case letters, digits and hyphens"
        return Fault("Y16", Severity.ERROR, headline, place, expected)
    endings = _PHOTO_ENDINGS if folders[:1] == [PHOTOS] else _ENDINGS
    stem, dot, ending = last.rpartition(".")
    if not _is_name(stem) or dot + ending not in endings or len(last) > _LONGEST_NAME:
        headline = f"`{shown(last, 60)}` is not a name for a file of the guide"
        told = " or ".join([", ".join(f"`{each}`" for each in endings[:-1]), f"`{endings[-1]}`"])
        expected = f"lower-case letters, digits and hyphens, ending in {told}"
        return Fault("Y16", Severity.ERROR, headline, place, expected)
    if not is_wanted(name) and not is_photo(name):
        headline = "this file lies where no file of the guide is read"
        expected = (
            "club.yaml, chassis/…, setups/<chassis>/…, articles/… or photos/<chassis>/<setup>/…"
        )
        return Fault("Y16", Severity.WARNING, headline, place, expected)
    return None


def _is_name(stem: str) -> bool:
    return bool(_STEM.match(stem)) and stem not in _RESERVED and len(stem) <= _LONGEST_NAME


def read_at_most(path: Path, most: int) -> bytes:
    """Read a file without following a link, and one byte more than can be accepted at most.

    Raises GuideError if it cannot be read.
    """
    try:
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0))
        with os.fdopen(handle, "rb") as file:
            return file.read(most + 1)
    except OSError as error:
        raise GuideError(f"cannot read `{path}`: {error.strerror}") from error
