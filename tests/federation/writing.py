"""Plain data as YAML text: fast, in one way only, and quoted wherever YAML could misread it."""

import json
import re
from typing import Any

_PLAIN = re.compile(r"[+-]?[A-Za-z0-9](?:[A-Za-z0-9 .()/·>_+-]*[A-Za-z0-9.)])?")
"""Every scalar is read as text, so that only marks of YAML need quotes."""


def scalar(value: object) -> str:
    """Write one value."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return f"{value:g}"
    text = str(value)
    if _PLAIN.fullmatch(text):
        return text
    return json.dumps(text, ensure_ascii=False)


def flow(value: Any) -> str:
    """Write a value on one line."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {flow(each)}" for key, each in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(flow(each) for each in value) + "]"
    return scalar(value)


def document(data: dict[str, Any]) -> str:
    """Write a file: a line for each field, and for each item of a list of mappings."""
    lines = []
    for key, value in data.items():
        if isinstance(value, dict) and key in ("front", "rear"):
            lines.append(f"{key}:")
            lines += [f"  {name}: {flow(each)}" for name, each in value.items()]
        elif isinstance(value, list | tuple) and value and isinstance(value[0], dict):
            lines.append(f"{key}:")
            lines += [f"  - {flow(each)}" for each in value]
        elif isinstance(value, str) and "\n" in value:
            lines.append(f"{key}: |")
            lines += [f"  {line}" if line else "" for line in value.rstrip("\n").split("\n")]
        else:
            lines.append(f"{key}: {flow(value)}")
    return "\n".join(lines) + "\n"
