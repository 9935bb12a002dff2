"""Every hazard is reached, unknown is never clear, and each finding says what follows."""

from dataclasses import replace

import pytest

from generator.assessment.finding import Caution, Follows, Gravity, Outcome
from generator.assessment.hazards import hazard_modules, hazards
from generator.published.tables import source
from generator.records.words import Axle, Side

# Everything a check can know is left out; only what a record must have stays.
BARE = (
    "setup: {front: {wheel: {offset: left out, backspacing: left out, overall_width: left out,"
    " flange_inboard: left out, flange_outboard: left out, bore: left out, seat: left out,"
    " pad_thickness: left out, load_rating: left out, masses: left out},"
    " tyre: {size: 205/80 R15, approved_rims: left out, section_width: left out,"
    " tread_width: left out, diameter: left out, pressure: left out, date_codes: left out},"
    " hardware: left out, bump_stop: {state: removed}},"
    " gaps: left out, remedies: left out}"
)
BOLTED = (
    "chassis: {front: {fastening: {fixing: bolts, nut: bolt, free_depth: 30 mm}}}\n"
    "setup: {front: {hardware: {nut: bolt, nut_depth: left out}}}"
)
SPACED = (
    "setup: {front: {spacer: {thickness: 25 mm, kind: bolt-on, count: 1, nut_height: 16 mm,"
    " pockets: 14 mm}}}"
)


def test_codes_are_in_order_without_a_gap():
    assert [hazard.code for hazard in hazards()] == [f"H{n:02d}" for n in range(1, 31)]


def test_each_hazard_names_a_known_source_and_says_why():
    for hazard in hazards():
        assert source(hazard.source).key == hazard.source
        assert hazard.why.endswith(".")
        assert hazard.title == hazard.title.lower()


def test_every_check_says_its_source():
    for module in hazard_modules():
        function = getattr(module, "findings", None) or module.findings_of_car
        assert "Source:" in function.__doc__, module.__name__


@pytest.mark.parametrize("code", [hazard.code for hazard in hazards()])
def test_every_hazard_is_reached_by_a_case(found, code):
    cases = (found("setup: {}"), found(BOLTED), found(SPACED))
    assert any(each.code == code for case in cases for each in case.all)


def test_each_finding_says_what_is_and_what_follows(found):
    for overlay in ("setup: {}", BARE, BOLTED, SPACED):
        for each in found(overlay).all:
            assert each.sentence.endswith(".")
            assert not each.sentence[0].islower()
            # Where a check holds there may be nothing to do.
            is_settled = each.outcome is Outcome.HOLDS
            assert is_settled or each.follows.strip(), (each.code, each.sentence)
            assert (each.outcome is Outcome.STATED) <= (each.bound is None)


def test_nothing_known_holds_nowhere(found):
    bare = [each for each in found(BARE).all if each.axle is Axle.FRONT]
    # The snout's height is the sheet's, and no spacer was written: that alone is known.
    assert {each.code for each in bare if each.outcome is Outcome.HOLDS} == {"H06"}
    unknown = {each.code for each in bare if each.outcome is Outcome.NOT_KNOWN}
    assert unknown >= {
        "H01", "H02", "H03", "H04", "H07", "H08", "H11", "H12", "H13", "H14", "H15", "H16", "H17",
        "H18", "H19", "H20", "H21", "H24", "H25", "H27", "H28", "H29", "H30",
    }  # fmt: skip


def test_what_hurts_brings_its_caution(found):
    kinds = {each.code: each.caution for each in found("setup: {}").all}
    assert kinds["H01"] is Caution.FASTENERS
    assert kinds["H14"] is Caution.LOADS
    assert kinds["H24"] is Caution.CONTACT
    assert kinds["H30"] is Caution.SPRINGS


def test_a_danger_too_close_to_say_counts_as_failing():
    words = Follows(holds="It holds.", fails="Stop.")
    said = words.after(Outcome.TOO_CLOSE_TO_SAY, Gravity.DANGER)
    assert said.endswith("counts as failing. Stop.")
    assert words.after(Outcome.FAILS, Gravity.NOTE) == "Stop."
    known = words.after(Outcome.TOO_CLOSE_TO_SAY, Gravity.DANGER, known="±26 kg")
    assert known.startswith("Known to ±26 kg, it cannot be told")


def test_sides_that_are_alike_are_told_once(found):
    sided = found("setup: {rear: {left: {section_width: 206 mm}}}")
    assert {each.side for each in sided.of("H01", Axle.REAR)} == {Side.BOTH}


def test_sides_that_differ_are_told_apart(found):
    sided = found(
        "setup: {front: {spacer: {thickness: 3 mm, kind: slip-on}, left: {spacer: 8 mm}}}"
    )
    by_side = {each.side: each.value for each in sided.of("H06")}
    # The snout is 9 mm high: 9 - 8 on the left and 9 - 3 on the right.
    assert by_side == {Side.LEFT: 1.0, Side.RIGHT: 6.0}


def test_findings_come_by_axle_and_code(found):
    order = {None: 0, Axle.FRONT: 1, Axle.REAR: 2}
    keys = [(order[each.axle], each.code) for each in found("setup: {}").all]
    assert keys == sorted(keys)


def test_a_finding_is_a_value(found):
    one = found("setup: {}").one("H01")
    assert replace(one) == one
