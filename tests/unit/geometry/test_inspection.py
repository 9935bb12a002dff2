import statistics
from datetime import date, timedelta
from math import cos, nan, sin, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.geometry import inspection
from generator.geometry.bound import Outcome
from generator.geometry.inspection import BoreFit, RunOutBand, RunOutLimits
from generator.quantities.date_code import DateCode, read_date_code
from generator.quantities.estimate import Basis, Estimate

weights = st.lists(st.floats(4.0, 25.0), min_size=3, max_size=6).map(tuple)
# Bands of a run-out read on the hub, common practice.
BANDS = RunOutLimits(good=0.5, accepted=0.8, ask=1.0)
codes = st.builds(
    lambda week, year: read_date_code(f"{week:02d}{year:02d}"),
    st.integers(1, 52),
    st.integers(0, 40),
)


def exact(value):
    return Estimate(float(value), 0.0, Basis.MEASURED)


@given(weights)
def test_the_spread_is_the_range_over_the_mean(masses):
    found = inspection.weight_spread(masses, u=0.02)
    mean = statistics.fmean(masses)
    assert mean == pytest.approx(found.mean)
    assert 100 * (max(masses) - min(masses)) / mean == pytest.approx(found.percent)
    assert 100 * sqrt(2) * 0.02 / mean == pytest.approx(found.u_percent)
    assert found.spread_of_others <= found.spread


@given(weights, st.randoms(use_true_random=False))
def test_the_odd_one_is_the_same_in_any_order(masses, random):
    shuffled = list(masses)
    random.shuffle(shuffled)
    first = inspection.weight_spread(masses, u=0.02)
    second = inspection.weight_spread(tuple(shuffled), u=0.02)
    odd_first = None if first.odd is None else masses[first.odd]
    odd_second = None if second.odd is None else shuffled[second.odd]
    assert odd_first == odd_second


@given(st.floats(5.0, 20.0), st.floats(0.5, 2.0), st.integers(0, 3), st.sampled_from((-1, 1)))
def test_one_wheel_of_another_weight_is_found(mass, apart, index, sign):
    masses = [mass, mass + 0.02, mass - 0.02, mass + 0.01]
    masses[index] = mass + sign * apart
    assert inspection.weight_spread(tuple(masses), u=0.02).odd == index


def test_two_pairs_of_wheels_have_no_odd_one():
    assert inspection.weight_spread((7.0, 7.02, 7.8, 7.81), u=0.02).odd is None


def test_scatter_of_the_scale_makes_no_odd_one():
    assert inspection.weight_spread((8.0, 8.0, 8.0, 8.05), u=0.02).odd is None


def test_the_spread_is_held_against_its_limit():
    # Pairs within 2 to 3 %, common practice.
    assert inspection.weight_spread((8, 8, 8, 8.1), u=0.0).check(3.0).outcome is Outcome.HOLDS
    assert inspection.weight_spread((8, 8, 8, 8.5), u=0.0).check(3.0).outcome is Outcome.FAILS


@pytest.mark.parametrize("masses", [(8.0, 8.0), (8.0, 0.0, 8.0), (8.0, nan, 8.0)])
def test_weights_that_say_nothing_are_refused(masses):
    with pytest.raises(ValueError, match="three or more"):
        inspection.weight_spread(masses, u=0.02)


@pytest.mark.parametrize(
    ("reading", "band"),
    [
        (0.0, RunOutBand.GOOD),
        (0.5, RunOutBand.GOOD),
        (0.51, RunOutBand.ACCEPTED),
        (0.8, RunOutBand.ACCEPTED),
        (0.9, RunOutBand.DOUBTFUL),
        (1.01, RunOutBand.ASK_THE_SELLER),
    ],
)
def test_a_run_out_falls_in_its_band(reading, band):
    assert band is inspection.run_out(reading, 0.05, limits=BANDS).band


@given(st.floats(0.0, 3.0), st.floats(0.0, 1.0), st.floats(0.0, 6.283185))
def test_the_wheels_own_run_out_lies_in_its_range_whatever_the_angle(wheel, hub, angle):
    # Two eccentricities add as vectors; the dial shows the length of the sum.
    reading = abs(wheel + hub * complex(cos(angle), sin(angle)))
    found = inspection.run_out(reading, hub, limits=BANDS)
    assert found.wheel_least <= wheel + 1e-9
    assert wheel <= found.wheel_greatest + 1e-9


@pytest.mark.parametrize(("reading", "hub"), [(nan, 0.0), (0.5, nan), (-0.1, 0.0)])
def test_a_run_out_that_is_none_is_refused(reading, hub):
    with pytest.raises(ValueError, match="run-out"):
        inspection.run_out(reading, hub, limits=BANDS)


