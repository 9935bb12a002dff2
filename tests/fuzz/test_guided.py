"""The targets of the guided fuzzer: run on its seeds, and guided where that is installed."""

import importlib.util
import subprocess
import sys
from pathlib import Path

import pytest

SCRIPT = Path(__file__).with_name("guided.py")
_spec = importlib.util.spec_from_file_location("guided", SCRIPT)
assert _spec is not None
assert _spec.loader is not None
guided = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(guided)


@pytest.mark.parametrize("target", guided.TARGETS)
def test_a_target_passes_its_seeds_and_the_seeds_of_all_others(target: str) -> None:
    for other in guided.TARGETS:
        for seed in guided.seeds(other):
            guided.TARGETS[target](seed[:8192])
            guided.TARGETS[target](seed[::-1][:8192])


@pytest.mark.parametrize("target", guided.TARGETS)
def test_a_bounded_guided_run_finds_nothing(target: str) -> None:
    if importlib.util.find_spec("atheris") is None:
        pytest.skip("atheris is not installed: it is made for some systems only")
    done = subprocess.run(
        [sys.executable, str(SCRIPT), target, "1000"], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr[-2000:]
