"""When each file of a content folder was added and last changed, as its git repository tells.

Only the first-parent line of the current commit is read: that is the line that is published, so a
merged request counts once, on the day it was merged. Days are those of the committer, in UTC. A
file's history ends where the file was added; a rename is followed where the bytes stayed the same,
since only then is it certain.

A date is never guessed. Without git, in a shallow clone, or where git cannot be asked, there is
no history, and `told` says why. A file that differs from the last commit has its dates with
`is_committed` false. Commits that touch nothing of the folder change nothing here.
"""

import hashlib
import os
import re
import subprocess
from collections.abc import Iterable, Mapping
from dataclasses import field
from datetime import UTC, date, datetime
from pathlib import Path

from generator.frozen import dataclass
from generator.reading.folder import Found

TOLD_FULL = "from the git repository of the records"
TOLD_ABSENT = "no history: not a git checkout"
TOLD_SHALLOW = "no history: a shallow clone, in which older commits are missing"
TOLD_EMPTY = "no history: nothing of the folder is committed yet"
TOLD_NO_GIT = "no history: git is not installed"
TOLD_FAILED = "no history: git could not read its repository"

_LONGEST_WAIT = 60.0
_COMMIT = re.compile(r"[0-9a-f]{40}(?:[0-9a-f]{24})?\Z")
_HEADER = "\x01"
# No setting of the user or of the repository may start a program, fetch, or change the output.
_GIT = (
    "git", "--no-pager", "--no-replace-objects", "--no-optional-locks", "--literal-pathspecs",
    "-c", "core.fsmonitor=false", "-c", "core.quotePath=false", "-c", "protocol.allow=never",
    "-c", "log.showSignature=false", "-c", "core.hooksPath=/dev/null",
)  # fmt: skip
_LOG = (
    "log", "-z", "--first-parent", "--diff-merges=first-parent", "--no-ext-diff", "--no-textconv",
    "--name-status", "--find-renames=100%", "-l0", "--relative", "--no-show-signature",
    "--no-notes", "--no-color", f"--format=tformat:{_HEADER}%H %ct", "HEAD", "--", ".",
)  # fmt: skip


@dataclass(frozen=True)
class Change:
    """One commit that touched a file: its name, and its day in UTC."""

    commit: str
    day: date


@dataclass(frozen=True)
class FileHistory:
    """The commits of one file, the newest first; at least one.

    `is_committed` is false if the file on disk is not the one of the last commit.
    """

    changes: tuple[Change, ...]
    is_committed: bool

    @property
    def first(self) -> Change:
        """Give the commit that added the file."""
        return self.changes[-1]

    @property
    def last(self) -> Change:
        """Give the last commit that changed the file."""
        return self.changes[0]


@dataclass(frozen=True)
class History:
    """The history of a folder: in words where it is from, and what is known of each file.

    `files` has no entry for a file that was never committed. `gone` are paths that a file had once
    and none has now: it was deleted or renamed.
    """

    told: str = TOLD_ABSENT
    is_known: bool = False
    files: Mapping[str, FileHistory] = field(default_factory=dict)
    gone: tuple[str, ...] = ()

    def of(self, path: str) -> FileHistory | None:
        """Give the history of a file; None is not known."""
        return self.files.get(path)


class _GitFailed(Exception):
    """Git ended with a fault, or said what it never says."""


def history_of(folder: Path, found: Iterable[Found]) -> History:
    """Read the history of a content folder; `found` are its files as this build reads them."""
    try:
        return _history(folder, tuple(found))
    except FileNotFoundError:
        return History(TOLD_NO_GIT)
    except (_GitFailed, OSError, subprocess.TimeoutExpired):
        return History(TOLD_FAILED)


def commit_of(folder: Path) -> str:
    """Name the commit that a folder's history would be read from; empty if there is none.

    As long as it and the files stay the same, so does their history.
    """
    try:
        asked = ("rev-parse", "--is-shallow-repository", "--show-prefix", "HEAD")
        return _run(folder, asked).decode("utf-8", "replace")
    except (_GitFailed, OSError, subprocess.TimeoutExpired):
        return ""


