"""Published data are made again: from the same records they agree, and a changed digit is named."""

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from generator.build import build
from generator.cli import main
from generator.reading.trouble import GuideError
from generator.records.examples import DAY_OF_EXAMPLES, example_files
from generator.verify import differences, verify

OVERLAY = "club: {moved: [{old: chassis/meridel, new: chassis/ostvane-meridel}]}"


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("verify")
    for file in example_files(OVERLAY):
        place = folder / "content" / file.path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(file.content)
    built = build(
        folder / "content", folder / "site", leave_out_faulty=False, today=DAY_OF_EXAMPLES
    )
    assert not built.has_errors
    return folder


@pytest.fixture
def copy(published: Path, tmp_path: Path) -> Path:
    shutil.copytree(published, tmp_path / "copy")
    return tmp_path / "copy"


def differing(folder: Path) -> tuple[str, ...]:
    manifest = folder / "site/data/v1/manifest.json"
    return verify(manifest, folder / "content", today=DAY_OF_EXAMPLES).differing


def change(path: Path, how: Callable[[str], str]) -> None:
    text = path.read_bytes().decode("utf-8")
    assert how(text) != text
    path.write_bytes(how(text).encode("utf-8"))


def test_what_was_published_can_be_made_again(published: Path) -> None:
    assert differing(published) == ()


def test_a_changed_digit_is_named_by_row_and_column(copy: Path) -> None:
    def other(text: str) -> str:
        document = json.loads(text)
        document["rows"][0]["effective_offset"] += 0.5
        return json.dumps(document)

    change(copy / "site/data/v1/setups.json", other)
    found = differing(copy)
    assert found[0] == "data/setups.json: is not the file of the manifest"
    (number,) = found[1:]
    assert "copperbill-seven-inch" in number
    assert ".effective_offset: " in number


def test_a_changed_record_is_named_and_so_are_its_numbers(copy: Path) -> None:
    record = copy / "content/setups/ostvane-meridel/copperbill-seven-inch.yaml"
    change(record, lambda text: text.replace("offset: 22 mm", "offset: 21 mm", 1))
    found = differing(copy)
    assert (
        "content/setups/ostvane-meridel/copperbill-seven-inch.yaml: is not the file of the manifest"
        in found
    )
    assert any(each.startswith("data/setups.csv: ") and "offset" in each for each in found)


def test_files_that_are_missing_or_new_are_named(copy: Path) -> None:
    (copy / "site/data/v1/gaps.csv").unlink()
    record = copy / "content/setups/ostvane-meridel/copperbill-seven-inch.yaml"
    shutil.copy(record, record.with_name("another.yaml"))
    found = differing(copy)
    assert "data/gaps.csv: is not there" in found
    assert "content/setups/ostvane-meridel/another.yaml: is not in the manifest" in found


def test_a_link_is_not_followed(copy: Path, tmp_path: Path) -> None:
    data = copy / "site/data/v1/gaps.csv"
    data.rename(tmp_path / "gaps.csv")
    data.symlink_to(tmp_path / "gaps.csv")
    assert differing(copy) == ("data/gaps.csv: is not there",)


def test_the_command_ends_with_one_where_something_differs(
    copy: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    manifest, content = str(copy / "site/data/v1/manifest.json"), str(copy / "content")
    assert main(["verify", manifest, content]) == 0
    assert capsys.readouterr().out.endswith(": nothing differs\n")
    change(copy / "site/data/v1/limits.csv", lambda text: text.replace('"stock"', '"cut"', 1))
    assert main(["verify", manifest, content]) == 1
    assert "limits.csv" in capsys.readouterr().out


def test_a_manifest_that_is_not_there_is_told_in_one_line(tmp_path: Path) -> None:
    with pytest.raises(GuideError, match="cannot read"):
        verify(tmp_path / "manifest.json", tmp_path, today=DAY_OF_EXAMPLES)


@pytest.mark.parametrize(
    ("told", "made", "agrees"),
    [
        # columns of lengths have three decimals: one step is 0.001
        ({"offset": 1.234}, {"offset": 1.235}, True),
        ({"offset": 1.234}, {"offset": 1.236}, False),
        ({"offset": -0.001}, {"offset": 0.0}, True),
        # chances have four
        ({"chance": 0.5}, {"chance": 0.5001}, True),
        ({"chance": 0.5}, {"chance": 0.501}, False),
        ({"offset": None}, {"offset": 0.0}, False),
        ({"offset": 1.0}, {"offset": True}, False),
        ({"tyre": "205"}, {"tyre": "206"}, False),
        ({"version": 1}, {"version": 2}, False),
    ],
)  # fmt: skip
def test_numbers_agree_within_rounding_and_nothing_else_does(
    told: dict[str, object], made: dict[str, object], agrees: bool
) -> None:
    found = differences("setups.json", json.dumps(told), json.dumps(made))
    assert (found == ()) is agrees


@pytest.mark.parametrize(
    ("told", "made", "agrees"),
    [
        ('"setup","offset"\r\n"a",1\r\n', '"setup","offset"\r\n"a",1.001\r\n', True),
        ('"setup","offset"\r\n"a",1\r\n', '"setup","offset"\r\n"a",2\r\n', False),
        ('"setup","offset"\r\n"a",1\r\n', '"setup","offset"\r\n"a",\r\n', False),
        ('"setup","offset"\r\n"a",1\r\n', '"setup","offset"\r\n"b",1\r\n', False),
        ('"setup","offset"\r\n"a', '"setup","offset"\r\n"a",1\r\n', False),
    ],
)
def test_csv_is_compared_cell_by_cell(told: str, made: str, agrees: bool) -> None:
    assert (differences("setups.csv", told, made) == ()) is agrees


def test_an_old_address_has_a_page_that_leads_on(published: Path) -> None:
    page = (published / "site/chassis/meridel.html").read_text(encoding="utf-8")
    assert '<meta http-equiv="refresh" content="0; url=ostvane-meridel.html">' in page
    assert (
        '<link rel="canonical" href="https://guide.example.org/chassis/ostvane-meridel.html">'
        in page
    )
    assert '<a href="ostvane-meridel.html"><bdi>' in page
