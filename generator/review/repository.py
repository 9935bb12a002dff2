"""The content folder at a revision, read from git's own objects: nothing is ever checked out.

What a stranger proposes never becomes a file on the disk, so that links, submodules, odd names and
attributes have nothing to act on. git is called with fixed words and full object names, without a
shell; a revision is looked up before it is used, and only in a plain form.
"""

import os
import re
import subprocess
from collections.abc import Iterable, Mapping
from dataclasses import field
from pathlib import Path

from generator.frozen import dataclass
from generator.reading.decoding import LARGEST
from generator.reading.fault import Fault, Place, Severity
from generator.reading.folder import Found, is_photo, is_wanted, odd_name
from generator.reading.pictures.picture import LARGEST_PHOTO
from generator.reading.text import shown
from generator.reading.trouble import GuideError
from generator.records.article import LONGEST_ARTICLE

MOST_FILES = 50_000
PATIENCE = 120.0
"""Seconds for one call of git; a club's whole history takes a few."""

_REVISION = re.compile(r"[A-Za-z0-9_][A-Za-z0-9._/+-]{0,199}([~^][0-9]{0,4}){0,8}\Z")
_OBJECT = re.compile(r"[0-9a-f]{40}([0-9a-f]{24})?\Z")
_ORDINARY = "100644"
_KINDS = {"120000": "a link", "160000": "a submodule", "100755": "marked as a program"}


@dataclass(frozen=True)
class Snapshot:
    """The files of a content folder at one revision, and what is odd about the rest.

    `digests` names the content of every file below the folder, read or not. `photos` names that
    of each photo; their bytes are asked for one by one.
    """

    files: tuple[Found, ...]
    odd: tuple[Fault, ...]
    digests: Mapping[str, str] = field(default_factory=dict)
    photos: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class _Listed:
    mode: str
    name: str
    size: int
    path: str


