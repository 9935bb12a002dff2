"""Records for both checks: the demo's, those that break each rule, and many with slips put in.

A slip is what members do: another unit, a lost sign, a comma, a line left out, a word of another
field, text that is hostile.
"""

import random
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from generator.quantities.misread import Explained
from generator.reading.catalogue import explained
from generator.reading.fault import Fault
from generator.reading.folder import Found, content_files
from generator.reading.pruning import plain
from generator.reading.source import SourceFile, load
from generator.reading.writing import to_yaml
from generator.records.checking import rule_modules
from generator.records.collect import collect
from generator.records.examples import example_files

ROOT = Path(__file__).resolve().parents[2]
HOSTILE = (
    "", "-5 mm", "1e3 mm", "5,5 mm", "1 1/2 in", "35",
    "1,234.5", "1,234 mm", "0,254 in", "1.234,5 mm", "3/8", "⅜ in", "5⅜ in",
    "5 ½ in", "¾", "½ mm", "5'6",
    "5,5", "+35 mm", "035 mm", ".5 in", "\u201312 mm",
    "\u0663\u0665 mm", "\uff15 mm", "5 MM", "9**9**9", "nan mm", "12:30", "NO", "Yes", "clear",
    "more than 5 mm", "4 to 5 mm", "5 to 4 mm", "5 -> 6 mm", "x" * 130, "ab " * 50, "\u65e5\u672c",
    "e\u0301\u0301\u0301\u0301\u0301", "\u202e x", "\u200b", "\u00ad y", "\U0001f600" * 61,
    "m12 \u00d7 1.50", "7/16-20", "5x4.5", "7J x 16 ET35", "205/55R1691V", "P215/65r15 95H", "0",
    "-0 mm", "1/3 in", "3/8 in", "5' 3\"", "700 mm", "7 in", "0.001 mm", "-200 mm", "45 deg",
    "2025-02-30", "2031-01-01", "1949-01-01", "rear", "by eye", "steel ruler", "lip rolld",
    "cone 30 deg", "ball R26", "flat seat", "317", "\u017f", "\u212a", "31x10.50R15LT 109Q",
    "# no comment", "a: b", "- x", "yes", "0x1F", "010", "null", "~", "{a: b}", "[1]", "*a", "&a",
    "!!str x", "'", '"', "\\", "say \"5\"", "tab\tin", "line\nbreak", "trailing ", " leading",
    "=1+1", "<script>alert(1)</script>", "{{ 7*7 }}", "${7*7}", "__proto__",
)  # fmt: skip


@dataclass(frozen=True)
class LiveCase:
    """A record as typed with its sheet, and what the command says of it for the live rules."""

    name: str
    source: SourceFile
    chassis: str
    sheet: Any
    faults: frozenset[Fault]

    @property
    def typed(self) -> Any:
        return plain(self.source.root)


def judged(name: str, files: tuple[Found, ...]) -> Iterator[LiveCase]:
    """Judge all setups among files as the command does, by the reader and by the live rules."""
    collected = collect(files)
    modules = [m for m in rule_modules() if m.RULE.is_live and hasattr(m, "check")]
    faults = list(collected.faults)
    for case in collected.library.cases():
        faults += [fault for module in modules for fault in module.check(case)]
    by_path = {file.path: file for file in files}
    for file in files:
        source = load(file.path, file.content)[0] if file.path.startswith("setups/") else None
        if source is None:
            continue
        typed = plain(source.root)
        chassis = typed.get("chassis") if isinstance(typed, dict) else None
        sheet = by_path.get(f"chassis/{chassis}.yaml")
        own = frozenset(fault for fault in faults if fault.place.path == file.path)
        read = read_sheet(sheet) if sheet else None
        yield LiveCase(f"{name} {file.path}", source, str(chassis), read, own)


