"""The drawings of the articles: whole, in their frame, with the numbers of a sum by hand."""

import re
from itertools import pairwise
from math import asin, degrees

import pytest

from generator.rendering.diagrams import (
    axle_centring,
    bump_stop,
    steering_stop,
    stud_stack,
    tightening_order,
)
from generator.rendering.environment import build_environment
from generator.rendering.figures import Made, draw, explaining, give_figures
from generator.rendering.layout import SHEET_WIDTH
from generator.site.drawings import ExampleSubject, SignsSubject

MADE = {
    "signs", "stud-stack", "tightening-order", "bump-stop", "steering-stop", "axle-centring",
    "measuring-gap", "touch-map",
}  # fmt: skip


def made(name: str) -> Made:
    environment = build_environment(inch_first=False)
    give_figures(environment)
    subject = SignsSubject(name) if name == "signs" else ExampleSubject(name)
    return draw(environment, name.replace("-", "_"), subject)


def numbers(module: object) -> dict[str, float]:
    scene = module.scene(ExampleSubject("x"))  # type: ignore[attr-defined]
    return {fact.label: fact.value.value for fact in scene.numbers if fact.value.value is not None}


def test_every_drawing_that_explains_is_known() -> None:
    assert set(explaining()) == MADE


@pytest.mark.parametrize("name", sorted(MADE))
def test_a_drawing_has_title_description_caption_and_numbers(name: str) -> None:
    drawn = made(name)
    assert re.search(r"<title id=\"[^\"]+\">[^<]{10,}</title>", drawn.svg)
    assert re.search(r"<desc id=\"[^\"]+\">[^<]{10,}</desc>", drawn.svg)
    assert len(drawn.caption) > 30
    assert len(drawn.numbers) >= 3


@pytest.mark.parametrize("name", sorted(MADE - {"signs"}))
def test_a_drawing_keeps_to_its_sheet(name: str) -> None:
    drawn = made(name)
    (height,) = re.findall(r'viewBox="0 0 640 ([\d.]+)"', drawn.svg)
    for x, y, anchor in re.findall(r'<text class="dw-text" x="([-\d.]+)" y="([-\d.]+)" '
                                   r'text-anchor="(\w+)"', drawn.svg):  # fmt: skip
        assert 0.0 <= float(x) <= SHEET_WIDTH, anchor
        assert 16.0 <= float(y) <= float(height)


def test_the_stack_leaves_what_a_sum_by_hand_leaves() -> None:
    # 36 past the face − 10 spacer − 12 pad = 14 mm, less than the nut's 18: 1.17 diameters
    assert numbers(stud_stack)["engaged"] == pytest.approx(14.0)


def test_the_bump_stop_gives_its_cut_by_the_motion_ratio() -> None:
    # 10 / 0.68 = 14.7 mm
    assert numbers(bump_stop)["gained at the wheel"] == pytest.approx(14.7, abs=0.05)


def test_the_shim_takes_the_angle_of_its_arm() -> None:
    # asin(3 / 74) = 2.32°; at 280 mm that is 280 · 0.0405 = 11.4 mm
    assert numbers(steering_stop)["lock lost"] == pytest.approx(degrees(asin(3.0 / 74.0)), abs=0.01)
    assert numbers(steering_stop)["tyre's edge drawn back"] == pytest.approx(11.4, abs=0.1)


def test_the_axle_is_off_by_half_of_the_difference() -> None:
    # (74 − 66) / 2 = 4 mm
    assert numbers(axle_centring)["off centre"] == pytest.approx(4.0)


@pytest.mark.parametrize("count", [4, 5, 6])
def test_no_nut_follows_its_neighbour(count: int) -> None:
    # Crosswise: with four and six, every other step is to the opposite nut (common practice).
    order = tightening_order.ORDERS[count]
    apart = [min((b - a) % count, (a - b) % count) for a, b in pairwise(order)]
    assert sorted(order) == list(range(count))
    if count == 5:
        assert set(apart) == {2}
    else:
        assert set(apart[::2]) == {count // 2}
