"""Kill whole builds of a small club before some of their writes, and tell what is left of each.

Run as a script with an empty folder; prints how many writes a build makes, then one JSON line for
each killed build. It forks, and so must be a process of its own without threads; and all builds
that are compared run in forks of one state, so that all of them make the same writes.
"""

import json
import os
import random
import shutil
import signal
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path

from generator.build import build
from generator.cache.store import Store
from generator.records.examples import example_files
from generator.rendering.manifest import MARKER

TODAY = date(2026, 11, 25)
KEY = bytes(range(32))
RECORD = "setups/ostvane-meridel/copperbill-seven-inch.yaml"
WRITES = ("open", "write", "mkdir", "rename", "replace", "link", "unlink", "rmdir", "ftruncate")
Files = dict[str, bytes]


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
            with os.fdopen(tell, "w") as reply:
                reply.write(str(count))
        except BaseException as trouble:
            print(repr(trouble), file=sys.stderr, flush=True)
            os._exit(3)
        os._exit(0)
    os.close(tell)
    _, status = os.waitpid(child, 0)
    if os.WIFEXITED(status) and os.WEXITSTATUS(status):
        raise SystemExit(f"a build failed that was not killed, at step {step}")
    with os.fdopen(told) as reply:
        return os.WIFSIGNALED(status), int(reply.read() or 0)


def name_of(site: Files, old: Files, new: Files) -> str:
    return "old" if site == old else "new" if site == new else "broken"


def kill_some(root: Path) -> None:
    content = small_club(root / "content")
    old = made(content, root / "start/site", root / "start/cache")
    edited(content)
    new = made(content, root / "calm")

    def begin(name: str) -> tuple[Path, Callable[[], object]]:
        here = root / name
        shutil.copytree(root / "start", here)
        return here / "site", lambda: made(content, here / "site", here / "cache")

    _, writes = killed_at(0, begin("counted")[1])
    print(json.dumps({"writes": writes}))
    # Of some hundred writes a few, drawn by chance from each part, and the last ones at the swap.
    chance = random.Random(7)
    parts = [chance.randrange(at * writes // 6, (at + 1) * writes // 6) + 1 for at in range(6)]
    for step in (*parts, writes - 4, writes):
        site, work = begin(f"killed{step}")
        was_killed, _ = killed_at(step, work)
        between = site.with_name(".site.gapbook-old")
        left = name_of(files(site if site.exists() else between), old, new)
        killed_at(0, work)
        after = name_of(files(site), old, new)
        told = {"step": step, "killed": was_killed, "left": left, "after": after}
        print(json.dumps({**told, "beside": between.exists()}), flush=True)


if __name__ == "__main__":
    kill_some(Path(sys.argv[1]))
