"""`gapbook check` of a folder: chassis by chassis, with what a build has kept of it."""

from datetime import date
from pathlib import Path

import pytest

from generator import gists
from generator.cache.store import Borrowed, Store
from generator.checked import checked, inspected
from generator.gists import Group
from generator.records.examples import example_files
from generator.records.inspection import check_folder
from generator.workers import Crew

TODAY = date(2026, 11, 25)
EARLY = date(2020, 1, 1)
CARS = """
setup: {title: The first of two}
other: {title: The second, gaps: []}
other chassis: {name: Another Car}
"""


def club(folder: Path) -> Path:
    for file in example_files(CARS):
        path = folder / file.path
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(file.content)
    return folder


@pytest.mark.parametrize("day", [TODAY, EARLY])
def test_a_folder_is_checked_as_a_look_at_everything_finds(tmp_path: Path, day: date) -> None:
    content = club(tmp_path / "content")
    broken = content / "setups" / "another-car" / "broken.yaml"
    broken.parent.mkdir(parents=True, exist_ok=True)
    broken.write_text("title: [cut short", "utf-8")
    found, plain = inspected(content, today=day), check_folder(content, today=day)
    assert found.files == plain.files
    assert set(found.faults) == set(plain.faults) != set()


def test_what_a_build_has_kept_is_not_read_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    content = club(tmp_path / "content")
    store = Store.opened(tmp_path / "cache", bytes(32))
    assert store is not None
    with Crew(1) as crew:
        built = checked(content, TODAY, store, crew)
    before = {path: path.stat().st_mtime_ns for path in store.folder.rglob("*")}

    def again(group: Group, store: Store) -> None:
        raise AssertionError(f"{group.name} was read again")

    monkeypatch.setattr(gists, "gist_of", again)
    borrowed = Borrowed.found(store.folder, lambda: bytes(32))
    assert inspected(content, today=TODAY, store=borrowed).faults == built.faults
    assert {path: path.stat().st_mtime_ns for path in store.folder.rglob("*")} == before
    with pytest.raises(AssertionError, match="read again"):
        inspected(content, today=TODAY)
