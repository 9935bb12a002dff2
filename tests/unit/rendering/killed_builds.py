"""Kill real builds with SIGKILL before each of their writes to the disk, and report what is left.

Run as a script with an empty folder; prints one JSON line for each killed build. It forks, and so
must be a process of its own without threads.
"""

import json
import os
import shutil
import signal
import sys
from collections.abc import Callable
from pathlib import Path, PurePosixPath

from generator.rendering.looks import Look, looks_below
from generator.rendering.manifest import Artifact, Entry, Kept
from generator.rendering.output import recover_site, write_site

OLD = {"index.html": b"old home", "setups/a.html": b"old a", "setups/gone/b.html": b"old b" * 9}
NEW = {"index.html": b"new home!", "setups/a.html": b"old a", "charts/c.svg": b"<svg/>" * 7}
FOREIGN = {".gitignore": b"*\n", "CNAME": b"example.org", "setups/gone/mine/note.txt": b"kept"}
WRITES = (
    *("open", "write", "fsync", "mkdir", "rename", "replace", "link", "unlink", "rmdir"),
    "ftruncate",
)
STILL = {f"still/{at}.html": b"still" * 50 for at in range(9)}
"""Files that do not change, for a site of which most stays."""
LINKED = "setups/gone/b.html", "charts/c.svg"
"""Files that come as a second name of one kept elsewhere."""


def kill_at(step: int) -> None:
    """Let this process be killed just before its write number `step`, in its middle if it can."""
    done = 0

    def wrap(real: Callable[..., object], name: str) -> Callable[..., object]:
        def call(*given: object, **named: object) -> object:
            nonlocal done
            # to open a file for reading changes nothing
            if name != "open" or int(given[1]) & os.O_CREAT:  # type: ignore[call-overload]
                done += 1
                if done == step:
                    if name == "write":
                        half = bytes(given[1])  # type: ignore[call-overload]
                        real(given[0], half[: len(half) // 2])
                    os.kill(os.getpid(), signal.SIGKILL)
            return real(*given, **named)

        return call

    for name in WRITES:
        setattr(os, name, wrap(getattr(os, name), name))


def killed(step: int, work: Callable[[], object]) -> bool:
    """Do the work in a process that dies at a step; say whether it came so far."""
    child = os.fork()
    if child == 0:
        kill_at(step)
        try:
            work()
        except BaseException as trouble:
            print(repr(trouble), file=sys.stderr)
            os._exit(3)
        os._exit(0)
    _, status = os.waitpid(child, 0)
    if os.WIFEXITED(status) and os.WEXITSTATUS(status):
        raise SystemExit(f"a build failed that was not killed, at step {step}")
    return os.WIFSIGNALED(status)


class Place:
    """A project of its own for one killed build."""

    def __init__(self, root: Path, start: str) -> None:
        shutil.rmtree(root, ignore_errors=True)
        self.root, self.source, self.target = root, root / "content", root / "site"
        self.source.mkdir(parents=True)
        self.foreign = {} if start == "absent" else dict(FOREIGN)
        if start == "ignored":
            self.foreign = {".gitignore": FOREIGN[".gitignore"]}
        self.looks: dict[str, Look] = {}
        self.still = STILL if start == "spare" else {}
        if start == "spare":
            # the site before the last is put aside, and the next one made of it
            self.write({**NEW, "index.html": b"older home"})
        if start in ("site", "spare"):
            self.write(OLD)
        self.sites = {
            "old": OLD | self.still if start in ("site", "spare") else {},
            "new": NEW | self.still,
        }
        for path, content in self.foreign.items():
            (self.target / path).parent.mkdir(parents=True, exist_ok=True)
            (self.target / path).write_bytes(content)

    def write(self, site: dict[str, bytes]) -> None:
        files = [self.file(path, content) for path, content in (site | self.still).items()]
        if not self.still:
            write_site(files, self.target, source=self.source)
            return
        spare = self.root / "cache" / "spare-site"
        spare.parent.mkdir(exist_ok=True)
        write_site(files, self.target, source=self.source, looks=self.looks, spare=spare)
        found = looks_below(self.target)
        self.looks = {path: look for path, look in found.items() if look is not None}

    def file(self, path: str, content: bytes) -> Artifact | Kept:
        if path not in LINKED:
            return Artifact(PurePosixPath(path), content)
        kept = self.root / "kept" / path.replace("/", "-")
        kept.parent.mkdir(exist_ok=True)
        if not kept.exists():
            kept.write_bytes(content)
        return Kept(Entry.of(path, content), kept)

    def recover(self) -> bool:
        return recover_site(self.target, source=self.source)

    def state(self, folder: Path) -> str:
        """Name the site that stands whole in a folder, or list the files of a broken one."""
        if not folder.exists():
            return "absent"
        held = {
            str(path.relative_to(folder)): path.read_bytes()
            for path in folder.rglob("*")
            if path.is_file()
        }
        held.pop(".gapbook-site.json", None)
        ours = {path: content for path, content in held.items() if path not in self.foreign}
        for name, site in self.sites.items():
            if ours == site:
                return name
        return f"broken: {sorted(ours)}"

    def foreign_kept(self) -> bool:
        """Say whether each foreign file still is somewhere, with its bytes."""
        folders = [self.target, self.root / ".site.gapbook-old"]
        return all(
            any((f / path).is_file() and (f / path).read_bytes() == content for f in folders)
            for path, content in self.foreign.items()
        )

    def report(self, **more: object) -> None:
        print(json.dumps(more), flush=True)

    def outcome(self) -> dict[str, object]:
        return {
            "target": self.state(self.target),
            "old": self.state(self.root / ".site.gapbook-old"),
            "foreign_kept": self.foreign_kept(),
        }

    def final(self) -> dict[str, object]:
        return {
            "site": self.state(self.target),
            "foreign": all((self.target / p).read_bytes() == c for p, c in self.foreign.items()),
            "left": sorted(p.name for p in self.root.iterdir() if p.name.startswith(".")),
        }


def try_all(root: Path, start: str) -> None:
    step = 0
    while True:
        step += 1
        place = Place(root, start)
        if not killed(step, lambda: place.write(NEW)):  # noqa: B023 - called at once
            return
        after = place.outcome()
        place.recover()
        recovered = place.final()
        place.write(NEW)
        place.report(start=start, step=step, after=after, recovered=recovered, final=place.final())


def try_twice(root: Path, start: str) -> None:
    """Kill the recovery, too, at each of its own steps."""
    step = 0
    while True:
        step += 1
        again = 0
        while True:
            again += 1
            place = Place(root, start)
            if not killed(step, lambda: place.write(NEW)):  # noqa: B023
                return
            before_swap = place.outcome()["old"] == "absent"
            if step % (8 if before_swap else 2):
                break  # neighbours leave the same kind of thing; before the swap, all of them do
            if not killed(again, place.recover):
                break
            after = place.outcome()
            place.recover()
            recovered = place.final()
            place.write(NEW)
            place.report(
                start=start,
                step=[step, again],
                after=after,
                recovered=recovered,
                final=place.final(),
            )


if __name__ == "__main__":
    # what a killed process has written is safe with the system; only a loss of power needs more
    os.fsync = lambda handle: None
    for begun in ("absent", "ignored", "site", "spare"):
        try_all(Path(sys.argv[1]) / begun, begun)
    try_twice(Path(sys.argv[1]) / "twice", "site")
