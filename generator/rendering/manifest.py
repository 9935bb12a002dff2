"""The marker in a site's folder: that this tool made it, and the list of the files it wrote.

The marker is the licence to replace the folder, and the list is the licence to delete: no file
that is not in it is ever removed. It holds no time, host, account or path of the machine, so the
same site has the same marker everywhere, and a web host may serve it without harm.
"""

import hashlib
import json
import re
from collections.abc import Iterable
from functools import cached_property, lru_cache
from pathlib import Path, PurePosixPath

from generator.frozen import dataclass
from generator.reading.trouble import shown
from generator.rendering.disk import Kind, OutputRefused, kind_of, read_file

MARKER = ".gapbook-site.json"
FORMAT = 1
_MAKER = "gapbook"
_MARKER_LIMIT = 64 * 1024 * 1024  # some 400,000 files; more is not a marker of ours

_SEGMENT = re.compile(r"[a-z0-9_][a-z0-9._-]{0,79}", re.ASCII)
_SHA256 = re.compile(r"[0-9a-f]{64}", re.ASCII)
# names that some systems give to devices, whatever follows a dot
_DEVICES = frozenset(
    ["con", "prn", "aux", "nul"] + [f"{port}{n}" for port in ("com", "lpt") for n in range(10)]
)
_DEPTH_LIMIT = 12
_LENGTH_LIMIT = 240  # leaves room for a folder before it where a whole path ends at 260


@dataclass(frozen=True)
class Artifact:
    """One file of the site: its path from the site's root, with slashes, and its bytes."""

    path: PurePosixPath | str
    content: bytes

    @cached_property
    def entry(self) -> "Entry":
        """Describe the file."""
        return Entry.of(str(self.path), self.content)


@dataclass(frozen=True)
class Kept:
    """One file of the site whose bytes lie in a file already; that file is never changed."""

    entry: "Entry"
    file: Path | str


@dataclass(frozen=True)
class Entry:
    """One line of the manifest."""

    path: str
    size: int
    sha256: str

    @classmethod
    def of(cls, path: str, content: bytes) -> "Entry":
        """Describe a file by its bytes."""
        return cls(path, len(content), hashlib.sha256(content).hexdigest())


@dataclass(frozen=True)
class Manifest:
    """All files of a site but the marker itself, sorted by path."""

    entries: tuple[Entry, ...]

    @cached_property
    def files(self) -> frozenset[str]:
        """Paths of the files, without the marker."""
        return frozenset(entry.path for entry in self.entries)

    @cached_property
    def folders(self) -> frozenset[str]:
        """Paths of the folders that hold the files, without the site's root."""
        found: set[str] = set()
        for path in self.files:
            folder = path.rpartition("/")[0]
            while folder and folder not in found:
                found.add(folder)
                folder = folder.rpartition("/")[0]
        return frozenset(found)

    @cached_property
    def text(self) -> bytes:
        """The marker: one file a line, so that a change of one file is a change of one line."""
        # No path of a manifest and no digest has a sign that JSON writes in another way.
        lines = ",\n".join(
            f'{{"path": "{e.path}", "bytes": {e.size}, "sha256": "{e.sha256}"}}'
            for e in self.entries
        )
        head = f'"made_by": "{_MAKER}",\n"format": {FORMAT}'
        return f'{{\n{head},\n"files": [\n{lines}\n]\n}}\n'.encode("ascii")


def manifest_of(artifacts: Iterable[Artifact | Kept]) -> Manifest:
    """List the files of a site; raise OutputRefused for a path that is not safe everywhere."""
    return _checked(item.entry for item in artifacts)


def path_fault(path: str) -> str | None:
    """Say why a path may not be written in a site, or None if it may.

    >>> path_fault("setups/tern-s1/index.html")
    >>> path_fault("../index.html")
    '`..` is not made of a-z, 0-9, `_`, `.` and `-`, the last two not first, up to 80 signs'
    """
    segments = path.split("/")
    if len(path) > _LENGTH_LIMIT or len(segments) > _DEPTH_LIMIT:
        return f"it has more than {_LENGTH_LIMIT} signs or {_DEPTH_LIMIT} folders"
    return next(filter(None, map(_segment_fault, segments)), None)


@lru_cache(maxsize=4096)
def _segment_fault(segment: str) -> str | None:
    if not _SEGMENT.fullmatch(segment):
        return (
            f"`{shown(segment)}` is not made of a-z, 0-9, `_`, `.` and `-`, "
            "the last two not first, up to 80 signs"
        )
    if segment.endswith("."):
        return f"`{segment}` ends in a dot"
    if segment.split(".", maxsplit=1)[0] in _DEVICES:
        return f"`{segment}` is the name of a device on some systems"
    return None


def read_manifest(folder: Path) -> Manifest | None:
    """Read the marker of a folder; None if it has none, OutputRefused if it is not ours."""
    marker = folder / MARKER
    kind = kind_of(marker)
    if kind is None:
        return None
    where = f"the list of files in {shown(str(marker))}"
    if kind is not Kind.FILE:
        raise OutputRefused(f"{where} is a {kind.value}, not a file")
    return decode(read_file(marker, _MARKER_LIMIT), where)


def decode(content: bytes, where: str) -> Manifest:
    """Read the text of a marker as strictly as if a stranger had written it.

    A build reads the same text several times, and takes it apart once.
    """
    found = _decoded.get(content)
    if found is None:
        found = _decode(content, where)
        _decoded.clear()
        _decoded[content] = found
    return found


_decoded: dict[bytes, Manifest] = {}


def _decode(content: bytes, where: str) -> Manifest:
    try:
        tree = json.loads(content)
        if tree["made_by"] != _MAKER:
            raise OutputRefused(f"{where} was made by another tool")
        if tree["format"] != FORMAT:
            raise OutputRefused(f"{where} has format {tree['format']!r}, this tool reads {FORMAT}")
        entries = [Entry(line["path"], line["bytes"], line["sha256"]) for line in tree["files"]]
    except (ValueError, LookupError, TypeError, RecursionError) as cause:
        raise OutputRefused(f"{where} cannot be read as one of this tool's") from cause
    for entry in entries:
        if not (isinstance(entry.path, str) and type(entry.size) is int and entry.size >= 0):
            raise OutputRefused(f"{where} cannot be read as one of this tool's")
        if not (isinstance(entry.sha256, str) and _SHA256.fullmatch(entry.sha256)):
            raise OutputRefused(f"{where} has no sha256 for `{shown(entry.path)}`")
    return _checked(entries)


def _checked(entries: Iterable[Entry]) -> Manifest:
    """Sort the entries and see that no two of them want one place."""
    listed = tuple(sorted(entries, key=lambda entry: entry.path))
    before = ""
    for entry in listed:
        fault = path_fault(entry.path)  # leaves no capitals, so no two paths differ by case alone
        if fault:
            raise OutputRefused(f"`{shown(entry.path)}` cannot be a path in the site: {fault}")
        if entry.path == before:
            raise OutputRefused(f"two files of the site want one place, `{entry.path}`")
        before = entry.path
    manifest = Manifest(listed)
    both = sorted(manifest.files & manifest.folders)
    if both:
        raise OutputRefused(f"`{both[0]}` would be both a file and a folder of the site")
    return manifest
