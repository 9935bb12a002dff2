"""Solved linkages: constant lengths, smooth branch, and an honest end of their range."""

import numpy as np
import pytest

from generator.geometry.frames import camber, composed, moved, positions, still, toe_out
from generator.geometry.linkage import (
    Arm,
    DoubleWishbone,
    StrutLinkage,
    TieRod,
    lengths,
    solved,
)
from generator.geometry.linkage_steer import LinkageCorner, bump_steer, rack_for_steer
from generator.geometry.steering import steered
from generator.geometry.steering_axis import axis_through
from generator.geometry.suspension import Tilt, tilted_at_knuckle

# Invented hard points of plausible cars, mm.
LOWER = Arm((150.0, -350.0, -110.0), (-150.0, -350.0, -110.0), (2.0, -70.0, -125.0))
WISHBONE = DoubleWishbone(
    LOWER,
    Arm((100.0, -300.0, 160.0), (-120.0, -300.0, 152.0), (-18.0, -114.0, 165.0)),
    TieRod((-128.0, -340.0, -60.0), (-128.0, -95.0, -62.0)),
)
STRUT = StrutLinkage(
    LOWER,
    on_strut=(-6.0, -135.0, 180.0),
    top_mount=(-25.0, -190.0, 520.0),
    tie_rod=TieRod((130.0, -345.0, -70.0), (130.0, -80.0, -80.0)),
)
BOTH = pytest.mark.parametrize("linkage", [WISHBONE, STRUT], ids=["wishbone", "strut"])
TRAVEL, RACK = (
    each.ravel() for each in np.meshgrid(np.linspace(-80.0, 85.0, 20), np.linspace(-45.0, 45.0, 9))
)


@BOTH
def test_every_length_is_constant_over_travel_and_lock(linkage):
    found = lengths(linkage, solved(linkage, TRAVEL, RACK), RACK)
    assert np.abs(found - lengths(linkage, still(1), 0.0)).max() < 1e-6


@BOTH
def test_the_hub_stands_at_the_asked_travel_on_a_true_rotation(linkage):
    found = solved(linkage, TRAVEL, RACK)
    assert np.abs(found.translation[:, 2] - TRAVEL).max() < 1e-6
    square = found.rotation @ np.swapaxes(found.rotation, 1, 2)
    assert np.abs(square - np.eye(3)).max() < 1e-9
    assert np.abs(np.linalg.det(found.rotation) - 1.0).max() < 1e-9


@BOTH
def test_zero_pose_is_the_static_one(linkage):
    found = LinkageCorner(linkage).poses(positions(0.0))
    for poses in (found.body, found.arm, found.strut, found.hub):
        assert np.abs(poses.rotation[0] - np.eye(3)).max() < 1e-12
        assert np.abs(poses.translation[0]).max() < 1e-9


def test_the_top_mount_stays_on_the_struts_line():
    found = solved(STRUT, TRAVEL, RACK)
    on_strut, top = np.array(STRUT.on_strut), np.array(STRUT.top_mount)
    points = moved(found, np.array([on_strut, top]))
    line = points[:, 1] - points[:, 0]
    away = np.cross(line / np.linalg.norm(line, axis=1, keepdims=True), top - points[:, 0])
    assert np.linalg.norm(away, axis=1).max() < 1e-6


def test_at_zero_travel_a_strut_steers_about_its_ball_joint_and_the_mount():
    # Lower ball joint and top mount both stay in place at that height, so the line through them is
    # the steering axis. The hub rises as it steers: the steered hub says which height to ask for.
    axis = axis_through(STRUT.lower.ball_joint, STRUT.top_mount)
    turn = steered(axis, 15.0)
    height = float(turn.translation[0, 2])
    low, high = -80.0, 80.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        short = toe_out(solved(STRUT, height, middle))[0] < toe_out(turn)[0]
        low, high = (middle, high) if short else (low, middle)
    found = solved(STRUT, height, low)
    assert found.rotation[0] == pytest.approx(turn.rotation[0], abs=1e-6)
    assert found.translation[0] == pytest.approx(turn.translation[0], abs=1e-4)


@BOTH
def test_asked_steer_is_reached_at_zero_travel(linkage):
    steer = np.array([-30.0, -5.0, 0.0, 12.0, 33.0])
    at = positions(0.0, steer)
    found = LinkageCorner(linkage).poses(at)
    assert toe_out(found.body) == pytest.approx(steer, abs=1e-6)
    assert rack_for_steer(linkage, 0.0).tolist() == [0.0]


@BOTH
def test_sweep_is_smooth(linkage):
    z = np.linspace(-80.0, 85.0, 166)
    steps = np.abs(np.diff(camber(solved(linkage, z)), n=2))
    assert steps.max() < 0.01


def test_camber_comes_out_of_the_arms_and_toe_of_the_rod():
    z = np.array([-60.0, 60.0])
    assert camber(solved(WISHBONE, z))[1] < -0.3
    assert np.abs(bump_steer(WISHBONE, z)).max() < 3.0


def test_moved_top_mount_gives_negative_camber():
    shifted = StrutLinkage(
        STRUT.lower, STRUT.on_strut, STRUT.top_mount, STRUT.tie_rod, (0.0, -10.0, 0.0)
    )
    # 10 mm across the 656 mm from ball joint to mount is 0.87 deg; toe and rise take some of it.
    assert camber(solved(shifted, 0.0))[0] == pytest.approx(-0.87, abs=0.06)


def test_knuckle_tilt_is_put_between_wheel_and_knuckle():
    tilt = Tilt(-1.5, z=-120.0)
    plain = LinkageCorner(STRUT).poses(positions(30.0, 10.0))
    tilted = LinkageCorner(STRUT, tilt).poses(positions(30.0, 10.0))
    expected = composed(plain.body, tilted_at_knuckle(tilt))
    assert tilted.body.rotation == pytest.approx(expected.rotation)
    assert tilted.strut.translation[0] == pytest.approx(
        tilted_at_knuckle(tilt).translation[0], abs=1e-12
    )


@BOTH
def test_beyond_its_reach_the_linkage_says_where_it_ends(linkage):
    with pytest.raises(
        ValueError, match=r"no position at travel 400\.0 mm.*ends near travel"
    ) as bad:
        solved(linkage, [10.0, 400.0])
    end = float(str(bad.value).rsplit("ends near travel ", 1)[1].split(" mm")[0])
    assert 85.0 < end < 400.0
    solved(linkage, end - 1.0)


def test_hard_points_that_leave_the_hub_loose_are_refused():
    loose = DoubleWishbone(LOWER, LOWER, WISHBONE.tie_rod)
    with pytest.raises(ValueError, match="no position"):
        solved(loose, 10.0)


def test_steer_beyond_the_linkage_is_refused():
    with pytest.raises(ValueError, match=r"no position|cannot be steered"):
        rack_for_steer(WISHBONE, 89.0)
