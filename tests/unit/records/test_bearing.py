"""What a number can follow from: all of a record but its longer texts."""

import pickle
from dataclasses import replace
from pathlib import Path

import pytest

from generator.reading.fields import without_prose
from generator.reading.folder import content_files
from generator.records.collect import collect
from generator.records.library import Filed, Library
from generator.records.setup import Setup

DEMO = Path(__file__).resolve().parents[3] / "content_demo"


@pytest.fixture(scope="module")
def library() -> Library:
    return collect(content_files(DEMO)[0]).library


def changed(filed: Filed[Setup], **values: object) -> Filed[Setup]:
    return replace(filed, value=filed.value.model_copy(update=values))


def test_another_note_bears_on_nothing(library: Library) -> None:
    for filed in library.setups.values():
        assert changed(filed, notes="other words").bearing == filed.bearing


def test_every_other_field_bears_on_something(library: Library) -> None:
    filed = next(iter(library.setups.values()))
    for name in Setup.model_fields:
        if name != "notes":
            assert changed(filed, **{name: "other"}).bearing != filed.bearing, name
    assert replace(filed, id="another/id").bearing != filed.bearing


def test_all_records_differ(library: Library) -> None:
    everything = [*library.setups.values(), *library.chassis.values()]
    assert len({each.bearing for each in everything}) == len(everything)


def test_a_record_that_was_kept_bears_the_same_and_keeps_no_more(library: Library) -> None:
    for filed in library.setups.values():
        before = len(pickle.dumps(filed))
        bearing = filed.bearing
        again = pickle.loads(pickle.dumps(filed))
        assert "bearing" not in vars(again)
        assert again.bearing == bearing
        assert len(pickle.dumps(filed)) == before


def test_a_sheet_leaves_its_three_texts_out(library: Library) -> None:
    for filed in library.chassis.values():
        bare = without_prose(filed.value)
        left_out = ("notes", "cautions", "build_changes")
        assert [getattr(bare, name) for name in left_out] == [None] * len(left_out)
        texts = {name: getattr(filed.value, name) for name in left_out}
        assert bare.model_copy(update=texts) == filed.value
