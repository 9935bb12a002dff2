"""Kill whole builds of a small club before a write of each kind, and tell what is left of each.

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


def kind_of(name: str, given: tuple[object, ...]) -> str:
    """Say what a write does and where, without what differs between writes of one kind."""
    paths = [] if name == "write" else [each for each in given[:2] if isinstance(each, str | Path)]
    return " ".join([name, *(_place(Path(path)) for path in paths)])


def _place(path: Path) -> str:
    parts = path.parts
    for at, part in enumerate(parts):
        if part == "cache":
            return "/".join(parts[at : at + 2])
        if part == "site" or part.startswith(".site."):
            return part
    return "elsewhere"


def killed_at(step: int, work: Callable[[], object]) -> tuple[bool, list[str]]:
    """Do the work in a fork that is killed before its write of a number; tell the kind of each."""
    told, tell = os.pipe()
    child = os.fork()
    if child == 0:
        kinds: list[str] = []

        def wrap(name: str, real: Callable[..., object]) -> Callable[..., object]:
            def call(*given: object, **named: object) -> object:
                if name != "open" or (len(given) > 1 and int(given[1]) & os.O_CREAT):  # type: ignore[call-overload]
                    kinds.append(kind_of(name, given))
                    if len(kinds) == step:
                        os.kill(os.getpid(), signal.SIGKILL)
                return real(*given, **named)

            return call

        for name in WRITES:
            setattr(os, name, wrap(name, getattr(os, name)))
        try:
            work()
            with os.fdopen(tell, "w") as reply:
                json.dump(kinds, reply)
        except BaseException as trouble:
            print(repr(trouble), file=sys.stderr, flush=True)
            os._exit(3)
        os._exit(0)
    os.close(tell)
    with os.fdopen(told) as reply:
        kinds_told: list[str] = json.loads(reply.read() or "[]")
    _, status = os.waitpid(child, 0)
    if os.WIFEXITED(status) and os.WEXITSTATUS(status):
        raise SystemExit(f"a build failed that was not killed, at step {step}")
    return os.WIFSIGNALED(status), kinds_told


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

    _, kinds = killed_at(0, begin("counted")[1])
    print(json.dumps({"writes": len(kinds), "kinds": sorted(set(kinds))}))
    # Of each kind of write one, drawn by lot. All writes of the site alone: killed_builds.py.
    chance = random.Random(7)
    for kind in dict.fromkeys(kinds):
        step = chance.choice([at for at, each in enumerate(kinds, 1) if each == kind])
        site, work = begin(f"killed{step}")
        was_killed, _ = killed_at(step, work)
        between = site.with_name(".site.gapbook-old")
        left = name_of(files(site if site.exists() else between), old, new)
        killed_at(0, work)
        after = name_of(files(site), old, new)
        told = {"step": step, "kind": kind, "killed": was_killed, "left": left, "after": after}
        print(json.dumps({**told, "beside": between.exists()}), flush=True)


if __name__ == "__main__":
    kill_some(Path(sys.argv[1]))
