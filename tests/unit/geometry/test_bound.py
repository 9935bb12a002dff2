from math import inf, nan, nextafter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.geometry.bound import PRACTICE, Change, Outcome, at_least, at_most
from generator.quantities.estimate import Basis, Estimate

numbers = st.floats(-1e6, 1e6)


@given(numbers, numbers)
def test_one_of_the_two_sides_holds(value, bound):
    sides = {at_least(value, bound, source="x").outcome, at_most(value, bound, source="x").outcome}
    assert Outcome.HOLDS in sides
    assert Outcome.TOO_CLOSE_TO_SAY not in sides


@given(numbers, numbers)
def test_the_margins_of_the_two_sides_are_opposite(value, bound):
    least, most = at_least(value, bound, source="x"), at_most(value, bound, source="x")
    assert least.margin == -most.margin


@pytest.mark.parametrize(("value", "bound"), [(nan, 1.0), (1.0, nan), (nan, nan)])
def test_a_number_that_is_none_never_holds(value, bound):
    assert at_least(value, bound, source="x").outcome is Outcome.FAILS
    assert at_most(value, bound, source="x").outcome is Outcome.FAILS


def test_an_infinite_bound_is_open_to_one_side_only():
    assert at_least(1.0, inf, source="x").outcome is Outcome.FAILS
    assert at_most(1.0, inf, source="x").outcome is Outcome.HOLDS


def test_an_uncertain_number_near_its_bound_is_too_close_to_say():
    # 2 u is about 95 %, JCGM 100 6.3.3: 0.3 off with u 0.2 is inside, 0.5 off is not.
    near = at_least(Estimate(12.3, 0.2, Basis.MEASURED), 12.0, source=PRACTICE)
    clear = at_least(Estimate(12.5, 0.2, Basis.MEASURED), 12.0, source=PRACTICE)
    short = at_least(Estimate(11.5, 0.2, Basis.MEASURED), 12.0, source=PRACTICE)
    assert Outcome.TOO_CLOSE_TO_SAY is near.outcome
    assert Outcome.HOLDS is clear.outcome
    assert Outcome.FAILS is short.outcome


def test_a_number_on_its_bound_holds_in_spite_of_binary_rounding():
    assert at_least(0.1 + 0.2, 0.3, source="x").outcome is Outcome.HOLDS
    assert at_most(0.1 + 0.2, 0.3, source="x").outcome is Outcome.HOLDS


def test_a_change_is_given_in_its_unit_and_in_per_cent_of_the_size():
    change = Change(-8.0, 2.0)
    assert change.absolute == 10.0
    assert change.percent == 125.0
    assert change.turns_sign


def test_a_change_from_nothing_has_no_percentage():
    assert Change(0.0, 5.0).percent is None
    assert not Change(0.0, 5.0).turns_sign


def test_a_margin_of_just_its_coverage_decides_however_its_last_digit_was_rounded():
    # By hand: 1 - 0.95 = 0.05 = 2 * 0.025, the coverage of [GUM] 6.3.3; the next doubles beside.
    for u in (0.025, nextafter(0.025, 1.0), nextafter(0.025, 0.0)):
        short = at_least(Estimate(0.95, u, Basis.MEASURED), 1.0, source=PRACTICE)
        assert short.outcome is Outcome.FAILS
    near = at_least(Estimate(0.95, 0.0251, Basis.MEASURED), 1.0, source=PRACTICE)
    assert near.outcome is Outcome.TOO_CLOSE_TO_SAY
