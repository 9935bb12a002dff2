"""The tables of a guide: rows, forms and schemas agree, and read back with general tools."""

import csv
import io
import json
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from generator.reading.history import Change, FileHistory, History
from generator.site.data.columns import Kind, Table
from generator.site.data.table_schema import table_schema
from generator.site.data.writing import table_texts, without_apostrophe
from generator.site.guide import Guide
from generator.site.views.data import data_tables

ADDRESS = "https://guide.example.org/schema.json"
TABLES = {table.name: table for table in data_tables()}


def rows_of_json(guide: Guide, name: str) -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = json.loads(table_texts(guide, TABLES[name], ADDRESS)["json"])[
        "rows"
    ]
    return rows


def rows_of_csv(guide: Guide, name: str) -> list[dict[str, str]]:
    text = table_texts(guide, TABLES[name], ADDRESS)["csv"]
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def test_the_tables_are_those_promised() -> None:
    assert {"setups", "gaps", "limits", "chassis"} <= set(TABLES)
    assert TABLES["setups"].endings == ("csv", "json", "jsonl")


@pytest.mark.parametrize("table", TABLES.values(), ids=lambda table: table.name)
def test_every_column_is_described(table: Table[Any]) -> None:
    names = [column.name for column in table.columns]
    assert len(set(names)) == len(names)
    assert set(table.key) <= set(names)
    for column in table.columns:
        assert column.meaning
        assert column.example or column.kind is Kind.TEXT
        has_unit = column.kind is not Kind.NUMBER or column.unit
        assert has_unit, f"{column.name} has no unit"


@pytest.mark.parametrize("name", [name for name, each in TABLES.items() if "json" in each.endings])
def test_json_keeps_its_schema(guide: Guide, name: str) -> None:
    table = TABLES[name]
    schema = table_schema(table, ADDRESS)
    Draft202012Validator.check_schema(schema)
    document = json.loads(table_texts(guide, table, ADDRESS)["json"])
    assert not list(Draft202012Validator(schema).iter_errors(document))
    assert document["rows"]
    del document["rows"][0][table.key[0]]
    assert list(Draft202012Validator(schema).iter_errors(document))


@pytest.mark.parametrize("name", sorted(TABLES))
def test_a_key_tells_each_row_from_all_others(guide: Guide, name: str) -> None:
    rows = rows_of_csv(guide, name)
    keys = [tuple(row[each] for each in TABLES[name].key) for row in rows]
    assert keys
    assert len(set(keys)) == len(keys)


@pytest.mark.parametrize("name", [name for name, each in TABLES.items() if "json" in each.endings])
def test_csv_and_json_say_the_same(guide: Guide, name: str) -> None:
    for cells, row in zip(rows_of_csv(guide, name), rows_of_json(guide, name), strict=True):
        for column in TABLES[name].columns:
            cell, value = cells[column.name], row[column.name]
            if value is None:
                assert cell == ""
            elif column.kind in (Kind.NUMBER, Kind.COUNT):
                assert float(cell) == value
            elif column.kind is Kind.YES:
                assert cell == ("yes" if value else "no")
            elif column.kind is Kind.TEXTS:
                assert without_apostrophe(cell) == "; ".join(value)
            else:
                assert without_apostrophe(cell) == value


def test_lines_of_json_are_the_rows_of_the_document(guide: Guide) -> None:
    texts = table_texts(guide, TABLES["setups"], ADDRESS)
    lines = [json.loads(line) for line in texts["jsonl"].splitlines()]
    assert lines == json.loads(texts["json"])["rows"]


def test_setups_have_a_row_for_each_end(guide: Guide) -> None:
    rows = rows_of_json(guide, "setups")
    assert [(row["setup"].split("/")[1], row["axle"], row["standing"]) for row in rows] == [
        ("copperbill-seven-inch", "front", "disputed"),
        ("copperbill-seven-inch", "rear", "disputed"),
        ("fernhollow-seven-inch", "front", "replaced"),
        ("fernhollow-seven-inch", "rear", "replaced"),
    ]


