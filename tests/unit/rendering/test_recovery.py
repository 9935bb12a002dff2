"""What crashes leave, and what foreign files may be there, seen on real folders.

The expected outcome is that of the reference for file faults: old site or new site, whole.
"""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from generator.rendering.disk import OutputFailed, OutputRefused
from generator.rendering.ground import Ground, survey
from generator.rendering.manifest import MARKER
from generator.rendering.output import Artifact, recover_site, write_site
from generator.rendering.recovery import discard, holding, swap

HERE = Path(__file__).parent


@pytest.fixture
def ground(tmp_path: Path) -> Ground:
    (tmp_path / "content").mkdir()
    return survey(tmp_path / "site", source=tmp_path / "content")


def write(ground: Ground, **files: bytes) -> None:
    artifacts = [Artifact(f"{name}.html", content) for name, content in files.items()]
    write_site(artifacts, ground.target, source=ground.parent / "content")


def recover(ground: Ground) -> bool:
    return recover_site(ground.target, source=ground.parent / "content")


def half_done(ground: Ground) -> None:
    """Leave what a build leaves that ends between the two renames."""
    write(ground, index=b"old")
    ground.target.rename(ground.old)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="builds are killed in forks")
def test_a_build_killed_at_any_write_leaves_a_whole_site(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, str(HERE / "killed_builds.py"), str(tmp_path)],
        env={**os.environ, "PYTHONPATH": str(HERE.parents[2])},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    reports = [json.loads(line) for line in done.stdout.splitlines()]
    assert {report["start"] for report in reports} == {"absent", "ignored", "site", "spare"}
    seen = set()
    for report in reports:
        after, recovered = report["after"], report["recovered"]
        earlier = "absent" if report["start"] == "absent" else "old"
        between = after["target"] == "absent" and after["old"] == "old"
        seen.add("between" if between else after["target"])
        # at the crash: the old site or the new one, or the old one beside its place
        assert between or after["target"] in (earlier, "new"), report
        assert after["foreign_kept"], report
        # once any build has started: one of the two, with all foreign files, and no work folder
        assert recovered["site"] == ("new" if after["target"] == "new" else earlier), report
        assert recovered["foreign"], report
        assert set(recovered["left"]) <= {".site.gapbook-lock"}, report
        assert report["final"] == {"site": "new", "foreign": True, "left": []}, report
    assert seen == {"absent", "between", "old", "new"}


def test_nothing_is_done_where_nothing_is_half_done(ground: Ground) -> None:
    assert not recover(ground)
    write(ground, index=b"old")
    assert not recover(ground)


def test_a_build_that_ended_between_the_renames_is_undone(ground: Ground) -> None:
    half_done(ground)
    assert recover(ground)
    assert (ground.target / "index.html").read_bytes() == b"old"
    assert not ground.old.exists()


def test_a_target_made_again_empty_gives_way_to_the_old_site(ground: Ground) -> None:
    half_done(ground)
    (ground.old / ".gitignore").write_text("*")
    ground.target.mkdir()
    (ground.target / ".gitignore").write_text("*")
    recover(ground)
    assert (ground.target / "index.html").read_bytes() == b"old"
    assert (ground.target / ".gitignore").read_text() == "*"


def test_a_target_made_again_with_another_file_is_refused(ground: Ground) -> None:
    half_done(ground)
    (ground.old / ".gitignore").write_text("*")
    ground.target.mkdir()
    (ground.target / ".gitignore").write_text("mine")
    with pytest.raises(OutputRefused, match="made again since, with another"):
        recover(ground)
    assert (ground.target / ".gitignore").read_text() == "mine"
    assert (ground.old / "index.html").read_bytes() == b"old"


def test_a_target_made_again_by_another_tool_is_refused(ground: Ground) -> None:
    half_done(ground)
    ground.target.mkdir()
    (ground.target / "thesis.txt").write_text("x")
    with pytest.raises(OutputRefused, match=r"holds `thesis\.txt`"):
        recover(ground)
    assert (ground.target / "thesis.txt").exists()


