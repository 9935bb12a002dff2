"""Several processes for work that falls into parts; the results come in the order of the parts."""

import os
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from itertools import chain, islice
from typing import TYPE_CHECKING, TypeVar

from generator.reading.trouble import GuideError

if TYPE_CHECKING:
    from concurrent.futures import ProcessPoolExecutor

Part = TypeVar("Part")
Result = TypeVar("Result")
_AHEAD = 4
"""Parts given out beforehand for each process: enough to keep it busy, few enough for memory."""


def cores() -> int:
    """Give the number of processors that this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


class Crew:
    """The processes of one build: begun when several have work for the first time, then kept.

    A process holds what its build held when it began. Those that begin before the records are read
    stay small, however many records there are.
    """

    def __init__(self, workers: int) -> None:
        self._workers = workers
        self._pool: ProcessPoolExecutor | None = None

    def __enter__(self) -> "Crew":
        """Begin no process yet."""
        return self

    def __exit__(self, *_: object) -> None:
        """Let all processes end."""
        self.dismiss()

    def dismiss(self) -> None:
        """Let all processes end, and their memory go; others begin if there is more work."""
        if self._pool is not None:
            self._pool.shutdown(cancel_futures=True)
            self._pool = None

    def mapped(self, work: Callable[[Part], Result], parts: Iterable[Part]) -> Iterator[Result]:
        """Do the work of each part, with several processes if there are more parts than one.

        Parts are taken as their turn comes. `work` must be a function that another process can be
        told the name of. Raises GuideError if the system ends one of the processes.
        """
        rest = iter(parts)
        first = list(islice(rest, 2))
        if self._workers < 2 or len(first) < 2:
            yield from map(work, chain(first, rest))
            return
        from collections import deque
        from concurrent.futures import Future
        from concurrent.futures.process import BrokenProcessPool

        with _told(BrokenProcessPool):
            pool = self._pool = self._pool or _pool(self._workers)
            waiting = chain(first, rest)
            running: deque[Future[Result]] = deque()
            for part in islice(waiting, _AHEAD * self._workers):
                running.append(pool.submit(work, part))
            while running:
                yield running.popleft().result()
                for part in islice(waiting, 1):
                    running.append(pool.submit(work, part))


def _pool(workers: int) -> "ProcessPoolExecutor":
    import multiprocessing
    from concurrent.futures import ProcessPoolExecutor

    # A fork has all modules at once. It is safe here: no other thread runs before it in a build.
    method = "fork" if sys.platform.startswith("linux") else "spawn"
    context = multiprocessing.get_context(method)
    return ProcessPoolExecutor(workers, context, initializer=_end_with_the_build)


def _end_with_the_build() -> None:
    """Let this process end as soon as the one that began it is gone, even if that was killed.

    It would wait for more work for ever, since its siblings hold the same pipe open.
    """
    from multiprocessing import parent_process
    from threading import Thread

    build = parent_process()
    if build is None:
        return

    def follow() -> None:
        build.join()
        os._exit(1)

    Thread(target=follow, daemon=True).start()


@contextmanager
def _told(broken: type[Exception]) -> Iterator[None]:
    """Tell in one line that a process went."""
    try:
        yield
    except broken as cause:
        raise GuideError(
            "a process of the build was ended from outside, as systems do when memory runs out; "
            "build again, with `--workers 1` if it stays so"
        ) from cause
