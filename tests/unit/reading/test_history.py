"""History from git, held against repositories that the tests make with git itself."""

import os
import shutil
import subprocess
from datetime import date
from pathlib import Path

import pytest

from generator.reading import history as module
from generator.reading.folder import Found
from generator.reading.history import (
    TOLD_ABSENT,
    TOLD_EMPTY,
    TOLD_FAILED,
    TOLD_FULL,
    TOLD_NO_GIT,
    TOLD_SHALLOW,
    History,
    history_of,
)

pytestmark = pytest.mark.skipif(shutil.which("git") is None, reason="git is not installed")

PATH = "setups/a/b.yaml"
# date --utc -d '2024-03-01 12:00' +%s gives 1709294400; a day has 86400 seconds.
MARCH_1 = 1709294400
DAY = 86400


def git(folder: Path, *words: str, at: int = MARCH_1) -> str:
    env = {
        "PATH": os.environ["PATH"], "HOME": str(folder), "GIT_CONFIG_NOSYSTEM": "1",
        "GIT_AUTHOR_NAME": "A", "GIT_AUTHOR_EMAIL": "a@example.org",
        "GIT_COMMITTER_NAME": "A", "GIT_COMMITTER_EMAIL": "a@example.org",
        "GIT_AUTHOR_DATE": "2001-01-01T00:00:00Z", "GIT_COMMITTER_DATE": f"@{at} +1300",
    }  # fmt: skip
    result = subprocess.run(
        ("git", "-c", "init.defaultBranch=main", "-c", "commit.gpgSign=false", *words),
        cwd=folder, env=env, capture_output=True, text=True, check=True,
    )  # fmt: skip
    return result.stdout.strip()


def write(folder: Path, path: str, text: str) -> None:
    (folder / path).parent.mkdir(parents=True, exist_ok=True)
    (folder / path).write_bytes(text.encode("utf-8"))


def commit(folder: Path, path: str, text: str, *, day: int) -> str:
    write(folder, path, text)
    git(folder, "add", "-A")
    git(folder, "commit", "-m", "c", at=MARCH_1 + day * DAY)
    return git(folder, "rev-parse", "HEAD")


def told(folder: Path) -> History:
    files = sorted(
        each for each in folder.rglob("*.yaml") if ".git" not in each.parts and each.is_file()
    )
    found = [Found(each.relative_to(folder).as_posix(), each.read_bytes()) for each in files]
    return history_of(folder, found)


@pytest.fixture
def repository(tmp_path: Path) -> Path:
    folder = tmp_path / "guide"
    folder.mkdir()
    git(folder, "init")
    return folder


def test_a_file_has_the_days_and_commits_of_its_first_and_last_change(repository: Path) -> None:
    first = commit(repository, PATH, "a: 1\n", day=0)
    commit(repository, "club.yaml", "name: x\n", day=3)
    last = commit(repository, PATH, "a: 2\n", day=5)
    history = told(repository)
    assert history.told == TOLD_FULL
    file = history.of(PATH)
    assert file is not None
    assert (file.first.commit, file.first.day) == (first, date(2024, 3, 1))
    assert (file.last.commit, file.last.day) == (last, date(2024, 3, 6))
    assert (len(file.changes), file.is_committed) == (2, True)


def test_a_day_is_that_of_utc_whatever_zone_the_committer_was_in(repository: Path) -> None:
    commit(repository, PATH, "a: 1\n", day=0)  # written as 2 March, 01:00 +13:00
    file = told(repository).of(PATH)
    assert file is not None
    assert file.last.day == date(2024, 3, 1)


def test_commits_elsewhere_in_the_repository_change_nothing(repository: Path) -> None:
    content = repository / "content"
    commit(repository, f"content/{PATH}", "a: 1\n", day=0)
    before = told(content)
    commit(repository, "README.md", "words\n", day=9)
    assert told(content) == before
    assert list(before.files) == [PATH]


def test_a_folder_without_git_has_no_history(tmp_path: Path) -> None:
    write(tmp_path, PATH, "a: 1\n")
    history = told(tmp_path)
    assert (history.told, history.is_known, dict(history.files)) == (TOLD_ABSENT, False, {})


