"""Rows of pages: sides that read alike come once, what differs is kept apart, unknown is a word."""

from generator.assessment.assess import assess
from generator.assessment.effects import effects_of
from generator.evidence.club import learn_chassis
from generator.evidence.verdict import verdict
from generator.records.collect import collect
from generator.records.examples import example_files
from generator.site.changes_shown import effect_rows
from generator.site.expected_shown import expected_line, expected_rows
from generator.site.gaps_shown import gap_rows


def case_of(overlay):
    return next(iter(collect(example_files(overlay)).library.cases()))


def judged(overlay):
    case = case_of(overlay)
    computed = assess(case)
    evidence = learn_chassis(case.chassis, {case.setup.id: (case.setup, computed)})
    return verdict(computed, evidence)


def gaps(text):
    return f"setup: {{gaps: [{text}]}}"


LEFT = "{site: strut-tube, side: left, state: static, gap: 9 mm, tool: feeler gauge}"


def test_two_sides_of_one_site_and_state_share_a_row():
    right = LEFT.replace("left", "right").replace("9 mm", "7 mm")
    case = case_of(gaps(f"{LEFT}, {right}"))
    (row,) = gap_rows(case, assess(case))
    assert [(each.side, each.shown.value) for each in row.reported] == [
        ("left", 9.0),
        ("right", 7.0),
    ]
    assert [each.side for each in row.computed] == [""]


def test_another_state_tool_or_the_same_side_again_is_another_row():
    for other in (
        LEFT.replace("static", "full bump"),
        LEFT.replace("left", "right").replace("feeler gauge", "clay"),
        LEFT.replace("9 mm", "8 mm"),
    ):
        assert len(gap_rows(case_of(gaps(f"{LEFT}, {other}")), None)) == 2


def test_without_a_computation_the_computed_gap_is_not_known():
    (row,) = gap_rows(case_of(gaps(LEFT)), None)
    assert row.computed[0].shown.kind.value == "unknown"


def test_sides_judged_alike_come_once():
    rows = expected_rows(judged(gaps(LEFT.replace("left", "both"))).front)
    strut = [row for row in rows if row.label == "strut tube"]
    assert [row.side for row in strut] == ["both"]
    apart = expected_rows(judged(gaps(LEFT.replace("9 mm", "1 mm"))).front)
    assert len([row for row in apart if row.label == "strut tube"]) == 2


def test_the_line_never_says_clear_while_a_site_is_not_known():
    unknown = "setup:\n  front:\n    wheel: {offset: left out, backspacing: left out}\n"
    line = expected_line(judged(unknown))
    assert line.word in ("unknown", "touches")
    assert "clear" not in line.sentence


def test_a_change_tells_what_it_cost_once_for_both_sides():
    case = case_of("setup: {front: {bump_stop: {state: trimmed, trimmed: 12 mm}}}")
    rows = effect_rows(effects_of(case, assess(case)), "front")
    (row,) = [each for each in rows if "bump stop" in each.change]
    assert [fact.label for fact in row.cost] == ["fender lip"]
    assert row.cost[0].value.value < 0.0
    # 12 mm at a motion ratio of 0.96 are 12.5 mm at the wheel
    moved = {fact.label: fact.value.value for fact in row.moved}
    assert round(moved["bump travel of the wheel"], 6) == 12.5
