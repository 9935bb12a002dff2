"""Lists that stay readable whatever their length: so many rows, then the count of the rest."""

import hashlib
from collections.abc import Callable, Sequence
from typing import TypeVar

MOST_ROWS = 30
SAMPLE = 15

Row = TypeVar("Row")


def table(head: Sequence[str], rows: Sequence[Sequence[str]], whole: int) -> str:
    """Write a table of Markdown; `whole` is the count of rows it is cut from."""
    lines = [f"| {' | '.join(head)} |", f"|{'---|' * len(head)}"]
    lines += [f"| {' | '.join(row)} |" for row in rows]
    if whole > len(rows):
        lines += ["", f"… and {whole - len(rows)} more of {whole}."]
    return "\n".join(lines)


def bullets(rows: Sequence[str], whole: int) -> str:
    """Write a list of Markdown; `whole` is the count of items it is cut from."""
    lines = [f"- {row}" for row in rows]
    if whole > len(rows):
        lines.append(f"- … and {whole - len(rows)} more of {whole}")
    return "\n".join(lines)


def sampled(rows: Sequence[Row], name: Callable[[Row], str], most: int = SAMPLE) -> list[Row]:
    """Draw a sample that anyone draws again, and that nobody chooses by naming a file.

    The seed is all names together: a record added anywhere draws another sample.

    >>> sampled(["c", "a", "b"], str, 2) == sampled(["b", "c", "a"], str, 2)
    True
    """
    if len(rows) <= most:
        return list(rows)
    names = sorted(name(row) for row in rows)
    seed = hashlib.sha256("\0".join(names).encode("utf-8", "surrogatepass")).digest()

    def lot(row: Row) -> bytes:
        return hashlib.sha256(seed + name(row).encode("utf-8", "surrogatepass")).digest()

    drawn = sorted(rows, key=lot)[:most]
    return sorted(drawn, key=name)
