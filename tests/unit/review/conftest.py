"""A club's repository, made on the spot: the sample records, with branches as members make them."""

import os
import subprocess
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from generator.records.examples import sample


def _git(folder: Path, *words: str, given: bytes = b"") -> bytes:
    """Run git as a member would, with no settings of the machine."""
    environment = {
        "PATH": os.environ["PATH"],
        "HOME": str(folder),
        "GIT_CONFIG_NOSYSTEM": "1",
        "GIT_AUTHOR_NAME": "Copperbill",
        "GIT_AUTHOR_EMAIL": "copperbill@example.org",
        "GIT_AUTHOR_DATE": "2025-07-01T12:00:00Z",
        "GIT_COMMITTER_NAME": "Copperbill",
        "GIT_COMMITTER_EMAIL": "copperbill@example.org",
        "GIT_COMMITTER_DATE": "2025-07-01T12:00:00Z",
    }
    command = ["git", "-c", "commit.gpgsign=false", *words]
    done = subprocess.run(
        command, cwd=folder, env=environment, input=given, capture_output=True, check=False
    )
    assert done.returncode == 0, done.stderr.decode()
    return done.stdout


@dataclass(frozen=True)
class Club:
    """A repository with the sample records in `guide/`."""

    folder: Path
    setup: str = "guide/setups/ostvane-meridel/copperbill-seven-inch.yaml"
    other: str = "guide/setups/ostvane-meridel/fernhollow-seven-inch.yaml"

    @property
    def content(self) -> Path:
        return self.folder / "guide"

    def git(self, *words: str, given: bytes = b"") -> bytes:
        return _git(self.folder, *words, given=given)

    def write(self, path: str, text: str) -> None:
        target = self.folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, "utf-8")

    def read(self, path: str) -> str:
        return (self.folder / path).read_text("utf-8")

    def commit(self, told: str = "change") -> None:
        self.git("add", "-A")
        self.git("commit", "-q", "--allow-empty", "-m", told)

    def branch(self, name: str) -> None:
        self.git("checkout", "-q", "-b", name)

    def edit(self, path: str, *changes: tuple[str, str]) -> None:
        text = self.read(path)
        for old, new in changes:
            assert old in text, old
            text = text.replace(old, new)
        self.write(path, text)

    def plant(self, branch: str, entries: list[tuple[str, bytes, bytes]]) -> None:
        """Commit entries that no file system need accept: mode, path below the top, content."""
        listed = self.git("ls-tree", "-r", "-z", "main")
        rows = [row for row in listed.split(b"\0") if row]
        lines = [row.replace(b" blob ", b" ", 1) for row in rows]
        index = b"".join(line + b"\0" for line in lines)
        names: dict[bytes, bytes] = {}
        for mode, path, content in entries:
            if mode == "160000":
                names[content] = content
            elif content not in names:
                made = self.git("hash-object", "-w", "--stdin", given=content)
                names[content] = made.strip()
            index += mode.encode() + b" " + names[content] + b"\t" + path + b"\0"
        self.git("read-tree", "--empty")
        self.git("update-index", "-z", "--index-info", given=index)
        tree = self.git("write-tree").strip().decode()
        commit = self.git("commit-tree", tree, "-p", "main", "-m", "odd").strip().decode()
        self.git("branch", "-f", branch, commit)
        self.git("reset", "-q")


def _made(folder: Path) -> Club:
    folder.mkdir(parents=True, exist_ok=True)
    _git(folder, "init", "-q", "-b", "main")
    club = Club(folder)
    club.write("guide/club.yaml", sample("club"))
    club.write("guide/chassis/ostvane-meridel.yaml", sample("chassis"))
    club.write(club.setup, sample("setup"))
    club.write("README.md", "A club's records.\n")
    club.commit("Begin")
    return club


@pytest.fixture
def club(tmp_path: Path) -> Club:
    return _made(tmp_path / "club")


@pytest.fixture
def make_club(tmp_path: Path) -> Callable[[str], Club]:
    """Make further repositories with the same records."""
    return lambda name: _made(tmp_path / name)


@pytest.fixture
def other_record() -> Callable[..., str]:
    """Write a second member's record of another car, like the sample but for some texts."""

    def written(*changes: tuple[str, str]) -> str:
        text = sample("setup")
        always = (
            ("member: Copperbill", "member: Fernhollow"),
            ("car: copperbill-coupe", "car: fernhollow-coupe"),
            ("title: Seven-inch wheels with the fender lips rolled", "title: The same again"),
            ("date: 2025-06-14", "date: 2025-07-05"),
        )
        for old, new in (*always, *changes):
            assert old in text, old
            text = text.replace(old, new)
        return text

    return written
