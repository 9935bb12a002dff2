"""Checks folders and single files: what `gapbook check` shows."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Protocol

from generator.frozen import dataclass
from generator.reading.fault import Fault, Place
from generator.reading.folder import Found, content_files, oddity, one_file
from generator.reading.photos import photo_files
from generator.reading.text import shown
from generator.reading.trouble import GuideError
from generator.records.checking import check, check_case
from generator.records.collect import collect
from generator.records.library import Case, Library, sheet_path


@dataclass(frozen=True)
class Inspected:
    """All faults found, and how many files were looked at."""

    faults: tuple[Fault, ...]
    files: int


class Whole(Protocol):
    """Checks a whole content folder, as `check_folder` does."""

    def __call__(self, folder: Path, *, today: date) -> Inspected:
        """Give all faults below the folder."""


def inspect(paths: Iterable[Path], *, today: date, whole: Whole | None = None) -> Inspected:
    """Check content folders and single files.

    A single file is judged beside its chassis sheet and the other setups of that chassis; only
    its own faults are shown. Paths are as seen from the working folder. `whole` checks folders in
    place of `check_folder`, with the same faults. Raises GuideError if a path cannot be read.
    """
    faults: list[Fault] = []
    files = 0
    folders: dict[Path, list[str]] = {}
    for path in paths:
        if path.is_dir():
            found = (whole or check_folder)(path, today=today)
            faults += [_below(path, fault) for fault in found.faults]
            files += found.files
        else:
            folder = _content_folder(path)
            folders.setdefault(folder, []).append(path.resolve().relative_to(folder).as_posix())
    for folder, names in folders.items():
        near = folder.relative_to(Path.cwd()) if folder.is_relative_to(Path.cwd()) else folder
        faults += [_below(near, fault) for fault in _few(folder, names, today)[1]]
        files += len(names)
    return Inspected(tuple(sorted(set(faults), key=lambda fault: fault.order)), files)


def _below(folder: Path, fault: Fault) -> Fault:
    """Give a fault with paths that an editor and a forge find from where the command was given."""

    def seen(place: Place) -> Place:
        return replace(place, path=f"{shown((folder / 'x').as_posix(), 400)[:-1]}{place.path}")

    marks = tuple(replace(mark, place=seen(mark.place)) for mark in fault.also)
    return replace(fault, place=seen(fault.place), also=marks)


def check_folder(folder: Path, *, today: date) -> Inspected:
    """Check a whole content folder."""
    found, odd = content_files(folder)
    photos, unfit = photo_files(folder)
    collected = collect(found, photos)
    ruled = check(collected.library, today=today)
    return Inspected((*odd, *unfit, *collected.faults, *ruled), collected.files)


def case_of(path: Path, *, today: date) -> tuple[Case | None, tuple[Fault, ...]]:
    """Read one setup with its chassis sheet, and give the faults of its file.

    None if the file is no setup, cannot be read, or names a chassis without a sheet. Raises
    GuideError if there is no such file.
    """
    folder = _content_folder(path)
    name = path.resolve().relative_to(folder).as_posix()
    if not name.startswith("setups/"):
        raise GuideError(f"`{name}` is not a setup: those are in setups/<chassis>/")
    library, faults = _few(folder, [name], today)
    cases = [case for case in library.cases() if case.setup.source.path == name]
    case = cases[0] if cases and cases[0].chassis is not None else None
    return case, tuple(sorted(faults, key=lambda fault: fault.order))


def _content_folder(path: Path) -> Path:
    if not path.is_file():
        raise GuideError(f"there is no file or folder `{path}`")
    for folder in path.resolve().parents:
        if (folder / "club.yaml").is_file():
            return folder
    raise GuideError(f"`{path}` does not lie in a content folder: no club.yaml above it")


def _few(folder: Path, names: list[str], today: date) -> tuple[Library, list[Fault]]:
    """Check single files with only those files around them that the rules look at."""
    wanted = {"club.yaml", *names}
    for name in names:
        parts = name.split("/")
        if parts[0] == "setups" and len(parts) == 3:
            wanted.add(sheet_path(parts[1]))
            beside = (folder / "setups" / parts[1]).glob("*.yaml")
            wanted |= {f"setups/{parts[1]}/{other.name}" for other in beside}
    files = [
        Found(name, one_file(folder / name))
        for name in sorted(wanted)
        if (folder / name).is_file() and oddity(folder / name, name) is None
    ]
    collected = collect(files)
    there = (*folder.glob("*/**/*.yaml"), *folder.glob("articles/*.md"))
    around = {path.relative_to(folder).as_posix() for path in there}
    unread = collected.library.unread | (around - {file.path for file in files})
    library = replace(collected.library, unread=unread)
    odd = [fault for name in names if (fault := oddity(folder / name, name)) is not None]
    own = {shown(name, 200) for name in names}

    def of_case(case: Case) -> tuple[Fault, ...]:
        return check_case(case) if case.setup.source.path in own else ()

    found = (*odd, *collected.faults, *check(library, today=today, of_case=of_case))
    return library, [fault for fault in found if fault.place.path in own]
