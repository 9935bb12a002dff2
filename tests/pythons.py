"""Other versions of Python on this machine, and the product's libraries for one of them."""

import os
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator, Mapping
from importlib import metadata
from pathlib import Path
from shutil import which

ROOT = Path(__file__).resolve().parents[1]
OLDEST, NEWEST = 11, 14
"""The versions 3.x that `pyproject.toml` allows."""
_TO_BUILD_WITH = ("setuptools>=70.1", "legacy-cgi>=2.6; python_version >= '3.13'")
"""What the README names to build htmlmin with."""


class NoLibraries(Exception):
    """The libraries cannot be had for a version of Python; says why in the installer's words."""


def others() -> list[str]:
    """Give one runnable interpreter of each other version that is allowed, the newest first."""
    minors = [each for each in range(NEWEST, OLDEST - 1, -1) if each != sys.version_info.minor]
    first = (next(_runnable(minor), None) for minor in minors)
    return [path for path in first if path is not None]


def _runnable(minor: int) -> Iterator[str]:
    for path in _named(f"python3.{minor}"):
        told = _run([path, "-c", "import sys, venv, ensurepip; print(sys.version_info.minor)"])
        if told.returncode == 0 and told.stdout.strip() == str(minor):
            yield path


def _named(name: str) -> Iterator[str]:
    """Give files of a name: on the path, and among the versions that pyenv keeps out of it."""
    if found := which(name):
        yield found
    if manager := which("pyenv"):
        yield from _run([manager, "whence", "--path", name]).stdout.split("\n")[:-1]


def with_libraries(python: str, folder: Path) -> str:
    """Make an environment with the versions of the libraries that run here; give its interpreter.

    Raises NoLibraries.
    """
    own = str(folder / "bin/python")
    if (made := _run([python, "-m", "venv", str(folder)])).returncode:
        raise NoLibraries(_last_line(made))
    same = folder / "same.txt"
    # What is imported is compiled then; the rest would take longer than the build that is tried.
    pip = [own, "-m", "pip", "install", "-q", "--no-compile", "--disable-pip-version-check"]
    wanted = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["dependencies"]
    same.write_text("\n".join(_versions_here()), "utf-8")
    steps = (
        [*pip, *_TO_BUILD_WITH],
        [*pip, "--no-build-isolation", "-c", str(same), *wanted],
    )
    for step in steps:
        if (done := _run(step, _installing())).returncode:
            raise NoLibraries(_last_line(done))
    return own


def _versions_here() -> Iterator[str]:
    """Pin what runs here: between two versions of matplotlib, drawings may differ by themselves."""
    for each in metadata.distributions():
        name = each.metadata["Name"]
        if name and re.sub("[-_.]+", "-", name).lower() != "gapbook":
            yield f"{name}=={each.version}"


def _installing() -> dict[str, str]:
    """Give the surroundings for pip, which keeps its downloads where it always does."""
    return {name: value for name, value in os.environ.items() if not name.startswith("XDG_")}


def _run(
    words: list[str], surroundings: Mapping[str, str] | None = None
) -> subprocess.CompletedProcess[str]:
    return subprocess.run(words, env=surroundings, capture_output=True, text=True, check=False)


def _last_line(done: subprocess.CompletedProcess[str]) -> str:
    return (done.stderr or done.stdout).strip().rsplit("\n", 1)[-1]
