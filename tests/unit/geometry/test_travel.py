"""Limits of travel and lock: which way every change goes, and the named states."""

import pytest

from generator.geometry import travel
from generator.geometry.travel import (
    Articulation,
    BumpStop,
    Locks,
    MotionRange,
    State,
    StopChange,
    TravelLimits,
)

LIMITS = TravelLimits(84.0, 76.0)
STOP = BumpStop(48.0, motion_ratio=0.68, squeeze=0.4)
FRONT = MotionRange(LIMITS, Locks(37.5, 32.0), static=25.0)
REAR = MotionRange(TravelLimits(85.0, 90.0), articulation=Articulation(70.0, 60.0))


def places(reach):
    return {
        each.state: (each.travel, each.steer, each.other_travel)
        for each in travel.named_states(reach)
    }


def test_an_inboard_stop_gives_the_wheel_more_than_was_cut():
    # The stop moves 0.68 mm per mm of the wheel, so the wheel moves 1 / 0.68 mm per mm of the stop.
    after = travel.changed_limits(LIMITS, STOP, StopChange(trimmed=6.8))
    assert after.bump == pytest.approx(84.0 + 10.0)
    assert after.droop == 76.0


def test_packing_takes_what_trimming_gives():
    cut = travel.changed_limits(LIMITS, STOP, StopChange(trimmed=5.0)).bump - 84.0
    packed = 84.0 - travel.changed_limits(LIMITS, STOP, StopChange(packed=5.0)).bump
    assert cut == pytest.approx(packed)


def test_the_stop_is_touched_before_full_bump_and_later_when_trimmed():
    before = travel.stop_contact(LIMITS, STOP, StopChange())
    # 40 % of 48 mm at the stop is 19.2 / 0.68 = 28.2 mm at the wheel.
    assert before == pytest.approx(84.0 - 28.2, abs=0.05)
    assert travel.stop_contact(LIMITS, STOP, StopChange(trimmed=6.8)) == pytest.approx(before + 10)


def test_squeezed_height_scales_with_what_is_left():
    assert travel.squeezed_height(STOP, 8.0) == pytest.approx(0.6 * 40.0)


def test_lowering_moves_the_static_place_and_not_the_stops():
    found = places(FRONT)
    assert found[State.STATIC] == (25.0, 0.0, 25.0)
    assert found[State.FULL_BUMP][0] == 84.0
    assert travel.remaining(LIMITS, 25.0) == TravelLimits(59.0, 101.0)


def test_named_states_of_a_steered_wheel():
    found = places(FRONT)
    assert found[State.TOE_OUT_AT_STATIC] == (25.0, 37.5, 25.0)
    assert found[State.TOE_IN_AT_STATIC] == (25.0, -32.0, 25.0)
    assert found[State.TOE_OUT_AT_BUMP] == (pytest.approx(56.0), 37.5, pytest.approx(56.0))
    assert found[State.TOE_IN_AT_DROOP] == (-76.0, -32.0, -76.0)
    assert State.THIS_SIDE_UP not in found
    assert {each.travel for each in travel.states_beyond_sweep(FRONT)} == {84.0}


def test_named_states_of_an_axle():
    found = places(REAR)
    assert found[State.THIS_SIDE_UP] == (70.0, 0.0, -60.0)
    assert found[State.THIS_SIDE_DOWN] == (-60.0, 0.0, 70.0)
    assert State.TOE_OUT_AT_STATIC not in found
    assert travel.states_beyond_sweep(REAR) == ()


def test_lock_tapers_from_two_thirds_of_bump_to_a_quarter():
    assert travel.lock_share(LIMITS, -76.0) == 1.0
    assert travel.lock_share(LIMITS, 56.0) == 1.0
    assert travel.lock_share(LIMITS, 70.0) == pytest.approx(0.625)
    assert travel.lock_share(LIMITS, 84.0) == pytest.approx(0.25)


def test_shims_take_lock_on_their_own_side_only():
    after = travel.shimmed_at_stops(Locks(37.5, 32.0), 74.0, toe_in=4.0)
    assert after.toe_out == 37.5
    # 74 mm arm, 4 mm: asin(4 / 74) = 3.10 deg.
    assert after.toe_in == pytest.approx(32.0 - 3.10, abs=0.005)
    assert travel.washered_at_rack(Locks(36.0, 0.0), 120.0, toe_out=1.0).toe_out == pytest.approx(
        36.0 - 0.59, abs=0.005
    )


@pytest.mark.parametrize(
    "call",
    [
        lambda: TravelLimits(-1.0, 76.0),
        lambda: TravelLimits(84.0, float("nan")),
        lambda: TravelLimits(float("inf"), 76.0),
        lambda: Locks(90.0, 30.0),
        lambda: Locks(float("nan"), 30.0),
        lambda: BumpStop(0.0, 1.0, 0.4),
        lambda: BumpStop(60.0, 0.0, 0.4),
        lambda: BumpStop(60.0, 1.0, 1.0),
        lambda: BumpStop(60.0, float("nan"), 0.4),
        lambda: travel.bump_gained(STOP, 48.0),
        lambda: travel.bump_gained(STOP, -1.0),
        lambda: travel.bump_gained(STOP, float("nan")),
        lambda: travel.changed_limits(LIMITS, STOP, StopChange(packed=-1.0)),
        lambda: travel.changed_limits(LIMITS, STOP, StopChange(packed=90.0)),
        lambda: travel.changed_limits(LIMITS, STOP, StopChange(droop_gained=float("nan"))),
        lambda: travel.remaining(LIMITS, 85.0),
        lambda: MotionRange(LIMITS, static=85.0),
        lambda: MotionRange(LIMITS, static=float("nan")),
        lambda: travel.shimmed_at_stops(Locks(3.0, 3.0), 74.0, toe_out=10.0),
    ],
)
def test_outside_its_range_a_change_raises(call):
    with pytest.raises(ValueError, match=r".+"):
        call()
