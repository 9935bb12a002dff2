"""Plan view, gap curves and offset window: places by hand, numbers those of the computation."""

import gzip
import re
from dataclasses import replace
from functools import cache
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from generator.assessment.assess import Assessment, assess
from generator.assessment.clearances import Curve
from generator.evidence.window import OffsetWindow, Stretch, WidthRow
from generator.geometry.travel import State
from generator.records.collect import collect
from generator.records.examples import example_files
from generator.records.library import Case
from generator.records.words import Axle
from generator.rendering.diagrams import gap_curves, plan, window
from generator.rendering.environment import build_environment
from generator.rendering.figures import Subject, draw, give_figures
from generator.rendering.layout import SHEET_WIDTH
from generator.site.drawings import ChartPoint, CurvesSubject, PlanSubject, WindowSubject
from generator.site.motion_shown import Motion, motion_of

NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
RAIL = """
chassis:
  sites:
    - {name: rail, label: frame rail, axle: front, facing: inboard, moves_with: body,
       block: {x: -200 to 150 mm, y: -330 mm, z: -40 to 60 mm}, wanted: 8 mm}
    - {name: liner, label: liner ahead, axle: front, facing: crown, moves_with: body,
       block: {x: 350 mm, y: -100 to 50 mm, z: -60 to 80 mm}, wanted: 8 mm}
"""
WINDOW = OffsetWindow(
    "any", Axle.FRONT, -36.0, 84.0,
    (
        WidthRow(6.0, "195/60 R15", (
            Stretch(-36.0, 10.0, "touches", ("lip",)), Stretch(10.0, 40.0, "clears", ()),
            Stretch(40.0, 60.0, "tight", ("rail",)), Stretch(60.0, 84.0, "touches", ("rail",)))),
        WidthRow(7.0, "195/60 R15", (Stretch(-36.0, 84.0, "not known", ("hose: no place",)),)),
        WidthRow(7.5, "", (), "no tyre"),
    ),
    (), 6.0, 24.0,
)  # fmt: skip
POINTS = (ChartPoint(1, 6.0, 30.0), ChartPoint(2, 6.0, 30.5), ChartPoint(3, 7.0, 12.0))


@cache
def case_of(overlay: str = RAIL) -> tuple[Case, Assessment]:
    case = next(iter(collect(example_files(overlay)).library.cases()))
    return case, assess(case)


def motion(overlay: str = RAIL, axle: Axle = Axle.FRONT) -> Motion:
    case, computed = case_of(overlay)
    assert case.chassis is not None
    setup = getattr(case.setup.value, axle.value)
    return motion_of(case.chassis.value, setup, getattr(computed, axle.value))


def plan_subject() -> PlanSubject:
    found = motion().plan
    assert found is not None
    return found


def curves_subject(axle: Axle = Axle.FRONT) -> CurvesSubject:
    found = motion(axle=axle).curves
    assert found is not None
    return found


def window_subject() -> WindowSubject:
    return WindowSubject("window-front", WINDOW, POINTS)


def drawn(name: str, subject: Subject) -> str:
    environment = build_environment()
    give_figures(environment)
    return str(draw(environment, name, subject).svg)


ALL = (("plan", plan_subject), ("gap_curves", curves_subject), ("window", window_subject))


@pytest.mark.parametrize(("name", "give"), ALL)
def test_a_drawing_is_small_named_and_without_style(name, give) -> None:
    text = drawn(name, give())
    root = ElementTree.fromstring(text)
    assert len(list(root.iter())) <= 300
    assert len(gzip.compress(text.encode())) <= 8 * 1024
    named = (root.get("aria-labelledby") or "").split()
    assert len(named) == 2
    assert set(named) <= {element.get("id") for element in root.iter()}
    assert not [element for element in root.iter() if "style" in element.attrib]
    assert "nan" not in text.lower()


def places(path: str) -> list[tuple[float, float]]:
    numbers = [float(number) for number in NUMBER.findall(path)]
    return list(zip(numbers[0::2], numbers[1::2], strict=True))


def test_the_plan_has_the_tyre_to_scale_and_forward_up() -> None:
    scene = plan.scene(plan_subject())
    per_mm = scene.bar.units[0][1] / 100.0
    ys = [y for _, y in places(scene.straight)]
    # the sample's tyre: 612 mm in diameter, on the level through its spindle
    assert (max(ys) - min(ys)) / per_mm == pytest.approx(612.0, abs=0.5)
    view = plan_subject().view
    forward = max(view.straight.outline)
    assert forward[0] > 300.0
    assert min(ys) < scene.axis_y < max(ys)
    # outboard, the greater y of the corner frame, is to the left
    assert min(x for x, _ in places(scene.straight)) < scene.axis_x


