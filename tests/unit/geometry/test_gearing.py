from math import log, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.geometry.bound import Outcome
from generator.geometry.gearing import (
    DiameterPair,
    diameter_mismatch,
    indicated_speed,
    percent_check,
    speedometer_checks,
)
from generator.quantities.estimate import Basis, Estimate

diameters = st.floats(450.0, 800.0)


def exact(value):
    return Estimate(float(value), 0.0, Basis.MEASURED)


def pair(front, rear):
    return DiameterPair(exact(front), exact(rear))


@given(diameters, diameters, st.floats(0.9, 1.1))
def test_both_axles_changed_alike_keep_the_ratio(front, rear, times):
    mismatch = diameter_mismatch(pair(front, rear), pair(times * front, times * rear))
    assert mismatch.value == pytest.approx(0.0, abs=1e-9)


@given(diameters, diameters, diameters, diameters)
def test_there_and_back_is_no_mismatch(a, b, c, d):
    there = diameter_mismatch(pair(a, b), pair(c, d)).value / 100
    back = diameter_mismatch(pair(c, d), pair(a, b)).value / 100
    assert log(1 + there) == pytest.approx(-log(1 + back), abs=1e-9)


def test_four_measured_diameters_carry_their_uncertainty():
    # JCGM 100 5.1.6: relative uncertainties of a product add in quadrature; 4 times 1/632.
    one = Estimate(632.0, 1.0, Basis.MEASURED)
    found = diameter_mismatch(DiameterPair(one, one), DiameterPair(one, one))
    assert 100 * sqrt(4) / 632 == pytest.approx(found.u)


def test_mismatch_limits_work_both_ways():
    # 3 % limit, common practice.
    assert percent_check(exact(3.1), 3.0).outcome is Outcome.FAILS
    assert percent_check(exact(-3.1), 3.0).outcome is Outcome.FAILS
    assert percent_check(exact(-1.4), 1.5).outcome is Outcome.HOLDS


def test_a_car_that_read_true_reads_low_on_taller_tyres():
    # UN R39 5.3: an instrument may never show less than the true speed.
    shown = indicated_speed(100.0, 0.0, stock=exact(632), fitted=exact(645))
    low, high = speedometer_checks(shown, 100.0)
    assert low.outcome is Outcome.FAILS
    assert high.outcome is Outcome.HOLDS


def test_a_car_that_read_3_per_cent_high_bears_2_per_cent_of_diameter():
    # Trade text, common practice: tolerates about +2 % of diameter before it reads low.
    shown = indicated_speed(100.0, 3.0, stock=exact(600), fitted=exact(612))
    assert speedometer_checks(shown, 100.0)[0].outcome is Outcome.HOLDS


@given(st.floats(10.0, 250.0), diameters, diameters)
def test_the_reading_falls_as_the_diameter_grows(speed, one, other):
    small, large = sorted((one, other))
    by_small = indicated_speed(speed, 0.0, stock=exact(600), fitted=exact(small))
    by_large = indicated_speed(speed, 0.0, stock=exact(600), fitted=exact(large))
    assert by_large.value <= by_small.value


def test_a_reading_past_the_greatest_fails():
    # UN R39 5.3: 59 at most at true 50.
    low, high = speedometer_checks(exact(59.5), 50.0)
    assert low.outcome is Outcome.HOLDS
    assert high.margin == pytest.approx(-0.5)
    assert high.outcome is Outcome.FAILS


def test_a_diameter_of_nothing_is_refused():
    with pytest.raises(ValueError, match="diameters"):
        diameter_mismatch(pair(600, 0), pair(600, 600))
    with pytest.raises(ValueError, match="diameters"):
        indicated_speed(100.0, 0.0, stock=exact(600), fitted=exact(0))
