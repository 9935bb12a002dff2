"""Independent suspension: zero pose, order of the chain, and what each body sees."""

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from generator.geometry.frames import ORIGIN, camber, in_wheel, positions, toe_out
from generator.geometry.steering import direction
from generator.geometry.steering_axis import SteeringAxis
from generator.geometry.suspension import Curves, IndependentCorner, Tilt, TravelCurve, travelled

AXIS = SteeringAxis(11.8, 3.9, 96.4)
CURVES = Curves(
    camber=TravelCurve((-0.013, 2e-5)),
    lateral=TravelCurve((0.02,)),
    fore_aft=TravelCurve((0.0, -1e-4)),
    toe_out=TravelCurve((-0.004,)),
)
TOP = np.array([[0.0, 0.0, 300.0]])


def test_zero_pose_is_the_static_one():
    found = IndependentCorner(CURVES, AXIS).poses(positions(0.0))
    for poses in (found.body, found.arm, found.strut, found.hub):
        assert np.array_equal(poses.rotation[0], np.eye(3))
        assert poses.translation[0].tolist() == list(ORIGIN)


def test_curves_are_polynomials_without_a_constant():
    z = np.array([-76.0, 0.0, 84.0])
    found = travelled(CURVES, z)
    assert camber(found) == pytest.approx(np.polyval([2e-5, -0.013, 0.0], z), abs=1e-9)
    assert toe_out(found) == pytest.approx(-0.004 * z, abs=1e-9)
    expected = np.stack([-1e-4 * z**2, 0.02 * z, z], axis=1)
    assert found.translation == pytest.approx(expected)


def test_travel_is_applied_after_steer_by_the_library():
    found = IndependentCorner(CURVES, AXIS).poses(positions(84.0, 30.0)).body
    way = np.array(direction(AXIS))
    steer = Rotation.from_rotvec(np.radians(30.0) * way)
    foot = np.array([0.0, -96.4, 0.0])
    tilt = -np.polyval([2e-5, -0.013, 0.0], 84.0)
    carry = Rotation.from_euler("xz", [tilt, -0.004 * 84.0], degrees=True)
    place = np.array([-1e-4 * 84.0**2, 0.02 * 84.0, 84.0])
    for point in ([0.0, 0.0, 0.0], [300.0, -124.0, 0.0], [0.0, 77.0, 300.0]):
        expected = carry.apply(foot + steer.apply(np.array(point) - foot)) + place
        found_at = found.rotation[0] @ point + found.translation[0]
        assert np.abs(found_at - expected).max() < 1e-9


def test_knuckle_bolts_bring_the_top_of_the_tyre_to_the_strut():
    corner = IndependentCorner(CURVES, AXIS, knuckle_tilt=Tilt(-1.0))
    found = corner.poses(positions(0.0))
    on_strut = in_wheel(found.strut, TOP)[0, 0]
    assert on_strut[1] == pytest.approx(300.0 * np.sin(np.radians(1.0)))
    assert np.array_equal(found.hub.rotation[0], np.eye(3))
    assert camber(found.body)[0] == pytest.approx(-1.0)


def test_top_mount_leans_wheel_and_strut_alike():
    corner = IndependentCorner(CURVES, AXIS, mount_tilt=Tilt(-1.0))
    found = corner.poses(positions(0.0))
    assert np.array_equal(found.strut.rotation[0], np.eye(3))
    assert camber(found.body)[0] == pytest.approx(-1.0)
    assert in_wheel(found.body, TOP)[0, 0, 1] > 5.0


def test_top_mount_carries_the_steering_axis_along():
    # Leaning a 11.8 deg axis by 1 deg is the same as tilting the wheel on a 12.8 deg axis.
    leaned = IndependentCorner(axis=SteeringAxis(11.8), mount_tilt=Tilt(-1.0))
    tilted = IndependentCorner(axis=SteeringAxis(12.8), knuckle_tilt=Tilt(-1.0))
    at = positions(0.0, [-32.0, 0.0, 35.0])
    expected = tilted.poses(at).body.rotation
    assert np.abs(leaned.poses(at).body.rotation - expected).max() < 1e-9


def test_arm_sites_see_steer_but_no_travel():
    corner = IndependentCorner(CURVES, AXIS)
    up, level = corner.poses(positions(84.0, 30.0)), corner.poses(positions(0.0, 30.0))
    assert np.array_equal(up.arm.rotation, level.arm.rotation)
    assert np.array_equal(up.arm.translation, level.arm.translation)
    assert np.array_equal(level.arm.rotation, level.body.rotation)
    assert up.arm.travel[0] == 84.0


def test_static_toe_adds_to_steer():
    toed = IndependentCorner(CURVES, AXIS, static_toe_out=0.5).poses(positions(10.0, 5.0)).body
    assert np.allclose(
        toed.rotation, IndependentCorner(CURVES, AXIS).poses(positions(10.0, 5.5)).body.rotation
    )
