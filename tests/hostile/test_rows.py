"""Every hostile input of the list has its tests, or a reason why there is none."""

import re
from pathlib import Path
from typing import Any

import pytest
import yaml

TESTS = Path(__file__).resolve().parents[1]
ROWS: dict[int, dict[str, Any]] = yaml.safe_load(
    Path(__file__).with_name("rows.yaml").read_text("utf-8")
)


def test_no_row_is_missing() -> None:
    assert sorted(ROWS) == list(range(1, 106))


@pytest.mark.parametrize("row", ROWS)
def test_a_row_has_tests_that_are_there_or_a_reason(row: int) -> None:
    entry = ROWS[row]
    assert entry["input"]
    assert entry["tests"] or len(entry["reason"].split()) > 12
    for test in entry["tests"]:
        path, _, name = test.partition("::")
        assert re.search(rf"^(async )?def {name}\(", (TESTS / path).read_text("utf-8"), re.M), test
