"""Trims: what is one and what is none, in the table of a chassis and in Find alike."""

from generator.records.collect import collect
from generator.records.examples import example_files
from generator.records.words import Axle
from generator.site.trims import GROUPS, trims

DONE = """
setup:
  front:
    spacer: {thickness: 5 mm, kind: slip-on}
    bodywork: {lips: stock, liner: stock}
  remedies:
    - {kind: spacer, axle: front, amount: 5 mm}
    - {kind: other tyre, axle: front}
    - {kind: camber, axle: front, amount: 1 deg}
    - {kind: bump stop trimmed, axle: rear, amount: 8 mm}
    - {kind: other, axle: front, amount: the clip turned by a quarter}
"""


def test_a_spacer_a_tyre_and_camber_are_no_trims_and_another_work_is_told_as_written() -> None:
    (case,) = collect(example_files(DONE)).library.cases()
    setup = case.setup.value
    front, rear = (trims(setup, axle, {}) for axle in Axle)
    assert [(each.group, each.words) for each in front] == [
        ("something else", "the clip turned by a quarter")
    ]
    assert [each.words for each in rear] == ["bump stop trimmed"]
    assert {each.group for each in (*front, *rear)} <= set(GROUPS)
