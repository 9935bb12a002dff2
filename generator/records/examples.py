"""The examples of the rules: fields laid over the sample records, read and checked for real."""

from collections.abc import Mapping as MappingType
from datetime import date
from functools import cache
from importlib.resources import files

from generator.reading.fault import Fault
from generator.reading.folder import Found
from generator.reading.photos import PhotoFile
from generator.reading.source import Mapping, Node, Scalar, Sequence, load
from generator.reading.writing import Plain, to_yaml
from generator.records.checking import check, rule_modules
from generator.records.collect import collect
from generator.records.library import Library

LEFT_OUT = "left out"
DAY_OF_EXAMPLES = date(2026, 1, 15)
"""The day on which the examples are judged; theirs are of 2025."""

_PATHS = {
    "club": "club.yaml",
    "chassis": "chassis/ostvane-meridel.yaml",
    "setup": "setups/ostvane-meridel/copperbill-seven-inch.yaml",
    "other": "setups/ostvane-meridel/fernhollow-seven-inch.yaml",
    "other chassis": "chassis/pellow-brant.yaml",
}
_BASES = {"other": "setup", "other chassis": "chassis"}
_OTHER: MappingType[str, MappingType[str, Plain]] = {
    "other": {
        "member": "Fernhollow",
        "car": "fernhollow-coupe",
        "title": "The same wheels again",
        "date": "2025-07-05",
        "front": {"tyre": {"section_width": "207 mm"}},
    },
    "other chassis": {"name": "Pellow Brant"},
}
"""Files that are there only where an example names them, and how they differ from their base."""


@cache
def sample(kind: str) -> str:
    """Give the text of a sample record: club, chassis or setup."""
    return files("generator.records").joinpath("sample", f"{kind}.yaml").read_text("utf-8")


def example_files(overlay: str) -> tuple[Found, ...]:
    """Lay an example over the sample records and give the files."""
    source, faults = load("example", overlay.encode("utf-8"))
    if source is None:
        raise ValueError(f"an example that is not YAML: {faults}")
    laid = source.root.entries
    found = []
    for kind, path in _PATHS.items():
        over = laid.get(kind)
        is_left_out = isinstance(over, Scalar) and over.text == LEFT_OUT
        if is_left_out or (kind in _BASES and kind not in laid):
            continue
        plain = _laid(_plain(_base(kind)), _OTHER.get(kind, {}))
        merged = _merged(plain, over) if isinstance(over, Mapping) else plain
        found.append(Found(path, to_yaml(merged).encode("utf-8")))
    return tuple(found)


def example_photos(overlay: str) -> tuple[PhotoFile, ...] | None:
    """Give the photos that an example lists under `photos`; None where it speaks of none."""
    source, _ = load("example", overlay.encode("utf-8"))
    listed = source.root.entries.get("photos") if source else None
    if not isinstance(listed, Sequence):
        return None
    paths = [node.text for node in listed.items if isinstance(node, Scalar)]
    return tuple(PhotoFile(path, "0" * 64, 1, 800, 600) for path in paths)


@cache
def _base(kind: str) -> Mapping:
    """Read the sample that a kind of file is laid over."""
    base = load(_PATHS[kind], sample(_BASES.get(kind, kind)).encode("utf-8"))[0]
    assert base is not None
    return base.root


def example_fault(code: str, overlay: str) -> Fault | None:
    """Give what one rule says of an example; quicker than all rules together."""
    module = next(module for module in rule_modules() if module.RULE.code == code)
    library = _library(example_files(overlay), example_photos(overlay))
    found: list[Fault] = []
    if hasattr(module, "check_library"):
        found.extend(module.check_library(library))
    if hasattr(module, "check_dates"):
        found.extend(module.check_dates(library, DAY_OF_EXAMPLES))
    if hasattr(module, "check"):
        found.extend(fault for case in library.cases() for fault in module.check(case))
    return min(found, key=lambda fault: fault.order, default=None)


def _library(files: tuple[Found, ...], photos: tuple[PhotoFile, ...] | None) -> Library:
    """Collect example files one by one, so that what several examples share is read once."""
    parts = [_collected(file) for file in files]
    return Library(
        next((part.club for part in parts if part.club is not None), None),
        {name: filed for part in parts for name, filed in part.chassis.items()},
        {name: filed for part in parts for name, filed in part.setups.items()},
        {},
        photos=None if photos is None else {photo.path: photo for photo in photos},
    )


@cache
def _collected(file: Found) -> Library:
    return collect((file,)).library


def example_faults(overlay: str) -> tuple[Fault, ...]:
    """Read and check the sample records with an example laid over them."""
    collected = collect(example_files(overlay), example_photos(overlay))
    return (*collected.faults, *check(collected.library, today=DAY_OF_EXAMPLES))


def _plain(node: Mapping) -> dict[str, Plain]:
    return {name: _value(value) for name, value in node.entries.items()}


def _value(node: Node) -> Plain:
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Sequence):
        return [_value(item) for item in node.items]
    return _plain(node)


def _laid(base: MappingType[str, Plain], over: MappingType[str, Plain]) -> dict[str, Plain]:
    laid = dict(base)
    for name, value in over.items():
        under = laid.get(name)
        if isinstance(value, MappingType) and isinstance(under, MappingType):
            laid[name] = _laid(under, value)
        else:
            laid[name] = value
    return laid


def _merged(base: MappingType[str, Plain], over: Mapping) -> dict[str, Plain]:
    merged = dict(base)
    for name, node in over.entries.items():
        under = merged.get(name)
        if isinstance(node, Scalar) and node.text == LEFT_OUT:
            merged.pop(name, None)
        elif isinstance(node, Mapping) and isinstance(under, MappingType):
            merged[name] = _merged(under, node)
        else:
            merged[name] = _value(node)
    return merged
