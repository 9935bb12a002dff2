"""All that lies in a folder, seen in one pass: names with their places on the disk, or with looks.

The number of a file's place comes with the list of its folder, at no more than the list costs; for
a look the system is asked once more for each file.
"""

import os
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Generic, TypeVar

from generator.frozen import dataclass
from generator.rendering.disk import Kind, kind_of_entry
from generator.rendering.looks import Look, look_of

Told = TypeVar("Told")


@dataclass(frozen=True)
class Inside(Generic[Told]):
    """What lies in a folder: what is told of each file by its path, folders, and all else.

    Paths begin in the folder and have slashes. `others` are links, mounts and special files, and
    nothing in them is seen.
    """

    files: Mapping[str, Told]
    folders: frozenset[str]
    others: tuple[str, ...]


def names_inside(folder: Path | str) -> Inside[int]:
    """See all names below a folder, and the number of each file's place on the disk."""
    return _inside(folder, os.DirEntry.inode)


def looks_inside(folder: Path | str) -> Inside[Look]:
    """See all names below a folder, and what each file looks like."""
    return _inside(folder, _look)


def _look(entry: "os.DirEntry[str]") -> Look:
    return look_of(entry.stat(follow_symlinks=False))


def _inside(folder: Path | str, told: "Callable[[os.DirEntry[str]], Told]") -> Inside[Told]:
    files: dict[str, Told] = {}
    folders: set[str] = set()
    others: list[str] = []
    waiting = [""]
    while waiting:
        within = waiting.pop()
        with os.scandir(f"{folder}/{within}") as entries:
            for entry in entries:
                path = f"{within}{entry.name}"
                kind = kind_of_entry(entry)
                if kind is Kind.FILE:
                    files[path] = told(entry)
                elif kind is Kind.FOLDER:
                    folders.add(path)
                    waiting.append(f"{path}/")
                else:
                    others.append(path)
    return Inside(files, frozenset(folders), tuple(sorted(others)))