def test_the_toe_out_lock_brings_the_front_of_the_wheel_outboard() -> None:
    scene = plan.scene(plan_subject())
    front_out = min(places(scene.toe_out), key=lambda place: place[1])
    front_in = min(places(scene.toe_in), key=lambda place: place[1])
    assert front_out[0] < front_in[0]


def test_nothing_of_the_plan_is_off_the_sheet() -> None:
    scene = plan.scene(plan_subject())
    for path in (scene.straight, scene.toe_out, scene.toe_in, scene.worst):
        assert all(0.0 <= x <= SHEET_WIDTH and 0.0 <= y <= scene.height for x, y in places(path))
    assert all(site.words.bottom < scene.foot_y - 20.0 for site in scene.sites)


def test_a_site_in_the_plan_carries_the_lesser_gap_of_both_locks() -> None:
    scene = plan.scene(plan_subject())
    by_name = {
        " ".join(line for _, line, is_gap in site.words.lines if not is_gap): site
        for site in scene.sites
    }
    for each in plan_subject().view.sites:
        gaps = {gap.words: gap.gap.value for gap in each.clearance.states}
        out, into = (gaps[s.value] for s in (State.TOE_OUT_AT_STATIC, State.TOE_IN_AT_STATIC))
        lock = "at toe-out" if out < into else "at toe-in"
        site = by_name[f"{each.clearance.site.label} {lock}"]
        assert site.gap.value == min(out, into)


def test_the_plan_says_where_it_is_seen_from() -> None:
    text = drawn("plan", plan_subject())
    assert "seen from above, left wheel" in text
    assert "forward" in text
    assert "100\u00a0mm" in text
    assert "4\u00a0in" in text


def test_a_curve_stands_where_its_gap_puts_it() -> None:
    straight = Curve((-80.0, 0.0, 80.0), (20.0, 10.0, -5.0))
    subject = curves_subject()
    site = replace(subject.sites[0], by_travel=straight, by_steer=None)
    scene = gap_curves.scene(replace(subject, sites=(site,)))
    (panel,) = scene.rows[0].panels
    found = places(panel.curve)
    zero = scene.rows[0].zero_y
    per_mm = (zero - scene.rows[0].top) / scene.scale_top
    assert [x for x, _ in found] == pytest.approx(
        [panel.x, panel.x + panel.width / 2.0, panel.x + panel.width], abs=0.1
    )
    assert [(zero - y) / per_mm for _, y in found] == pytest.approx([20.0, 10.0, -5.0], abs=0.2)
    assert (zero - scene.rows[0].wanted_y) / per_mm == pytest.approx(site.wanted, abs=0.2)


def test_a_curve_leaves_its_row_at_the_upper_edge() -> None:
    steep = Curve((-80.0, 0.0, 80.0), (160.0, 80.0, 0.0))
    subject = curves_subject()
    site = replace(subject.sites[0], by_travel=steep, by_steer=None)
    scene = gap_curves.scene(replace(subject, sites=(site,)))
    (panel,) = scene.rows[0].panels
    found = places(panel.curve)
    top = scene.scale_top
    # one millimetre of gap for each of travel on the right half: it enters at 80 − top of travel
    assert found[0][1] == pytest.approx(scene.rows[0].top, abs=0.1)
    assert found[0][0] == pytest.approx(
        panel.x + panel.width * (80.0 + 80.0 - top) / 160.0, abs=0.2
    )


def test_the_ends_of_the_curves_stand_in_the_table() -> None:
    found = motion()
    assert found.curves is not None
    states = ("Full droop", "Standing", "Full bump", "Toe-in lock", "Toe-out lock")
    assert found.curves_table.states == states
    for site, row in zip(found.curves.sites, found.curves_table.rows, strict=True):
        values = [gap.value for gap in row.gaps]
        assert site.by_travel is not None
        assert site.by_steer is not None
        assert values[0] == pytest.approx(site.by_travel.gaps[0], abs=0.05)
        assert values[2] == pytest.approx(site.by_travel.gaps[-1], abs=0.05)
        assert values[3] == pytest.approx(site.by_steer.gaps[0], abs=0.05)
        assert values[4] == pytest.approx(site.by_steer.gaps[-1], abs=0.05)


def test_unknown_travel_is_said_in_words_and_never_drawn() -> None:
    removed = RAIL + "setup:\n  front:\n    bump_stop: {state: removed}\n"
    found = motion(removed)
    assert found.curves is None
    assert found.plan is None or found.plan.view.sites == ()
    assert any("bump stop was removed" in each for each in found.unknown)