def test_an_old_folder_of_another_tool_is_refused(ground: Ground) -> None:
    ground.old.mkdir()
    (ground.old / "thesis.txt").write_text("x")
    with pytest.raises(OutputRefused, match="not made by this tool"):
        write(ground, index=b"new")
    assert (ground.old / "thesis.txt").exists()


@pytest.mark.parametrize("which", ["old", "new"])
def test_a_work_folder_that_is_a_link_is_refused(ground: Ground, which: str) -> None:
    (ground.parent / "precious").mkdir()
    (ground.parent / "precious" / "a").write_text("x")
    getattr(ground, which).symlink_to("precious")
    with pytest.raises(OutputRefused, match="in the way"):
        write(ground, index=b"new")
    assert (ground.parent / "precious" / "a").read_text() == "x"


def test_a_new_folder_with_a_foreign_file_is_refused_whole(ground: Ground) -> None:
    write(ground, index=b"x")
    ground.target.rename(ground.new)
    (ground.new / "mine.txt").write_text("x")
    with pytest.raises(OutputRefused, match=r"did not write there, `mine\.txt`"):
        discard(ground)
    assert (ground.new / "index.html").exists()


def test_a_new_folder_with_a_link_in_place_of_a_folder_is_refused(ground: Ground) -> None:
    write_site([Artifact("a/b", b"")], ground.target, source=ground.parent / "content")
    ground.target.rename(ground.new)
    (ground.new / "a").rename(ground.parent / "a")
    (ground.new / "a").symlink_to("../a")
    with pytest.raises(OutputRefused, match="in the way"):
        discard(ground)
    assert (ground.parent / "a" / "b").exists()


def test_a_new_folder_that_has_only_a_torn_marker_is_removed(ground: Ground) -> None:
    ground.new.mkdir()
    (ground.new / MARKER).write_text('{"made_by": "gap')
    assert recover(ground)
    assert not ground.new.exists()


def test_a_torn_marker_is_no_licence_to_delete(ground: Ground) -> None:
    ground.new.mkdir()
    (ground.new / MARKER).write_text('{"made_by": "gap')
    (ground.new / "index.html").write_text("x")
    with pytest.raises(OutputRefused, match="in the way"):
        recover(ground)
    assert (ground.new / "index.html").exists()


def test_a_failed_second_rename_is_undone_at_once(
    ground: Ground, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(ground, index=b"old")
    ground.new.mkdir()
    real = os.rename

    def rename(origin: Path, to: Path) -> None:
        if Path(origin) == ground.new:
            raise OSError("no")
        real(origin, to)

    monkeypatch.setattr(os, "rename", rename)
    with pytest.raises(OSError, match="no"):
        swap(ground)
    assert (ground.target / "index.html").read_bytes() == b"old"
    assert not ground.old.exists()


def test_a_foreign_file_that_came_too_late_stays_in_the_old_folder(ground: Ground) -> None:
    write(ground, index=b"old")
    (ground.target / "later.html").write_bytes(b"mine")
    ground.target.rename(ground.old)
    write_site(
        [Artifact("later.html", b"page")],
        ground.parent / "other",
        source=ground.parent / "content",
    )
    (ground.parent / "other").rename(ground.target)
    with pytest.raises(OutputFailed, match=r"places are taken: `later\.html`"):
        recover(ground)
    assert (ground.old / "later.html").read_bytes() == b"mine"
    assert (ground.target / "later.html").read_bytes() == b"page"


def test_an_empty_folder_and_a_lone_ignore_file_count_as_empty(tmp_path: Path) -> None:
    assert holding(tmp_path).foreign == ()
    (tmp_path / ".gitignore").write_text("*")
    assert holding(tmp_path).foreign == (".gitignore",)


def test_an_ignore_file_that_is_a_link_does_not_count_as_empty(tmp_path: Path) -> None:
    (tmp_path / ".gitignore").symlink_to("elsewhere")
    with pytest.raises(OutputRefused, match=r"holds `\.gitignore`"):
        holding(tmp_path)


def test_many_names_are_cut_with_a_count(tmp_path: Path) -> None:
    for number in range(9):
        (tmp_path / f"f{number}").write_text("")
    with pytest.raises(OutputRefused, match="`f0`, `f1`, `f2`, `f3`, `f4` and 4 more"):
        holding(tmp_path)
