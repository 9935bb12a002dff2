r"""Tables as text: CSV after RFC 4180, JSON, and JSON Lines.

In CSV, text is always in quotes and numbers never. A text that a spreadsheet could take for a
formula gets an apostrophe before it; so does one that begins with apostrophes and then such a
sign, so that a reader who drops one apostrophe before such a beginning has the text back.

JSON is ASCII, and `<`, `>` and `&` are written as escapes, so that it may stand inside a page.
"""

import json
import re
from collections.abc import Iterable, Iterator
from datetime import date

from generator.frozen import dataclass
from generator.reading.writing import Plain
from generator.site.data.columns import Cell, Column, Kind, Row, Table, canonical
from generator.site.guide import Guide

VERSION = 1
BETWEEN = "; "
"""Between the texts of a list in one cell of CSV."""

# Signs that begin a formula in a spreadsheet, in ASCII and in full width [web reference, 7.5].
_TRIGGER = re.compile("'*[=+\\-@\t\r\n＝＋－＠]")
_ESCAPES = str.maketrans({"<": "\\u003c", ">": "\\u003e", "&": "\\u0026"})


def table_texts(guide: Guide, table: Table[Row], schema_address: str) -> dict[str, str]:
    """Give the text of each file of a table, by its ending."""
    parts = in_order(guide.parts()) if table.by_chassis else (guide,)
    chunks = [table_rows(part, table) for part in parts]
    return {
        ending: "".join(
            table_file(guide, table, schema_address, Chunks(ending, [c[ending] for c in chunks]))
        )
        for ending in table.endings
    }


@dataclass(frozen=True)
class Chunks:
    """The rows of a table as one of its files has them, in pieces; a piece may be empty."""

    ending: str
    pieces: Iterable[str]


def in_order(parts: Iterable[Guide]) -> tuple[Guide, ...]:
    """Give the guides of single chassis in the order that the ids of their setups have."""
    return tuple(sorted(parts, key=lambda part: f"{part.part_names()[0]}/"))


def table_rows(guide: Guide, table: Table[Row]) -> dict[str, str]:
    """Give the rows of a table as each of its files has them, by ending; no head and no end."""
    return rows_told(table, tuple(table.rows(guide)))


def put_together(ending: str, pieces: Iterable[str]) -> str:
    """Put rows together that were written in pieces; a piece may be empty."""
    return (",\n" if ending == "json" else "").join(piece for piece in pieces if piece)


def rows_told(table: Table[Row], rows: tuple[Row, ...]) -> dict[str, str]:
    """Write some rows of a table as each of its files has them, by ending."""
    texts = {}
    if "csv" in table.endings:
        texts["csv"] = csv_rows(table.columns, rows)
    if {"json", "jsonl"} & {*table.endings}:
        lines = [json_text(_plain(table, row)) for row in rows]
        texts["json"] = ",\n".join(lines)
        texts["jsonl"] = "".join(f"{line}\n" for line in lines)
    return {ending: texts[ending] for ending in table.endings}


def table_file(
    guide: Guide, table: Table[Row], schema_address: str, chunks: Chunks
) -> Iterator[str]:
    """Give a file of a table piece by piece."""
    if chunks.ending == "csv":
        yield csv_head(table.columns)
    if chunks.ending != "json":
        yield from chunks.pieces
        return
    before, after = _document(guide, table, schema_address)
    yield before
    is_first = True
    for piece in chunks.pieces:
        if piece:
            yield piece if is_first else f",\n{piece}"
            is_first = False
    yield after


def as_csv(columns: Iterable[Column[Row]], rows: Iterable[Row]) -> str:
    """Write rows as CSV: a line of names, then one line a row, each ended by CR and LF."""
    listed = tuple(columns)
    return csv_head(listed) + csv_rows(listed, rows)


def csv_head(columns: Iterable[Column[Row]]) -> str:
    """Write the line of names."""
    return ",".join(_quoted(column.name) for column in columns) + "\r\n"


def csv_rows(columns: Iterable[Column[Row]], rows: Iterable[Row]) -> str:
    """Write the lines of rows."""
    listed = tuple(columns)
    lines = (",".join(csv_cell(column, column.of(row)) for column in listed) for row in rows)
    return "".join(f"{line}\r\n" for line in lines)


def csv_cell(column: Column[Row], value: Cell) -> str:
    """Write one cell; what is not known is an empty one."""
    if value is None:
        return ""
    if column.kind in (Kind.NUMBER, Kind.COUNT):
        return canonical(_number(value), column.decimals)
    if isinstance(value, bool):
        return _quoted("yes" if value else "no")
    if isinstance(value, tuple):
        return _quoted(neutral(BETWEEN.join(value)))
    return _quoted(neutral(value.isoformat() if isinstance(value, date) else str(value)))


def neutral(text: str) -> str:
    """Put an apostrophe before a text that a spreadsheet could take for a formula.

    >>> neutral("=1+1"), neutral("rolled"), neutral("'=1")
    ("'=1+1", 'rolled', "''=1")
    """
    return f"'{text}" if _TRIGGER.match(text) else text


def without_apostrophe(text: str) -> str:
    """Give the text back that `neutral` was given.

    >>> without_apostrophe(neutral("'@x"))
    "'@x"
    """
    return text[1:] if text.startswith("'") and _TRIGGER.match(text[1:]) else text


def _quoted(text: str) -> str:
    return '"' + text.replace('"', '""') + '"'


def _number(value: Cell) -> float:
    if not isinstance(value, int | float):
        raise TypeError(f"{value!r} is no number")
    return float(value)


def json_text(value: object) -> str:
    """Write a value as JSON on one line: keys in order, ASCII, safe inside a page."""
    text = json.dumps(value, sort_keys=True, allow_nan=False, ensure_ascii=True)
    return text.translate(_ESCAPES)


def json_pretty(value: object) -> str:
    """Write a value as JSON on several lines, otherwise like `json_text`."""
    text = json.dumps(value, sort_keys=True, allow_nan=False, ensure_ascii=True, indent=2)
    return text.translate(_ESCAPES) + "\n"


def _document(guide: Guide, table: Table[Row], schema_address: str) -> tuple[str, str]:
    """Write what stands before and after the rows of a table that is a JSON object.

    One row is one line, so that one change shows as one line.
    """
    head = {
        "guide": guide.club.title,
        "invented": guide.club.invented,
        "schema": schema_address,
        "table": table.name,
        "version": VERSION,
    }
    keys = sorted((*head, "rows"))
    parts = [
        '"rows": [\n\0\n]' if key == "rows" else f'"{key}": {json_text(head[key])}' for key in keys
    ]
    before, _, after = ("{\n" + ",\n".join(parts) + "\n}\n").partition("\0")
    return before, after


def _plain(table: Table[Row], row: Row) -> dict[str, Plain | float | bool | None]:
    plain: dict[str, Plain | float | bool | None] = {
        column.name: json_cell(column, column.of(row)) for column in table.columns
    }
    if table.as_written is not None:
        plain["record"] = table.as_written(row)
    return plain


def json_cell(column: Column[Row], value: Cell) -> Plain | float | bool | None:
    """Give one cell as JSON has it; what is not known is null."""
    if value is None or isinstance(value, bool):
        return value
    if column.kind is Kind.COUNT:
        return int(_number(value))
    if column.kind is Kind.NUMBER:
        return float(canonical(_number(value), column.decimals))
    if isinstance(value, tuple):
        return list(value)
    return value.isoformat() if isinstance(value, date) else str(value)
