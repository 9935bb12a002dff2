"""The sweep: its region, its named states, and refinement near a position."""

import time

import numpy as np
import pytest

from generator.geometry.axle import AxleCorner, RigidAxle, Side, rod_across
from generator.geometry.steering_axis import SteeringAxis
from generator.geometry.suspension import Curves, IndependentCorner, TravelCurve
from generator.geometry.sweep import Position, refined, state_positions, swept
from generator.geometry.travel import (
    Articulation,
    Locks,
    MotionRange,
    TravelLimits,
    lock_share,
    named_states,
)

FRONT = MotionRange(TravelLimits(84.0, 76.0), Locks(37.5, 32.0), static=20.0)
REAR = MotionRange(TravelLimits(85.0, 90.0), articulation=Articulation(70.0, 60.0))
ALONE = MotionRange(TravelLimits(85.0, 90.0))
ALL = pytest.mark.parametrize("reach", [FRONT, REAR, ALONE], ids=["front", "rear", "alone"])


def inside(reach, at):
    """Say which positions lie in the region that the sweep is said to cover."""
    slack = 1e-9
    fine = (at.travel <= reach.limits.bump + slack) & (at.travel >= -reach.limits.droop - slack)
    share = np.array([lock_share(reach.limits, z) for z in at.travel])
    fine &= at.steer <= share * reach.locks.toe_out + slack
    fine &= at.steer >= -share * reach.locks.toe_in - slack
    if reach.articulation is not None:
        full = reach.articulation.up + reach.articulation.down
        fine &= np.abs(at.travel - at.other_travel) <= full + slack
    return fine


@ALL
def test_the_sweep_stays_in_its_region_and_reaches_its_ends(reach):
    at = swept(reach)
    assert inside(reach, at).all()
    assert at.travel.max() == pytest.approx(reach.limits.bump)
    assert at.travel.min() == pytest.approx(-reach.limits.droop)
    assert at.steer.max() == reach.locks.toe_out
    assert at.steer.min() == -reach.locks.toe_in


@ALL
def test_the_named_states_are_the_last_and_exact(reach):
    at, states = swept(reach), named_states(reach)
    tail = slice(-len(states), None)
    assert at.travel[tail].tolist() == [each.travel for each in states]
    assert at.steer[tail].tolist() == [each.steer for each in states]
    assert at.other_travel[tail].tolist() == [each.other_travel for each in states]
    assert len(state_positions(reach)) == len(states)


def test_both_wheels_of_an_axle_cover_the_same_ground():
    at = swept(REAR)
    seen = {(round(a, 6), round(b, 6)) for a, b in zip(at.travel, at.other_travel, strict=True)}
    assert seen == {(b, a) for a, b in seen}


@ALL
@pytest.mark.parametrize("width", [0.08, 0.02, 0.005])
def test_refinement_stays_in_the_region_and_keeps_the_position(reach, width):
    at = swept(reach)
    for index in range(0, len(at), 7):
        near = Position(
            float(at.travel[index]), float(at.steer[index]), float(at.other_travel[index])
        )
        found = refined(reach, near, width)
        assert found.travel[0] == near.travel
        assert inside(reach, found).all()
        whole = reach.limits.bump + reach.limits.droop
        assert np.abs(found.travel - near.travel).max() <= 2.0 * width * whole + 1e-9


def test_refinement_converges_on_a_point_between_the_grid():
    goal = np.array([37.1, 11.3])
    at = swept(FRONT)

    def miss(found):
        return np.hypot(found.travel - goal[0], found.steer - goal[1])

    for width in (0.08, 0.02, 0.005):
        best = int(np.argmin(miss(at)))
        near = Position(float(at.travel[best]), float(at.steer[best]), float(at.other_travel[best]))
        at = refined(FRONT, near, width)
    assert miss(at).min() < 0.4


def test_a_width_is_above_zero():
    with pytest.raises(ValueError, match="width"):
        refined(FRONT, Position(0.0), float("nan"))


def test_two_hundred_poses_take_a_few_milliseconds():
    corner = IndependentCorner(
        Curves(TravelCurve((-0.013,)), TravelCurve((0.02,))), SteeringAxis(11.8, 3.9, 96.4)
    )
    rod = rod_across(1015.0, body_height=46.0, axle_height=4.0, body_side=Side.LEFT)
    wheel = AxleCorner(RigidAxle(1428.0, rod), Side.RIGHT)
    taken = []
    for _ in range(10):
        start = time.thread_time()
        front, rear = corner.poses(swept(FRONT)), wheel.poses(swept(REAR))
        taken.append(time.thread_time() - start)
    assert len(front) > 190
    assert len(rear) > 190
    assert min(taken) < 0.02
