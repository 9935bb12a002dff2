"""Measure the guide beside a yardstick and write a table.

    python -m tests.bench --records 100,1000 --out table.md

writes `table.md` and `table.json`. Times of a shared machine say little by themselves: compare by
the ratio to the yardstick of the same run, and by processor time. 10,000 records take long and
100,000 longer still: ask for them by name, the largest with --build-only.
"""

import argparse
import json
import os
import platform
import sys
import tempfile
from datetime import UTC, datetime
from importlib.metadata import version
from pathlib import Path
from typing import Any

from tests.bench import find, yardstick
from tests.bench.guide import Bench, by_commands, from_inside
from tests.bench.table import markdown

INSIDE = 200
"""Rates of single steps are taken of at most so many records."""
LIBRARIES = ("numpy", "pydantic", "jinja2", "matplotlib", "pyyaml")


def main(arguments: list[str]) -> int:
    """Measure what was asked for."""
    said = _options().parse_args(arguments)
    sizes = []
    with tempfile.TemporaryDirectory(prefix="bench-") as name:
        work = Path(name)
        tools = (said.tools or work / "tools").resolve()
        for records in sorted(said.records) + sorted(said.build_only):
            only = records in said.build_only
            sizes.append(_measured(work / str(records), tools, records, said, only=only))
            found = {"machine": _machine(), "sizes": sizes}
            _write(said.out, found)
    print(said.out.read_text("utf-8"))
    return 0


def _options() -> argparse.ArgumentParser:
    raw = argparse.RawDescriptionHelpFormatter
    parser = argparse.ArgumentParser("python -m tests.bench", None, __doc__, formatter_class=raw)
    parser.add_argument("--records", type=_numbers, default=[100], help="sizes, by commas")
    parser.add_argument("--build-only", type=_numbers, default=[], help="sizes that are only built")
    parser.add_argument("--times", type=int, default=3, help="runs of each, of which the median")
    parser.add_argument("--no-yardstick", action="store_true", help="leave out other generators")
    parser.add_argument("--find", action="store_true", help="the find page in Chromium as well")
    parser.add_argument("--tools", type=Path, help="keep the other generators in this folder")
    parser.add_argument("--out", type=Path, default=Path("bench.md"), help="table to write")
    return parser


def _numbers(text: str) -> list[int]:
    return [int(part) for part in text.split(",") if part]


def _measured(
    work: Path, tools: Path, records: int, said: argparse.Namespace, *, only: bool
) -> dict[str, Any]:
    bench = Bench.make(work, records, said.times)
    size: dict[str, Any] = {"records": records, "guide": by_commands(bench, build_only=only)}
    if said.find and not only:
        size["find"] = find.latency(work / "site")
    if not said.no_yardstick:
        size["yardstick"] = yardstick.measure(tools, work, records, said.times)
    if not only and records <= INSIDE:
        size["inside"] = from_inside(bench)
    return size


def _machine() -> dict[str, str]:
    cpu = next(
        (line.split(": ")[1] for line in _lines("/proc/cpuinfo") if line.startswith("model name")),
        platform.processor() or "processor not told",
    )
    memory = next((line.split()[1] for line in _lines("/proc/meminfo")), "0")
    found = {
        "measured on": f"{datetime.now(UTC):%Y-%m-%d}",
        "processor": cpu,
        "cores": str(os.cpu_count()),
        "memory": f"{int(memory) / 1e6:.1f} GB",
        "Python": platform.python_version(),
    }
    return found | {name: version(name) for name in LIBRARIES}


def _lines(path: str) -> list[str]:
    try:
        return Path(path).read_text("utf-8").splitlines()
    except OSError:
        return []


def _write(out: Path, found: dict[str, Any]) -> None:
    out.write_text(markdown(found), "utf-8")
    out.with_suffix(".json").write_text(json.dumps(found, indent=1) + "\n", "utf-8")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
