"""Rows of pages: sides that read alike come once, what differs is kept apart, unknown is a word."""

from dataclasses import replace

from generator.assessment.assess import assess
from generator.assessment.effects import effects_of
from generator.evidence.club import learn_chassis
from generator.evidence.verdict import verdict
from generator.records.collect import collect
from generator.records.examples import example_files
from generator.records.words import Side
from generator.site.changes_shown import effect_rows
from generator.site.expected_shown import expected_line, expected_rows
from generator.site.gaps_shown import gap_parts, gap_rows


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


def test_what_is_counted_as_reported_clear_never_names_a_site_that_is_not_known():
    # The lip moves with the body, the strut with the wheel.
    strut = LEFT.replace("left", "both")
    lip = strut.replace("strut-tube", "fender-lip").replace("9 mm", "60 mm")
    (part,) = gap_parts(gap_rows(case_of(gaps(f"{strut}, {lip}")), None))
    assert [row.label for row in part.clear] == ["front strut tube"]
    assert [row.label for row in part.open] == ["front fender lip"]
    assert part.open[0].asides == ("standing only",)


def test_a_marked_side_of_which_no_gap_says_so_touches():
    lip = "{site: fender-lip, side: left, state: full bump, gap: touches}"
    mark = "{site: fender-lip, side: both, grade: 2, when: once, cured: no}"
    overlay = f"setup: {{gaps: [{lip}], rubs: [{mark}]}}"
    first, second = gap_rows(case_of(overlay), None)
    assert [(each.side, each.word) for each in first.reported] == [("both", "touches")]
    assert (first.state, first.tool) == ("on the road", "a mark of grade 2")
    assert [(each.side, each.word) for each in second.reported] == [("left", "touches")]
    assert len(gap_rows(case_of(overlay.replace("both", "left")), None)) == 1
    # What was cured is of before; where a gap there still touches, the gaps are of before too.
    cured = overlay.replace("cured: no", "cured: yes")
    assert len(gap_rows(case_of(cured), None)) == 2
    assert len(gap_rows(case_of(cured.replace("gap: touches", "gap: 9 mm")), None)) == 1


def test_without_a_computation_the_computed_gap_is_not_known():
    (row,) = gap_rows(case_of(gaps(LEFT)), None)
    assert row.computed[0].shown.kind.value == "unknown"


def test_sides_judged_alike_come_once():
    assert [row.side for row in strut_rows(LEFT.replace("left", "both"))] == ["both"]
    assert len(strut_rows(LEFT.replace("9 mm", "1 mm"))) == 2


def strut_rows(gap):
    end = expected_rows(judged(gaps(gap)).front)
    (rows,) = [rows for rows in (*end.weak, *end.strong) if rows[0].label == "strut tube"]
    return rows


def test_the_line_never_says_clear_while_a_site_is_not_known():
    unknown = "setup:\n  front:\n    wheel: {offset: left out, backspacing: left out}\n"
    line = expected_line(judged(unknown))
    assert line.word in ("unknown", "touches")
    assert "clear" not in line.sentence


def verdict_of(*chances):
    """Give a verdict on the example's front sites in order: chances of wanted and any gap."""
    it = judged("setup: {}")
    (site, *_) = it.front.sites
    made = []
    for at, (chance, free) in enumerate(chances):
        named = {"name": f"site-{at // 2}", "label": f"part {at // 2}, joint"}
        sheet = site.clearance.site.model_copy(update=named)
        clearance = replace(site.clearance, site=sheet)
        side = (Side.LEFT, Side.RIGHT)[at % 2]
        made.append(replace(site, clearance=clearance, side=side, chance=chance, free=free))
    return replace(it, front=replace(it.front, sites=tuple(made)), rear=replace(it.rear, sites=()))


def test_the_line_names_the_worst_sites_first_and_counts_each_once():
    # Two sides each: not sure; likely closer than wanted; the same, and worse, at one side only.
    line = expected_line(
        verdict_of((0.7, 0.9), (0.95, 1), (0.4, 0.9), (0.4, 0.9), (0.99, 1), (0.1, 0.9))
    )
    assert line.word == "tight"
    at = "front part 2, joint; front part 1, joint"
    assert line.sentence == f"Next car: likely closer than wanted at the {at}"
    (total,) = line.reasons
    counts = "2 likely closer than wanted, 1 not sure"
    assert total == f"Of 3 sites, each by its weaker side: {counts}"


def test_what_likely_touches_goes_before_all_and_not_known_before_not_sure():
    touching = verdict_of((0.1, 0.4), (0.9, 1.0), (None, None), (None, None))
    assert (
        expected_line(touching).sentence == "Next car: likely to touch at the front part 0, joint"
    )
    unknown = verdict_of((0.6, 0.9), (0.9, 1.0), (None, None), (None, None))
    assert expected_line(unknown).sentence == "Next car: not known at the front part 1, joint"
    unsure = verdict_of((0.6, 0.9), (0.9, 1.0))
    begins = "Next car: the wanted gap is not sure at the front part 0"
    assert expected_line(unsure).sentence.startswith(begins)
    assert expected_line(verdict_of((0.9, 1.0), (0.95, 1.0))).word == "clears"


def test_a_site_with_one_weak_side_is_weak_with_both_its_rows():
    end = expected_rows(verdict_of((0.7, 0.9), (0.95, 1), (0.95, 1), (0.95, 1)).front)
    assert [[row.side for row in rows] for rows in end.weak] == [["left", "right"]]
    assert [[row.side for row in rows] for rows in end.strong] == [["both"]]


def test_a_change_tells_what_it_cost_once_for_both_sides():
    case = case_of("setup: {front: {bump_stop: {state: trimmed, trimmed: 12 mm}}}")
    rows = effect_rows(effects_of(case, assess(case)), "front")
    (row,) = [each for each in rows if "bump stop" in each.change]
    assert [fact.label for fact in row.cost] == ["fender lip"]
    assert row.cost[0].value.value < 0.0
    # 12 mm at a motion ratio of 0.96 are 12.5 mm at the wheel
    moved = {fact.label: fact.value.value for fact in row.moved}
    assert round(moved["bump travel of the wheel"], 6) == 12.5
