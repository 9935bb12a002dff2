"""Processor time of a piece of work: what else the machine does at the time counts for nothing."""

import gc
import os
import subprocess
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from time import thread_time


@contextmanager
def at_most(seconds: float) -> Iterator[None]:
    """Fail if what is done within keeps the processor longer.

    Python does not look for garbage meanwhile: what other tests have left would count here.
    """
    was_on = gc.isenabled()
    gc.disable()
    begin = thread_time()
    try:
        yield
    finally:
        took = thread_time() - begin
        if was_on:
            gc.enable()
    assert took < seconds, f"{took:.3f} s"


def least_of_five(words: Sequence[str], environment: Mapping[str, str]) -> float:
    """Give the least processor time, in seconds, of five runs of a whole process."""
    times = []
    for _ in range(5):
        process = subprocess.Popen(words, env=dict(environment), stdout=subprocess.DEVNULL)
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        assert process.returncode == 0, words
        times.append(used.ru_utime + used.ru_stime)
    return min(times)
