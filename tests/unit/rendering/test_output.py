"""Writing on real folders, with the faults of the machine let in at the system's own calls."""

import errno
import os
import resource
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from generator.reading.trouble import GuideError
from generator.rendering.manifest import MARKER
from generator.rendering.output import Artifact, OutputFailed, OutputRefused, Written, write_site
from tests.processor import at_most

ROOT = Path(__file__).parents[3]
OLD = {"index.html": b"old", "a/one.html": b"one", "a/b/two.html": b"two"}
NEW = {"index.html": b"new", "a/one.html": b"one", "c/three.html": b"three"}
CALLS = ("open", "write", "fsync", "mkdir", "rename", "replace", "unlink", "rmdir")


@pytest.fixture
def target(tmp_path: Path) -> Path:
    (tmp_path / "content").mkdir()
    return tmp_path / "site"


def write(target: Path, files: dict[str, bytes]) -> Written:
    return write_site(
        [Artifact(path, content) for path, content in files.items()],
        target,
        source=target.parent / "content",
    )


def held(folder: Path) -> dict[str, bytes]:
    """Give all files but the marker."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and path.name != MARKER
    }


def beside(target: Path) -> list[str]:
    return sorted(path.name for path in target.parent.iterdir() if path.name != "content")


def test_a_site_is_written_where_nothing_was(target: Path) -> None:
    result = write(target, OLD)
    assert held(target) == OLD
    assert beside(target) == ["site"]
    assert result == Written(3, 9, changed=3, removed=0, unchanged=False, foreign=())


def test_a_site_is_written_into_an_empty_folder(target: Path) -> None:
    target.mkdir()
    write(target, OLD)
    assert held(target) == OLD


def test_a_lone_ignore_file_is_kept(target: Path) -> None:
    target.mkdir()
    (target / ".gitignore").write_bytes(b"*\n")
    for site in (OLD, NEW):
        assert write(target, site).foreign == (".gitignore",)
        assert held(target) == {**site, ".gitignore": b"*\n"}


def test_a_site_is_replaced_without_a_stale_page_or_folder(target: Path) -> None:
    write(target, OLD)
    result = write(target, NEW)
    assert held(target) == NEW
    assert not (target / "a" / "b").exists()
    assert (result.changed, result.removed) == (2, 1)


def test_the_same_site_is_not_written_again(target: Path) -> None:
    write(target, OLD)
    before = target.stat().st_ino
    assert write(target, OLD).unchanged
    assert target.stat().st_ino == before


def test_a_damaged_page_is_mended(target: Path) -> None:
    write(target, OLD)
    (target / "index.html").write_bytes(b"OLD")
    assert not write(target, OLD).unchanged
    assert held(target) == OLD


def test_two_sites_of_one_content_are_the_same_bytes(target: Path) -> None:
    write(target, OLD)
    other = target.parent / "elsewhere"
    write(other, dict(reversed(OLD.items())))
    assert (target / MARKER).read_bytes() == (other / MARKER).read_bytes()


def test_permissions_are_plain(target: Path) -> None:
    before = os.umask(0o022)
    try:
        write(target, OLD)
    finally:
        os.umask(before)
    modes = {path.stat().st_mode & 0o7777 for path in target.rglob("*") if path.is_file()}
    assert modes == {0o644}
    assert {target.stat().st_mode & 0o7777, (target / "a").stat().st_mode & 0o7777} == {0o755}


def test_a_site_is_not_replaced_by_nothing(target: Path) -> None:
    write(target, OLD)
    with pytest.raises(OutputRefused, match="no file to write"):
        write(target, {})
    assert held(target) == OLD


def test_a_path_that_leads_out_changes_nothing(target: Path) -> None:
    write(target, OLD)
    with pytest.raises(OutputRefused, match="cannot be a path"):
        write(target, {**NEW, "../out.html": b"x"})
    assert held(target) == OLD
    assert beside(target) == ["site"]


def test_a_folder_that_is_not_ours_is_refused_with_what_it_holds(target: Path) -> None:
    target.mkdir()
    (target / "thesis.txt").write_text("x")
    with pytest.raises(OutputRefused, match=r"not made by this tool.*`thesis\.txt`"):
        write(target, OLD)
    assert held(target) == {"thesis.txt": b"x"}
    assert beside(target) == ["site"]


def test_a_folder_with_somebody_else_s_marker_is_refused(target: Path) -> None:
    target.mkdir()
    (target / MARKER).write_text('{"made_by": "another", "format": 1, "files": []}')
    with pytest.raises(OutputRefused, match="another tool"):
        write(target, OLD)


def test_foreign_files_are_kept_and_listed(target: Path) -> None:
    write(target, OLD)
    foreign = {"CNAME": b"host", "a/b/note.txt": b"n", "mine/deep/x.bin": b"\0", "UPPER.TXT": b"u"}
    for path, content in foreign.items():
        (target / path).parent.mkdir(parents=True, exist_ok=True)
        (target / path).write_bytes(content)
    (target / "empty").mkdir()
    result = write(target, NEW)
    assert held(target) == {**NEW, **foreign}
    assert (target / "empty").is_dir()
    assert set(result.foreign) == {*foreign, "empty/"}
    assert beside(target) == ["site"]


@pytest.mark.parametrize("path", ["c/three.html", "c", "C/THREE.html", "c/three.html/x"])
def test_a_foreign_file_in_the_place_of_a_new_page_stops_the_build(target: Path, path: str) -> None:
    write(target, OLD)
    (target / path).parent.mkdir(parents=True, exist_ok=True)
    (target / path).write_bytes(b"mine")
    with pytest.raises(OutputRefused, match="move or rename"):
        write(target, NEW)
    assert held(target) == {**OLD, path: b"mine"}
    assert beside(target) == ["site"]


def test_a_link_inside_the_site_stops_the_build(target: Path) -> None:
    write(target, OLD)
    (target.parent / "secret").write_text("s")
    (target / "a" / "leak").symlink_to("../../secret")
    with pytest.raises(OutputRefused, match=r"links, mounts or special files.*`a/leak`"):
        write(target, NEW)
    assert (target / "index.html").read_bytes() == b"old"


def test_a_page_replaced_by_a_link_stops_the_build(target: Path) -> None:
    write(target, OLD)
    (target.parent / "precious").write_text("p")
    (target / "index.html").unlink()
    (target / "index.html").symlink_to("../precious")
    with pytest.raises(OutputRefused, match=r"`index\.html`"):
        write(target, NEW)
    assert (target.parent / "precious").read_text() == "p"


def test_a_pipe_inside_the_site_stops_the_build(target: Path) -> None:
    write(target, OLD)
    os.mkfifo(target / "pipe")
    with pytest.raises(OutputRefused, match="`pipe`"):
        write(target, OLD)


def test_a_target_that_turns_into_a_link_during_the_build_is_left_alone(
    target: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(target, OLD)
    (target.parent / "victim").mkdir()
    (target.parent / "victim" / "index.html").write_text("precious")
    real, done = os.fsync, []

    def fsync(handle: int) -> None:
        real(handle)
        if not done:
            done.append(1)
            target.rename(target.parent / "away")
            target.symlink_to("victim")

    monkeypatch.setattr(os, "fsync", fsync)
    with pytest.raises(OutputRefused, match="became another folder or a link"):
        write(target, NEW)
    assert (target.parent / "victim" / "index.html").read_text() == "precious"
    assert held(target.parent / "away") == OLD
    assert beside(target) == ["away", "site", "victim"]


def test_bytes_changed_by_the_disk_are_noticed(
    target: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(target, OLD)
    real = os.write
    monkeypatch.setattr(
        os, "write", lambda handle, text: real(handle, bytes(text).replace(b"three", b"thr3e"))
    )
    with pytest.raises(OutputFailed, match="failing disk"):
        write(target, NEW)
    assert held(target) == OLD


class Fault:
    """Let a call of the system fail: the one with a given number, or all from there on."""

    def __init__(self, number: int, code: int, *, lasting: bool) -> None:
        self.number, self.code, self.lasting = number, code, lasting
        self.count, self.is_over = 0, False

    def around(self, real: Callable[..., object]) -> Callable[..., object]:
        def call(*given: object, **named: object) -> object:
            self.count += not self.is_over
            if self.is_over:
                return real(*given, **named)
            if self.count == self.number or (self.lasting and self.count > self.number):
                raise OSError(self.code, os.strerror(self.code), str(given[0]))
            return real(*given, **named)

        return call


def faults(code: int, *, lasting: bool, calls: tuple[str, ...]) -> Iterator[tuple[Path, Fault]]:
    """Build in a new place for each call that could fail, until none is left."""
    number = 0
    with tempfile.TemporaryDirectory() as folder:
        while True:
            number += 1
            target = Path(folder) / str(number) / "site"
            (target.parent / "content").mkdir(parents=True)
            write(target, OLD)
            (target / "CNAME").write_bytes(b"host")
            fault = Fault(number, code, lasting=lasting)
            with pytest.MonkeyPatch.context() as patch:
                for name in calls:
                    patch.setattr(os, name, fault.around(getattr(os, name)))
                yield target, fault
            if fault.count < number:
                return


@pytest.mark.parametrize(
    ("code", "calls"),
    [
        (errno.ENOSPC, ("write", "mkdir", "fsync")),  # the disk is full, things can be removed
        (errno.EDQUOT, ("write", "mkdir", "fsync")),
        (errno.EMFILE, ("open",)),
        (errno.EIO, CALLS),
        (errno.EROFS, CALLS),
    ],
)
@pytest.mark.parametrize("lasting", [False, True], ids=["once", "lasting"])
def test_a_fault_at_any_call_leaves_a_whole_site_and_the_next_build_recovers(
    code: int, calls: tuple[str, ...], lasting: bool
) -> None:
    failed = 0
    for target, fault in faults(code, lasting=lasting, calls=calls):
        text = ""
        try:
            write(target, NEW)
        except GuideError as trouble:
            failed += 1
            text = str(trouble)
            assert "\n" not in text
        fault.is_over = True
        place = target if target.exists() else target.parent / ".site.gapbook-old"
        now = {path: content for path, content in held(place).items() if path != "CNAME"}
        assert now in (OLD, NEW)
        assert text or now == NEW
        assert "the new site is in place" in text or not text or now == OLD
        work = [name for name in beside(target) if name not in ("site", ".site.gapbook-lock")]
        assert all(name in text for name in work)  # what could not be removed is reported
        write(target, NEW)
        assert held(target) == {**NEW, "CNAME": b"host"}
        assert beside(target) == ["site"]
    assert failed > 3


def test_memory_that_runs_out_leaves_the_old_site(
    target: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(target, OLD)

    def mkdir(*given: object) -> None:
        raise MemoryError

    monkeypatch.setattr(os, "mkdir", mkdir)
    with pytest.raises(OutputFailed, match="not enough memory"):
        write(target, NEW)
    assert held(target) == OLD


def test_an_interrupted_build_leaves_nothing_behind(
    target: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(target, OLD)
    real = os.write

    def interrupted(handle: int, content: bytes) -> int:
        if bytes(content) == b"three":
            raise KeyboardInterrupt
        return real(handle, content)

    monkeypatch.setattr(os, "write", interrupted)
    with pytest.raises(KeyboardInterrupt):
        write(target, NEW)
    assert held(target) == OLD
    assert beside(target) == ["site"]


BUILD = """
import os, resource, sys
from pathlib import Path
from generator.reading.trouble import GuideError
from generator.rendering.output import Artifact, write_site
exec(sys.argv[2])
try:
    files = [Artifact("index.html", b"n" * 3_000_000), Artifact("b.html", b"n" * 3_000_000)]
    write_site(files, Path(sys.argv[1]), source=Path(sys.argv[1]).parent / "content")
