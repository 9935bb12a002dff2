"""The bench works: a tiny run, without the yardstick, ends with a table of all that it promises."""

import json
import sys
from pathlib import Path

import pytest

from tests.bench.__main__ import main
from tests.bench.table import STEPS, markdown
from tests.bench.timing import Failed, run
from tests.bench.yardstick import body


def test_a_tiny_run_measures_every_step(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    out = tmp_path / "table.md"
    assert main(["--records", "3", "--times", "1", "--no-yardstick", "--out", str(out)]) == 0
    found = json.loads(out.with_suffix(".json").read_text("utf-8"))
    size = found["sizes"][0]
    assert [step for step in STEPS if not size["guide"][step]["processor"] > 0.0] == []
    assert all(size["guide"][step]["memory"] > 5e6 for step in STEPS)
    assert size["guide"]["output"]["files"] > 3
    assert all(rate > 0.0 for rate in size["inside"].values())
    assert "| 3 | cold build |" in capsys.readouterr().out


def test_a_table_tells_how_many_times_the_yardstick_a_build_takes() -> None:
    took = {"wall": 6.0, "processor": 9.0, "memory": 2e8}
    plain = {"wall": 3.0, "processor": 3.0, "memory": 1e8}
    guide = {"cold build": took, "output": {"files": 7, "bytes": 2_500_000}}
    size = {"records": 1000, "guide": guide, "yardstick": {"Plain 1.0 (Python)": plain}}
    text = markdown({"machine": {"cores": "2"}, "sizes": [size]})
    assert "| 1,000 | cold build | 6.00 | 9.00 | 200 | 2 × Plain (processor 3 ×) |" in text
    assert "output: 7 files, 2.5 MB" in text


def test_a_plain_page_has_thirty_rows_and_four_paragraphs() -> None:
    parts = body(1).strip().split("\n\n")
    assert len(parts) == 5
    assert len(parts[2].split("\n")) == 30 + 2
    assert body(1) == body(1) != body(2)


def test_a_command_that_fails_is_told(tmp_path: Path) -> None:
    with pytest.raises(Failed, match="ended with 3"):
        run(["sh", "-c", "exit 3"], cwd=tmp_path, environment={})


def test_processor_time_and_memory_of_a_command_are_measured(tmp_path: Path) -> None:
    work = "import time; b = b'x' * 80_000_000; sum(i * i for i in range(3_000_000)); time.sleep(1)"
    took = run([sys.executable, "-c", work], cwd=tmp_path, environment={})
    assert 0.02 < took.processor < took.wall
    assert took.memory > 80e6
