"""A folder that lasts as long as one build: what a build without a cache makes goes there.

A killed build cannot take its folder away; the next build of the same account does. A lock beside
the folder tells whose build still runs. It is there before the folder and goes after it, so that
nothing lies about that no lock speaks of, and nothing that is in use is taken away.
"""

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from secrets import token_hex

from generator.rendering.disk import Kind, OutputRefused, kind_of
from generator.rendering.lock import held

_NAME, _LOCK = "gapbook-", ".lock"


@contextmanager
def passing_folder() -> Iterator[Path]:
    """Give a new folder for passing files, which is gone afterwards."""
    with ExitStack() as until_then:
        folder = _locked(until_then)
        until_then.callback(shutil.rmtree, folder, ignore_errors=True)
        folder.mkdir(mode=0o700)
        yield folder


def _locked(until_then: ExitStack) -> Path:
    while True:
        folder = Path(tempfile.gettempdir()) / f"{_NAME}{token_hex(8)}"
        # Another build that clears up can take a lock for left in the moment before it is held.
        with suppress(OutputRefused):
            until_then.enter_context(held(_lock_of(folder)))
            return folder


def clear_passed() -> None:
    """Take away the passing folders of builds of this account that were killed."""
    with suppress(OSError):
        for entry in list(os.scandir(tempfile.gettempdir())):
            if entry.name.startswith(_NAME) and entry.name.endswith(_LOCK):
                with suppress(OSError, OutputRefused):
                    _clear(Path(entry.path))


def _clear(lock: Path) -> None:
    if not _is_mine(lock, Kind.FILE):
        return
    with held(lock):
        folder = lock.with_suffix("")
        if _is_mine(folder, Kind.FOLDER):
            shutil.rmtree(folder)


def _lock_of(folder: Path) -> Path:
    return folder.with_name(f"{folder.name}{_LOCK}")


def _is_mine(path: Path, kind: Kind) -> bool:
    """Tell whether there is such a thing, no link, of this account: others may write here too."""
    is_own = not hasattr(os, "getuid") or os.lstat(path).st_uid == os.getuid()
    return kind_of(path) is kind and is_own
