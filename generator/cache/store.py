"""A folder of sealed values and of finished files, each under a name made of what it follows from.

Several builds may use one store at once: everything is written beside its place and renamed into
it. Nothing in a store is needed. What cannot be read, is damaged, or was sealed with another key
counts as absent and is told once; a value that cannot be written is not kept.
"""

import os
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from hashlib import sha256
from itertools import count
from pathlib import Path
from time import time
from typing import Any

from generator.cache.sealed import NotSealed, seal, unseal
from generator.reading.trouble import GuideError

_VALUES, _FILES = "values", "files"
_NO_FOLLOW = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
_DAY = 86400.0
_BETWEEN = 3600.0
_TAG = "CACHEDIR.TAG"
# Source: the Cache Directory Tagging Specification, by which programs that copy disks pass it by.
_TAG_TEXT = "Signature: 8a477f597d28d172789f06886806bc55\n"


class Store:
    """Values and files by name. `told` holds what is to be said of it, at most one line each."""

    def __init__(self, folder: Path, key: bytes) -> None:
        self.folder = folder
        self.told: dict[str, str] = {}
        self._key = key
        self._numbers = count()
        self._folders: set[str] = set()
        self.is_written = False

    @classmethod
    def opened(cls, folder: Path, key: bytes | None) -> "Store | None":
        """Open a store, making its folder; None where there is no place for one or no key."""
        if key is None:
            return None
        try:
            folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            state = os.lstat(folder)
            if not os.path.isdir(folder) or (  # noqa: PTH112
                hasattr(os, "getuid") and state.st_uid != os.getuid()
            ):
                return None
            tag = folder / _TAG
            if not tag.exists():
                tag.write_text(_TAG_TEXT, "ascii")
        except OSError:
            return None
        return cls(folder, key)

    def get(self, name: str) -> Any:
        """Give the value of a name; None where there is none that can be taken."""
        path = self._path(_VALUES, name)
        content = _read(path)
        if content is None:
            return None
        try:
            value = unseal(content, name, self._key)
        except NotSealed:
            self.told["foreign"] = (
                f"the cache in {self.folder} holds what is damaged or was kept with another key; "
                "it was not used"
            )
            with suppress(OSError):
                os.unlink(path)  # noqa: PTH108 - paths are text here, for speed
            return None
        _touch(path)
        return value

    def has(self, name: str) -> bool:
        """Tell whether there is something under a name; whether it can be taken is seen then."""
        return os.path.exists(self._path(_VALUES, name))  # noqa: PTH110 - as above

    def put(self, name: str, value: object) -> None:
        """Keep a value under a name."""
        self._write(self._path(_VALUES, name), seal(value, name, self._key))

    def keep_file(self, content: bytes) -> str:
        """Keep the bytes of a file and give their SHA-256, by which they are found again.

        A build cannot go on without them: raises GuideError if they cannot be written.
        """
        name = sha256(content).hexdigest()
        path = self._path(_FILES, name)
        if not os.path.exists(path):  # noqa: PTH110 - as above
            self._write(path, content)
            if not os.path.exists(path):  # noqa: PTH110 - as above
                raise GuideError(self.told["full"])
        return name

    def file(self, name: str) -> bytes | None:
        """Give the bytes of a file by their SHA-256; None if they are not there unchanged."""
        path = self._path(_FILES, name)
        content = _read(path)
        if content is None:
            return None
        if sha256(content).hexdigest() != name:
            self.forget_files((path,))
            return None
        return content

    def forget_files(self, places: Iterable[str]) -> None:
        """Delete files that are not what they were kept for, and tell of them."""
        for place in places:
            self.told["damaged"] = (
                f"the cache in {self.folder} held a changed file; it was made again"
            )
            with suppress(OSError):
                os.unlink(place)  # noqa: PTH108 - as above

    def keep_pieces(self, pieces: Iterable[bytes]) -> tuple[str, int]:
        """Keep a file that comes in pieces; give its SHA-256 and its size."""
        state, size = sha256(), 0
        folder = f"{self.folder}/{_FILES}"
        fresh = f"{folder}/.{os.getpid()}-{next(self._numbers)}"
        os.makedirs(folder, exist_ok=True)  # noqa: PTH103 - as above
        with open(fresh, "xb") as file:  # noqa: PTH123 - as above
            for piece in pieces:
                state.update(piece)
                size += len(piece)
                file.write(piece)
        path = self._path(_FILES, state.hexdigest())
        os.makedirs(path.rpartition("/")[0], exist_ok=True)  # noqa: PTH103 - as above
        os.replace(fresh, path)  # noqa: PTH105 - as above
        self.is_written = True
        return state.hexdigest(), size

    def has_file(self, name: str) -> bool:
        """Tell whether a file is there; whether it is unchanged is seen when it is used."""
        return os.path.exists(self._path(_FILES, name))  # noqa: PTH110 - as above

    def path_of_file(self, name: str) -> str:
        """Give the place of a file, whether it is there or not; as text, for there are many."""
        return self._path(_FILES, name)

    def _path(self, kind: str, name: str) -> str:
        return f"{self.folder}/{kind}/{name[:2]}/{name}"

    def _write(self, path: str, content: bytes) -> None:
        folder = path.rpartition("/")[0]
        fresh = f"{folder}/.{os.getpid()}-{next(self._numbers)}"
        try:
            if folder not in self._folders:
                os.makedirs(folder, exist_ok=True)  # noqa: PTH103 - as above
                self._folders.add(folder)
            handle = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _NO_FOLLOW, 0o666)
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            os.replace(fresh, path)  # noqa: PTH105 - as above
        except OSError as cause:
            self.told["full"] = f"the cache in {self.folder} cannot be written: {cause.strerror}"
            with suppress(OSError):
                os.unlink(fresh)  # noqa: PTH108 - as above
            return
        self.is_written = True

    def prune_if_due(self, most: int) -> None:
        """Prune if nobody did within the hour: looking through the whole store takes its time."""
        tag = self.folder / _TAG
        with suppress(OSError):
            if time() - tag.stat().st_mtime < _BETWEEN:
                return
            os.utime(tag)
        self.prune(most)

    def prune(self, most: int) -> None:
        """Delete what was not used for longest until no more than `most` bytes are kept."""
        found = sorted(self._everything())
        size = sum(each[1] for each in found)
        for _, bytes_, path in found:
            if size <= most:
                break
            with suppress(OSError):
                os.unlink(path)  # noqa: PTH108 - as above
            size -= bytes_

    def _everything(self) -> Iterator[tuple[float, int, str]]:
        """Give everything kept with the time of its last use, and delete what a crash left."""
        for kind in (_VALUES, _FILES):
            for path in _walk(f"{self.folder}/{kind}"):
                with suppress(OSError):
                    state = os.lstat(path)
                    if path.rpartition("/")[2].startswith(".") and time() - state.st_mtime > _DAY:
                        os.unlink(path)  # noqa: PTH108 - as above
                        continue
                    yield state.st_mtime, state.st_size, path


