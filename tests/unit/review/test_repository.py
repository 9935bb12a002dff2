"""git's own tools say what a revision holds; hostile trees are planted in its index."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from generator.reading.fault import Severity
from generator.reading.folder import content_files
from generator.reading.trouble import GuideError
from generator.review.repository import Repository


def test_snapshot_holds_what_the_folder_holds(club: Any) -> None:
    repository = Repository(club.content)
    found = repository.snapshot(repository.commit("main"))
    assert found.files == content_files(club.content)[0]
    assert not found.odd


def test_snapshot_of_a_nested_folder_has_its_prefix(club: Any) -> None:
    assert Repository(club.content).prefix == "guide/"
    assert Repository(club.folder).prefix == ""


def test_snapshot_before_the_folder_existed_is_empty(club: Any) -> None:
    club.git("checkout", "-q", "--orphan", "young")
    club.git("rm", "-rfq", ".")
    club.write("README.md", "soon\n")
    club.commit()
    club.git("branch", "-f", "main", "young")
    club.write("guide/club.yaml", "name: x\n")
    repository = Repository(club.content)
    assert repository.snapshot(repository.commit("main")).files == ()


def test_commit_gives_gits_own_name(club: Any) -> None:
    expected = club.git("rev-parse", "HEAD").decode().strip()
    repository = Repository(club.content)
    for name in ("main", "HEAD", "refs/heads/main", expected):
        assert repository.commit(name) == expected


@pytest.mark.parametrize(
    "revision",
    ["-rf", "--all", "--output=x", "$(touch x)", "`x`", "main;ls", "main\nHEAD", "", "a..b",
     "@{u}", "main:guide", ":/x", "^main", "x" * 300, "main ", "nowhere"],
)  # fmt: skip
def test_odd_revisions_are_refused_and_run_nothing(club: Any, revision: str) -> None:
    before = sorted(Path(club.folder).iterdir())
    with pytest.raises(GuideError):
        Repository(club.content).commit(revision)
    assert sorted(Path(club.folder).iterdir()) == before


def test_a_folder_without_git_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path.parent))
    with pytest.raises(GuideError, match="git repository"):
        Repository(tmp_path)


def test_links_submodules_and_programs_are_faults(club: Any) -> None:
    commit = club.git("rev-parse", "main").strip()
    club.plant("odd", [
        ("120000", b"guide/setups/ostvane-meridel/link.yaml", b"/etc/passwd"),
        ("160000", b"guide/setups/ostvane-meridel/module", commit),
        ("100755", b"guide/setups/ostvane-meridel/program.yaml", b"title: x\n"),
    ])  # fmt: skip
    repository = Repository(club.content)
    found = repository.snapshot(repository.commit("odd"))
    assert [fault.headline for fault in found.odd] == [
        "this is a link", "this is a submodule", "this is marked as a program",
    ]  # fmt: skip
    assert all(fault.severity is Severity.ERROR for fault in found.odd)
    assert len(found.files) == 3


HOSTILE = (
    b"-rf", b"$(touch pwned).yaml", b"`touch pwned`.yaml", b"a\nb.yaml", b"a\tb.yaml",
    b"\x1b[31mred.yaml", b"::error file=x::all good.yaml", b"caf\xc3\xa9.yaml", b"\xff\xfe.yaml",
    b"UPPER.yaml", b"a" * 240 + b".yaml", b"con.yaml", b"a|b.yaml", b"a;b.yaml", b"a b.yaml",
    b'"quoted".yaml', b"--upload-pack=touch pwned.yaml",
)  # fmt: skip


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_are_faults_and_reach_no_shell(club: Any, name: bytes) -> None:
    club.plant("odd", [("100644", b"guide/setups/ostvane-meridel/" + name, b"title: x\n")])
    before = sorted(Path(club.folder).iterdir())
    repository = Repository(club.content)
    found = repository.snapshot(repository.commit("odd"))
    assert len(found.odd) == 1
    assert found.odd[0].code == "Y16"
    assert found.odd[0].place.path.isprintable()
    assert len(found.files) == 3
    assert sorted(Path(club.folder).iterdir()) == before


def test_a_huge_file_is_a_fault_and_not_read(club: Any) -> None:
    club.plant("odd", [
        ("100644", b"guide/setups/ostvane-meridel/huge.yaml", b"a: b\n" * 400_000),
    ])  # fmt: skip
    repository = Repository(club.content)
    found = repository.snapshot(repository.commit("odd"))
    assert [(fault.code, fault.headline) for fault in found.odd] == [
        ("Y01", "this file has 2000000 bytes")
    ]


def test_merging_takes_both_sides(club: Any) -> None:
    club.branch("request")
    club.edit(club.setup, ("offset: 22 mm", "offset: 24 mm"))
    club.commit()
    club.git("checkout", "-q", "main")
    club.write("guide/articles/new.md", "x\n")
    club.commit()
    repository = Repository(club.content)
    base, head = repository.commit("main"), repository.commit("request")
    merged = repository.snapshot(repository.merged(base, head))
    expected = {file.path for file in repository.snapshot(base).files}
    assert {file.path for file in merged.files} == expected
    by_path = {file.path: file.content for file in merged.files}
    assert b"offset: 24 mm" in by_path["setups/ostvane-meridel/copperbill-seven-inch.yaml"]
    assert club.git("status", "--porcelain") == b""


def test_a_conflict_is_told(club: Any) -> None:
    club.branch("request")
    club.edit(club.setup, ("offset: 22 mm", "offset: 24 mm"))
    club.commit()
    club.git("checkout", "-q", "main")
    club.edit(club.setup, ("offset: 22 mm", "offset: 26 mm"))
    club.commit()
    repository = Repository(club.content)
    with pytest.raises(GuideError, match="cannot be merged by itself"):
        repository.merged(repository.commit("main"), repository.commit("request"))


def test_unrelated_histories_are_told(club: Any, make_club: Callable[[str], Any]) -> None:
    stranger = make_club("stranger")
    stranger.write("x.md", "x")
    stranger.git("commit", "-q", "--amend", "--allow-empty", "-m", "Another beginning")
    club.git("fetch", "-q", str(stranger.folder), "main:stranger")
    repository = Repository(club.content)
    with pytest.raises(GuideError, match="no commit in common"):
        repository.merged(repository.commit("main"), repository.commit("stranger"))


def test_a_shallow_clone_says_so(club: Any, tmp_path: Path) -> None:
    club.write("README.md", "second\n")
    club.commit()
    club.git("clone", "-q", "--depth", "1", f"file://{club.folder}", str(tmp_path / "shallow"))
    repository = Repository(tmp_path / "shallow" / "guide")
    assert repository.is_shallow()
    with pytest.raises(GuideError, match="shallow clone"):
        repository.commit("HEAD~1")


def test_files_outside_the_content_are_named(club: Any) -> None:
    club.branch("request")
    club.write(".github/workflows/check.yml", "on: push\n")
    club.write("guide/articles/x.md", "x\n")
    club.commit()
    repository = Repository(club.content)
    base, head = repository.commit("main"), repository.commit("request")
    assert repository.outside(base, head) == (".github/workflows/check.yml",)


def test_settings_of_the_caller_do_not_lead_git_astray(
    club: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("GIT_DIR", str(tmp_path / "elsewhere"))
    monkeypatch.setenv("GIT_EXTERNAL_DIFF", "touch")
    repository = Repository(club.content)
    assert repository.snapshot(repository.commit("main")).files
