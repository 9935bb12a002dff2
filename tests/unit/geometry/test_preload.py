from math import nan, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.geometry import preload
from generator.geometry.bound import Outcome
from generator.geometry.preload import Friction, FrictionRange
from generator.geometry.threads import load_at_stress, metric_thread

THREAD = metric_thread(12.0, 1.5)
torques = st.floats(1.0, 400.0)
factors = st.floats(0.08, 0.5)
frictions = st.floats(0.04, 0.4)


@given(torques, st.floats(6.0, 20.0), factors)
def test_torque_and_clamp_are_one_another_back(torque, diameter, factor):
    clamp = preload.clamp_from_torque(torque, diameter, nut_factor=factor)
    assert torque == pytest.approx(preload.torque_for_clamp(clamp, diameter, nut_factor=factor))
    assert factor == pytest.approx(preload.nut_factor(torque, clamp, diameter=diameter))


@given(torques, factors, factors)
def test_the_ratio_of_lubricating_is_the_ratio_of_clamps(torque, before, after):
    one = preload.clamp_from_torque(torque, 12.0, nut_factor=before)
    other = preload.clamp_from_torque(torque, 12.0, nut_factor=after)
    assert other / one == pytest.approx(preload.preload_ratio(before, after))


@given(torques, factors, factors, st.floats(0.0, 0.9))
def test_the_clamp_range_holds_every_joint_inside_its_friction(torque, one, other, scatter):
    least, greatest = sorted((one, other))
    found = preload.clamp_range(
        torque, 12.0, factors=FrictionRange(least, greatest), tool_scatter=scatter
    )
    for factor in (least, (least + greatest) / 2, greatest):
        inside = preload.clamp_from_torque(torque, 12.0, nut_factor=factor)
        assert found.least <= inside * (1 + 1e-12)
        assert inside <= found.greatest * (1 + 1e-12)


def test_thirty_per_cent_of_tool_scatter_is_taken_unless_told():
    # ±30 % of preload: fastener suppliers' engineering data, second hand.
    found = preload.clamp_range(100.0, 12.0, factors=FrictionRange(0.20, 0.20))
    assert found.least == pytest.approx(0.7 * 41666.7, abs=0.1)
    assert found.greatest == pytest.approx(1.3 * 41666.7, abs=0.1)


@given(frictions, frictions, st.floats(1.0, 10.0))
def test_more_friction_takes_more_torque_for_the_same_clamp(thread, seat, times):
    low = preload.torque_by_friction(40000.0, THREAD, friction=Friction(thread, seat), seat_arm=8.5)
    high = preload.torque_by_friction(
        40000.0, THREAD, friction=Friction(times * thread, times * seat), seat_arm=8.5
    )
    assert high >= low


def test_without_friction_the_torque_is_the_work_of_the_pitch():
    # Energy: T·2π = F·P.
    torque = preload.torque_by_friction(40000.0, THREAD, friction=Friction(0.0, 0.0), seat_arm=8.5)
    assert torque * 2 * pi == pytest.approx(40000.0 * 1.5 / 1000.0)


@given(st.floats(5.0, 25.0))
def test_a_cone_of_180_degrees_is_a_flat_seat(mean):
    flat = preload.flat_seat_arm(mean - 2.0, mean + 2.0)
    assert flat == pytest.approx(preload.cone_seat_arm(mean, 180.0))


@given(st.floats(20.0, 179.0), st.floats(20.0, 179.0))
def test_a_sharper_cone_has_the_longer_arm(one, other):
    sharp, blunt = sorted((one, other))
    assert preload.cone_seat_arm(16.0, sharp) >= preload.cone_seat_arm(16.0, blunt)


@pytest.mark.parametrize("angle", [0.0, -60.0, 181.0, nan])
def test_angles_that_are_no_cone_are_refused(angle):
    with pytest.raises(ValueError, match="cone"):
        preload.cone_seat_arm(16.0, angle)


def test_a_greased_8_8_stud_passes_its_proof_load():
    # Trade text: 100 N·m on M12 × 1.5 of 8.8 at K 0.15 is 109 % of proof (common practice).
    clamp = preload.clamp_from_torque(100.0, 12.0, nut_factor=0.15)
    proof = load_at_stress(THREAD.stress_area, 580.0)
    check = preload.proof_check(clamp, proof, share=0.75)
    assert check.value == pytest.approx(1.09, abs=0.005)
    assert check.outcome is Outcome.FAILS
    assert check.source == "SHIGLEY"


def test_the_stress_of_a_clamp_at_proof_is_the_proof_stress():
    assert preload.clamp_stress(load_at_stress(THREAD.stress_area, 830.0), THREAD) == pytest.approx(
        830.0
    )


def test_a_joint_that_slips_below_the_brake_fails():
    moment = preload.slip_moment(4, 30000.0, friction=0.10, radius=50.0)
    assert moment == 600.0
    assert preload.slip_check(moment, 700.0).outcome is Outcome.FAILS
