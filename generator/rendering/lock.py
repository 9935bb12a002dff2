"""One build at a time: the lock beside the site.

The lock file names the process that holds it, by its number and by its start, for numbers are
given again after a while and after each boot. The system's own file lock decides where there is
one, and it ends with its process, so a killed build leaves a file but no lock. Where there is none
(Windows, some network disks) the file's text decides alone.
"""

import json
import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from generator.frozen import dataclass
from generator.reading.trouble import shown
from generator.rendering.disk import Kind, OutputRefused, kind_of

_NO_FOLLOW = getattr(os, "O_NOFOLLOW", 0)
_TEXT_LIMIT = 1000
_PROC = Path("/proc")


@dataclass(frozen=True)
class Holder:
    """A process: its number, and its start as the system tells it, empty where it does not."""

    process: int
    started: str

    @classmethod
    def of(cls, process: int) -> "Holder":
        """Describe a process that runs now."""
        return cls(process, _start_of(process))

    def is_running(self) -> bool:
        """Say whether this very process, not a later one with its number, still runs."""
        if os.name == "nt":
            return True  # asking by signal would end the process there
        try:
            os.kill(self.process, 0)
        except (ProcessLookupError, OverflowError):
            return False
        except PermissionError:
            pass  # it runs, under another account
        now = _start_of(self.process)
        return not (now and self.started) or now == self.started


@contextmanager
def held(lock: Path) -> Iterator[None]:
    """Hold the lock, or raise OutputRefused if another build does; a dead build's is taken over."""
    handle = _take(lock)
    try:
        mine = Holder.of(os.getpid())
        text = json.dumps({"process": mine.process, "started": mine.started})
        os.ftruncate(handle, 0)
        os.lseek(handle, 0, os.SEEK_SET)
        os.write(handle, text.encode("ascii"))
        yield
    finally:
        with suppress(OSError):  # what is left then is a stale lock, which the next build sees
            os.ftruncate(handle, 0)
            # first the name, then the lock, so that nobody holds a file that is about to vanish
            lock.unlink()
        os.close(handle)


def _take(lock: Path) -> int:
    while True:
        if kind_of(lock) not in (None, Kind.FILE):
            raise OutputRefused(f"{shown(str(lock))} is in the way: it is not a lock of this tool")
        handle = os.open(lock, os.O_RDWR | os.O_CREAT | _NO_FOLLOW, 0o666)
        try:
            holder = _read(handle)
            granted = _granted(handle)
            if granted is None:
                granted = not (holder and holder.is_running())
            if not granted:
                raise OutputRefused(_busy(lock, holder))
            taken = _is_at(handle, lock)
        except BaseException:
            os.close(handle)
            raise
        if taken:
            return handle
        os.close(handle)  # the other build ended just now and took its file away


def _granted(handle: int) -> bool | None:
    """Ask the system for the lock; None where it has none to give."""
    try:
        import fcntl
    except ImportError:
        return None
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:
        return None
    return True


def _is_at(handle: int, lock: Path) -> bool:
    try:
        return os.path.samestat(os.fstat(handle), os.lstat(lock))
    except FileNotFoundError:
        return False


def _read(handle: int) -> Holder | None:
    """Read who holds the lock; None if the file is empty or was cut short by a crash."""
    try:
        tree = json.loads(os.read(handle, _TEXT_LIMIT))
        holder = Holder(tree["process"], tree["started"])
    except (ValueError, LookupError, TypeError):
        return None
    ours = type(holder.process) is int and holder.process > 0 and isinstance(holder.started, str)
    return holder if ours else None


def _busy(lock: Path, holder: Holder | None) -> str:
    who = f"another build (process {holder.process})" if holder else "another build"
    return (
        f"{who} is writing this site; wait until it has ended, or, if none runs, "
        f"delete {shown(str(lock))}"
    )


def _start_of(process: int) -> str:
    """Give a process's start: ticks since the boot, and which boot; empty if it is not told."""
    try:
        # the name in brackets may hold blanks and brackets itself; the start is field 22
        state = (_PROC / str(process) / "stat").read_text("utf-8", "replace").rpartition(")")[2]
        boot = (_PROC / "sys/kernel/random/boot_id").read_text("ascii").strip()
        fields = state.split()
        return "ended" if fields[0] in "ZX" else f"{fields[19]} {boot}"
    except (OSError, LookupError):
        return ""