def _history(folder: Path, found: tuple[Found, ...]) -> History:
    asked = ("rev-parse", "--is-inside-work-tree", "--is-shallow-repository")
    try:
        answer = _run(folder, asked).decode("ascii", "replace").split()
    except _GitFailed:
        # Most folders that git refuses are no checkouts; the others have a .git above them.
        is_checkout = any((above / ".git").exists() for above in (folder, *folder.parents))
        return History(TOLD_FAILED if is_checkout else TOLD_ABSENT)
    if answer[:1] != ["true"]:
        return History(TOLD_ABSENT)
    if answer[1:] != ["false"]:
        return History(TOLD_SHALLOW)
    try:
        tree = _run(folder, ("ls-tree", "-r", "-z", "HEAD", "--", "."))
    except _GitFailed:
        return History(TOLD_EMPTY)
    kept = _kept(tree)
    if not kept:
        return History(TOLD_EMPTY)
    changes, gone = _followed(_commits(_run(folder, _LOG)), kept)
    files = {
        file.path: FileHistory(changes[file.path], _is_same(file.content, kept[file.path]))
        for file in found
        if changes.get(file.path)
    }
    return History(TOLD_FULL, True, files, tuple(sorted(gone - set(kept))))


def _run(folder: Path, arguments: tuple[str, ...]) -> bytes:
    """Ask git, with nothing from the environment that could point it elsewhere."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("GIT_")}
    kept |= {"LC_ALL": "C", "TZ": "UTC", "GIT_TERMINAL_PROMPT": "0", "GIT_NO_LAZY_FETCH": "1"}
    done = subprocess.run(
        (*_GIT, *arguments), cwd=folder, env=kept, stdin=subprocess.DEVNULL, capture_output=True,
        timeout=_LONGEST_WAIT, check=False,
    )  # fmt: skip
    if done.returncode != 0:
        raise _GitFailed
    return done.stdout


def _kept(tree: bytes) -> dict[str, str]:
    """Give the name of the content of each file in the last commit, by path."""
    kept = {}
    for entry in tree.split(b"\0"):
        head, tab, path = entry.partition(b"\t")
        parts = head.decode("ascii", "replace").split()
        if tab and len(parts) == 3 and parts[1] == "blob":
            kept[path.decode("utf-8", "replace")] = parts[2]
    return kept


def _is_same(content: bytes, name: str) -> bool:
    """Tell whether bytes are those that git keeps under a name; line ends may be another system's.

    Source: git-hash-object: the digest of `blob`, the length, a zero byte and the bytes.
    """
    digest = hashlib.sha256 if len(name) == 64 else hashlib.sha1
    forms = (content, content.replace(b"\r\n", b"\n"))
    return any(digest(b"blob %d\0" % len(form) + form).hexdigest() == name for form in forms)


@dataclass(frozen=True)
class _Commit:
    change: Change
    touched: tuple[tuple[str, tuple[str, ...]], ...]
    """Letter of what happened, and the path, or the old and the new one."""


def _commits(log: bytes) -> tuple[_Commit, ...]:
    """Take the log apart: a header for each commit, then letters and paths in turn.

    A path stands only where a letter asks for it, so that no name of a file is taken for a header.
    """
    words = iter(log.decode("utf-8", "replace").split("\0"))
    found: list[tuple[Change, list[tuple[str, tuple[str, ...]]]]] = []
    for word in words:
        text = word.lstrip("\n")
        if not text:
            continue
        if text.startswith(_HEADER):
            found.append((_change(text.removeprefix(_HEADER)), []))
            continue
        letter = text[:1]
        count = 2 if letter in "RC" else 1
        paths = tuple(next(words, "") for _ in range(count))
        if not found or letter not in "AMDTRCUX" or "" in paths:
            raise _GitFailed
        found[-1][1].append((letter, paths))
    return tuple(_Commit(change, tuple(touched)) for change, touched in found)


def _change(text: str) -> Change:
    commit, _, seconds = text.strip().partition(" ")
    if not _COMMIT.match(commit) or not re.match(r"[0-9]{1,11}\Z", seconds):
        raise _GitFailed
    return Change(commit, datetime.fromtimestamp(int(seconds), UTC).date())


def _followed(
    commits: tuple[_Commit, ...], kept: Iterable[str]
) -> tuple[dict[str, tuple[Change, ...]], set[str]]:
    """Give the commits of each file that is kept, and the paths that were given up.

    From the newest commit to the oldest; `owner` holds, for each path that there was at that
    time, the file of today that it belongs to, or None for one of a file that is no more.
    """
    owner: dict[str, str | None] = {path: path for path in kept}
    changes: dict[str, list[Change]] = {path: [] for path in owner}
    gone: set[str] = set()
    for commit in commits:
        earlier: dict[str, str | None] = {}
        for letter, paths in commit.touched:
            file = owner.get(paths[-1])
            if letter == "D":
                earlier[paths[-1]] = None
                gone.add(paths[-1])
                continue
            if file is not None:
                changes[file].append(commit.change)
            if letter in "ACR":
                owner.pop(paths[-1], None)
            if letter == "R":
                earlier[paths[0]] = file
                gone.add(paths[0])
        owner |= earlier
    return {path: tuple(found) for path, found in changes.items()}, gone
