"""The examples of the rules: fields laid over the sample records, read and checked for real."""

from collections.abc import Mapping as MappingType
from datetime import date
from functools import cache
from importlib.resources import files

from generator.reading.fault import Fault
from generator.reading.folder import Found
from generator.reading.source import Mapping, Node, Scalar, Sequence, load
from generator.reading.writing import Plain, to_yaml
from generator.records.checking import check
from generator.records.collect import collect

LEFT_OUT = "left out"
DAY_OF_EXAMPLES = date(2026, 1, 15)
"""The day on which the examples are judged; theirs are of 2025."""

_PATHS = {
    "club": "club.yaml",
    "chassis": "chassis/ostvane-meridel.yaml",
    "setup": "setups/ostvane-meridel/copperbill-seven-inch.yaml",
    "other": "setups/ostvane-meridel/fernhollow-seven-inch.yaml",
}
_OTHER = {"member": "Fernhollow", "car": "fernhollow-coupe", "title": "The same wheels again"}


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
        if kind == "other" and kind not in laid:
            continue
        base = load(path, sample("setup" if kind == "other" else kind).encode("utf-8"))[0]
        assert base is not None
        plain = _plain(base.root)
        if kind == "other":
            plain = {**plain, **_OTHER}
        over = laid.get(kind)
        merged = _merged(plain, over) if isinstance(over, Mapping) else plain
        found.append(Found(path, to_yaml(merged).encode("utf-8")))
    return tuple(found)


def example_faults(overlay: str) -> tuple[Fault, ...]:
    """Read and check the sample records with an example laid over them."""
    collected = collect(example_files(overlay))
    return (*collected.faults, *check(collected.library, today=DAY_OF_EXAMPLES))


def _plain(node: Mapping) -> dict[str, Plain]:
    return {name: _value(value) for name, value in node.entries.items()}


def _value(node: Node) -> Plain:
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Sequence):
        return [_value(item) for item in node.items]
    return _plain(node)


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
