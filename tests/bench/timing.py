"""One command run to its end: wall time, processor time of it and its children, peak memory."""

import os
import subprocess
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from statistics import median
from threading import Event, Thread
from time import perf_counter

FIRST, LAST, SLOWER = 0.01, 0.2, 1.2
"""Seconds between looks at the memory of all processes of a command: first often, then seldom."""
PAGE = os.sysconf("SC_PAGE_SIZE")


@dataclass(frozen=True)
class Run:
    """What one run took: seconds by the clock, seconds of processor time, bytes at the peak."""

    wall: float
    processor: float
    memory: int


class Failed(Exception):
    """A command that a measurement needs did not end well."""


def run(command: Sequence[str], *, cwd: Path, environment: Mapping[str, str]) -> Run:
    """Run a command to its end. Raises Failed, with what it wrote last, unless it ends with 0.

    The kernel's own peak of a child counts its parent's pages until it starts its program, so
    memory is looked at from outside, again and again.
    """
    begin = perf_counter()
    with subprocess.Popen(
        list(command), cwd=cwd, env=dict(environment), start_new_session=True,
        stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True,
    ) as process:  # fmt: skip
        peak, stop = [0], Event()
        watcher = Thread(target=_watch, args=(process.pid, peak, stop), daemon=True)
        watcher.start()
        assert process.stderr is not None
        said = process.stderr.read()
        _, status, used = os.wait4(process.pid, 0)
        wall = perf_counter() - begin
        process.returncode = os.waitstatus_to_exitcode(status)
        stop.set()
        watcher.join()
    if process.returncode != 0:
        raise Failed(f"{' '.join(command[:6])} ended with {process.returncode}: {said[-600:]}")
    return Run(wall, used.ru_utime + used.ru_stime, peak[0])


def _watch(session: int, peak: list[int], stop: Event) -> None:
    """Add up what is resident of all processes of a session, again and again."""
    pause = FIRST
    while not stop.wait(pause):
        pause = min(LAST, SLOWER * pause)
        peak[0] = max(peak[0], sum(_resident(pid, session) for pid in _processes()))


def _processes() -> list[str]:
    return [path.name for path in Path("/proc").iterdir() if path.name.isdigit()]


def _resident(pid: str, session: int) -> int:
    """Give what only this process holds, and its share of what it holds with others.

    Summed over the processes of a pool, plain resident size counts shared pages many times.
    """
    try:
        fields = Path(f"/proc/{pid}/stat").read_text("ascii", "replace").rsplit(") ", 1)[1].split()
        if int(fields[3]) != session:
            return 0
        for line in Path(f"/proc/{pid}/smaps_rollup").read_text("ascii").splitlines():
            if line.startswith("Pss:"):
                return int(line.split()[1]) * 1024
        return int(fields[21]) * PAGE
    except (OSError, IndexError, ValueError):
        return 0


@dataclass(frozen=True)
class Measured:
    """The median of some runs."""

    wall: float
    processor: float
    memory: int
    runs: int

    @classmethod
    def of(cls, runs: Sequence[Run]) -> "Measured":
        """Take the median of each figure, and the greatest memory."""
        return cls(
            median(each.wall for each in runs),
            median(each.processor for each in runs),
            max(each.memory for each in runs),
            len(runs),
        )

    def plain(self) -> dict[str, float]:
        """Give it as plain data."""
        return asdict(self)
