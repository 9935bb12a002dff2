"""Kill whole builds of a small club before every write, and tell what is left of each.

Run as a script with an empty folder, a number, and the trials to make (default: all). The next
build is run upon what one write of each kind left, and upon every so manieth: upon all of them with
the number 1, which takes a quarter of an hour. It prints one JSON line for each trial. It forks,
and so must be a process of its own without threads.
"""

import json
import os
import re
import shutil
import sys
import tempfile
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from hashlib import sha256
from pathlib import Path

from generator.build import build
from generator.cache.store import Store
from generator.records.examples import example_files
from generator.rendering.manifest import MARKER

sys.path.insert(0, str(Path(__file__).parent))
from killed_steps import killed_at_each

TODAY = date(2026, 11, 25)
KEY = bytes(range(32))
RECORD = "setups/ostvane-meridel/copperbill-seven-inch.yaml"
SITE_CACHE = ("site", "cache")
Files = dict[str, bytes]


def small_club(folder: Path) -> Path:
    for file in example_files("setup: {title: The first words}"):
        path = folder / file.path
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(file.content)
    return folder


def worded(content: Path, words: str) -> Path:
    record = content / RECORD
    text = record.read_text("utf-8")
    record.write_text(re.sub("[a-z]+ words", words, text), "utf-8")
    return content


def edited(content: Path) -> Path:
    return worded(content, "second words")


def files(site: Path) -> Files:
    return {
        path.relative_to(site).as_posix(): path.read_bytes()
        for path in site.rglob("*")
        if path.is_file() and path.name != MARKER
    }


def made(content: Path, site: Path, cache: Path | None = None) -> Files:
    store = None if cache is None else Store.opened(cache, KEY)
    assert (store is None) == (cache is None)
    built = build(content, site, leave_out_faulty=False, today=TODAY, cache=store)
    assert not built.has_errors, built
    return files(site)


Sums = dict[str, bytes]


class Sight:
    """Tells what lies in a folder without reading again what has not changed."""

    def __init__(self) -> None:
        self._known: dict[tuple[object, ...], bytes] = {}

    def of(self, folder: Path) -> Sums | None:
        """Give the digest of every file below a folder, of its marker too; None for no folder."""
        if not folder.exists():
            return None
        found: Sums = {}
        start = len(f"{folder}/")
        for here, _, names in os.walk(folder):
            for name in names:
                path = f"{here}/{name}"
                state = os.lstat(path)
                key = (state.st_ino, state.st_size, state.st_mtime_ns, state.st_ctime_ns)
                if key not in self._known:
                    self._known[key] = sha256(Path(path).read_bytes()).digest()
                found[path[start:]] = self._known[key]
        return found


@dataclass
class Trial:
    """One kind of build, killed at each of its writes."""

    name: str
    here: Path
    old: Sums | None
    new: Sums | None
    again: Callable[[Path], object]
    share: int
    seen: dict[str, int] = field(default_factory=dict)
    kinds: dict[str, int] = field(default_factory=dict)
    built_upon: int = 0
    wrong: list[str] = field(default_factory=list)
    sight: Sight = field(default_factory=Sight)

    def look(self, step: int, kind: str) -> None:
        """Judge what a killed build left, and let a next one build upon some of it."""
        left = self.name_of(self.here)
        self.seen[left] = self.seen.get(left, 0) + 1
        if left == "broken":
            self.wrong.append(f"step {step}, {kind}: the site is broken")
        if kind not in self.kinds or step % self.share == 0:
            self.build_upon(step, kind)
        self.kinds[kind] = self.kinds.get(kind, 0) + 1

    def name_of(self, here: Path) -> str:
        site, beside = self.sight.of(here / "site"), self.sight.of(here / ".site.gapbook-old")
        if site is None and beside is not None:
            return "between" if beside == self.old else "broken"
        return "new" if site == self.new else "old" if site == self.old else "broken"

    def build_upon(self, step: int, kind: str) -> None:
        copy = self.here.with_name("copy")
        shutil.copytree(self.here, copy)
        child = os.fork()
        if child == 0:
            tempfile.tempdir = str(copy / "passing")
            self.again(copy)
            os._exit(0)
        _, status = os.waitpid(child, 0)
        left = {path.name for path in copy.iterdir()} - {"site", "cache", "passing"}
        left |= {path.name for path in (copy / "passing").iterdir()}
        self.built_upon += 1
        if status or left or self.sight.of(copy / "site") != self.new:
            self.wrong.append(f"step {step}, {kind}: the next build ends {status}, leaves {left}")
        shutil.rmtree(copy)


TRIALS = "first", "first-cached", "again", "again-cached"
"""A whole build, and one over an older site, each without a cache and with one."""


def make_trials(root: Path, share: int, names: tuple[str, ...]) -> None:
    # what a killed process has written is safe with the system; only a loss of power needs more
    os.fsync, os.sync = lambda handle: None, lambda: None
    content, sight = small_club(root / "content"), Sight()
    # before the site that is killed over there was another, which lies aside in the cache
    made(worded(content, "older words"), *(root / "again-cached/live" / it for it in SITE_CACHE))
    worded(content, "first words")
    for name in ("again", "again-cached"):
        made(content, *(root / name / "live" / it for it in SITE_CACHE))
    shutil.rmtree(root / "again/live/cache")
    old = sight.of(root / "again/live/site")
    made(edited(content), root / "calm/site", root / "calm/cache")
    new = sight.of(root / "calm/site")
    assert old != new
    for name in names:
        here, cached = root / name / "live", name.endswith("cached")
        (here / "passing").mkdir(parents=True)

        def work(here: Path = here, cached: bool = cached) -> None:
            tempfile.tempdir = str(here / "passing")
            made(content, here / "site", here / "cache" if cached else None)

        def again(copy: Path, cached: bool = cached) -> None:
            made(content, copy / "site", copy / "cache" if cached else root / "calm/cache")

        trial = Trial(name, here, old if "again" in name else None, new, again, share)
        steps = killed_at_each(work, trial.look)
        told = {
            "trial": name, "killed": steps, "left": trial.seen, "built_upon": trial.built_upon,
            "kinds": trial.kinds, "wrong": trial.wrong, "end": trial.name_of(here),
        }  # fmt: skip
        print(json.dumps(told), flush=True)


if __name__ == "__main__":
    make_trials(Path(sys.argv[1]), int(sys.argv[2]), tuple(sys.argv[3:]) or TRIALS)
