"""From files to a library: each file read as what its folder says it is, all faults kept."""

from collections.abc import Callable, Iterable
from functools import lru_cache, partial
from typing import Any, TypeAlias, TypeVar

from generator.frozen import dataclass
from generator.reading.fault import Fault, Place, Severity
from generator.reading.fields import Model
from generator.reading.folder import Found
from generator.reading.photos import PhotoFile
from generator.reading.reader import read
from generator.reading.source import load
from generator.records.article import LONGEST_ARTICLE, ArticleHead, split_article
from generator.records.chassis import Chassis
from generator.records.club import Club
from generator.records.library import Article, Filed, Library
from generator.records.setup import Setup

Kind = TypeVar("Kind", bound=Model)

_REMEMBERED = 4096
"""Files; a program that reads the records again and again reads what changed."""
FileRead: TypeAlias = tuple[Filed[Any] | None, tuple[Fault, ...]]
"""What came of one file, and its faults."""
ReadFile: TypeAlias = Callable[[type[Any], str, Found], FileRead]
"""Reads a file as a model, under an id."""


@dataclass(frozen=True)
class Collected:
    """The library as far as it could be read, and the faults of single files."""

    library: Library
    faults: tuple[Fault, ...]
    files: int


def collect(
    files: Iterable[Found],
    photos: Iterable[PhotoFile] | None = None,
    *,
    read_file: ReadFile | None = None,
) -> Collected:
    """Read files into a library. The order of the files does not matter.

    `photos` are those that lie beside the records; None if nobody looked. `read_file` may remember
    what `file_of` gave for a file; without one, it is remembered as long as the program lasts.
    """
    clubs: dict[str, Filed[Club]] = {}
    chassis: dict[str, Filed[Chassis]] = {}
    setups: dict[str, Filed[Setup]] = {}
    articles: dict[str, Article] = {}
    faults: list[Fault] = []
    ordered = sorted(files, key=lambda file: file.path)
    read_one = partial(_file, read_file or file_read_once)
    for file in ordered:
        folder, _, name = file.path.partition("/")
        stem = name.rsplit(".", 1)[0]
        if file.path == "club.yaml":
            faults += read_one(Club, "club", file, clubs)
        elif folder == "chassis":
            faults += read_one(Chassis, stem, file, chassis)
        elif folder == "setups":
            faults += read_one(Setup, stem, file, setups)
        elif folder == "articles":
            faults += _article(stem, file, articles)
    held = [filed.source.path for group in (clubs, chassis, setups) for filed in group.values()]
    unread = {file.path for file in ordered} - {*held, *(each.path for each in articles.values())}
    beside = None if photos is None else {photo.path: photo for photo in photos}
    library = Library(clubs.get("club"), chassis, setups, articles, frozenset(unread), beside)
    return Collected(library, tuple(faults), len(ordered))


def _file(
    read_file: ReadFile, model: type[Kind], name: str, file: Found, into: dict[str, Filed[Kind]]
) -> tuple[Fault, ...]:
    filed, faults = read_file(model, name, file)
    if filed is not None:
        into[name] = filed
    return faults


def file_read_once(model: type[Kind], name: str, file: Found) -> FileRead:
    """Read one file. The same bytes at the same path are read once in a program."""
    return _filed(model, name, file)


@lru_cache(maxsize=_REMEMBERED)
def _filed(model: type[Any], name: str, file: Found) -> FileRead:
    return file_of(model, name, file)


def file_of(model: type[Kind], name: str, file: Found) -> FileRead:
    """Read one file. Nothing of it is held."""
    source, faults = load(file.path, file.content)
    if source is None:
        return None, faults
    reading = read(model, source)
    if reading.partial is None:
        return None, reading.faults
    is_whole = reading.value is not None
    return Filed(name, reading.partial, reading.source, is_whole), reading.faults


def _article(name: str, file: Found, into: dict[str, Article]) -> tuple[Fault, ...]:
    if len(file.content) > LONGEST_ARTICLE:
        headline = f"this article has {len(file.content)} bytes"
        expected = f"at most {LONGEST_ARTICLE}"
        return (Fault("Y01", Severity.ERROR, headline, Place(file.path), expected),)
    source, text, faults = split_article(file.path, file.content)
    if source is None:
        return faults
    reading = read(ArticleHead, source)
    if reading.value is not None:
        into[name] = Article(name, reading.value, text, file.path)
    return (*faults, *reading.faults)
