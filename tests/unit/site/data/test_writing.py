"""Rows 40, 48, 57 and 58 of the list of hostile inputs, with Python's own csv and json as readers.

Signs that begin a formula: `=`, `+`, `-`, `@`, tab and CR, and the first four in full width.
"""

import csv
import io
import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.site.data.columns import Cell, Column, Kind
from generator.site.data.writing import (
    as_csv,
    csv_cell,
    json_cell,
    json_text,
    neutral,
    without_apostrophe,
)

TEXT: Column[Cell] = Column("text", Kind.TEXT, "", "", lambda row: row)
NUMBER: Column[Cell] = Column("number", Kind.NUMBER, "", "", lambda row: row)
FORMULAS = [
    "=1+1", "+cmd|' /C calc'!A0", "-2+3", "@SUM(A1)", "\t=1", "\r=1", "＝1+1", "＋1", "－1", "＠x",
    "'=1", "''@x", "\n=1",
]  # fmt: skip
HARMLESS = ["rolled", "5.5 to 7 in", "a=b", "'quoted'", "", " x", "7 x 15", "été", "日本"]


def first_cell(text: str) -> str:
    (_, row) = csv.reader(io.StringIO(as_csv((TEXT,), (text,)), newline=""), strict=True)
    return row[0] if row else ""


@pytest.mark.parametrize("text", FORMULAS)
def test_a_text_like_a_formula_gets_an_apostrophe(text: str) -> None:
    assert first_cell(text) == f"'{text}"


@pytest.mark.parametrize("text", HARMLESS)
def test_any_other_text_stays_as_it_is(text: str) -> None:
    assert first_cell(text) == text


@given(st.text(alphabet=st.sampled_from("'=+-@\t\r\n＝＠,;\"a1 ")) | st.text())
def test_every_text_comes_back_from_csv(text: str) -> None:
    assert without_apostrophe(first_cell(text)) == text
    assert without_apostrophe(neutral(text)) == text


@given(st.text())
def test_no_cell_of_text_begins_like_a_formula(text: str) -> None:
    cell = first_cell(text)
    assert cell[:1] not in set("=+-@\t\r\n＝＋－＠") or not cell


@pytest.mark.parametrize(("value", "cell"), [(-12.0, "-12"), (-0.5, "-0.5"), (7, "7"), (None, "")])
def test_a_number_is_never_quoted_and_never_prefixed(value: float | None, cell: str) -> None:
    assert csv_cell(NUMBER, value) == cell


def test_commas_quotes_and_line_ends_stay_inside_their_cell() -> None:
    # RFC 4180, section 2: rules 6 and 7
    assert as_csv((TEXT, NUMBER), ('a,"b"\nc',)[:0]) == '"text","number"\r\n'
    assert csv_cell(TEXT, 'a,"b"\nc') == '"a,""b""\nc"'


def test_json_has_no_number_that_is_not_finite() -> None:
    with pytest.raises(ValueError, match="no number"):
        json_cell(NUMBER, math.nan)
    with pytest.raises(ValueError, match="JSON"):
        json_text({"a": math.inf})


@pytest.mark.parametrize("text", ["</script><script>", "\u2028\u2029", "<!--", "]]>", "&amp;"])
def test_json_may_stand_inside_a_page(text: str) -> None:
    written = json_text({"b": text, "a": 1})
    assert not set(written) & set("<>&\u2028\u2029")
    assert json.loads(written) == {"a": 1, "b": text}
    assert written.index('"a"') < written.index('"b"')
