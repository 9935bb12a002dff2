"""What the published data were made from, and what they are: digests of inputs and data files.

Who has the content folder and this program can make the data again and compare: `gapbook verify`.
The manifest does not list itself.
"""

import hashlib
import json
import re
from collections.abc import Iterable
from dataclasses import replace

from generator import __version__
from generator.frozen import dataclass
from generator.reading.text import shown
from generator.reading.trouble import GuideError
from generator.site import urls
from generator.site.data.writing import VERSION, json_pretty
from generator.site.guide import Guide, Input
from generator.site.page import DataFile

NAME = "manifest.json"
LARGEST = 16 * 1024 * 1024

_PATH = re.compile(r"[a-z0-9][a-z0-9._-]*(/[a-z0-9][a-z0-9._-]*)*\Z")
_SHA256 = re.compile(r"[0-9a-f]{64}\Z")


@dataclass(frozen=True)
class DataManifest:
    """Inputs by their path below the content folder, and data files by their path beside it."""

    inputs: tuple[Input, ...]
    files: tuple[Input, ...]
    history: str
    """Where the dates of `history` are from, in words."""


def told_of(file: DataFile) -> Input:
    """Say what a finished file is."""
    body = file.text.encode("utf-8")
    return Input(file.path, len(body), hashlib.sha256(body).hexdigest())


def manifest_file(guide: Guide, files: Iterable[Input]) -> DataFile:
    """Write the manifest of a guide's data files, each by its path in the guide."""
    listed = [
        _row(replace(file, path=file.path.removeprefix(f"{urls.DATA_FOLDER}/")))
        for file in sorted(files, key=lambda each: each.path)
    ]
    document = {
        "version": VERSION,
        "made_by": f"gapbook {__version__}",
        "guide": guide.club.title,
        "address": guide.club.address,
        "invented": guide.club.invented,
        "history": guide.history.told,
        "inputs": [_row(each) for each in sorted(guide.inputs, key=lambda each: each.path)],
        "files": listed,
    }
    return DataFile(urls.data(NAME), json_pretty(document))


def _row(each: Input) -> dict[str, str | int]:
    return {"path": each.path, "bytes": each.size, "sha256": each.sha256}


def read_manifest(text: str, where: str) -> DataManifest:
    """Read a manifest as strictly as if a stranger had written it.

    Raises GuideError for anything that `manifest_file` does not write.
    """
    try:
        tree = json.loads(text)
        version, history = tree["version"], tree["history"]
        inputs = tuple(_listed(row) for row in tree["inputs"])
        files = tuple(_listed(row) for row in tree["files"])
    except (ValueError, LookupError, TypeError, RecursionError) as cause:
        raise GuideError(f"{where} is not a manifest of a guide's data") from cause
    if version != VERSION or not isinstance(history, str):
        raise GuideError(f"{where} has a form that this version does not read")
    return DataManifest(inputs, files, history)


def _listed(row: dict[str, object]) -> Input:
    path, size, digest = row["path"], row["bytes"], row["sha256"]
    if not (isinstance(path, str) and isinstance(size, int) and isinstance(digest, str)):
        raise TypeError
    if not _PATH.match(path) or ".." in path or not _SHA256.match(digest):
        raise ValueError(f"`{shown(path)}` is no path of a manifest")
    return Input(path, size, digest)
