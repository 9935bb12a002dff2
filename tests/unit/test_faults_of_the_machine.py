"""Whole builds on a machine that fails: killed, full, read-only, at once, with a wrong clock.

The expected outcome is that of the reference for faults of the machine: the old site or the new
one, whole, one line that tells what was wrong, and a next build that needs no help. The yardstick
is a build that nothing disturbed.
"""

import os
import random
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest

from generator.build import build
from generator.cache.store import Store
from generator.reading.trouble import GuideError
from generator.records.examples import example_files
from generator.rendering.manifest import MARKER
from generator.workers import mapped

ROOT = Path(__file__).resolve().parents[2]
TODAY = date(2026, 11, 25)
KEY = bytes(range(32))
RECORD = "setups/ostvane-meridel/copperbill-seven-inch.yaml"
WRITES = ("open", "write", "mkdir", "rename", "replace", "link", "unlink", "rmdir", "ftruncate")


def small_club(folder: Path) -> Path:
    for file in example_files("setup: {title: The first words}"):
        path = folder / file.path
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(file.content)
    return folder


def edited(content: Path) -> Path:
    record = content / RECORD
    record.write_text(record.read_text("utf-8").replace("first words", "second words"), "utf-8")
    return content


def files(site: Path) -> dict[str, bytes]:
    return {
        path.relative_to(site).as_posix(): path.read_bytes()
        for path in site.rglob("*")
        if path.is_file() and path.name != MARKER
    }


def made(content: Path, site: Path, cache: Path | None = None) -> dict[str, bytes]:
    store = None if cache is None else Store.opened(cache, KEY)
    assert (store is None) == (cache is None)
    built = build(content, site, leave_out_faulty=False, today=TODAY, cache=store)
    assert not built.has_errors, built
    return files(site)


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


def killed_at(step: int, work: Callable[[], object]) -> tuple[bool, int]:
    """Do the work in a fork that is killed before its write of a number; tell how many it made."""
    told, tell = os.pipe()
    child = os.fork()
    if child == 0:
        count = 0

        def wrap(name: str, real: Callable[..., object]) -> Callable[..., object]:
            def call(*given: object, **named: object) -> object:
                nonlocal count
                if name != "open" or (len(given) > 1 and int(given[1]) & os.O_CREAT):  # type: ignore[call-overload]
                    count += 1
                    if count == step:
                        os.kill(os.getpid(), signal.SIGKILL)
                return real(*given, **named)

            return call

        for name in WRITES:
            setattr(os, name, wrap(name, getattr(os, name)))
        try:
            work()
            os.fdopen(tell, "w").write(str(count))
        except BaseException:
            os._exit(3)
        os._exit(0)
    os.close(tell)
    _, status = os.waitpid(child, 0)
    with os.fdopen(told) as reply:
        return os.WIFSIGNALED(status), int(reply.read() or 0)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="builds are killed in forks")
def test_a_whole_build_killed_at_any_write_to_cache_or_site_is_made_up_for(
    sites: tuple[dict[str, bytes], dict[str, bytes]], tmp_path: Path
) -> None:
    old, new = sites
    content = small_club(tmp_path / "content")
    assert made(content, tmp_path / "start/site", tmp_path / "start/cache") == old
    edited(content)

    def begin(name: str) -> tuple[Path, Callable[[], object]]:
        here = tmp_path / name
        shutil.copytree(tmp_path / "start", here)
        return here / "site", lambda: made(content, here / "site", here / "cache")

    _, whole = begin("counted")
    was_killed, writes = killed_at(0, whole)
    assert not was_killed
    assert writes > 100
    seen = set()
    # Of some hundred writes a few, drawn by chance from each part, and the last ones at the swap.
    chance = random.Random(7)
    parts = [chance.randrange(at * writes // 6, (at + 1) * writes // 6) + 1 for at in range(6)]
    for step in (*parts, writes - 4, writes):
        site, work = begin(f"killed{step}")
        assert killed_at(step, work)[0], step
        between = site.with_name(".site.gapbook-old")
        now = files(site if site.exists() else between)
        assert now in (old, new), step
        seen.add(now == new)
        work()
        assert files(site) == new, step
        assert not between.exists()
    assert False in seen


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
