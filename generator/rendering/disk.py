"""The few things done to a disk: new files, lasting folders, and a look that follows no link."""

import os
import stat
from collections.abc import Iterator
from enum import Enum
from pathlib import Path

from generator.frozen import dataclass
from generator.reading.trouble import GuideError

# Neither flag exists on every system; where one is missing its danger is missing too, or the
# look that follows no link (`walk`) finds it afterwards.
_NO_FOLLOW = getattr(os, "O_NOFOLLOW", 0)
_AS_IS = getattr(os, "O_BINARY", 0)


class OutputRefused(GuideError):
    """The site is not written, and nothing was changed: the folder or a path is not safe."""


class OutputFailed(GuideError):
    """The machine failed while the site was written; a whole site, old or new, is in place."""


class Kind(Enum):
    """What lies at a path, without following it."""

    FILE = "file"
    FOLDER = "folder"
    OTHER = "link, mount or special file"


@dataclass(frozen=True)
class Found:
    """One thing in a folder: its path from that folder, with slashes, and its kind."""

    path: str
    kind: Kind


def kind_of(path: Path) -> Kind | None:
    """Say what lies at a path, or None if there is nothing."""
    try:
        mode = os.lstat(path).st_mode
    except FileNotFoundError:
        return None
    if stat.S_ISREG(mode):
        return Kind.FILE
    # a mount cannot be moved with the folder that holds it
    if stat.S_ISDIR(mode) and not os.path.ismount(path):
        return Kind.FOLDER
    return Kind.OTHER


def children(folder: Path, within: str = "") -> tuple[Found, ...]:
    """List one folder, sorted by name; paths are counted from the folder that `within` names."""
    prefix = f"{within}/" if within else ""
    with os.scandir(folder) as entries:
        found = [Found(prefix + entry.name, kind_of_entry(entry)) for entry in entries]
    return tuple(sorted(found, key=lambda each: each.path))


def kind_of_entry(entry: "os.DirEntry[str]") -> Kind:
    """Say what an entry of a folder is."""
    if entry.is_file(follow_symlinks=False):
        return Kind.FILE
    # a mount cannot be moved with the folder that holds it
    if entry.is_dir(follow_symlinks=False) and not os.path.ismount(entry.path):
        return Kind.FOLDER
    return Kind.OTHER


def walk(folder: Path, within: str = "") -> Iterator[Found]:
    """List all that lies under a folder, sorted, entering neither links nor mounts."""
    for found in children(folder / within if within else folder, within):
        yield found
        if found.kind is Kind.FOLDER:
            yield from walk(folder, found.path)


def create_file(path: Path | str, content: bytes) -> None:
    """Write a file that must not exist yet."""
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | _NO_FOLLOW | _AS_IS
    handle = os.open(path, flags, 0o666)
    try:
        rest = memoryview(content)
        while rest:
            rest = rest[os.write(handle, rest) :]
    finally:
        os.close(handle)


def link_file(path: Path | str, file: Path | str) -> bool:
    """Give a file a second name, which must not exist yet; False where the disk has no such."""
    try:
        os.link(file, path, follow_symlinks=False)
    except (OSError, NotImplementedError):
        return False
    return True


def read_file(path: Path | str, limit: int) -> bytes:
    """Read a file that is no link, up to `limit` bytes; more than that raises OutputRefused."""
    handle = os.open(path, os.O_RDONLY | _NO_FOLLOW | _AS_IS)
    with os.fdopen(handle, "rb") as stream:
        content = stream.read(limit + 1)
    if len(content) > limit:
        raise OutputRefused(f"{os.path.basename(path)} is larger than {limit} bytes")  # noqa: PTH119
    return content


def sync_file(path: Path) -> None:
    """Make the bytes of a file last through a loss of power."""
    _sync(path, os.O_RDWR | _NO_FOLLOW)


def sync_all() -> None:
    """Make everything that was written last; the way for many files at once."""
    if hasattr(os, "sync"):
        os.sync()


def sync_folder(path: Path) -> None:
    """Make the names in a folder last through a loss of power."""
    if os.name != "nt":  # Windows gives no handle to a folder, and orders its journal itself
        _sync(path, os.O_RDONLY | _NO_FOLLOW)


def _sync(path: Path, flags: int) -> None:
    handle = os.open(path, flags)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
