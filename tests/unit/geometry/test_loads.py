from math import nan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.geometry import loads
from generator.geometry.bound import Outcome
from generator.geometry.loads import CamberPoint, CornerLoad, SpeedPoint, WheelLoad

# Handbook figure 10.1-14: load reduction of V tyres.
V_TYRE = tuple(
    SpeedPoint(*row) for row in ((210.0, 100.0), (220.0, 97.0), (230.0, 94.0), (240.0, 91.0))
)
# Handbook p. 297: pressure to add for camber.
CAMBER = tuple(
    CamberPoint(*row)
    for row in ((7 / 3, 2.1), (8 / 3, 4.3), (3.0, 6.6), (10 / 3, 9.0), (11 / 3, 11.5), (4.0, 14.1))
)
newtons = st.floats(500.0, 10000.0)
radii = st.floats(200.0, 400.0)
insets = st.floats(-60.0, 80.0)


@given(st.floats(0.0, 240.0))
def test_the_load_at_speed_is_numpys_interpolation(speed):
    expected = np.interp(speed, [210, 220, 230, 240], [100, 97, 94, 91])
    assert expected == pytest.approx(loads.load_at_speed(100.0, speed, table=V_TYRE))


@given(st.floats(-4.0, 4.0))
def test_the_pressure_for_camber_is_numpys_interpolation_of_its_size(camber):
    xs, ys = [2.0, *(row.camber for row in CAMBER)], [0.0, *(row.increase for row in CAMBER)]
    expected = np.interp(abs(camber), xs, ys)
    assert expected == pytest.approx(loads.pressure_for_camber(camber, table=CAMBER))


@pytest.mark.parametrize("speed", [240.1, nan])
def test_a_speed_past_the_table_has_no_load(speed):
    with pytest.raises(ValueError, match="outside the table"):
        loads.load_at_speed(615.0, speed, table=V_TYRE)


@pytest.mark.parametrize("camber", [4.1, -4.1, nan])
def test_a_camber_past_the_table_has_no_pressure(camber):
    with pytest.raises(ValueError, match="outside the table"):
        loads.pressure_for_camber(camber, table=CAMBER)


def test_the_weaker_tyre_of_an_axle_counts_twice():
    check = loads.axle_load_check(500.0, 615.0, axle_load=1050.0)
    assert check.value == 1000.0
    assert check.outcome is Outcome.FAILS


@pytest.mark.parametrize("pair", [(nan, 615.0), (615.0, nan), (0.0, 615.0)])
def test_a_tyre_of_no_load_is_refused(pair):
    with pytest.raises(ValueError, match="carries"):
        loads.axle_load_check(*pair, axle_load=1000.0)


def test_a_wheel_carries_half_of_its_heaviest_axle():
    # SAE J2530 section 4, second hand.
    assert loads.wheel_rating_check(500.0, 1000.0).outcome is Outcome.HOLDS
    assert loads.wheel_rating_check(499.0, 1000.0).outcome is Outcome.FAILS


def test_h_is_faster_than_u():
    # UN R30 speed symbols: H 210, U 200, though the letters stand otherwise.
    assert loads.speed_symbol_check(210.0, 205.0).outcome is Outcome.HOLDS
    assert loads.speed_symbol_check(200.0, 205.0).outcome is Outcome.FAILS


@given(newtons, radii, insets)
def test_an_inset_adds_to_the_bending_moment_and_an_outset_takes_off(load, radius, inset):
    def by(sign):
        return loads.j328_moment(WheelLoad(load, radius, sign * abs(inset)), factor=1.6)

    zeroset = loads.j328_moment(WheelLoad(load, radius, 0.0), factor=1.6)
    assert by(-1) <= zeroset <= by(1)
    assert (by(-1) + by(1)) / 2 == pytest.approx(zeroset)


@given(newtons, radii, insets)
def test_the_two_codes_differ_by_grip_and_factor_alone(load, radius, inset):
    # R124 − J328 at S = 2: 2·F·(0.9 − 0.7)·R, from the two printed formulas.
    wheel = WheelLoad(load, radius, inset)
    difference = loads.r124_moments(wheel).greatest - loads.j328_moment(wheel, factor=2.0)
    assert 2 * load * 0.2 * radius / 1000 == pytest.approx(difference, abs=1e-6)


def test_a_taller_tyre_may_outgrow_a_wheels_rating():
    proved = loads.r124_moments(WheelLoad(5500.0, 300.0, 40.0)).greatest
    on_car = loads.r124_moments(WheelLoad(5500.0, 315.0, 40.0)).greatest
    assert loads.bending_check(proved, on_car).outcome is Outcome.FAILS


@given(insets, st.floats(0.0, 40.0))
def test_a_spacer_is_the_same_to_the_track_as_as_much_less_offset(offset, spacer):
    by_offset = loads.track_change(1450.0, offset, offset=offset - spacer)
    assert 2 * spacer == pytest.approx(by_offset.absolute)


@given(st.floats(-60.0, 60.0), st.floats(-30.0, 30.0), st.floats(0.0, 18.0))
def test_scrub_radius_grows_by_the_spacer_at_an_unchanged_radius(stock, spacer, inclination):
    change = loads.scrub_radius_change(stock, spacer, radius_gain=0.0, inclination=inclination)
    assert stock + spacer == pytest.approx(change.after)


def test_a_negative_scrub_radius_that_turns_positive_is_told():
    # Chassis sheet of a split-brake car: −6.7 and a 10 mm spacer.
    change = loads.scrub_radius_change(-6.7, 10.0, radius_gain=0.0, inclination=13.4)
    assert change.turns_sign


@given(newtons, radii, st.floats(-40.0, 60.0), st.floats(-40.0, 60.0))
def test_the_bearing_moment_is_the_cross_product_of_arm_and_force(load, radius, before, after):
    change = loads.bearing_moment_change(CornerLoad(load, radius), before, arm=after)
    for arm, straight, inner, outer in (
        (before, change.straight.before, change.inner_wheel.before, change.outer_wheel.before),
        (after, change.straight.after, change.inner_wheel.after, change.outer_wheel.after),
    ):
        contact = [0.0, arm, -radius]
        # The road pushes the outer wheel inboard and the inner wheel outboard.
        for side, found in ((0.0, straight), (1.0, inner), (-1.0, outer)):
            moment = np.cross(contact, [0.0, side * load, load])[0] / 1000
            assert abs(moment) == pytest.approx(found, abs=1e-6)


def test_20_mm_outboard_hardly_change_the_cornering_moment():
    # Trade text: 3.5 kN and 20 mm add 70 N·m to some 1050 in a 1 g corner, 5 to 8 %.
    change = loads.bearing_moment_change(CornerLoad(3500.0, 300.0), 0.0, arm=20.0)
    assert 5.0 <= change.inner_wheel.percent <= 8.0
