"""The targets of the guided fuzzer: run on its seeds, and guided where that is installed."""

import importlib.util
import os
import platform
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


def guided_run(target: str, runs: int, folder: Path) -> tuple[int, str]:
    """Run the fuzzer in a process of its own, which libFuzzer ends; give status and what it told.

    Where atheris is made, it must be there.
    """
    if importlib.util.find_spec("atheris") is None:
        assert (sys.platform, platform.machine()) != ("linux", "x86_64"), "install the extra `test`"
        pytest.skip("atheris is made for Linux on x86-64 only")
    words = [sys.executable, "-c", f"{PLANTED}\nguided.main()", target, str(runs)]
    surroundings = {**os.environ, "PYTHONPATH": f"{SCRIPT.parent}{os.pathsep}{SCRIPT.parents[2]}"}
    if inherited := os.environ.get("PYTHONPATH"):
        surroundings["PYTHONPATH"] += os.pathsep + inherited
    done = subprocess.run(
        words, cwd=folder, env=surroundings, capture_output=True, text=True, check=False,
        errors="replace",
    )  # fmt: skip
    return done.returncode, done.stdout + done.stderr


PLANTED = """
import guided

def planted(body):
    from generator.quantities.misread import Misread
    from generator.quantities.quantity import read_quantity
    from generator.quantities.units import Dimension
    try:
        value = read_quantity(guided.texts(body), Dimension.LENGTH).value
    except Misread:
        return
    if value > 5000.0:
        raise ZeroDivisionError("planted")

guided.TARGETS["planted"] = planted
"""
"""One more target, with a fault that no seed reaches and few texts do."""


@pytest.mark.parametrize("target", guided.TARGETS)
def test_a_bounded_guided_run_finds_nothing(target: str, tmp_path: Path) -> None:
    status, told = guided_run(target, 1000, tmp_path)
    assert status == 0, told[-2000:]
    assert "Done 1000 runs" in told


def test_a_planted_exception_is_found_with_the_bytes_that_raise_it(tmp_path: Path) -> None:
    status, told = guided_run("planted", 50_000, tmp_path)
    assert status != 0
    assert "ZeroDivisionError: planted" in told
    (crash,) = tmp_path.iterdir()
    assert crash.name.startswith("crash-")
