"""Kill a piece of work before every one of its writes to the disk, though it is done only once.

Before each write the process forks. The one that came so far is killed, in the middle of its write
if it is one of bytes, and the disk is looked at as it lies. Then the fork goes on from there.
"""

import builtins
import ctypes
import io
import json
import os
import signal
import sys
from collections.abc import Callable
from pathlib import Path

WRITES = (
    *("mkdir", "rename", "replace", "link", "symlink", "unlink", "remove", "rmdir", "truncate"),
    *("ftruncate", "fsync", "sync", "utime", "chmod"),
)
_SUBREAPER = 36
"""Source: Linux, `prctl(2)`, PR_SET_CHILD_SUBREAPER: forks of a killed process come to this one."""


def killed_at_each(work: Callable[[], object], look: Callable[[int, str], None]) -> int:
    """Kill the work before each write and look at what is left; give the number of writes.

    `look` is told the number of the write and its kind. Raises SystemExit if the work fails.
    """
    assert not ctypes.CDLL(None).prctl(_SUBREAPER, 1, 0, 0, 0)
    told, tell = os.pipe()
    wait, go = os.pipe()
    running = os.fork()
    if running == 0:
        os.close(told)
        os.close(go)
        _Dying(tell, wait).do(work)
    os.close(tell)
    os.close(wait)
    steps = 0
    with os.fdopen(told) as words:
        for line in words:
            kind, following = json.loads(line)
            _, status = os.waitpid(running, 0)
            assert os.WTERMSIG(status) == signal.SIGKILL, status
            steps, running = steps + 1, following
            look(steps, kind)
            os.write(go, b".")
    _, status = os.waitpid(running, 0)
    os.close(go)
    if status:
        raise SystemExit(f"the work failed by itself after step {steps}")
    return steps


class _Dying:
    """The process that does the work, in one body after the other."""

    def __init__(self, tell: int, wait: int) -> None:
        self._tell, self._wait = tell, wait
        self._write, self._open, self._read = os.write, os.open, os.read
        self._kill, self._fork = os.kill, os.fork

    def do(self, work: Callable[[], object]) -> None:
        self._watch()
        try:
            work()
        except BaseException as trouble:
            self._write(2, f"{trouble!r}\n".encode())
            os._exit(3)
        os._exit(0)

    def _watch(self) -> None:
        for name in WRITES:
            setattr(os, name, self._stepped(name, getattr(os, name)))
        os.write = lambda handle, content: self._in_two(  # type: ignore[assignment]
            lambda part: self._write(handle, part), content
        )
        os.open = self._opened_low  # type: ignore[assignment]
        real, dying = builtins.open, self

        class Counted(io.FileIO):
            def write(self, content: object) -> int:
                return dying._in_two(super().write, content)

        def opened(file: object, mode: str = "r", *given: object, **named: object) -> object:
            if not set(mode) & set("wxa+"):
                return real(file, mode, *given, **named)  # type: ignore[call-overload]
            if not isinstance(file, int):
                self._step("open", (file,))
            buffered = io.BufferedWriter(Counted(file, mode.replace("t", "")))  # type: ignore[arg-type]
            return buffered if "b" in mode else io.TextIOWrapper(buffered, "utf-8")

        builtins.open = io.open = os.fdopen = opened  # type: ignore[assignment]

    def _stepped(self, name: str, real: Callable[..., object]) -> Callable[..., object]:
        def call(*given: object, **named: object) -> object:
            self._step(name, given)
            return real(*given, **named)

        return call

    def _opened_low(self, path: str, flags: int, *given: object, **named: object) -> int:
        if flags & os.O_CREAT:
            self._step("open", (path,))
        return self._open(path, flags, *given, **named)  # type: ignore[arg-type]

    def _in_two(self, write: Callable[[memoryview], int | None], content: object) -> int:
        whole = memoryview(content).cast("B")  # type: ignore[arg-type]
        half = len(whole) // 2
        self._step("write", (), lambda: write(whole[:half]))
        return half + (write(whole[half:]) or 0)

    def _step(
        self, name: str, given: tuple[object, ...], partly: Callable[[], object] = lambda: None
    ) -> None:
        following = self._fork()
        if following:
            try:
                partly()
                line = json.dumps([kind_of(name, given), following]) + "\n"
                self._write(self._tell, line.encode())
            finally:
                # whatever fails: two that go on would soon be many
                self._kill(os.getpid(), signal.SIGKILL)
        if not self._read(self._wait, 1):
            os._exit(4)  # nobody looks on any more


def kind_of(name: str, given: tuple[object, ...]) -> str:
    """Say what a write does and where, without what differs between writes of one kind."""
    paths = [each for each in given[:2] if isinstance(each, str | Path)]
    return " ".join([name, *(_place(Path(path)) for path in paths)])


def _place(path: Path) -> str:
    parts = path.parts
    for at, part in enumerate(parts):
        if part == "cache":
            return "/".join(parts[at : at + 2])
        if part in ("site", "passing") or part.startswith(".site."):
            return part
    return "elsewhere"


if sys.platform != "linux":
    raise SystemExit("this needs Linux: forks of killed processes are taken over")