def test_a_copy_without_git_has_no_history(repository: Path, tmp_path: Path) -> None:
    commit(repository, PATH, "a: 1\n", day=0)
    copy = tmp_path / "copy"
    shutil.copytree(repository, copy, ignore=shutil.ignore_patterns(".git"))
    assert told(copy).told == TOLD_ABSENT


def test_a_shallow_clone_gives_no_date_at_all(repository: Path, tmp_path: Path) -> None:
    commit(repository, PATH, "a: 1\n", day=0)
    commit(repository, PATH, "a: 2\n", day=1)
    git(tmp_path, "clone", "--depth=1", f"file://{repository}", "clone")
    history = told(tmp_path / "clone")
    assert (history.told, dict(history.files)) == (TOLD_SHALLOW, {})


def test_a_full_clone_has_the_history_of_its_origin(repository: Path, tmp_path: Path) -> None:
    commit(repository, PATH, "a: 1\n", day=0)
    commit(repository, PATH, "a: 2\n", day=1)
    git(tmp_path, "clone", f"file://{repository}", "clone")
    assert told(tmp_path / "clone") == told(repository)


def test_a_detached_head_has_the_history_up_to_it(repository: Path) -> None:
    first = commit(repository, PATH, "a: 1\n", day=0)
    commit(repository, PATH, "a: 2\n", day=1)
    git(repository, "checkout", "-q", first)
    file = told(repository).of(PATH)
    assert file is not None
    assert [change.commit for change in file.changes] == [first]


def test_a_file_changed_and_not_committed_is_marked(repository: Path) -> None:
    commit(repository, PATH, "a: 1\n", day=0)
    write(repository, PATH, "a: 2\n")
    file = told(repository).of(PATH)
    assert file is not None
    assert not file.is_committed


def test_line_ends_of_another_system_are_no_change(repository: Path) -> None:
    commit(repository, PATH, "a: 1\nb: 2\n", day=0)
    write(repository, PATH, "a: 1\r\nb: 2\r\n")
    file = told(repository).of(PATH)
    assert file is not None
    assert file.is_committed


def test_a_file_never_committed_has_no_history(repository: Path) -> None:
    commit(repository, "club.yaml", "name: x\n", day=0)
    write(repository, PATH, "a: 1\n")
    assert told(repository).of(PATH) is None


def test_a_repository_without_a_commit_says_so(repository: Path) -> None:
    write(repository, PATH, "a: 1\n")
    assert told(repository).told == TOLD_EMPTY


def test_a_folder_that_git_ignores_says_so(repository: Path) -> None:
    commit(repository, ".gitignore", "copy/\n", day=0)
    write(repository, f"copy/{PATH}", "a: 1\n")
    assert told(repository / "copy").told == TOLD_EMPTY


def test_a_rename_of_the_same_bytes_is_followed(repository: Path) -> None:
    first = commit(repository, PATH, "a: 1\n" * 20, day=0)
    git(repository, "mv", PATH, "setups/a/c.yaml")
    git(repository, "commit", "-m", "r", at=MARCH_1 + DAY)
    history = told(repository)
    file = history.of("setups/a/c.yaml")
    assert file is not None
    assert (file.first.commit, len(file.changes)) == (first, 2)
    assert history.of(PATH) is None
    assert history.gone == (PATH,)


def test_a_rename_with_other_bytes_begins_a_history(repository: Path) -> None:
    commit(repository, PATH, "a: 1\n" * 20, day=0)
    (repository / PATH).unlink()
    added = commit(repository, "setups/a/c.yaml", "a: 1\n" * 19 + "a: 2\n", day=1)
    file = told(repository).of("setups/a/c.yaml")
    assert file is not None
    assert [change.commit for change in file.changes] == [added]


def test_a_file_written_anew_after_a_deletion_begins_a_history(repository: Path) -> None:
    commit(repository, "club.yaml", "name: x\n", day=0)
    commit(repository, PATH, "a: 1\n", day=1)
    git(repository, "rm", "-q", PATH)
    git(repository, "commit", "-m", "d", at=MARCH_1 + 2 * DAY)
    assert told(repository).gone == (PATH,)
    again = commit(repository, PATH, "b: 7\n", day=3)
    history = told(repository)
    file = history.of(PATH)
    assert file is not None
    assert [change.commit for change in file.changes] == [again]
    assert history.gone == ()