def test_a_stretch_runs_from_its_lower_to_its_higher_offset() -> None:
    scene = window.scene(window_subject())
    tight = next(each for row in scene.rows for each in row.stretches if each.word == "tight")
    drawn = dict(scene.ticks)
    ticks, inches = ({text.replace("\u2212", "-"): x for x, text in drawn[unit]}
                     for unit in ("metric", "inch"))  # fmt: skip
    # 1 in is 25.4 mm: yard-pound agreement of 1959
    across = (ticks["40"] - ticks["20"]) / 20.0 * 25.4
    assert inches["2"] - inches["1"] == pytest.approx(across, abs=0.2)
    per_mm = (ticks["40"] - ticks["20"]) / 20.0
    assert tight.x == pytest.approx(ticks["40"], abs=0.2)
    assert tight.width / per_mm == pytest.approx(20.0, abs=0.3)
    assert scene.stock_x == pytest.approx(ticks["20"] + 4.0 * per_mm, abs=0.2)


def test_rows_rise_with_the_width_and_setups_stand_on_theirs() -> None:
    scene = window.scene(window_subject())
    assert [row.text for row in scene.rows] == ["7 in", "6 in"]
    assert [[point.label for point in row.points] for row in scene.rows] == [["3"], ["1+2"]]


def _row_of(*placed: tuple[int, float]) -> window.Row:
    points = tuple(ChartPoint(number, 6.0, offset) for number, offset in placed)
    return window.scene(replace(window_subject(), points=points)).rows[-1]


def test_numbers_stand_in_the_order_of_their_rings_and_apart() -> None:
    """On the 6 in row from left to right: 7, 4, then 9 and 2 upon each other, far off 1."""
    row = _row_of((1, 60.0), (2, 24.1), (4, 22.0), (7, 20.0), (9, 24.0))
    assert [point.label for point in row.points] == ["7", "4", "9+2", "1"]
    marks = [mark for point in row.points for mark in point.marks]
    assert marks == sorted(marks)
    for one, other in pairwise(row.points):
        room = other.x - one.x
        # A digit of Helvetica is 0.556 em broad (its AFM file, from memory); text is 23 units high.
        assert room >= 0.556 * 23.0 * (len(one.label) + len(other.label)) / 2.0 + 5.0


def test_a_number_stands_above_its_row_and_its_line_ends_at_its_ring() -> None:
    row = _row_of((1, 23.0), (2, 24.5), (3, 26.0))
    assert row.label_y < row.y - 10.0  # clear of the words and the hatching of every stretch
    for point in row.points:
        numbers = [float(each) for each in re.findall(r"-?[\d.]+", point.lead)]
        start_x, start_y, end_x, _, end_y = numbers
        assert start_x == point.x
        assert row.label_y < start_y < row.y
        assert end_x == pytest.approx(sum(point.marks) / len(point.marks), abs=0.1)
        assert end_y == pytest.approx(row.mark_y - 7.0, abs=0.6)  # the upper edge of the ring


def test_a_number_at_the_edge_stays_on_the_sheet() -> None:
    row = _row_of(*((number, 70.0 + 1.2 * number) for number in range(1, 9)))
    assert max(point.x for point in row.points) <= 640.0 - 12.0
    assert [point.label for point in row.points] == list("12345678")


def test_more_numbers_than_there_is_room_for_are_counted() -> None:
    row = _row_of(*((number, 20.0 + 1.5 * number) for number in range(1, 31)))
    (point,) = row.points
    assert point.label == "30 setups"
    assert len(point.marks) == 30
    shared = _row_of(*((number, 24.0) for number in range(1, 10)))
    assert [each.label for each in shared.points] == ["9 setups"]


def test_the_legend_has_what_occurs_and_every_wide_stretch_its_word_beside_the_star() -> None:
    scene = window.scene(window_subject())
    drawn = {each.ground for row in scene.rows for each in row.stretches}
    assert {ground for _, _, ground in scene.legend} == drawn
    for row in scene.rows:
        for each in row.stretches:
            assert each.word or each.width < 150.0
    starred = [each for each in scene.rows[-1].stretches if each.word]
    assert all(abs(each.word_x - scene.stock_x) > 30.0 for each in starred)


def test_what_is_not_known_has_a_ground_of_its_own() -> None:
    scene = window.scene(window_subject())
    (unknown,) = scene.rows[0].stretches
    assert unknown.ground == "dw-region-unknown"
    assert unknown.word == "not known"
    grounds = [ground for _, _, ground in scene.legend]
    assert len(set(grounds)) == 4


def test_an_unknown_site_is_named_below_the_window() -> None:
    odd = replace(WINDOW, unknown_sites=("hose: the sheet gives it no place",))
    scene = window.scene(WindowSubject("w", odd, POINTS))
    assert "Nothing is said to clear: hose: the sheet gives it no place" in scene.caption
