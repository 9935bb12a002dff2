"""Where left and right differ no page gives one side's numbers for both."""

import pytest

from generator.assessment.assess import assess
from generator.records.collect import collect
from generator.records.examples import example_files
from generator.rendering.diagrams.section import scene
from generator.site.section_shown import section_of
from generator.site.sides_shown import side_facts, sides_differ, sides_listed


def case_of(front):
    overlay = f"setup: {{front: {{{front}}}}}"
    return next(iter(collect(example_files(overlay)).library.cases()))


@pytest.mark.parametrize(
    ("front", "told"),
    [
        ("camber: -1 deg", ""),
        ("left: {section_width: 190 mm, diameter: 600 mm}", "left and right differ: tyre"),
        (
            "left: {camber: -1.4 deg}, right: {lips: rolled, camber: -1.2 deg}",
            "left and right differ: camber, lips",
        ),
    ],
)
def test_a_list_says_what_differs_from_left_to_right(front, told):
    assert sides_differ(case_of(front).setup.value.front) == told


def test_the_page_and_the_drawing_of_the_left_wheel_go_by_the_left_spacer():
    case = case_of("spacer: {thickness: 5 mm, kind: slip-on}, left: {spacer: 3 mm}")
    ((axle, fitted, sheet), *_) = case.axles()
    facts = {each.label: each.value.value for each in side_facts(axle, fitted, sheet)}
    end = assess(case).front
    both = end.fit.fitted.wheel.effective_offset.value
    # Effective offset is offset less spacer: 2 mm less spacer, 2 mm more of it.
    assert facts == {"spacer, left": 3.0, "effective offset, left": pytest.approx(both + 2.0)}
    # The list gives either side: offset less 3 mm at the left, less 5 mm at the right.
    listed = sides_listed(axle, fitted, sheet)
    offsets = f"left {both + 2.0:+.1f} mm, right {both:+.1f} mm"
    assert listed == f"left and right differ: spacer; effective offset {offsets}"
    drawn = scene(section_of(case, end, fitted, sheet, counts=True))
    shown = {fact.label: fact.value.value for fact in drawn.numbers}
    assert shown["effective offset"] == pytest.approx(both + 2.0)
    assert "Left and right differ: spacer." in drawn.caption
