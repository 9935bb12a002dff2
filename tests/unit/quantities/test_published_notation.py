"""The readers of notation against the published examples of tests/published, row by row."""

from enum import Enum
from pathlib import Path
from typing import Any

import pytest
import yaml

from generator.published.tables import identification_length
from generator.quantities.date_code import read_date_code, week_days
from generator.quantities.misread import Misread
from generator.quantities.tyre_size import read_tyre_size

FOLDER = Path(__file__).parents[2] / "published"


def _document(name: str) -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = yaml.safe_load((FOLDER / f"{name}.yaml").read_text("utf-8"))
    return rows


def _plain(value: object) -> object:
    if isinstance(value, Enum):
        return value.name
    return list(value) if isinstance(value, tuple) else value


@pytest.mark.parametrize("row", _document("iso4000-1"), ids=lambda row: row["text"])
def test_designation_means_what_its_source_says(row: dict[str, Any]) -> None:
    size = read_tyre_size(row["text"])
    expected = {name: value for name, value in row.items() if name not in _ABOUT_THE_ROW}
    assert expected
    assert {name: _plain(getattr(size, name)) for name in expected} == expected


_ABOUT_THE_ROW = {"text", "source", "mark"}


@pytest.mark.parametrize("row", [row for row in _document("cfr574") if "week" in row], ids=str)
def test_date_code_gives_week_and_years(row: dict[str, Any]) -> None:
    code = read_date_code(row["code"])
    assert (code.week, list(code.years)) == (row["week"], row["years"])
    if "first" in row:
        assert week_days(code) == (row["first"], row["last"])


@pytest.mark.parametrize("row", [row for row in _document("cfr574") if "refused" in row], ids=str)
def test_date_code_that_cannot_be_is_refused(row: dict[str, Any]) -> None:
    with pytest.raises(Misread) as caught:
        read_date_code(row["code"])
    assert caught.value.code == row["refused"]


def test_lengths_of_identification_numbers() -> None:
    (row,) = [row for row in _document("cfr574") if "lengths" in row]
    lengths = identification_length()
    assert (lengths.new, lengths.retread) == (row["lengths"]["new"], row["lengths"]["retread"])
