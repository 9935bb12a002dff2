"""Paths written anew lead where they led, to within half a unit of the sheet."""

import re
from itertools import pairwise

import pytest

from generator.rendering.room import Box, free_place, passes
from generator.rendering.shortened import shortened


def svg(path: str) -> str:
    return f'<path class="dw-edge" d="{path}"/>'


def written(path: str) -> str:
    return shortened(svg(path)).removeprefix('<path class="dw-edge" d="').removesuffix('"/>')


@pytest.mark.parametrize(
    ("path", "wanted"),
    [
        # each point by hand: rounded where it lies, then the way from the one before
        ("M10 20 30 20 30 5z", "M10 20h20v-15z"),
        ("M10.4 20.6 20.4 31.6 25.3 40.2z", "M10 21l10 11 5 8z"),
        ("M10 20 7 12 1 10", "M10 20l-3-8-6-2"),
        ("M0 -7v7h40.4v-7", "M0 -7v7h40v-7"),
        ("M58.0 34.0V152.0M58.0 135.1h262.0", "M58 34v118m0-17h262"),
        ("M5 5h10z", "M5 5h10z"),
        # ten steps of 0.4 are four units, not none: rounding does not add up
        ("M0 0" + "".join(f" {0.4 * at:.1f} {10 * at}" for at in range(1, 11)),
         "M0 0v10l1 10v10l1 10v10v10l1 10v10l1 10v10".replace("v10v10", "v10 10")),
    ],
)  # fmt: skip
def test_a_path_is_written_from_point_to_point(path: str, wanted: str) -> None:
    assert written(path) == wanted


def test_a_second_piece_of_a_path_begins_where_it_began() -> None:
    # z leads back to 10, 20; the next piece begins at 40, 50, which is 30 further each way
    assert written("M10 20 30 20 30 5zM40 50 45 50z") == "M10 20h20v-15zm30 30h5z"


def test_words_and_arcs_stay_as_they_are() -> None:
    text = '<path d="M1.5 2a3.5 3.5 0 1 0 7 0z"/><text x="4" y="5">1.25 mm d="M1.2 3.4"</text>'
    assert shortened(text).startswith('<path d="M1.5 2a3.5 3.5 0 1 0 7 0z"/>')
    assert "1.25 mm" in shortened(text)


def test_places_of_words_are_whole_and_within_half_a_unit() -> None:
    given = '<text class="dw-text" x="506.1" y="603.5" text-anchor="end">100.4 mm</text>'
    found = [int(number) for number in re.findall(r' [xy]="(\d+)"', shortened(given))]
    assert all(abs(a - b) <= 0.5 for a, b in zip(found, (506.1, 603.5), strict=True))
    assert "100.4 mm" in shortened(given)


def test_words_find_the_first_place_that_is_free() -> None:
    wall = [(20.0, 0.0), (20.0, 60.0)]
    places = [(0.0, 30.0), (0.0, 70.0), (0.0, 120.0)]
    # four letters of 11.5 units end at 46, so the wall at 20 crosses them until they lie below it:
    # their tops are 19 above their feet, 70 - 19 = 51 is still beside the wall, 120 - 19 is not
    assert free_place("rail", places, [wall]) == (0.0, 120.0)
    assert free_place("rail", places[:2], [wall]) == places[0]


@pytest.mark.parametrize(
    ("one", "other", "wanted"),
    [
        ((-5.0, 5.0), (15.0, 5.0), True),
        ((5.0, -5.0), (5.0, 15.0), True),
        ((-5.0, -1.0), (15.0, -1.0), False),
        ((2.0, 2.0), (3.0, 3.0), True),
        ((11.0, 0.0), (20.0, 9.0), False),
    ],
)
def test_a_line_through_a_box(
    one: tuple[float, float], other: tuple[float, float], wanted: bool
) -> None:
    assert passes(Box(0.0, 0.0, 10.0, 10.0), one, other) is wanted
    for a, b in pairwise((one, other, one)):
        assert passes(Box(0.0, 0.0, 10.0, 10.0), a, b) is wanted
