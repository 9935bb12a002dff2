"""Whole builds on a machine that fails: killed, full, read-only, at once, with a wrong clock.

The expected outcome is that of the reference for faults of the machine: the old site or the new
one, whole, one line that tells what was wrong, and a next build that needs no help. The yardstick
is a build that nothing disturbed.
"""

import json
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from generator.reading.trouble import GuideError
from generator.workers import mapped

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


@pytest.mark.skipif(not hasattr(os, "fork"), reason="builds are killed in forks")
def test_a_whole_build_killed_at_any_kind_of_write_to_cache_or_site_is_made_up_for(
    tmp_path: Path,
) -> None:
    done = subprocess.run(
        [sys.executable, str(HERE / "killed_guides.py"), str(tmp_path)],
        env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    first, *reports = map(json.loads, done.stdout.splitlines())
    assert first["writes"] > 100
    assert sorted(report["kind"] for report in reports) == first["kinds"]
    assert set(first["kinds"]) > {
        "open cache/values", "replace cache/values cache/values", "replace cache/files cache/files",
        "link cache/files .site.gapbook-new", "rename site .site.gapbook-old",
        "rename .site.gapbook-new site", "unlink .site.gapbook-old", "unlink .site.gapbook-lock",
    }  # fmt: skip
    for report in reports:
        assert report["killed"], report
        assert report["left"] in ("old", "new"), report
        assert (report["after"], report["beside"]) == ("new", False), report
    assert {report["left"] for report in reports} == {"old", "new"}


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
    with pytest.raises(GuideError, match="ended from outside") as trouble:
        list(mapped(stopped, range(6), workers=2))
    assert "\n" not in str(trouble.value)
