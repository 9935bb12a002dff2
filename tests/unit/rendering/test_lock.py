import errno
import fcntl
import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from generator.rendering.disk import OutputRefused
from generator.rendering.lock import Holder, held

HOLD = """
import sys
from pathlib import Path
from generator.rendering.lock import held
with held(Path(sys.argv[1])):
    print("held", flush=True)
    sys.stdin.read()
"""


def holding_process(lock: Path) -> subprocess.Popen[str]:
    process = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(lock)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=Path(__file__).parents[3],
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "held\n"
    return process


def ended_process() -> int:
    process = subprocess.Popen([sys.executable, "-c", ""])
    process.wait()
    return process.pid


@pytest.fixture
def no_system_lock(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(handle: int, operation: int) -> None:
        raise OSError(errno.ENOLCK, "no locks available")

    monkeypatch.setattr(fcntl, "flock", refuse)


def test_a_lock_is_gone_after_the_build(tmp_path: Path) -> None:
    lock = tmp_path / "lock"
    with held(lock):
        assert json.loads(lock.read_text())["process"] == os.getpid()
    assert not lock.exists()


def test_a_lock_is_gone_after_a_failed_build(tmp_path: Path) -> None:
    with pytest.raises(ZeroDivisionError), held(tmp_path / "lock"):
        raise ZeroDivisionError
    assert not (tmp_path / "lock").exists()


def test_a_second_build_stops_and_names_the_first(tmp_path: Path) -> None:
    lock = tmp_path / "lock"
    with holding_process(lock) as process:
        with pytest.raises(OutputRefused, match=rf"process {process.pid}\b"), held(lock):
            pass
        assert lock.exists()
        process.communicate("")
    with held(lock):
        pass


def test_a_second_build_in_the_same_process_stops(tmp_path: Path) -> None:
    lock = tmp_path / "lock"
    with held(lock), pytest.raises(OutputRefused, match="another build"), held(lock):
        pass


def test_the_lock_of_a_killed_build_is_taken_over(tmp_path: Path) -> None:
    lock = tmp_path / "lock"
    with holding_process(lock) as process:
        process.send_signal(signal.SIGKILL)
        process.wait()
    assert lock.exists()
    with held(lock):
        assert json.loads(lock.read_text())["process"] == os.getpid()
    assert not lock.exists()


@pytest.mark.parametrize("text", ["", "{", "[]", '{"process": 0, "started": ""}', "\x00" * 50])
def test_a_lock_cut_short_by_a_crash_is_taken_over(tmp_path: Path, text: str) -> None:
    (tmp_path / "lock").write_text(text)
    with held(tmp_path / "lock"):
        pass
    assert not (tmp_path / "lock").exists()


@pytest.mark.usefixtures("no_system_lock")
def test_without_system_locks_a_running_process_is_respected(tmp_path: Path) -> None:
    lock = tmp_path / "lock"
    me = Holder.of(os.getpid())
    lock.write_text(json.dumps({"process": me.process, "started": me.started}))
    with pytest.raises(OutputRefused, match=f"process {os.getpid()}"), held(lock):
        pass


@pytest.mark.usefixtures("no_system_lock")
def test_without_system_locks_an_ended_process_is_not(tmp_path: Path) -> None:
    lock = tmp_path / "lock"
    lock.write_text(json.dumps({"process": ended_process(), "started": "1 boot"}))
    with held(lock):
        pass


@pytest.mark.usefixtures("no_system_lock")
@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="starts are not told here")
def test_a_number_given_again_is_not_the_same_process(tmp_path: Path) -> None:
    lock = tmp_path / "lock"
    ticks, boot = Holder.of(os.getpid()).started.split()
    for started in (f"{int(ticks) - 1} {boot}", f"{ticks} another-boot"):
        lock.write_text(json.dumps({"process": os.getpid(), "started": started}))
        with held(lock):
            pass


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="starts are not told here")
def test_a_process_that_ended_but_was_not_collected_does_not_run() -> None:
    process = subprocess.Popen([sys.executable, "-c", "input()"], stdin=subprocess.PIPE)
    holder = Holder.of(process.pid)
    assert holder.is_running()
    process.kill()
    os.waitid(os.P_PID, process.pid, os.WEXITED | os.WNOWAIT)
    assert not holder.is_running()
    process.communicate()


def test_a_lock_that_is_a_link_is_refused(tmp_path: Path) -> None:
    (tmp_path / "precious").write_text("text")
    (tmp_path / "lock").symlink_to("precious")
    with pytest.raises(OutputRefused, match="in the way"), held(tmp_path / "lock"):
        pass
    assert (tmp_path / "precious").read_text() == "text"