def test_a_deviation_keeps_its_sign_and_is_checked_by_its_size():
    # Width within 1 mm of the order, common practice.
    found = inspection.deviation_from_order(exact(201.7), 203.2, tolerance=1.0)
    assert found.deviation.value == pytest.approx(-1.5)
    assert found.check.value == pytest.approx(1.5)
    assert found.check.outcome is Outcome.FAILS


def test_a_rough_rule_cannot_tell_a_small_deviation():
    measured = Estimate(139.0, 1.0, Basis.MEASURED)
    found = inspection.deviation_from_order(measured, 138.3, tolerance=2.0)
    assert found.check.outcome is Outcome.TOO_CLOSE_TO_SAY


@pytest.mark.parametrize(
    ("bore", "fit"),
    [
        (56.9, BoreFit.WILL_NOT_GO_ON),
        (57.02, BoreFit.TIGHT),
        (57.1, BoreFit.CENTRES),
        (57.2, BoreFit.CENTRES),
        (57.3, BoreFit.DOES_NOT_CENTRE),
        (66.6, BoreFit.DOES_NOT_CENTRE),
    ],
)
def test_a_bore_is_classed_by_its_clearance(bore, fit):
    # 0.05 to 0.20 mm in diameter centres, common practice.
    found = inspection.bore_clearance(exact(bore), exact(57.0))
    assert fit is found.fit
    assert found.also_possible == ()


def test_a_bore_measured_roughly_leaves_other_fits_open():
    rough = Estimate(57.07, 0.02, Basis.MEASURED)
    found = inspection.bore_clearance(rough, exact(57.0))
    assert found.also_possible == (BoreFit.TIGHT,)
    rougher = Estimate(57.1, 0.2, Basis.MEASURED)
    assert len(inspection.bore_clearance(rougher, exact(57.0)).also_possible) == 3


def test_the_age_of_a_tyre_is_bracketed_by_its_week():
    # 49 CFR 574.5 (weeks from memory): 2501 is 24 to 30 June 2001.
    found = inspection.age(read_date_code("2501"), date(2011, 6, 24))
    assert found.greatest == pytest.approx(10.0, abs=0.002)
    assert found.least == pytest.approx(10.0 - 6 / 365.25, abs=0.002)


@given(codes, st.integers(0, 20000), st.integers(0, 20000))
def test_a_tyre_only_grows_older(code, one, other):
    made = date(2041, 1, 1)
    sooner, later = (made + timedelta(days=days) for days in sorted((one, other)))
    young, old = inspection.age(code, sooner), inspection.age(code, later)
    assert young.greatest <= old.greatest
    assert young.least <= young.greatest


def test_a_three_digit_code_leaves_the_decade_open():
    found = inspection.age(read_date_code("317"), date(2017, 8, 1))
    # Made in week 31 of 1977, 1987 or 1997.
    assert found.greatest == pytest.approx(40.0, abs=0.05)
    assert found.least == pytest.approx(20.0, abs=0.05)


def test_a_tyre_of_the_future_has_no_age():
    with pytest.raises(ValueError, match="no age"):
        inspection.age(read_date_code("2530"), date(2024, 1, 1))


def test_a_tyre_past_ten_years_fails_by_its_greatest_age():
    # No tyre over 10 years, common practice.
    assert inspection.age(read_date_code("0712"), date(2023, 1, 1)).check(10.0).margin < 0.0


@given(st.lists(codes, min_size=2, max_size=4).map(tuple))
def test_weeks_apart_are_nothing_only_for_one_week(made):
    apart = inspection.weeks_apart(made)
    assert apart is not None
    assert (apart == 0) == inspection.codes_are_equal(made)


def test_codes_are_compared_as_read():
    same = (read_date_code("2501"), read_date_code("2501"))
    assert inspection.codes_are_equal(same)
    assert not inspection.codes_are_equal((*same, read_date_code("2601")))


def test_an_open_decade_leaves_the_weeks_apart_open():
    assert inspection.weeks_apart((read_date_code("317"), read_date_code("2501"))) is None
    assert inspection.weeks_apart((read_date_code("317"), read_date_code("317"))) == 0


def test_a_pair_half_a_year_apart_fails_the_batch_limit():
    # Pairs within 13 weeks or so, common practice.
    weeks = inspection.weeks_apart((read_date_code("0122"), read_date_code("2722")))
    assert weeks == 26
    assert inspection.batch_check(weeks, 13).outcome is Outcome.FAILS


def test_a_code_is_known_by_its_week_and_year():
    assert read_date_code("2501") == DateCode(25, (2001,), "2501")
