"""Which program this is: a digest of its own files, and of the libraries that its bytes hang on.

Templates have a digest of their own: no number hangs on them, so that a changed one has pages
written anew and nothing computed.
"""

import os
import platform
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from generator.cache.digests import digest_of

_PACKAGE = Path(__file__).resolve().parent.parent
_TEMPLATES = (_PACKAGE / "_templates", _PACKAGE.parent / "templates")
"""Where templates lie: inside an installed wheel, or beside a checkout's code."""
_ENDINGS = (".py", ".yaml", ".html", ".css", ".js", ".svg")
_LIBRARIES = (
    "htmlmin", "jinja2", "markdown_it_py", "markupsafe", "matplotlib", "numpy", "pint", "pydantic",
    "pydantic_core", "pyyaml",
)  # fmt: skip


@cache
def program() -> str:
    """Give the digest of this program with its libraries, without its templates; kept."""
    return program_of((_PACKAGE,), tuple(sys.path))


@cache
def program_and_templates() -> str:
    """Give the digest of this program with its libraries and its templates; kept."""
    return digest_of((program(), *_files(_TEMPLATES)))


def program_of(folders: tuple[Path, ...], search: tuple[str, ...]) -> str:
    """Give the digest of all code in some folders, and of what it runs on."""
    return digest_of((*_machine(), *_libraries(search), *_files(folders)))


def _machine() -> Iterator[str]:
    yield from (sys.version, sys.implementation.cache_tag or "", platform.machine(), sys.byteorder)


def _libraries(search: tuple[str, ...]) -> Iterator[str]:
    """Name the installed libraries with their versions, as their folders are named."""
    for place in search:
        try:
            names = os.listdir(place or ".")  # noqa: PTH208 - names are wanted, not paths
        except OSError:
            continue
        for name in sorted(names):
            if name.endswith(".dist-info") and name.partition("-")[0].lower() in _LIBRARIES:
                yield name.lower()


def _files(folders: tuple[Path, ...]) -> Iterator[str | bytes]:
    for folder in folders:
        for path in sorted(_walk(str(folder))):
            with open(path, "rb") as file:  # noqa: PTH123 - paths are text here, for speed
                yield path[len(str(folder)) :]
                yield file.read()


def _walk(folder: str) -> Iterator[str]:
    try:
        entries = list(os.scandir(folder))
    except OSError:
        return
    for entry in entries:
        if entry.is_dir(follow_symlinks=False):
            if not entry.name.startswith(("__pycache__", ".", "_templates")):
                yield from _walk(entry.path)
        elif entry.name.endswith(_ENDINGS):
            yield entry.path
