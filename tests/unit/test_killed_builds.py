"""A whole build, killed before each of its writes to cache, passing files and site.

The expected outcome is that of the reference for faults of the machine: the old site or the new
one, whole, and a next build that makes up for all. The yardstick is a build that nothing disturbed.
"""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

HERE = Path(__file__).parent
ROOT = HERE.parents[1]


@pytest.mark.skipif(sys.platform != "linux", reason="forks of killed processes are taken over")
def test_a_whole_build_killed_before_any_of_its_writes_is_made_up_for(tmp_path: Path) -> None:
    # Upon every leftover, and for the other two trials: killed_guides.py FOLDER 1
    words = [sys.executable, str(HERE / "killed_guides.py"), str(tmp_path), "150"]
    done = subprocess.run(
        [*words, "first", "again-cached"],
        env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    first, again = map(json.loads, done.stdout.splitlines())
    for told in (first, again):
        assert told["wrong"] == []
        assert told["end"] == "new"
        assert sum(told["left"].values()) == told["killed"] == sum(told["kinds"].values())
        assert told["built_upon"] >= len(told["kinds"])
    assert first["killed"] > 1000
    assert set(first["left"]) == {"old", "new"}
    assert set(first["kinds"]) > {
        "write", "replace passing passing", "link passing .site.gapbook-new", "rmdir elsewhere",
        "open .site.gapbook-new", "rename .site.gapbook-new site", "unlink .site.gapbook-lock",
    }  # fmt: skip
    assert again["killed"] > 250
    assert again["left"]["between"] == 2
    assert set(again["kinds"]) > {
        "write", "open cache/values", "replace cache/values cache/values", "link cache/files "
        ".site.gapbook-new", "replace cache/files cache/files", "unlink .site.gapbook-lock",
        "rename cache/spare-site .site.gapbook-new", "unlink .site.gapbook-new", "fsync",
        "replace .site.gapbook-new .site.gapbook-new", "rename site .site.gapbook-old",
        "rename .site.gapbook-new site", "rename .site.gapbook-old cache/spare-site",
    }  # fmt: skip


LEFT_ALONE = """
import os, sys
from pathlib import Path
from killed_steps import killed_at_each
def work():
    for number in range(40):
        os.mkdir(f"{sys.argv[1]}/{number}")
killed_at_each(work, lambda step, kind: step == 5 and os._exit(0))
"""


@pytest.mark.skipif(sys.platform != "linux", reason="forks of killed processes are taken over")
def test_work_that_nobody_looks_at_any_more_ends_at_its_next_write(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", LEFT_ALONE, str(tmp_path)],
        env={**os.environ, "PYTHONPATH": str(HERE)}, capture_output=True, text=True, check=False,
    )  # fmt: skip
    # All forks hold the pipes of the output, so that all have ended when it ends.
    assert (done.returncode, done.stderr) == (0, "")
    assert len(list(tmp_path.iterdir())) == 4
