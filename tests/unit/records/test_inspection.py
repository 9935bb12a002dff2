"""What `check` looks at: whole folders, single files beside their sheet, nothing by a link."""

import os
from datetime import date
from pathlib import Path

import pytest

from generator.reading.trouble import GuideError
from generator.records.examples import example_files, sample
from generator.records.inspection import Inspected, inspect

TODAY = date(2026, 1, 15)
SETUP = "setups/ostvane-meridel/copperbill-seven-inch.yaml"
SECOND = "setups/ostvane-meridel/second.yaml"


@pytest.fixture
def content(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for found in example_files("setup: {}"):
        path = tmp_path / "content" / found.path
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(found.content)
    monkeypatch.chdir(tmp_path)
    return Path("content")


def put(content: Path, name: str, text: str) -> Path:
    path = content / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, "utf-8")
    return path


def told(inspected: Inspected) -> set[tuple[str, str]]:
    return {(fault.code, fault.place.path) for fault in inspected.faults}


def test_a_good_folder_has_no_fault(content: Path) -> None:
    assert inspect([content], today=TODAY) == Inspected((), 3)


def test_the_paths_of_faults_are_those_seen_from_here(content: Path) -> None:
    put(content, SETUP, "title: [")
    for named in (content, content / SETUP, (content / SETUP).resolve()):
        assert ("Y04", f"content/{SETUP}") in told(inspect([named], today=TODAY))


def test_a_single_file_is_judged_with_its_sheet_and_shows_its_own_faults_only(
    content: Path,
) -> None:
    text = sample("setup").replace("site: strut-tube,", "site: strut-tub,")
    put(content, SETUP, text)
    put(content, SECOND, "title: [")
    put(content, "chassis/ostvane-meridel.yaml", sample("chassis").replace("605 kg", "605"))
    inspected = inspect([content / SETUP], today=TODAY)
    assert inspected.files == 1
    assert {path for _, path in told(inspected)} <= {f"content/{SETUP}"}


def test_an_unknown_site_is_found_when_only_its_file_is_checked(content: Path) -> None:
    put(content, SETUP, sample("setup").replace("site: strut-tube,", "site: strut-tub,"))
    assert ("L03", f"content/{SETUP}") in told(inspect([content / SETUP], today=TODAY))


def test_a_file_that_is_not_looked_at_is_not_called_missing(content: Path) -> None:
    put(content, "chassis/brevanor-hallin.yaml", sample("chassis"))
    text = sample("setup").replace("chassis: ostvane-meridel", "chassis: brevanor-hallin")
    put(content, SETUP, text)
    assert "L01" not in {code for code, _ in told(inspect([content / SETUP], today=TODAY))}


def test_several_files_are_counted_and_told_together(content: Path) -> None:
    put(content, SETUP, "title: [")
    put(content, SECOND, "- a")
    inspected = inspect([content / SECOND, content / SETUP], today=TODAY)
    assert inspected.files == 2
    assert told(inspected) == {("Y04", f"content/{SETUP}"), ("Y11", f"content/{SECOND}")}


def test_a_file_named_twice_is_told_once(content: Path) -> None:
    put(content, SETUP, "- a")
    assert len(inspect([content / SETUP, content], today=TODAY).faults) == 1


def test_a_link_beside_a_single_file_is_not_followed(content: Path) -> None:
    (content / SECOND).symlink_to("/etc/hostname")
    assert inspect([content / SETUP], today=TODAY).faults == ()


def test_an_odd_name_is_told_for_a_single_file_too(content: Path) -> None:
    odd = put(content, "setups/ostvane-meridel/Odd Name.yaml", sample("setup"))
    path = "content/setups/ostvane-meridel/Odd Name.yaml"
    assert told(inspect([odd], today=TODAY)) == {("Y16", path)}


def test_a_pipe_named_as_a_file_stops_the_check_without_waiting(content: Path) -> None:
    os.mkfifo(content / SECOND)
    with pytest.raises(GuideError):
        inspect([content / SECOND], today=TODAY)
    assert ("Y16", f"content/{SECOND}") in told(inspect([content], today=TODAY))


def test_a_file_outside_any_guide_is_not_judged(tmp_path: Path) -> None:
    lone = put(tmp_path, "lone.yaml", sample("setup"))
    with pytest.raises(GuideError, match=r"no club\.yaml above it"):
        inspect([lone], today=TODAY)


def test_a_path_that_is_not_there_is_said(content: Path) -> None:
    with pytest.raises(GuideError, match="no file or folder"):
        inspect([content / "nowhere.yaml"], today=TODAY)


def test_a_date_is_in_the_future_of_the_day_given(content: Path) -> None:
    assert "L22" in {code for code, _ in told(inspect([content], today=date(2025, 1, 1)))}