def test_a_hostile_title_is_text_in_json_and_neutral_in_csv(guide: Guide) -> None:
    assert rows_of_json(guide, "setups")[2]["title"] == "=1+1"
    assert rows_of_csv(guide, "setups")[2]["title"] == "'=1+1"


def test_gaps_are_those_of_the_record(guide: Guide) -> None:
    gaps = guide.library.setups["ostvane-meridel/copperbill-seven-inch"].value.gaps
    rows = [row for row in rows_of_json(guide, "gaps") if "copperbill" in row["setup"]]
    assert [row["typed"] for row in rows] == [gap.gap.typed for gap in gaps]
    assert [row["number"] for row in rows] == list(range(1, len(gaps) + 1))


def test_a_disputed_gap_is_not_given_out_as_clear(guide_from: Callable[[str], Guide]) -> None:
    overlay = """
setup:
  gaps: [{site: strut-tube, side: both, state: static, gap: 9 mm}]
  disputes: [{date: 2025-08-20, member: Wren, site: strut-tube, claim: it touches%s}]
"""
    for settled, word in (("", "unknown"), (", settled: seen", "clears")):
        (row,) = rows_of_json(guide_from(overlay % settled), "gaps")
        assert row["word"] == word


def test_limits_forget_a_replaced_record(guide: Guide) -> None:
    rows = rows_of_json(guide, "limits")
    resting = {record for row in rows for record in row["records"]}
    assert resting == {"ostvane-meridel/copperbill-seven-inch"}
    for row in rows:
        assert row["low"] <= row["median"] <= row["high"]
        assert (row["cars"] == 0) == (row["records"] == [])
        assert (row["flag"] == "unknown") == (row["cars"] == 0)


def test_every_site_of_a_sheet_has_a_limit(guide: Guide) -> None:
    sheet = guide.library.chassis["ostvane-meridel"].value
    assert {(row["axle"], row["site"]) for row in rows_of_json(guide, "limits")} == {
        (site.axle.value, site.name) for site in sheet.sites
    }


def test_a_chassis_carries_its_sheet_as_written(guide: Guide) -> None:
    (row,) = rows_of_json(guide, "chassis")
    assert row["record"]["wheelbase"] == guide.library.chassis[row["chassis"]].value.wheelbase.typed
    assert len(row["record"]["sites"]) == row["sites"]


def test_without_git_history_says_so_and_has_no_date(guide: Guide) -> None:
    for row in rows_of_json(guide, "history"):
        assert row["mode"] == "no history: not a git checkout"
        assert (row["added"], row["changed"], row["is_committed"]) == (None, None, None)


@pytest.mark.parametrize("key", ["items", "keys", "__class__", "__proto__", "constructor"])
def test_a_key_that_is_a_name_of_a_language_is_refused(
    guide_from: Callable[[str], Guide], key: str
) -> None:
    # row 61 of the list of hostile inputs
    guide = guide_from(f"chassis: {{{key}: x}}")
    assert [fault.code for fault in guide.faults if key in fault.headline] == ["F03"]
    assert guide.left_out == ("chassis/ostvane-meridel.yaml",)
    for name in TABLES:
        assert all(key not in row for row in rows_of_csv(guide, name))


def test_a_limit_has_the_commits_of_its_sheet_and_of_the_records_it_rests_on(guide: Guide) -> None:
    def changed(letter: str, day: int) -> FileHistory:
        return FileHistory((Change(letter * 40, date(2025, 7, day)),), is_committed=True)

    files = {
        "chassis/ostvane-meridel.yaml": changed("a", 1),
        "setups/ostvane-meridel/copperbill-seven-inch.yaml": changed("b", 3),
        "setups/ostvane-meridel/fernhollow-seven-inch.yaml": changed("c", 5),
    }
    known = replace(guide, history=History("from git", True, files))
    for row, limit in zip(
        rows_of_json(known, "limit_history"), rows_of_json(known, "limits"), strict=True
    ):
        # the replaced record of Fernhollow moves nothing any more
        rests = ["b" * 40, "a" * 40] if limit["records"] else ["a" * 40]
        assert row["commits"] == rests
        assert (row["first"], row["last"]) == ("2025-07-01", f"2025-07-0{2 * len(rests) - 1}")