class Borrowed(Store):
    """A store that was there before and is only read from: nothing is put into it."""

    @classmethod
    def found(cls, folder: Path | None, key_of: Callable[[], bytes | None]) -> "Borrowed | None":
        """Give the store of a folder; None where there is none, and no key is asked for then."""
        if folder is None or not (folder / _TAG).is_file():
            return None
        key = key_of()
        return None if key is None else cls(folder, key)

    def put(self, name: str, value: object) -> None:
        """Do nothing: who only reads leaves nothing behind."""

    def keep_file(self, content: bytes) -> str:
        """Give the SHA-256 alone."""
        return sha256(content).hexdigest()


class Nowhere(Borrowed):
    """The store of who has none: nothing is in it, and nothing is put into it."""

    def __init__(self) -> None:
        super().__init__(Path(os.devnull), b"")

    def get(self, name: str) -> None:
        """Give nothing."""


def _read(path: str) -> bytes | None:
    try:
        handle = os.open(path, os.O_RDONLY | _NO_FOLLOW)
        with os.fdopen(handle, "rb", buffering=0) as file:
            return file.read()
    except OSError:
        return None


def _touch(path: str) -> None:
    """Say that a value was used; once a day is enough."""
    with suppress(OSError):
        if time() - os.stat(path).st_mtime > _DAY:  # noqa: PTH116 - paths are text, for speed
            os.utime(path)


def _walk(folder: str) -> Iterator[str]:
    try:
        entries = list(os.scandir(folder))
    except OSError:
        return
    for entry in entries:
        if entry.is_dir(follow_symlinks=False):
            yield from _walk(entry.path)
        else:
            yield entry.path
