"""A table that the guide gives out: its columns, each declared once, and its rows.

From one declaration come the cell in CSV and in JSON, the JSON Schema and the line on the data
page. A number is written with at most `decimals` decimals, never with an exponent, never as -0.
"""

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from enum import Enum
from math import isfinite
from typing import Generic, TypeAlias, TypeVar

from generator.frozen import dataclass
from generator.quantities.estimate import Estimate
from generator.quantities.units import Ratio
from generator.reading.writing import Plain
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.site.guide import Guide

Row = TypeVar("Row")
Cell: TypeAlias = str | float | int | bool | date | tuple[str, ...] | None
"""What a row has in a column; None is not known, or not there."""

MOST_DECIMALS = 6


class Kind(Enum):
    """What a column holds; the value is the word on the data page."""

    TEXT = "text"
    TEXTS = "list of texts"
    NUMBER = "number"
    COUNT = "whole number"
    DAY = "date"
    YES = "yes or no"


@dataclass(frozen=True)
class Column(Generic[Row]):
    """One column: what stands in it, and how it is got from a row.

    `choices` are all words it may hold, where there are few. A column with `may_lack` false has a
    value in every row.
    """

    name: str
    kind: Kind
    meaning: str
    example: str
    of: Callable[[Row], Cell]
    unit: str = ""
    decimals: int = 3
    choices: tuple[str, ...] = ()
    may_lack: bool = True


@dataclass(frozen=True)
class Table(Generic[Row]):
    """One table: its name, which is that of its files, what a row is, and its columns.

    `key` names the columns that together tell one row from all others. `as_written` gives the
    record that a row of the JSON file carries besides its columns, where it carries one. The rows
    of a table that is `by_chassis` follow from one chassis at a time. `rows_of` gives those of one
    setup, by its id, where each is one setup's and they stand in order of id; they follow from no
    more than the pages of that setup do. It is given the newer record of each that is replaced.
    """

    name: str
    title: str
    row: str
    key: tuple[str, ...]
    columns: tuple[Column[Row], ...]
    rows: Callable[[Guide], Iterable[Row]]
    endings: tuple[str, ...] = ("csv", "json")
    as_written: Callable[[Row], Plain] | None = None
    depends_on_git: bool = False
    by_chassis: bool = True
    rows_of: Callable[[Guide, str, Mapping[str, Filed[Setup]]], Iterable[Row]] | None = None


def canonical(value: Ratio, decimals: int) -> str:
    """Write a number as data: ASCII digits, a point, a hyphen for minus, no trailing zeros.

    Raises ValueError for a number that is not finite.

    >>> canonical(-12.0, 3), canonical(-0.0001, 3), canonical(1e6, 3), canonical(0.25, 6)
    ('-12', '0', '1000000', '0.25')
    """
    if not isfinite(value):
        raise ValueError(f"{value} is no number that can be given out")
    text = f"{value:.{min(decimals, MOST_DECIMALS)}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def estimate_columns(
    name: str,
    meaning: str,
    of: Callable[[Row], Estimate | None],
    *,
    example: str,
    unit: str = "mm",
) -> tuple[Column[Row], Column[Row]]:
    """Make the two columns of an estimate: the value, and its standard uncertainty."""

    def value(row: Row) -> Cell:
        found = of(row)
        return found.value if found else None

    def u(row: Row) -> Cell:
        found = of(row)
        return found.u if found else None

    return (
        Column(name, Kind.NUMBER, meaning, example, value, unit),
        Column(f"{name}_u", Kind.NUMBER, f"standard uncertainty of {name}", "1.2", u, unit),
    )
