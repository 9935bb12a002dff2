import json
from pathlib import Path, PurePosixPath

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.rendering.disk import OutputRefused
from generator.rendering.manifest import (
    MARKER,
    Artifact,
    Entry,
    decode,
    manifest_of,
    path_fault,
    read_manifest,
)

# FIPS 180-4, example of SHA-256 published by NIST for the message "abc"
SHA256_OF_ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_a_file_is_listed_with_its_size_and_sha256() -> None:
    assert Entry.of("a", b"abc") == Entry("a", 3, SHA256_OF_ABC)


def test_the_marker_does_not_depend_on_the_order_of_the_files() -> None:
    files = [Artifact("b/x.html", b"1"), Artifact("a.html", b"2"), Artifact("b.html", b"3")]
    assert manifest_of(files).text == manifest_of(reversed(files)).text


def test_the_marker_holds_only_what_the_site_holds() -> None:
    tree = json.loads(manifest_of([Artifact("a/b.html", b"abc")]).text)
    assert tree == {
        "made_by": "gapbook",
        "format": 1,
        "files": [{"path": "a/b.html", "bytes": 3, "sha256": SHA256_OF_ABC}],
    }


def test_a_marker_is_read_as_it_was_written() -> None:
    manifest = manifest_of([Artifact("a.html", b"1"), Artifact(PurePosixPath("b/c"), b"")])
    assert decode(manifest.text, "it") == manifest


@pytest.mark.parametrize("path", ["a", "index.html", "a/b-c/d_e.svg", "x" * 80, "v1/0.json"])
def test_plain_paths_are_allowed(path: str) -> None:
    assert path_fault(path) is None


@pytest.mark.parametrize(
    "path",
    [
        "",
        "/etc/x",
        "a//b",
        "a/",
        "..",
        "../a",
        "a/../b",
        "./a",
        "a\\b",
        "a%2f",
        "a\0",
        "a\n",
        "A.html",
        "é.html",
        ".gitignore",
        MARKER,
        "a/.hidden",
        "-rf",
        "a/-x",
        "$(id)",
        "`id`",
        "a b",
        "c:x",
        "dot.",
        "con",
        "nul.html",
        "a/com1.tar.gz",
        "lpt9",
        "x" * 81,
        "/".join("a" * 13),
        "/".join(["x" * 60] * 5),
    ],
)
def test_paths_that_are_not_safe_everywhere_are_refused(path: str) -> None:
    with pytest.raises(OutputRefused, match="cannot be a path"):
        manifest_of([Artifact(path, b"")])


@given(st.text(alphabet=st.sampled_from("ab./\\-_~%: \0\nA"), max_size=12) | st.text(max_size=12))
def test_a_path_is_refused_or_stays_inside(path: str) -> None:
    root = Path("/site")
    if path_fault(path) is None:
        inside = Path("/site", path)
        assert root in inside.parents
        assert ".." not in inside.parts
        assert str(inside) == f"/site/{path}"


def test_two_files_at_one_path_are_refused() -> None:
    with pytest.raises(OutputRefused, match=r"want one place, `a\.html`"):
        manifest_of([Artifact("a.html", b"1"), Artifact("a.html", b"1")])


def test_paths_that_differ_by_case_alone_are_refused() -> None:
    with pytest.raises(OutputRefused, match=r"A\.html"):
        manifest_of([Artifact("a.html", b"1"), Artifact("A.html", b"1")])


def test_a_file_that_is_also_a_folder_is_refused() -> None:
    with pytest.raises(OutputRefused, match="both a file and a folder"):
        manifest_of([Artifact("a", b""), Artifact("a/b", b"")])


def test_a_folder_without_a_marker_has_no_manifest(tmp_path: Path) -> None:
    assert read_manifest(tmp_path) is None


def test_a_marker_that_is_a_link_is_refused(tmp_path: Path) -> None:
    (tmp_path / "real").write_bytes(manifest_of([Artifact("a", b"")]).text)
    (tmp_path / MARKER).symlink_to("real")
    with pytest.raises(OutputRefused, match="is a link"):
        read_manifest(tmp_path)


GOOD_LINE = {"path": "a", "bytes": 1, "sha256": "0" * 64}


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"{",
        b"\xff",
        b"[]",
        b"null",
        b"[" * 100_000,
        b"{}",
        b'{"made_by": "gapbook", "format": 2, "files": []}',
        b'{"made_by": "other", "format": 1, "files": []}',
        b'{"made_by": "gapbook", "format": 1, "files": 5}',
        b'{"made_by": "gapbook", "format": 1, "files": [5]}',
        *(
            json.dumps({"made_by": "gapbook", "format": 1, "files": [GOOD_LINE | wrong]}).encode()
            for wrong in (
                {"path": "../../home"},
                {"path": "/etc/passwd"},
                {"path": 5},
                {"bytes": -1},
                {"bytes": True},
                {"bytes": "1"},
                {"sha256": "0"},
                {"sha256": None},
            )
        ),
    ],
)
def test_a_marker_that_this_tool_did_not_write_is_refused(content: bytes) -> None:
    with pytest.raises(OutputRefused):
        decode(content, "the marker")
