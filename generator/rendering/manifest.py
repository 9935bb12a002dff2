"""The marker in a site's folder: that this tool made it, and the list of the files it wrote.

The marker is the licence to replace the folder, and the list is the licence to delete: no file
that is not in it is ever removed. It holds no time, host, account or path of the machine, so the
same site has the same marker everywhere, and a web host may serve it without harm.
"""

import hashlib
import json
import re
from collections.abc import Collection, Iterable, Mapping
from functools import cached_property, lru_cache
from pathlib import Path, PurePosixPath

from generator.frozen import dataclass
from generator.reading.trouble import shown
from generator.rendering.disk import Kind, OutputRefused, kind_of, read_file

MARKER = ".gapbook-site.json"
NEXT_MARKER = ".gapbook-site-next.json"
"""The name of a marker for the moment before it takes the place of another."""
FORMAT = 1
_MAKER = "gapbook"
_HEAD = f'{{\n"made_by": "{_MAKER}",\n"format": {FORMAT},\n"files": [\n'
_BETWEEN, _END = ",\n", "\n]\n}\n"
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
        return f"{_HEAD}{_BETWEEN.join(self.lines)}{_END}".encode("ascii")

    @cached_property
    def lines(self) -> Mapping[str, Entry]:
        """The line of each file."""
        # No path of a manifest and no digest has a sign that JSON writes in another way.
        return {
            f'{{"path": "{e.path}", "bytes": {e.size}, "sha256": "{e.sha256}"}}': e
            for e in self.entries
        }


def manifest_of(artifacts: Iterable[Artifact | Kept]) -> Manifest:
    """List the files of a site; raise OutputRefused for a path that is not safe everywhere."""
    manifest = _checked(item.entry for item in artifacts)
    _lately[:] = [manifest]
    return manifest


_lately: list[Manifest] = []
"""The list that was made last: those that lie on the disk differ from it in few lines."""


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
        if len(_decoded) >= _SEVERAL:
            _decoded.clear()
        _decoded[content] = found
    return found


_decoded: dict[bytes, Manifest] = {}
_SEVERAL = 2
"""Markers: that of the site, and that of the one before it."""


def _decode(content: bytes, where: str) -> Manifest:
    known = _lately[0].lines if _lately else {}
    lines = _lines(content)
    strange = [line for line in lines if line not in known]
    if not lines or len(strange) == len(lines):
        return _checked(_taken_apart(content, where))
    # What is not among the lines of a list that was checked is read as if it were all.
    told = f"{_HEAD}{_BETWEEN.join(strange)}{_END}".encode()
    entries = _taken_apart(told, where) if strange else []
    if len(entries) != len(strange):
        return _checked(_taken_apart(content, where))
    found = dict(zip(strange, entries, strict=True))
    return _checked((known.get(line) or found[line] for line in lines), _lately[0].files)


def _lines(content: bytes) -> list[str]:
    """Give the lines that name files, of a marker written as this tool does; else none."""
    text = content.decode("ascii", "replace")
    if not (text.startswith(_HEAD) and text.endswith(_END) and text.isascii()):
        return []
    return text[len(_HEAD) : -len(_END)].split(_BETWEEN)


def _taken_apart(content: bytes, where: str) -> list[Entry]:
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
    return entries


def _checked(entries: Iterable[Entry], fine: Collection[str] = ()) -> Manifest:
    """Sort the entries and see that no two of them want one place; `fine` paths were checked."""
    listed = tuple(sorted(entries, key=lambda entry: entry.path))
    before = ""
    for entry in listed:
        # no capitals are left, so that no two paths differ by case alone
        fault = None if entry.path in fine else path_fault(entry.path)
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
