"""Make a guide's data again from its records, and name what differs: `gapbook verify`.

Three comparisons: the content folder against the digests of the manifest, the data files beside the
manifest against its digests, and what this program computes now against the data files. Numbers
agree if they differ by no more than one step of the last decimal of their column.
"""

import csv
import io
import json
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from hashlib import sha256
from pathlib import Path

from generator.computing import guide_of, inputs_of
from generator.frozen import dataclass
from generator.reading.fault import has_error
from generator.reading.folder import content_files
from generator.reading.history import history_of
from generator.reading.photos import photo_files
from generator.reading.trouble import GuideError
from generator.records.checking import check
from generator.records.collect import collect
from generator.site import urls
from generator.site.data.columns import Kind
from generator.site.data.manifest import LARGEST, DataManifest, read_manifest
from generator.site.guide import Guide, Input
from generator.site.plan import plan, plan_files
from generator.site.views.data import data_tables

_LARGEST_DATA = 512 * 1024 * 1024
_MOST_NAMED = 20


@dataclass(frozen=True)
class Verified:
    """What was compared, and everything that differs, in words."""

    inputs: int
    files: int
    differing: tuple[str, ...]


def verify(manifest_path: Path, content: Path, *, today: date) -> Verified:
    """Hold a published manifest and the data files beside it against a content folder.

    Raises GuideError if the manifest cannot be read, or no guide can be made of the folder.
    """
    manifest = _manifest(manifest_path)
    found, odd = content_files(content)
    photos, unfit = photo_files(content)
    collected = collect(found, photos)
    faults = (*odd, *unfit, *collected.faults, *check(collected.library, today=today))
    differing = [*_of_digests("content", manifest.inputs, inputs_of(found, photos))]
    if collected.library.club is None or (has_error(faults) and not collected.library.setups):
        raise GuideError(f"no guide can be made of `{content}`: see `gapbook check`")
    guide = replace(
        guide_of(collected, faults),
        inputs=inputs_of(found, photos),
        history=history_of(content, found),
    )
    made = data_of(guide)
    differing += _of_files(manifest_path.parent, manifest)
    differing += _of_numbers(manifest_path.parent, manifest, made, guide)
    return Verified(len(manifest.inputs), len(manifest.files), tuple(differing))


def data_of(guide: Guide) -> dict[str, str]:
    """Give the texts of a guide's data files by their path below the data folder."""
    folder = f"{urls.DATA_FOLDER}/"
    files = plan_files(guide, plan(guide))
    return {
        file.path.removeprefix(folder): file.text for file in files if file.path.startswith(folder)
    }


def _manifest(path: Path) -> DataManifest:
    try:
        with path.open("rb") as file:
            body = file.read(LARGEST + 1)
    except OSError as error:
        raise GuideError(f"cannot read `{path}`: {error.strerror}") from error
    if len(body) > LARGEST:
        raise GuideError(f"`{path}` is larger than any manifest")
    return read_manifest(body.decode("utf-8", "replace"), f"`{path}`")


def _of_digests(what: str, told: Iterable[Input], there: Iterable[Input]) -> Iterator[str]:
    """Name the files that are missing, new or changed."""
    wanted = {each.path: each for each in told}
    found = {each.path: each for each in there}
    for path in sorted(wanted.keys() | found.keys()):
        if path not in found:
            yield f"{what}/{path}: is not there"
        elif path not in wanted:
            yield f"{what}/{path}: is not in the manifest"
        elif wanted[path] != found[path]:
            yield f"{what}/{path}: is not the file of the manifest"


def _of_files(folder: Path, manifest: DataManifest) -> Iterator[str]:
    there = []
    for each in manifest.files:
        body = _read(folder, each.path)
        if body is not None:
            there.append(Input(each.path, len(body), sha256(body).hexdigest()))
    yield from _of_digests("data", manifest.files, there)


def _read(folder: Path, path: str) -> bytes | None:
    """Read a data file; a path of a manifest cannot lead out of its folder, but a link could."""
    place = folder / path
    if place.is_symlink() or not place.is_file():
        return None
    with place.open("rb") as file:
        return file.read(_LARGEST_DATA)


