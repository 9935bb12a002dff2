"""Whole builds on a machine that fails: full, read-only, at once, with a wrong clock.

Those that are killed stand in test_killed_builds.py.

The expected outcome is that of the reference for faults of the machine: the old site or the new
one, whole, one line that tells what was wrong, and a next build that needs no help. The yardstick
is a build that nothing disturbed.
"""

import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from generator.passing import clear_passed, passing_folder
from generator.reading.trouble import GuideError
from generator.workers import Crew

sys.path.insert(0, str(Path(__file__).parent))
from killed_guides import edited, files, made, small_club

HERE = Path(__file__).parent
ROOT = HERE.parents[1]


@pytest.fixture(scope="module")
def sites(tmp_path_factory: pytest.TempPathFactory) -> tuple[dict[str, bytes], dict[str, bytes]]:
    """The site before and after an edit, as undisturbed builds make them."""
    here = tmp_path_factory.mktemp("calm")
    content = small_club(here / "content")
    old = made(content, here / "old")
    return old, made(edited(content), here / "new")


def command(content: Path, site: Path, cache: Path, *more: str, **surroundings: str) -> list[str]:
    """Give the command of a build in surroundings of its own, as words for `env`."""
    own = {
        "PYTHONPATH": str(ROOT), "GAPBOOK_CACHE_KEY": "the key of these tests",
        **surroundings,
    }  # fmt: skip
    words = [f"{name}={value}" for name, value in own.items()]
    verb = ["build", str(content), "--out", str(site), "--cache", str(cache), "--workers", "1"]
    return ["env", *words, sys.executable, "-m", "generator", *verb, *more]


def run(words: list[str], before: Callable[[], object] | None = None) -> Iterator[str]:
    done = subprocess.run(
        words, preexec_fn=before, capture_output=True, text=True, check=False, cwd="/"
    )
    assert "Traceback" not in done.stderr, done.stderr
    yield str(done.returncode)
    yield done.stderr


def test_two_commands_at_once_with_one_cache_leave_one_whole_site(
    sites: tuple[dict[str, bytes], dict[str, bytes]], tmp_path: Path
) -> None:
    content, site = small_club(tmp_path / "content"), tmp_path / "site"
    words = command(content, site, tmp_path / "cache")
    both = [
        subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        for _ in range(2)
    ]
    told = [each.communicate()[1] for each in both]
    codes = [each.returncode for each in both]
    assert 0 in codes, told
    for code, text in zip(codes, told, strict=True):
        assert code == 0 or "another build" in text, text
        assert "Traceback" not in text
    assert files(site) == sites[0]
    assert {path.name for path in tmp_path.iterdir()} == {"content", "site", "cache"}


SMALL = "size=1m"


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    disk = tmp_path / "disk"
    disk.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", SMALL, "tmpfs", str(disk)]
    if not shutil.which("mount") or subprocess.run(mount, check=False).returncode:
        pytest.skip("a small disk can be mounted by the administrator only")
    try:
        yield disk
    finally:
        subprocess.run(["umount", str(disk)], check=True)


@pytest.mark.parametrize("what", ["the cache", "the passing folder"])
def test_a_disk_that_is_full_under_cache_or_passing_files_is_told_in_one_line(
    sites: tuple[dict[str, bytes], dict[str, bytes]], tmp_path: Path, small_disk: Path, what: str
) -> None:
    content, site = small_club(tmp_path / "content"), tmp_path / "site"
    assert made(content, site) == sites[0]
    edited(content)
    if what == "the cache":
        words = command(content, site, small_disk / "cache")
    else:
        words = command(content, site, tmp_path / "unused", "--no-cache", TMPDIR=str(small_disk))
    code, told = run(words)
    assert code == "2"
    assert "no space left" in told.lower()
    assert len(told.strip().splitlines()) <= 2
    assert files(site) == sites[0]
    assert made(content, site) == sites[1]


def test_a_cache_that_may_only_be_read_spoils_no_build(
    sites: tuple[dict[str, bytes], dict[str, bytes]], tmp_path: Path, small_disk: Path
) -> None:
    content, site = small_club(tmp_path / "content"), tmp_path / "site"
    subprocess.run(["mount", "-o", "remount,ro", str(small_disk)], check=True)
    code, told = run(command(content, site, small_disk / "cache"))
    assert code == "0", told
    assert "cannot be used" in told
    assert files(site) == sites[0]


