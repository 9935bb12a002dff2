"""A record to begin with: it never replaces a file, and filled in it has no fault."""

import re
from pathlib import Path

import pytest

from generator.cli import CANNOT_RUN, FAULTS_FOUND, main
from generator.reading.fault import has_error
from generator.reading.reader import read
from generator.reading.source import load
from generator.records.examples import example_files
from generator.records.setup import Setup

Told = pytest.CaptureFixture[str]
WAY = "setups/ostvane-meridel/my-first.yaml"
FILLED = {
    "title": "Seven-inch wheels", "car": "some-coupe", "member": "Somebody", "date": "2025-06-14",
    "springs": "out",
}  # fmt: skip


@pytest.fixture
def content(tmp_path: Path) -> Path:
    for found in example_files("setup: {}"):
        path = tmp_path / found.path
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(found.content)
    return tmp_path


def new(content: Path, *words: str) -> int:
    return main(["new", "ostvane-meridel", "--content", str(content), *words])


def written(content: Path) -> str:
    assert new(content, "--name", "my-first") == 0
    return (content / WAY).read_text("utf-8")


def filled(text: str) -> str:
    """Write the values that are asked for, as a member would: the sizes are wheel and tyre."""
    for name, value in FILLED.items():
        text = re.sub(rf"^( *){name}:$", rf"\g<1>{name}: {value}", text, flags=re.MULTILINE)
    sizes = iter(("7 x 15", "205/60 R15 91V") * 2)
    return re.sub(r"^( *)size:$", lambda at: f"{at[1]}size: {next(sizes)}", text, flags=re.M)


def used(text: str) -> str:
    """Take the sign off every field that is left out, as often as it is one inside another."""
    while re.search(r"^ *# ", text, re.MULTILINE):
        text = re.sub(r"^( *)# ", r"\1", text, flags=re.MULTILINE)
    return text


def codes(text: str) -> list[tuple[str, str]]:
    source, faults = load("record", text.encode())
    assert source is not None, faults
    return [(fault.code, fault.headline) for fault in read(Setup, source).faults]


def test_what_is_asked_for_stands_there_without_a_value(content: Path) -> None:
    # The fields that a record cannot do without, counted in records/setup.py and fitted.py: title,
    # car, member, date, springs, and wheel and tyre size at both ends; the chassis is filled in.
    assert [code for code, _ in codes(written(content))] == ["F02"] * 9


def test_filled_in_it_has_no_fault(content: Path, capsys: Told) -> None:
    (content / WAY).parent.mkdir(parents=True, exist_ok=True)
    text = filled(written(content))
    assert codes(text) == []
    (content / WAY).write_text(text, "utf-8")
    capsys.readouterr()
    assert main(["check", str(content / WAY)]) == 0
    assert "error" not in capsys.readouterr().out.replace("0 errors", "")


def test_with_every_field_in_use_it_still_reads(content: Path) -> None:
    assert codes(used(filled(written(content)))) == []


def test_every_site_of_the_sheet_has_a_line_that_claims_nothing(content: Path) -> None:
    source, _ = load("record", used(filled(written(content))).encode())
    assert source is not None
    value = read(Setup, source).value
    assert value is not None
    assert not has_error(read(Setup, source).faults)
    sheet = (content / "chassis/ostvane-meridel.yaml").read_text("utf-8")
    assert [gap.site for gap in value.gaps] == re.findall(r"- \{?name: ([a-z-]+)", sheet)
    assert {gap.gap.typed for gap in value.gaps} == {"not checked"}


def test_a_file_that_is_there_is_never_replaced(content: Path, capsys: Told) -> None:
    (content / WAY).parent.mkdir(parents=True, exist_ok=True)
    (content / WAY).write_text("title: mine\n", "utf-8")
    assert new(content, "--name", "my-first") == CANNOT_RUN
    assert (content / WAY).read_text("utf-8") == "title: mine\n"
    assert "there is a file" in capsys.readouterr().err


def test_a_link_in_its_place_is_not_followed(content: Path, tmp_path: Path) -> None:
    (content / WAY).parent.mkdir(parents=True, exist_ok=True)
    (content / WAY).symlink_to(tmp_path / "elsewhere")
    assert new(content, "--name", "my-first") == CANNOT_RUN
    assert not (tmp_path / "elsewhere").exists()


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--name", "../../evil"), "is no name of a record"),
        (("--name", "index"), "no name for a file"),
        (("--name", "My Record"), "such as `my-record`"),
    ],
)
def test_odd_names_are_refused(
    content: Path, capsys: Told, words: tuple[str, ...], told: str
) -> None:
    assert new(content, *words) == CANNOT_RUN
    assert told in capsys.readouterr().err


def test_a_chassis_without_a_sheet_is_named_with_its_neighbour(content: Path, capsys: Told) -> None:
    assert main(["new", "ostvane-meridl", "--content", str(content)]) == CANNOT_RUN
    assert "perhaps `ostvane-meridel`" in capsys.readouterr().err


def test_a_broken_sheet_is_told(content: Path, capsys: Told) -> None:
    sheet = content / "chassis/ostvane-meridel.yaml"
    sheet.write_text(sheet.read_text("utf-8") + "\nodd: 1\n", "utf-8")
    assert new(content) == CANNOT_RUN
    assert "has faults" in capsys.readouterr().err
    assert main(["check", str(sheet)]) == FAULTS_FOUND
