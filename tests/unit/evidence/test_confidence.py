"""Flags of limits: what counts, and what the words say where sheet and records disagree."""

import pytest

from generator.evidence.confidence import LimitFlag, limit_confidence
from generator.evidence.learning import learn
from generator.evidence.limits import influences, limits_of
from generator.evidence.observation import Origin, exact, lower_bound, upper_bound
from generator.evidence.prior import SitePrior

SHEET = SitePrior(0.0, 3.0)


def origin(car):
    return Origin(f"car {car}", f"member {car}", f"record {car}")


def measured(*values, u=2.0, first=0):
    return [exact(value, u, origin(first + i)) for i, value in enumerate(values)]


def posterior(*entries):
    learned = learn(entries, SHEET)
    return limits_of(learned, influences(learned))


def test_without_records_a_limit_is_unknown():
    assert limit_confidence(posterior()).flag is LimitFlag.UNKNOWN


def test_three_agreeing_cars_make_a_limit_well_known():
    known = limit_confidence(posterior(*measured(1.0, -1.0, 2.0)))
    assert known.flag is LimitFlag.WELL_KNOWN
    assert "sheet" not in known.words
    assert known.raise_by == ""


@pytest.mark.parametrize(
    ("sign", "room"), [(-1.0, "about 38 mm less room"), (1.0, "about 38 mm more room")]
)
def test_six_agreeing_cars_far_from_the_sheet_say_so(sign, room):
    values = (38.0, 36.5, 40.0, 37.0, 39.5, 37.5)
    found = posterior(*measured(*(sign * value for value in values)))
    assert found.sheet_wrong > 0.999
    assert found.limits.median == pytest.approx(sign * 38.0, abs=1.0)
    assert found.upheld.cars == 6
    known = limit_confidence(found)
    assert known.flag is LimitFlag.WELL_KNOWN
    assert "the records agree with each other and not with the sheet" in known.words
    assert "the sheet corrected" in known.raise_by
    assert room in known.raise_by


def test_entries_in_question_do_not_count():
    # two cars agree with the sheet and one is 60 mm off: three measured, two to be counted
    found = posterior(*measured(1.0, -1.0, 60.0))
    assert (found.cars, found.upheld.cars) == (3, 2)
    known = limit_confidence(found)
    assert known.flag is LimitFlag.BRACKETED
    assert "2 cars, 1 more in question" in known.words


@pytest.mark.parametrize("value", [-60.0, -40.0, 30.0])
def test_one_car_far_from_the_sheet_leaves_the_limit_unknown(value):
    known = limit_confidence(posterior(*measured(value)))
    assert known.flag is LimitFlag.UNKNOWN
    assert "one car cannot tell which of them is wrong" in known.words
    assert "another car" in known.raise_by


def test_cars_that_contradict_each_other_and_the_sheet_leave_it_unknown():
    found = posterior(*measured(-70.0, 70.0, u=1.0))
    assert (found.cars, found.upheld.cars) == (2, 0)
    known = limit_confidence(found)
    assert known.flag is LimitFlag.UNKNOWN
    assert "with each other" in known.words


def test_one_car_near_the_sheet_holds_from_both_sides():
    known = limit_confidence(posterior(*measured(4.0)))
    assert known.flag is LimitFlag.BRACKETED
    assert known.words == "held from both sides by 1 car"


def test_bounds_on_both_sides_bracket_and_on_one_side_do_not():
    clears = [lower_bound(-5.0, 2.0, origin(i)) for i in range(2)]
    touches = [upper_bound(6.0, 2.0, origin("x"))]
    assert limit_confidence(posterior(*clears, *touches)).flag is LimitFlag.BRACKETED
    one_sided = limit_confidence(posterior(*clears))
    assert one_sided.flag is LimitFlag.ONE_SIDED
    assert one_sided.words == "2 cars say only that it clears"


def test_a_doubted_bound_does_not_bracket():
    clears = [lower_bound(-3.0, 1.0, origin(i)) for i in range(5)]
    wrong = upper_bound(-45.0, 1.0, origin("x"))
    known = limit_confidence(posterior(*clears, *measured(1.0, first=8), wrong))
    assert "1 more in question" in known.words


def test_many_touches_beyond_the_sheet_give_no_figure_for_its_correction():
    found = posterior(*(upper_bound(-20.0, 2.0, origin(i)) for i in range(8)))
    assert found.sheet_wrong > 0.5
    known = limit_confidence(found)
    assert known.flag is LimitFlag.ONE_SIDED
    assert "less room than the sheet says" in known.raise_by
    assert "about" not in known.raise_by