class Repository:
    """The git repository around a content folder."""

    def __init__(self, content: Path) -> None:
        self._folder = content
        if not content.is_dir():
            raise GuideError(f"there is no folder `{content}`")
        prefix = self._try("rev-parse", "--show-prefix")
        if prefix is None:
            raise GuideError(f"`{content}` does not lie in a git repository")
        self.prefix = os.fsdecode(prefix).removesuffix("\n")
        """Path of the content folder below the top of the repository, empty or ending in /."""

    def commit(self, revision: str) -> str:
        """Give the full name of a commit. Raises GuideError if there is none of that name."""
        if not _REVISION.match(revision) or ".." in revision:
            raise GuideError(f"`{shown(revision, 60)}` is not the plain name of a revision")
        named = f"{revision}^{{commit}}"
        found = self._try("rev-parse", "--verify", "--quiet", "--end-of-options", named)
        name = found.decode("ascii", "replace").strip() if found else ""
        if not _OBJECT.match(name):
            shallow = " (this is a shallow clone)" if self.is_shallow() else ""
            raise GuideError(f"git knows no commit `{shown(revision, 60)}`{shallow}")
        return name

    def merged(self, base: str, proposal: str) -> str:
        """Give the tree that merging two commits makes. Raises GuideError where they conflict."""
        if self._try("merge-base", base, proposal) is None:
            raise GuideError(
                "the two revisions have no commit in common; fetch the whole history of both"
            )
        done = self._run("merge-tree", "--write-tree", "-z", "--name-only", base, proposal)
        tree = done.stdout.split(b"\0", 1)[0].decode("ascii", "replace").strip()
        if done.returncode == 1:
            raise GuideError(
                "the change cannot be merged by itself: its author has to bring it up to date with "
                "the published branch first"
            )
        if done.returncode != 0 or not _OBJECT.match(tree):
            raise GuideError(f"git cannot merge the two revisions: {_words(done.stderr)}")
        return tree

    def is_shallow(self) -> bool:
        """Tell whether older commits are missing."""
        return self._try("rev-parse", "--is-shallow-repository") == b"true\n"

    def snapshot(self, tree: str) -> Snapshot:
        """Read the content folder in a commit or tree; without the folder, nothing."""
        place = f"{tree}:{self.prefix.removesuffix('/')}"
        found = self._try("rev-parse", "--verify", "--quiet", "--end-of-options", place)
        name = found.decode("ascii", "replace").strip() if found else ""
        if not _OBJECT.match(name):
            return Snapshot((), ())
        listed = [each for each in self._list(name) if not _is_skipped(each.path)]
        odd = [fault for each in listed if (fault := _oddity(each)) is not None]
        wanted = [each for each in listed if _oddity(each) is None and is_wanted(each.path)]
        contents = self._contents(each.name for each in wanted)
        files = tuple(Found(each.path, contents[each.name]) for each in wanted)
        names = {each.path: each.name for each in listed}
        photos = {
            each.path: each.name for each in listed if is_photo(each.path) and not _oddity(each)
        }
        return Snapshot(files, tuple(odd), names, photos)

    def photo(self, name: str) -> bytes:
        """Read a photo by the name of its content, as a snapshot gives it."""
        return self._contents([name])[name]

    def outside(self, base: str, tree: str) -> tuple[str, ...]:
        """Name the files outside the content folder that differ between two trees."""
        words = ("diff-tree", "-r", "-z", "--no-renames", "--name-only", "--no-ext-diff")
        done = self._checked(*words, base, tree)
        names = [os.fsdecode(name) for name in done.split(b"\0") if name]
        return tuple(sorted(name for name in names if not name.startswith(self.prefix)))

    def _list(self, tree: str) -> list[_Listed]:
        rows = self._checked("ls-tree", "-r", "-z", "-l", "--full-tree", tree).split(b"\0")
        if len(rows) > MOST_FILES:
            raise GuideError(f"the folder holds more than {MOST_FILES} files at that revision")
        return [_listed(row) for row in rows if row]

    def _contents(self, names: Iterable[str]) -> dict[str, bytes]:
        wanted = sorted(set(names))
        if not wanted:
            return {}
        told = self._checked("cat-file", "--batch", given="\n".join(wanted).encode() + b"\n")
        found, at = {}, 0
        for name in wanted:
            end = told.index(b"\n", at)
            size = int(told[at:end].split(b" ")[2])
            found[name] = told[end + 1 : end + 1 + size]
            at = end + 1 + size + 1
        return found

    def _checked(self, *words: str, given: bytes = b"") -> bytes:
        done = self._run(*words, given=given)
        if done.returncode != 0:
            raise GuideError(f"git cannot read the repository: {_words(done.stderr)}")
        return done.stdout

    def _try(self, *words: str) -> bytes | None:
        done = self._run(*words)
        return done.stdout if done.returncode == 0 else None

    def _run(self, *words: str, given: bytes = b"") -> "subprocess.CompletedProcess[bytes]":
        command = ["git", "--no-pager", "--literal-pathspecs", "-c", "core.fsmonitor=false", *words]
        try:
            return subprocess.run(
                command,
                cwd=self._folder,
                env=_environment(),
                input=given,
                capture_output=True,
                timeout=PATIENCE,
                check=False,
            )
        except FileNotFoundError:
            raise GuideError("the program `git` is needed for this and was not found") from None
        except subprocess.TimeoutExpired:
            raise GuideError(f"git took more than {PATIENCE:.0f} s") from None


def _environment() -> dict[str, str]:
    """Give git no orders from outside: neither another repository nor a prompt."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("GIT_")}
    return {
        **kept,
        "LC_ALL": "C",
        "GIT_TERMINAL_PROMPT": "0",
        "GIT_OPTIONAL_LOCKS": "0",
        "GIT_NO_REPLACE_OBJECTS": "1",
        "GIT_NO_LAZY_FETCH": "1",
    }


def _listed(row: bytes) -> _Listed:
    head, _, path = row.partition(b"\t")
    mode, _, name, size = head.decode("ascii").split()
    return _Listed(mode, name, int(size) if size != "-" else 0, os.fsdecode(path))


def _is_skipped(path: str) -> bool:
    return any(part.startswith(".") for part in path.split("/"))


def _oddity(listed: _Listed) -> Fault | None:
    place = Place(shown(listed.path, 200))
    if listed.mode != _ORDINARY:
        headline = f"this is {_KINDS.get(listed.mode, 'not an ordinary file')}"
        return Fault("Y16", Severity.ERROR, headline, place, "an ordinary file")
    most = LONGEST_ARTICLE if listed.path.startswith("articles/") else LARGEST
    most = LARGEST_PHOTO if is_photo(listed.path) else most
    if (is_wanted(listed.path) or is_photo(listed.path)) and listed.size > most:
        headline, expected = f"this file has {listed.size} bytes", f"at most {most} bytes"
        return Fault(
            "P01" if is_photo(listed.path) else "Y01", Severity.ERROR, headline, place, expected
        )
    return odd_name(listed.path)


def _words(stderr: bytes) -> str:
    first = stderr.decode("utf-8", "replace").strip().split("\n")[0]
    return shown(first, 160) or "no reason given"