def test_two_files_that_change_places_keep_their_own_history(repository: Path) -> None:
    long, other = "a: 1\n" * 30, "z: 9\n" * 30
    write(repository, "setups/a/x.yaml", long)
    one = commit(repository, PATH, "q: 1\n", day=0)
    two = commit(repository, "setups/a/y.yaml", other, day=1)
    write(repository, "setups/a/x.yaml", other)
    swap = commit(repository, "setups/a/y.yaml", long, day=2)
    file = told(repository).of("setups/a/x.yaml")
    assert file is not None
    # git shows this as two changes, for both paths are there before and after
    assert [change.commit for change in file.changes] == [swap, one]
    assert two != one


def test_a_merged_request_counts_once_on_the_day_it_was_merged(repository: Path) -> None:
    commit(repository, "club.yaml", "name: x\n", day=0)
    git(repository, "checkout", "-q", "-b", "request")
    commit(repository, PATH, "a: 1\n", day=1)
    commit(repository, PATH, "a: 2\n", day=2)
    git(repository, "checkout", "-q", "main")
    git(repository, "merge", "--no-ff", "-m", "m", "request", at=MARCH_1 + 8 * DAY)
    merge = git(repository, "rev-parse", "HEAD")
    file = told(repository).of(PATH)
    assert file is not None
    assert [(each.commit, each.day) for each in file.changes] == [(merge, date(2024, 3, 9))]


def test_hostile_names_beside_a_record_do_no_harm(repository: Path) -> None:
    odd = (
        "setups/a/\x01" + "a" * 40 + " 1.yaml", "setups/a/new\nline.yaml", "setups/a/M",
        "setups/a/$(touch x).yaml", "setups/a/-rf", "setups/a/:(glob)*.yaml", "A", "R100",
    )  # fmt: skip
    for name in odd:
        write(repository, name, "x\n")
    first = commit(repository, PATH, "a: 1\n", day=0)
    file = told(repository).of(PATH)
    assert file is not None
    assert [change.commit for change in file.changes] == [first]


def test_settings_of_the_repository_neither_run_nor_change_anything(repository: Path) -> None:
    commit(repository, PATH, "a: 1\n" * 20, day=0)
    before = told(repository)
    ran = repository.parent / "ran"
    for name, value in (
        ("core.fsmonitor", f"touch {ran}"), ("core.pager", f"touch {ran}"),
        ("diff.external", f"touch {ran}"), ("log.showSignature", "true"),
        ("log.follow", "true"), ("diff.renames", "copies"), ("core.quotePath", "true"),
        ("log.date", "relative"), ("format.pretty", "fuller"), ("color.ui", "always"),
    ):  # fmt: skip
        git(repository, "config", name, value)
    assert told(repository) == before
    assert not ran.exists()


def test_the_environment_cannot_point_git_elsewhere(
    repository: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    commit(repository, PATH, "a: 1\n", day=0)
    before = told(repository)
    other = tmp_path / "other"
    other.mkdir()
    git(other, "init")
    monkeypatch.setenv("GIT_DIR", str(other / ".git"))
    monkeypatch.setenv("TZ", "Pacific/Auckland")
    assert told(repository) == before


def test_a_broken_repository_gives_no_history(repository: Path) -> None:
    commit(repository, PATH, "a: 1\n", day=0)
    (repository / ".git" / "HEAD").write_text("nonsense\n", encoding="ascii")
    assert told(repository).told == TOLD_FAILED


def test_a_repository_that_lost_an_object_gives_no_history(repository: Path) -> None:
    first = commit(repository, PATH, "a: 1\n", day=0)
    commit(repository, PATH, "a: 2\n", day=1)
    (repository / ".git" / "objects" / first[:2] / first[2:]).unlink()
    assert told(repository).told == TOLD_FAILED


def test_a_machine_without_git_gives_no_history(
    repository: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    commit(repository, PATH, "a: 1\n", day=0)
    monkeypatch.setattr(module, "_GIT", ("no-such-program-anywhere",))
    assert told(repository).told == TOLD_NO_GIT


@pytest.mark.parametrize(
    "log",
    [b"\x01zz 1\0", b"M\0a\0", b"\x01" + b"a" * 40 + b" 1\0M\0", b"\x01" + b"a" * 40 + b" -1\0"],
)
def test_output_that_git_never_writes_is_refused(log: bytes) -> None:
    with pytest.raises(module._GitFailed):
        module._commits(log)