@cache
def read_sheet(sheet: Found) -> Any:
    """Read a sheet as plain data; many records share one, and the same one is given for all."""
    source, _ = load(sheet.path, sheet.content)
    return plain(source.root) if source else None


def demo() -> Iterator[LiveCase]:
    yield from judged("demo", tuple(content_files(ROOT / "content_demo")[0]))


def of_rules() -> Iterator[LiveCase]:
    """Give the examples of every rule, the live ones and the others."""
    for module in rule_modules():
        for example in (module.RULE.bad, module.RULE.good):
            if example.strip():
                yield from judged(module.RULE.code, tuple(example_files(example)))


def with_slips(count: int, seed: int) -> Iterator[LiveCase]:
    """Give demo records with one to five slips each."""
    chance = random.Random(seed)
    files = tuple(content_files(ROOT / "content_demo")[0])
    setups = [file for file in files if file.path.startswith("setups/")]
    around = tuple(file for file in files if not file.path.startswith(("setups/", "articles/")))
    for number in range(count):
        file = chance.choice(setups)
        source, _ = load(file.path, file.content)
        assert source is not None
        typed: Any = plain(source.root)
        for _ in range(chance.randint(1, 5)):
            typed = slipped(chance, typed) or typed
        text = to_yaml(typed).encode("utf-8", "replace")
        yield from judged(f"slip {number}", (*around, Found(file.path, text)))


def slipped(chance: random.Random, typed: Any) -> Any:
    """Put one slip into a record."""
    routes = [route for route, _ in parts(typed) if route]
    texts = [route for route, part in parts(typed) if route and isinstance(part, str)]
    if not texts:
        return typed
    kind = chance.random()
    if kind < 0.2:
        return scaled(chance, typed, chance.choice(texts))
    if kind < 0.35:
        return left_out(typed, chance.choice(routes))
    if kind < 0.4:
        return put(typed, chance.choice(routes), chance.choice(([], {}, "x", ["a"], {"a": "b"})))
    if kind < 0.45:
        return {
            **typed,
            chance.choice(("odd", "Title", "camber", "spacer")): chance.choice(HOSTILE),
        }
    return put(typed, chance.choice(texts), chance.choice(words()))


def scaled(chance: random.Random, typed: Any, route: tuple[str | int, ...]) -> Any:
    """Multiply a number as a slip of unit, sign or decimal point does."""
    number = re.match(r"(-?[0-9]{1,5}(?:\.[0-9]{1,3})?)(\D*)\Z", part_at(typed, route))
    if number is None:
        return typed
    by = chance.choice((-1.0, 10.0, 0.1, 25.4, 1 / 25.4, 1.1, 0.9, 2.0, 0.5))
    return put(typed, route, f"{float(number[1]) * by:.4g}{number[2]}")


def words() -> tuple[str, ...]:
    known: tuple[Explained, ...] = tuple(explained().values())
    return (*HOSTILE, *(each.bad for each in known if each.bad), *(e.good for e in known if e.good))


def parts(value: Any, route: tuple[str | int, ...] = ()) -> Iterator[tuple[Any, Any]]:
    yield route, value
    inner = value.items() if isinstance(value, dict) else enumerate(value)
    for key, part in () if isinstance(value, str) else inner:
        yield from parts(part, (*route, key))


def part_at(value: Any, route: tuple[str | int, ...]) -> Any:
    for step in route:
        value = value[step]
    return value


def put(value: Any, route: tuple[str | int, ...], new: Any) -> Any:
    if not route:
        return new
    copy = dict(value) if isinstance(value, dict) else list(value)
    copy[route[0]] = put(copy[route[0]], route[1:], new)
    return copy


def left_out(value: Any, route: tuple[str | int, ...]) -> Any:
    copy = dict(value) if isinstance(value, dict) else list(value)
    if len(route) == 1:
        del copy[route[0]]
    else:
        copy[route[0]] = left_out(copy[route[0]], route[1:])
    return copy