except GuideError as trouble:
    sys.exit(str(trouble))
"""


def build_process(target: Path, before: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", BUILD, str(target), before],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )


def test_a_limit_of_the_file_size_leaves_the_old_site(target: Path) -> None:
    write(target, OLD)
    done = build_process(target, "resource.setrlimit(resource.RLIMIT_FSIZE, (10**6, 10**6))")
    assert done.returncode == 1
    assert "file too large" in done.stderr
    assert "Traceback" not in done.stderr
    assert held(target) == OLD
    assert beside(target) == ["site"]


def test_a_limit_of_open_files_leaves_the_old_site(target: Path) -> None:
    write(target, OLD)
    # as many as are open already, so that not one more can be opened
    done = build_process(
        target,
        "n = os.open('/dev/null', 0); resource.setrlimit(resource.RLIMIT_NOFILE, (n + 1, n + 1))",
    )
    assert done.returncode == 1
    assert "too many open files" in done.stderr
    assert held(target) == OLD
    assert resource.getrlimit(resource.RLIMIT_NOFILE)[0] > 10


def test_a_full_disk_leaves_the_old_site(tmp_path: Path) -> None:
    disk = tmp_path / "disk"
    disk.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=4m", "tmpfs", str(disk)]
    if not shutil.which("mount") or subprocess.run(mount, check=False).returncode:
        pytest.skip("a small disk can be mounted by the administrator only")
    try:
        (disk / "content").mkdir()
        write(disk / "site", OLD)
        done = build_process(disk / "site")
        assert done.returncode == 1
        assert "no space left on device" in done.stderr
        assert held(disk / "site") == OLD
        assert beside(disk / "site") == ["site"]
    finally:
        subprocess.run(["umount", str(disk)], check=True)


def test_a_read_only_disk_leaves_the_old_site(tmp_path: Path) -> None:
    disk = tmp_path / "disk"
    disk.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=4m", "tmpfs", str(disk)]
    if not shutil.which("mount") or subprocess.run(mount, check=False).returncode:
        pytest.skip("a disk can be mounted by the administrator only")
    try:
        (disk / "content").mkdir()
        write(disk / "site", OLD)
        subprocess.run(["mount", "-o", "remount,ro", str(disk)], check=True)
        with pytest.raises(OutputFailed, match="read-only"):
            write(disk / "site", NEW)
        assert held(disk / "site") == OLD
    finally:
        subprocess.run(["umount", str(disk)], check=True)


def test_a_parent_that_may_not_be_written_leaves_the_old_site() -> None:
    with tempfile.TemporaryDirectory() as folder:  # others may enter it, unlike pytest's own
        parent = Path(folder)
        (parent / "content").mkdir()
        write(parent / "site", OLD)
        parent.chmod(0o555)
        try:
            # the administrator may write anywhere, and so becomes somebody else first
            done = build_process(parent / "site", "os.getuid() or os.setuid(65534)")
        finally:
            parent.chmod(0o755)
        assert done.returncode == 1
        assert "permission denied" in done.stderr
        assert held(parent / "site") == OLD
        assert beside(parent / "site") == ["site"]


RACE = """
import sys
from pathlib import Path
from generator.rendering.output import Artifact, OutputRefused, write_site
target, name, written = Path(sys.argv[1]), sys.argv[2], 0
for turn in range(25):
    files = [Artifact(f"{n}.html", f"{name} {turn}".encode()) for n in range(20)]
    try:
        write_site(files, target, source=target.parent / "content")
        written += 1
    except OutputRefused as trouble:
        assert "another build" in str(trouble), trouble
print(written)
"""


def test_builds_at_once_take_turns_or_stop(target: Path) -> None:
    builds = [
        subprocess.Popen(
            [sys.executable, "-c", RACE, str(target), name],
            cwd=ROOT,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        for name in ("a", "b", "c")
    ]
    results = [build.communicate() for build in builds]
    assert [build.returncode for build in builds] == [0, 0, 0], results
    assert sum(int(out) for out, _ in results) >= 1
    assert len(held(target)) == 20
    assert len(set(held(target).values())) == 1  # all pages are of one build
    assert beside(target) == ["site"]


def test_two_thousand_pages_are_written_in_half_a_minute(target: Path) -> None:
    # a quarter of the 120 s that the budget grants to the whole build of 2,000 records
    pages = {f"setups/s{n % 50}/p{n}.html": b"x" * 8000 + str(n).encode() for n in range(2000)}
    with at_most(30.0):
        write(target, pages)
    with at_most(30.0):
        assert write(target, pages).unchanged
    pages["setups/s0/p0.html"] = b"changed"
    with at_most(30.0):
        assert write(target, pages).changed == 1
