"""Steering: handedness, agreement with scipy's rotations, and the edges of each range."""

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from generator.geometry import steering
from generator.geometry.frames import moved
from generator.geometry.steering_axis import SteeringAxis, axis_through

MERIDEL = SteeringAxis(inclination=11.8, caster=3.9, distance=96.4)


def test_positive_steer_swings_the_front_of_the_wheel_outboard():
    front = moved(steering.steered(MERIDEL, 20.0), np.array([[300.0, 0.0, 0.0]]))[0, 0]
    rear = moved(steering.steered(MERIDEL, 20.0), np.array([[-300.0, 0.0, 0.0]]))[0, 0]
    assert front[1] > 50.0
    assert rear[1] < -50.0


def test_steering_agrees_with_the_library_about_the_same_line():
    angles = np.linspace(-40.0, 40.0, 33)
    way = np.array([-np.tan(np.radians(3.9)), -np.tan(np.radians(11.8)), 1.0])
    turn = Rotation.from_rotvec(np.radians(angles)[:, None] * (way / np.linalg.norm(way)))
    centre = np.array([0.0, -96.4, 0.0])
    found = steering.steered(MERIDEL, angles)
    assert np.abs(found.rotation - turn.as_matrix()).max() < 1e-9
    assert np.abs(found.translation - (centre - turn.apply(centre))).max() < 1e-9


def test_points_of_the_axis_stay_in_place():
    line = np.array([0.0, -96.4, 0.0]) + np.outer([-300.0, 250.0], steering.direction(MERIDEL))
    assert np.abs(moved(steering.steered(MERIDEL, [-32.0, 37.5]), line) - line).max() < 1e-9


def test_axis_through_two_of_its_own_points_is_itself():
    axis = SteeringAxis(9.5, 2.4, 91.5, lead=6.0)
    way = np.array(steering.direction(axis))
    foot = np.array([6.0, -91.5, 0.0])
    found = axis_through(tuple(foot - 130.0 * way), tuple(foot + 500.0 * way))
    assert (found.inclination, found.caster) == pytest.approx((9.5, 2.4))
    assert (found.distance, found.lead) == pytest.approx((91.5, 6.0))


def test_a_spacer_adds_its_thickness_to_the_scrub_radius():
    bare = steering.scrub_radius(MERIDEL, -24.0, 294.0)
    assert steering.scrub_radius(MERIDEL, -24.0 + 7.0, 294.0) == pytest.approx(bare + 7.0)


def test_outer_wheel_never_steers_more_than_the_inner_one():
    for inner in (1.0, 20.0, 45.0, 89.0):
        assert steering.outer_steer(inner, 1400.0, 2500.0) < inner
    assert steering.outer_steer(30.0, 0.0, 2500.0) == pytest.approx(30.0)


def test_a_thinner_stop_gives_lock_back():
    assert steering.lock_lost_at_stop(-4.0, 74.0) == -steering.lock_lost_at_stop(4.0, 74.0)


@pytest.mark.parametrize(
    "call",
    [
        lambda: SteeringAxis(inclination=90.0),
        lambda: SteeringAxis(caster=float("nan")),
        lambda: SteeringAxis(distance=float("inf")),
        lambda: axis_through((0.0, 0.0, 10.0), (0.0, 0.0, 10.0)),
        lambda: steering.outer_steer(0.0, 1400.0, 2500.0),
        lambda: steering.turn_radius(2500.0, 0.0),
        lambda: steering.lock_lost_at_stop(75.0, 74.0),
        lambda: steering.lock_lost_at_stop(1.0, float("nan")),
        lambda: steering.lock_lost_at_rack(1.0, 0.0, 30.0),
        lambda: steering.lock_lost_at_rack(1.0, 120.0, 90.0),
    ],
)
def test_outside_its_range_a_formula_raises(call):
    with pytest.raises(ValueError, match=r".+"):
        call()
