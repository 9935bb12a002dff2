import os
from pathlib import Path

import pytest

from generator.rendering.disk import Found, Kind, OutputRefused, create_file, read_file, walk


def test_a_file_is_created_only_where_nothing_is(tmp_path: Path) -> None:
    create_file(tmp_path / "a", b"first")
    with pytest.raises(FileExistsError):
        create_file(tmp_path / "a", b"second")
    assert (tmp_path / "a").read_bytes() == b"first"


def test_a_file_is_not_created_through_a_link(tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(OSError, match="exists"):
        create_file(tmp_path / "link", b"x")
    assert not (tmp_path / "elsewhere").exists()


def test_a_link_is_not_read(tmp_path: Path) -> None:
    (tmp_path / "secret").write_bytes(b"x")
    (tmp_path / "link").symlink_to("secret")
    with pytest.raises(OSError, match="symbolic link"):
        read_file(tmp_path / "link", 10)


def test_a_file_over_the_limit_is_refused(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"12345")
    assert read_file(tmp_path / "a", 5) == b"12345"
    with pytest.raises(OutputRefused, match="larger than 4 bytes"):
        read_file(tmp_path / "a", 4)


def test_new_files_have_the_permissions_that_the_umask_leaves(tmp_path: Path) -> None:
    before = os.umask(0o022)
    try:
        create_file(tmp_path / "a", b"")
    finally:
        os.umask(before)
    assert (tmp_path / "a").stat().st_mode & 0o7777 == 0o644


def test_short_writes_are_continued(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.write
    monkeypatch.setattr(os, "write", lambda handle, content: real(handle, bytes(content)[:3]))
    create_file(tmp_path / "a", b"0123456789")
    assert (tmp_path / "a").read_bytes() == b"0123456789"


def test_a_walk_is_sorted_and_enters_no_link(tmp_path: Path) -> None:
    (tmp_path / "b").mkdir()
    (tmp_path / "b" / "x").write_bytes(b"")
    (tmp_path / "a").symlink_to("b")
    os.mkfifo(tmp_path / "c")
    assert tuple(walk(tmp_path)) == (
        Found("a", Kind.OTHER),
        Found("b", Kind.FOLDER),
        Found("b/x", Kind.FILE),
        Found("c", Kind.OTHER),
    )