def test_a_limit_of_the_file_size_ends_a_build_in_one_line(
    sites: tuple[dict[str, bytes], dict[str, bytes]], tmp_path: Path
) -> None:
    import resource

    content, site = small_club(tmp_path / "content"), tmp_path / "site"
    assert made(content, site) == sites[0]
    edited(content)
    limit = (30_000, 30_000)
    code, told = run(
        command(content, site, tmp_path / "cache"),
        lambda: resource.setrlimit(resource.RLIMIT_FSIZE, limit),
    )
    assert code == "2"
    assert "file too large" in told.lower()
    assert files(site) == sites[0]
    assert made(content, site, tmp_path / "other") == sites[1]


CLOCK = """
import datetime, sys, time
moment = float(sys.argv.pop(1))
class Day(datetime.date):
    @classmethod
    def today(cls):
        return cls.fromtimestamp(moment)
class Time(datetime.datetime):
    @classmethod
    def now(cls, tz=None):
        return cls.fromtimestamp(moment, tz)
datetime.date, datetime.datetime = Day, Time
time.time = lambda: moment
time.time_ns = lambda: int(moment * 10**9)
from generator.cli import main
sys.exit(main(sys.argv[1:]))
"""


def test_a_clock_in_1970_and_one_in_2100_change_nothing_though_one_cache_serves_both(
    tmp_path: Path,
) -> None:
    content, site, cache = small_club(tmp_path / "content"), tmp_path / "site", tmp_path / "cache"
    seen = []
    # Source: POSIX.1-2017 4.16, seconds since the epoch; 2100-01-01 is 47,482 days after it.
    for moment in (0.0, 47_482 * 86_400.0):
        edited(content)
        for path in content.rglob("*"):
            os.utime(path, (moment, moment))
        words = command(content, site, cache)
        at = words.index("-m")
        words[at : at + 2] = ["-c", CLOCK, str(moment)]
        for _ in range(2):
            code, told = run(words)
            assert code == "0", told
        seen.append(files(site))
    assert seen[0] == seen[1]


def stopped(part: int) -> int:
    if part == 3:
        os.kill(os.getpid(), signal.SIGKILL)
    return part


def test_a_process_of_a_build_that_is_killed_is_told_in_one_line() -> None:
    with pytest.raises(GuideError, match="ended from outside") as trouble, Crew(2) as crew:
        list(crew.mapped(stopped, range(6)))
    assert "\n" not in str(trouble.value)


LONG_WORK = """
import os, sys, time
from generator.workers import Crew
def wait(part):
    # In one piece, so that two processes do not write into each other's line.
    os.write(1, f"{os.getpid()}\\n".encode())
    time.sleep(600)
with Crew(2) as crew:
    list(crew.mapped(wait, range(4)))
"""


@pytest.mark.skipif(sys.platform != "linux", reason="looks at processes as Linux shows them")
def test_the_processes_of_a_killed_build_end_with_it() -> None:
    build = subprocess.Popen(
        [sys.executable, "-c", LONG_WORK], env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE, text=True,
    )  # fmt: skip
    assert build.stdout is not None
    workers = [int(build.stdout.readline()) for _ in range(2)]
    build.kill()
    build.wait()
    build.stdout.close()
    until = time.monotonic() + 60.0
    while any(map(runs, workers)) and time.monotonic() < until:
        time.sleep(0.02)
    left = [worker for worker in workers if runs(worker)]
    for worker in left:
        os.kill(worker, signal.SIGKILL)
    assert not left


def runs(process: int) -> bool:
    try:
        state = Path(f"/proc/{process}/stat").read_text("utf-8").rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state not in "ZX"


def test_the_passing_files_of_a_killed_build_go_and_those_of_a_running_one_stay(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    others = tmp_path / "gapbook-notes"
    others.mkdir()
    (others / "mine").write_text("kept")
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere/mine").write_text("kept")
    (tmp_path / "gapbook-0123.lock").write_text("")
    (tmp_path / "gapbook-0123").symlink_to("elsewhere")
    (tmp_path / "gapbook-4567.lock").write_text("")
    (tmp_path / "gapbook-4567/values").mkdir(parents=True)
    (tmp_path / "gapbook-4567/values/one").write_text("left by a killed build")
    with passing_folder() as folder:
        (folder / "one").write_text("in use")
        clear_passed()
        assert (folder / "one").read_text() == "in use"
    left = {path.relative_to(tmp_path).as_posix() for path in tmp_path.rglob("*")}
    assert left == {
        "gapbook-notes", "gapbook-notes/mine", "elsewhere", "elsewhere/mine", "gapbook-0123",
    }  # fmt: skip
