import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.geometry.bolt_pattern import chord, pitch_circle_from_chord, radial_mismatch


@given(st.integers(3, 10), st.floats(80.0, 200.0), st.data())
def test_circle_comes_back_from_any_of_its_chords(bolts, circle, data):
    apart = data.draw(st.integers(1, bolts // 2))
    measured = chord(circle, bolts=bolts, apart=apart)
    assert math.isclose(circle, pitch_circle_from_chord(measured, bolts=bolts, apart=apart))


@given(st.integers(3, 10), st.floats(80.0, 200.0), st.data())
def test_chord_is_the_distance_of_two_points_on_the_circle(bolts, circle, data):
    apart = data.draw(st.integers(1, bolts // 2))
    turn = 2 * math.pi * apart / bolts
    expected = math.dist(
        (circle / 2, 0.0), (circle / 2 * math.cos(turn), circle / 2 * math.sin(turn))
    )
    assert math.isclose(expected, chord(circle, bolts=bolts, apart=apart))


def test_mismatch_does_not_depend_on_which_is_larger():
    assert radial_mismatch(100.0, 98.0) == radial_mismatch(98.0, 100.0) == 1.0


def test_chords_that_do_not_exist_are_refused():
    for bolts, apart in ((2, 1), (5, 0), (5, 3)):
        with pytest.raises(ValueError, match="no chord"):
            chord(100.0, bolts=bolts, apart=apart)
    with pytest.raises(ValueError, match="above zero"):
        chord(math.nan, bolts=5)
    with pytest.raises(ValueError, match="above zero"):
        pitch_circle_from_chord(0.0, bolts=5)
