"""The published tables against the check values of tests/published, row by row."""

from dataclasses import asdict, is_dataclass
from pathlib import Path
from typing import Any

import pytest
import yaml

from generator.published import fastening, tables
from generator.quantities.thread import read_thread

FOLDER = Path(__file__).parents[2] / "published"
MARKS = {"text", "memory", "practice"}


def _document(name: str) -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = yaml.safe_load((FOLDER / f"{name}.yaml").read_text("utf-8"))
    return rows


def _calls(*names: str) -> list[dict[str, Any]]:
    return [row for name in names for row in _document(name) if "call" in row]


def _close(expected: Any, found: Any, tolerance: float) -> bool:
    if is_dataclass(found) and not isinstance(found, type):
        fields = asdict(found)
        return all(_close(value, fields[name], tolerance) for name, value in expected.items())
    return bool(abs(found - expected) <= tolerance)


@pytest.mark.parametrize("row", _calls("unr30", "unr54", "etrto", "handbook", "iso4000-2"), ids=str)
def test_tyre_and_rim_tables_give_the_published_value(row: dict[str, Any]) -> None:
    found = getattr(tables, row["call"])(*row["inputs"])
    assert _close(row["expected"], found, row["tolerance"]), found
    assert row["source"]
    assert row["mark"] in MARKS


@pytest.mark.parametrize("row", _calls("fastening"), ids=str)
def test_fastening_tables_give_the_published_value(row: dict[str, Any]) -> None:
    found = getattr(fastening, row["call"])(*map(read_thread, row["inputs"]))
    assert _close(row["expected"], found, row["tolerance"]), found
    assert row["source"]
    assert row["mark"] in MARKS


@pytest.mark.parametrize(
    "row", [row for row in _document("handbook") if row.get("table") == "load_at_pressure"]
)
def test_load_and_pressure_law_gives_the_handbook_table(row: dict[str, Any]) -> None:
    law = tables.load_pressure_law()
    for index, loads in row["loads"].items():
        for pressure, load in zip(row["pressures"], loads, strict=True):
            share = (pressure / law.reference_standard) ** law.exponent
            assert tables.load_capacity(index) * share == pytest.approx(load, abs=row["tolerance"])


@pytest.mark.parametrize(
    "row", [row for row in _document("fastening") if row.get("table") == "proof_load"]
)
def test_proof_stress_times_printed_area_is_the_printed_proof_load(row: dict[str, Any]) -> None:
    area = fastening.stress_area(read_thread(row["thread"]))
    for name, load in row["loads"].items():
        force = fastening.property_class(name).proof_stress * area / 1000.0
        assert force == pytest.approx(load, abs=row["tolerance"])
