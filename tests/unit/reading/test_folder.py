"""Which files of a content folder are read, and what is said of the others."""

import os
from pathlib import Path

import pytest

from generator.reading.decoding import LARGEST
from generator.reading.fault import Severity
from generator.reading.folder import content_files, oddity, one_file
from generator.reading.trouble import GuideError
from tests.processor import at_most

CLUB = "club.yaml"
SETUP = "setups/ostvane/copperbill.yaml"


@pytest.fixture
def content(tmp_path: Path) -> Path:
    for name in (CLUB, "chassis/ostvane.yaml", SETUP, "articles/gaps.md"):
        write(tmp_path, name)
    return tmp_path


def write(folder: Path, name: str, content: bytes = b"title: a\n") -> Path:
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)
    return path


def told(folder: Path) -> list[tuple[str, str, Severity]]:
    return [(f.code, f.place.path, f.severity) for f in content_files(folder)[1]]


def read_names(folder: Path) -> list[str]:
    return [found.path for found in content_files(folder)[0]]


ORDINARY = ["articles/gaps.md", "chassis/ostvane.yaml", CLUB, SETUP]


def test_records_and_articles_are_read_in_a_fixed_order(content: Path) -> None:
    assert read_names(content) == ORDINARY
    assert told(content) == []


def test_the_bytes_of_a_file_are_given_as_they_are(content: Path) -> None:
    write(content, CLUB, b"\xef\xbb\xbfa\r\n\x00")
    assert {f.path: f.content for f in content_files(content)[0]}[CLUB] == b"\xef\xbb\xbfa\r\n\x00"


def test_hidden_files_and_photos_are_passed_by(content: Path) -> None:
    for name in (".gitkeep", "setups/.draft.yaml", ".git/config", "photos/A B.JPG"):
        write(content, name)
    assert (read_names(content), told(content)) == (ORDINARY, [])


# Names and what is wrong with them; each is refused with an error and not read.
ODD_NAMES = {
    "row 63: a backslash": "setups/ostvane/a\\..\\b.yaml",
    "row 63: per cent": "setups/ostvane/%2e%2e.yaml",
    "row 66: capitals": "setups/ostvane/Copperbill.yaml",
    "row 66: a composed letter": "setups/ostvane/caf\u00e9.yaml",
    "row 66: the same letter decomposed": "setups/ostvane/cafe\u0301.yaml",
    "row 67: a device": "setups/ostvane/con.yaml",
    "row 67: a printer": "setups/ostvane/lpt1.yaml",
    "row 67: a port": "setups/ostvane/com1.yaml",
    "row 67: a folder's own page": "setups/ostvane/index.yaml",
    "row 67: a dot at the end": "setups/ostvane/a.yaml.",
    "row 67: a blank at the end": "setups/ostvane/a.yaml ",
    "row 67: no name": "setups/ostvane/-.yaml",
    "row 68: a long name": f"setups/ostvane/{'a' * 240}.yaml",
    "row 69: a line end": "setups/ostvane/a\nb.yaml",
    "row 69: a command": "setups/ostvane/$(touch x).yaml",
    "row 69: a backtick": "setups/ostvane/`id`.yaml",
    "row 69: a leading dash": "setups/ostvane/-rf.yaml",
    "row 69: a log's command": "setups/ostvane/::error::a.yaml",
    "row 50: a name that turns round": "setups/ostvane/a\u202eb.yaml",
    "another ending": "setups/ostvane/a.yml",
    "an editor's copy": "setups/ostvane/a.yaml~",
    "two dots": "setups/ostvane/a.b.yaml",
    "two hyphens": "setups/ostvane/a--b.yaml",
    "a folder with capitals": "setups/Ostvane Meridel/a.yaml",
    "a folder named as a device": "setups/aux/a.yaml",
}


@pytest.mark.parametrize("row", ODD_NAMES)
def test_a_file_with_an_odd_name_is_refused_and_the_others_are_read(
    content: Path, row: str
) -> None:
    write(content, ODD_NAMES[row])
    with at_most(0.2):
        found, (fault,) = content_files(content)
    assert [file.path for file in found] == ORDINARY
    assert (fault.code, fault.severity) == ("Y16", Severity.ERROR)
    assert "letters, digits and hyphens" in fault.expected
    assert fault.place.path.isprintable()
    assert not any(sign in fault.headline for sign in "\n\u202e")


