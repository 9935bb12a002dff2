"""What a build asks of the records of one chassis before it reads any of them.

Files of one chassis that are as they were are not read again: what the rules said of them is kept,
with the day and the photos of each record, and what other chassis are compared by. Where something
is amiss that could reach beyond the chassis (a file that cannot be read whole, a record that names
another chassis), nothing is kept, and the rules look at those records together.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from functools import cached_property, lru_cache, partial
from typing import cast

from generator.cache.digests import digest
from generator.cache.program import program
from generator.cache.store import Store
from generator.frozen import dataclass
from generator.reading.fault import Fault
from generator.reading.folder import Found
from generator.reading.photos import PhotoFile
from generator.records.chassis import Chassis
from generator.records.checking import (
    Ties,
    check_across,
    check_club,
    check_dates,
    check_within,
    in_folders,
    ties_of,
)
from generator.records.collect import Collected, ReadFile, collect
from generator.records.library import Filed, Kind, Library, setup_path, sheet_path
from generator.records.record_dates import dates_of
from generator.records.setup import Setup
from generator.records.shelf import Listed, Shelf, Unread
from generator.remembered import Remembered
from generator.workers import Crew

_MANY = 24
"""Files; fewer are read by one process, sooner than others could begin."""
_HELD = 256
"""Files that are held once they were asked for; a part of a guide holds its own."""


@dataclass(frozen=True)
class Group:
    """The files of one chassis: its sheet, its records and their photos."""

    name: str
    files: tuple[Found, ...]
    photos: tuple[PhotoFile, ...]

    @cached_property
    def key(self) -> str:
        """A name for what is kept of the group: all that it follows from."""
        texts = (part for file in self.files for part in (file.path, file.content))
        return digest("gist", program(), self.name, *texts, repr(self.photos))


@dataclass(frozen=True)
class Gist:
    """What is asked of a group: its faults, its records, what it shares with others.

    `latest` is the last day that any of its records bears.
    """

    faults: tuple[Fault, ...]
    listed: Mapping[str, Listed]
    ties: Ties
    latest: date | None


@dataclass(frozen=True)
class Known:
    """A content folder as a build knows it: each record on its shelf, and all faults."""

    library: Library
    faults: frozenset[Fault]


def known_of(
    files: Iterable[Found], photos: Iterable[PhotoFile], *, today: date, store: Store, crew: Crew
) -> Known:
    """Read what changed of the files of a content folder, and check all of it."""
    remembered = Remembered(store)
    groups, others, loose = _grouped(files, photos)
    reader = _Reader(groups, others, loose, remembered)
    gists = {name: gist for name, gist in _gists(groups, store, crew) if gist is not None}
    rest = _rest(gists, reader)
    library = _whole(gists, rest.library, reader)
    late = {name for name, gist in gists.items() if gist.latest and gist.latest > today}
    ties = {name: gist.ties for name, gist in gists.items()}
    ties |= {name: ties_of(in_folders(library, {name})) for name in groups if name not in gists}
    faults = {fault for gist in gists.values() for fault in gist.faults}
    faults |= {*rest.faults, *check_within(rest.library, of_case=remembered.faults)}
    faults |= {*check_club(library), *check_across(library, ties)}
    faults |= {*check_dates(in_folders(library, late), today), *check_dates(rest.library, today)}
    return Known(library, frozenset(faults))


class _Reader:
    """The files of a content folder, of which a few are held once they were read."""

    def __init__(
        self,
        groups: Mapping[str, Group],
        others: tuple[Found, ...],
        loose: tuple[PhotoFile, ...],
        remembered: Remembered,
    ) -> None:
        self.groups = groups
        self._others = others
        self._loose = loose
        self._read_file = cast("ReadFile", lru_cache(_HELD)(remembered.file))
        self._found = {file.path: file for group in groups.values() for file in group.files}

    def together(self, names: Iterable[str]) -> Collected:
        """Read the files of some chassis, and those that belong to none."""
        groups = [self.groups[name] for name in sorted(names)]
        files = [*self._others, *(file for group in groups for file in group.files)]
        photos = [*self._loose, *(photo for group in groups for photo in group.photos)]
        return collect(files, photos, read_file=self._read_file)

    def sheets(self, names: Iterable[str]) -> Mapping[str, Filed[Chassis]]:
        """Give sheets that can be read, in order of path, each read when it is asked for."""
        ordered = dict.fromkeys(sorted(names, key=sheet_path))
        return Unread(ordered, lambda name: self._again(Chassis, name, sheet_path(name)))

    def setup(self, name: str) -> Filed[Setup]:
        """Read a setup that can be read."""
        return self._again(Setup, name, setup_path(name))

    def _again(self, model: type[Kind], name: str, path: str) -> Filed[Kind]:
        filed, _ = self._read_file(model, name, self._found[path])
        if filed is None:
            raise ValueError(f"{path} was read before and cannot be read now")
        return filed


def _grouped(
    files: Iterable[Found], photos: Iterable[PhotoFile]
) -> tuple[dict[str, Group], tuple[Found, ...], tuple[PhotoFile, ...]]:
    """Part files and photos by chassis, in order of path; give those that belong to none too."""
    of_files: dict[str, list[Found]] = {}
    others = []
    for file in sorted(files, key=lambda each: each.path):
        folder, _, rest = file.path.partition("/")
        if folder in ("chassis", "setups"):
            name = rest.removesuffix(".yaml").partition("/")[0]
            of_files.setdefault(name, []).append(file)
        else:
            others.append(file)
    of_photos: dict[str, list[PhotoFile]] = {name: [] for name in of_files}
    loose: list[PhotoFile] = []
    for photo in photos:
        of_photos.get(photo.path.split("/")[1], loose).append(photo)
    groups = {
        name: Group(name, tuple(found), tuple(of_photos[name])) for name, found in of_files.items()
    }
    return groups, tuple(others), tuple(loose)


def _gists(
    groups: Mapping[str, Group], store: Store, crew: Crew
) -> Iterator[tuple[str, Gist | None]]:
    missing = []
    for name, group in groups.items():
        kept: Gist | None = store.get(group.key)
        if kept is None:
            missing.append(group)
        else:
            yield name, kept
    make = partial(gist_of, store=store)
    many = sum(len(group.files) for group in missing) >= _MANY
    made = crew.mapped(make, missing) if many else map(make, missing)
    yield from zip((group.name for group in missing), made, strict=True)


def gist_of(group: Group, store: Store) -> Gist | None:
    """Read and check one chassis, and keep what came of it; None where it does not stand alone."""
    remembered = Remembered(store)
    collected = collect(group.files, group.photos, read_file=remembered.file)
    library = collected.library
    gist = None
    if _stands_alone(group.name, library):
        faults = (*collected.faults, *check_within(library, of_case=remembered.faults))
        setups = [filed.value for filed in library.setups.values()]
        latest = max((day for setup in setups for day, _, _ in dates_of(setup)), default=None)
        gist = Gist(faults, library.listed, ties_of(library), latest)
        store.put(group.key, gist)
    return gist


def _stands_alone(name: str, library: Library) -> bool:
    return (
        not library.unread
        and name in library.chassis
        and all(filed.is_complete for filed in library.chassis.values())
        and all(filed.is_complete for filed in library.setups.values())
        and all(each.chassis == name for each in library.listed.values())
    )


def _rest(gists: Mapping[str, Gist], reader: _Reader) -> Collected:
    """Read what no gist speaks for, with all sheets and the chassis that are named from there."""
    leaning = reader.groups.keys() - gists.keys()
    rest = reader.together(leaning)
    named = {each.chassis for each in rest.library.listed.values()} & reader.groups.keys()
    if not leaning:
        return rest
    rest = reader.together(leaning | named)
    sheets = reader.sheets(gists.keys() | rest.library.chassis.keys())
    return replace(rest, library=replace(rest.library, chassis=sheets))


def _whole(gists: Mapping[str, Gist], rest: Library, reader: _Reader) -> Library:
    """Give all of the library, with every record on its shelf."""
    known = dict(rest.listed)
    for gist in gists.values():
        known |= gist.listed
    photos = {photo.path: photo for group in reader.groups.values() for photo in group.photos}
    return replace(
        rest,
        chassis=reader.sheets(gists.keys() | rest.chassis.keys()),
        setups=Shelf({name: known[name] for name in sorted(known, key=setup_path)}, reader.setup),
        photos=dict(sorted({**photos, **(rest.photos or {})}.items())),
    )
