"""The figures of a run as a table in Markdown."""

from collections.abc import Mapping
from typing import Any

STEPS = (
    "cold build", "one record changed", "nothing changed", "one template changed", "check of all",
    "check of one record", "--help",
)  # fmt: skip
MEGABYTE = 1e6


def markdown(run: Mapping[str, Any]) -> str:
    """Write machine, commands, yardstick and rates."""
    machine = ", ".join(f"{key} {value}" for key, value in run["machine"].items())
    lines = [f"{machine}.", ""]
    lines += _commands(run["sizes"])
    if any("inside" in size for size in run["sizes"]):
        lines += ["", *_inside(run["sizes"])]
    return "\n".join(lines) + "\n"


def _commands(sizes: list[Mapping[str, Any]]) -> list[str]:
    lines = [
        "| records | what | wall, s | processor, s | peak, MB | of the yardstick |",
        "|---:|---|---:|---:|---:|---|",
    ]
    for size in sizes:
        for step in (each for each in STEPS if each in size["guide"]):
            took = size["guide"][step]
            lines.append(_row(size["records"], step, took, _ratios(size, took, step)))
        for name, took in size.get("yardstick", {}).items():
            lines.append(_row(size["records"], f"{name}, plain pages", took, ""))
        out = size["guide"]["output"]
        told = f"output: {out['files']} files, {out['bytes'] / MEGABYTE:.1f} MB"
        lines.append(f"| {size['records']:,} | {told} | | | | |")
        if "find" in size:
            told = f"find, slowest of {size['find']['acts']:g} acts but 5 %: "
            told += f"{size['find']['latency']:.0f} ms"
            lines.append(f"| {size['records']:,} | {told} | | | | |")
    return lines


def _row(records: int, what: str, took: Mapping[str, float], ratio: str) -> str:
    figures = f"{took['wall']:.2f} | {took['processor']:.2f} | {took['memory'] / MEGABYTE:.0f}"
    return f"| {records:,} | {what} | {figures} | {ratio} |"


def _ratios(size: Mapping[str, Any], took: Mapping[str, float], step: str) -> str:
    if step != "cold build":
        return ""
    return ", ".join(
        f"{took['wall'] / plain['wall']:.2g} × {name.split(' ')[0]}"
        f" (processor {took['processor'] / plain['processor']:.2g} ×)"
        for name, plain in size.get("yardstick", {}).items()
    )


def _inside(sizes: list[Mapping[str, Any]]) -> list[str]:
    """Write the rates of single steps, by processor time of one process without a cache."""
    with_rates = [size for size in sizes if "inside" in size]
    head = " | ".join(f"{size['records']:,} records" for size in with_rates)
    lines = [f"| step | {head} |", "|---|" + "---:|" * len(with_rates)]
    for name in (each for each in with_rates[0]["inside"] if each != "records"):
        figures = " | ".join(f"{size['inside'][name]:.3g}" for size in with_rates)
        lines.append(f"| {name} | {figures} |")
    return lines