def _of_numbers(
    folder: Path, manifest: DataManifest, made: Mapping[str, str], guide: Guide
) -> Iterator[str]:
    of_git = {table.name for table in data_tables() if table.depends_on_git}
    for each in manifest.files:
        if each.path not in made:
            yield f"data/{each.path}: this program makes no such file"
            continue
        if each.path.partition(".")[0] in of_git and manifest.history != guide.history.told:
            continue  # other grounds, other dates: a copy without git knows none
        body = _read(folder, each.path)
        if body is not None:
            told = body.decode("utf-8", "replace")
            for name in differences(each.path, told, made[each.path])[:_MOST_NAMED]:
                yield f"data/{each.path}: {name}"
    for path in sorted(set(made) - {each.path for each in manifest.files} - {"manifest.json"}):
        yield f"data/{path}: is not in the manifest"


def differences(path: str, told: str, made: str) -> tuple[str, ...]:
    """Name what differs between two texts of one data file, numbers within rounding."""
    if told == made:
        return ()
    steps = _steps(path.partition(".")[0])
    try:
        trees = [_tree(path, text) for text in (told, made)]
        return tuple(_of_values(*trees, way="", steps=steps))
    except (ValueError, RecursionError, csv.Error):
        return ("cannot be read",)


def _steps(table: str) -> dict[str, float]:
    """Give, for each column of numbers, one step of its last decimal."""
    columns = [each for one in data_tables() if one.name == table for each in one.columns]
    return {each.name: 10.0**-each.decimals for each in columns if each.kind is Kind.NUMBER}


def _tree(path: str, text: str) -> object:
    if path.endswith(".csv"):
        return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))
    if path.endswith(".jsonl"):
        return [json.loads(line) for line in text.splitlines()]
    return json.loads(text)


def _of_values(
    told: object, made: object, *, way: str, steps: Mapping[str, float]
) -> Iterator[str]:
    """Walk two trees side by side; the way is made of keys and of the names of rows."""
    if isinstance(told, dict) and isinstance(made, dict):
        for key in sorted(told.keys() | made.keys(), key=str):
            inner = f"{way}.{key}".lstrip(".")
            yield from _of_values(told.get(key), made.get(key), way=inner, steps=steps)
    elif isinstance(told, list) and isinstance(made, list):
        rows, others = _named(told), _named(made)
        for name in sorted(rows.keys() | others.keys()):
            inner = f"{way}[{name}]"
            if name not in others or name not in rows:
                yield f"{inner}: only {'published' if name in rows else 'computed'}"
            else:
                yield from _of_values(rows[name], others[name], way=inner, steps=steps)
    elif not _is_equal(told, made, steps.get(way.rpartition(".")[2])):
        yield f"{way}: {_short(told)} published, {_short(made)} computed"


def _named(rows: list[object]) -> dict[str, object]:
    """Give rows by their names; by their places where two have one name."""
    named = {_name(row, at): row for at, row in enumerate(rows)}
    return named if len(named) == len(rows) else {str(at): row for at, row in enumerate(rows)}


def _name(row: object, at: int) -> str:
    """Name a row by the columns that tell it from others, or by its place."""
    if not isinstance(row, dict):
        return str(at)
    keys = ("setup", "chassis", "path", "axle", "number", "name", "site", "side", "condition")
    return " ".join(str(row[key]) for key in keys if key in row)[:120] or str(at)


def _is_equal(told: object, made: object, step: float | None) -> bool:
    """Compare two values; numbers of a column may differ by one step of their last decimal."""
    if told == made and type(told) is type(made):
        return True
    one, other = _number(told), _number(made)
    if step is None or one is None or other is None:
        return False
    return abs(one - other) <= 1.001 * step


def _number(value: object) -> float | None:
    """Read a number as JSON or CSV have it; None for anything else."""
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        return None
    return float(value) if re.fullmatch(r"-?[0-9]{1,20}(\.[0-9]{1,20})?", str(value)) else None


def _short(value: object) -> str:
    return ascii(value)[:60]