@pytest.mark.parametrize(
    "name",
    [
        "notes.md",
        "setups/stray.yaml",
        "setups/ostvane/deeper/a.yaml",
        "chassis/ostvane.md",
        "articles/gaps.yaml",
        "setups/ostvane/notes.md",
        "other/a.yaml",
    ],
)
def test_a_file_in_the_wrong_place_is_not_read_and_told(content: Path, name: str) -> None:
    # A warning, not an error: the guide is right without it, and a club may keep other files here.
    write(content, name)
    assert (read_names(content), told(content)) == (ORDINARY, [("Y16", name, Severity.WARNING)])


def test_row_68_forty_folders_deep_is_not_read_and_told(content: Path) -> None:
    name = "setups/" + "a/" * 40 + "b.yaml"
    write(content, name)
    assert told(content) == [("Y16", f"{name}", Severity.WARNING)]


def test_row_64_a_link_to_a_file_is_refused(content: Path, tmp_path: Path) -> None:
    secret = write(tmp_path.parent, f"{tmp_path.name}-secret.yaml")
    (content / "setups/ostvane/link.yaml").symlink_to(secret)
    assert read_names(content) == ORDINARY
    assert told(content) == [("Y16", "setups/ostvane/link.yaml", Severity.ERROR)]


def test_row_64_a_link_to_a_folder_is_refused_and_not_followed(content: Path) -> None:
    (content / "setups/linked").symlink_to(content / "setups/ostvane")
    assert read_names(content) == ORDINARY
    assert told(content) == [("Y16", "setups/linked", Severity.ERROR)]


def test_row_64_a_loop_of_links_is_refused(content: Path) -> None:
    (content / "setups/a.yaml").symlink_to(content / "setups/b.yaml")
    (content / "setups/b.yaml").symlink_to(content / "setups/a.yaml")
    assert [path for _, path, _ in told(content)] == ["setups/a.yaml", "setups/b.yaml"]


def test_row_65_a_pipe_is_refused_without_waiting_for_it(content: Path) -> None:
    os.mkfifo(content / "setups/ostvane/pipe.yaml")
    assert told(content) == [("Y16", "setups/ostvane/pipe.yaml", Severity.ERROR)]


def test_row_65_a_folder_named_like_a_record_is_refused(content: Path) -> None:
    write(content, "setups/ostvane/folder.yaml/inside.yaml")
    assert read_names(content) == ORDINARY
    assert told(content) == [("Y16", "setups/ostvane/folder.yaml", Severity.ERROR)]


def test_row_65_a_hard_link_and_an_executable_file_are_ordinary(content: Path) -> None:
    # The list asks to refuse both. A hard link holds its own bytes and leads nowhere, and no forge
    # can carry one; the executable bit is set on every file of some shared drives. Neither is used.
    (content / SETUP).chmod(0o755)
    os.link(content / SETUP, content / "setups/ostvane/same.yaml")
    assert told(content) == []


def test_a_file_is_read_no_further_than_it_could_be_accepted(content: Path) -> None:
    path = write(content, SETUP, b"#" * (LARGEST * 3))
    assert len(one_file(path)) == LARGEST + 1


def test_a_link_is_not_followed_even_if_it_comes_after_the_look(content: Path) -> None:
    (content / "late.yaml").symlink_to(content / CLUB)
    with pytest.raises(GuideError, match=r"late\.yaml"):
        one_file(content / "late.yaml")


def test_a_file_that_cannot_be_opened_stops_the_guide_in_one_line(
    content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # A matter of this machine and not of a record, hence no fault with a place.
    def refuse(path: Path, flags: int) -> int:
        raise PermissionError(13, "Permission denied", str(path))

    monkeypatch.setattr(os, "open", refuse)
    with pytest.raises(GuideError, match="Permission denied"):
        content_files(content)


def test_a_folder_that_is_not_there_stops_the_guide(tmp_path: Path) -> None:
    with pytest.raises(GuideError, match="no folder"):
        content_files(tmp_path / "nowhere")


def test_a_single_ordinary_file_is_not_odd(content: Path) -> None:
    assert oddity(content / SETUP, SETUP) is None
