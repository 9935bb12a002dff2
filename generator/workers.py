"""Several processes for work that falls into parts; the results come in the order of the parts."""

import os
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from itertools import islice
from typing import TypeVar

from generator.reading.trouble import GuideError

Part = TypeVar("Part")
Result = TypeVar("Result")
_AHEAD = 4
"""Parts given out beforehand for each process: enough to keep it busy, few enough for memory."""


def cores() -> int:
    """Give the number of processors that this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def mapped(
    work: Callable[[Part], Result], parts: Iterable[Part], *, workers: int
) -> Iterator[Result]:
    """Do the work of each part, with `workers` processes if there are more parts than one.

    `work` must be a function that another process can be told the name of. Raises GuideError if
    the system ends one of the processes.
    """
    waiting = list(parts)
    if workers < 2 or len(waiting) < 2:
        yield from map(work, waiting)
        return
    import multiprocessing
    from collections import deque
    from concurrent.futures import Future, ProcessPoolExecutor
    from concurrent.futures.process import BrokenProcessPool

    # A fork has all modules at once. It is safe here: no other thread runs during a build.
    method = "fork" if sys.platform.startswith("linux") else "spawn"
    context = multiprocessing.get_context(method)
    workers = min(workers, len(waiting))
    with (
        _told(BrokenProcessPool),
        ProcessPoolExecutor(workers, context, initializer=_end_with_the_build) as pool,
    ):
        rest = iter(waiting)
        running: deque[Future[Result]] = deque()
        for part in islice(rest, _AHEAD * workers):
            running.append(pool.submit(work, part))
        while running:
            yield running.popleft().result()
            for part in islice(rest, 1):
                running.append(pool.submit(work, part))


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
