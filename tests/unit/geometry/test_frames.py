"""Rigid motions against scipy's rotations, and the handedness of every angle."""

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from generator.geometry import frames
from generator.geometry.frames import Motions, Poses, positions

RNG = np.random.default_rng(20)
AXES = RNG.normal(size=(200, 3))
ANGLES = RNG.uniform(-360.0, 360.0, 200)


def library(axes, angles):
    unit = axes / np.linalg.norm(axes, axis=1, keepdims=True)
    return Rotation.from_rotvec(unit * np.radians(angles)[:, None])


def some_motions(count=50):
    return Motions(
        Rotation.random(count, random_state=7).as_matrix(), RNG.normal(scale=100.0, size=(count, 3))
    )


def test_rotations_agree_with_the_library():
    expected = library(AXES, ANGLES).as_matrix()
    assert np.abs(frames.rotations(AXES, ANGLES) - expected).max() < 1e-9


def test_attitudes_agree_with_the_library_and_read_back():
    camber, toe = RNG.uniform(-20, 20, 50), RNG.uniform(-40, 40, 50)
    expected = Rotation.from_euler("xz", np.stack([-camber, toe], axis=1), degrees=True)
    found = frames.attitudes(camber, toe)
    assert np.abs(found - expected.as_matrix()).max() < 1e-9
    motions = Motions(found, np.zeros((50, 3)))
    assert frames.camber(motions) == pytest.approx(camber, abs=1e-9)
    assert frames.toe_out(motions) == pytest.approx(toe, abs=1e-9)


def test_composition_agrees_with_moving_twice_by_the_library():
    outer, inner = some_motions(), some_motions()
    points = RNG.normal(scale=300.0, size=(11, 3))
    once = frames.composed(outer, inner)
    for pose in range(50):
        first = Rotation.from_matrix(inner.rotation[pose]).apply(points) + inner.translation[pose]
        expected = Rotation.from_matrix(outer.rotation[pose]).apply(first) + outer.translation[pose]
        assert np.abs(frames.moved(once, points)[pose] - expected).max() < 1e-9


def test_inverse_undoes_and_wheel_points_come_back():
    motions, points = some_motions(), RNG.normal(scale=300.0, size=(11, 3))
    back = frames.composed(frames.inverted(motions), motions)
    assert np.abs(back.rotation - np.eye(3)).max() < 1e-9
    assert np.abs(back.translation).max() < 1e-9
    poses = frames.labelled(motions, positions(np.arange(50.0)))
    for pose in range(50):
        on_body = motions.rotation[pose] @ points.T + motions.translation[pose][:, None]
        found = frames.in_wheel(poses, on_body.T)[pose]
        assert np.abs(found - points).max() < 1e-9


def test_a_turn_leaves_every_point_of_its_line_in_place():
    turn = frames.turns((1.0, 2.0, 3.0), [10.0, 200.0], through=(4.0, 5.0, 6.0))
    line = np.array([4.0, 5.0, 6.0]) + np.outer([-50.0, 0.0, 70.0], [1.0, 2.0, 3.0])
    assert np.abs(frames.moved(turn, line) - line).max() < 1e-9


def test_mirroring_twice_changes_nothing_and_once_reflects_points():
    motions, points = some_motions(), RNG.normal(scale=300.0, size=(11, 3))
    flip = np.array([1.0, -1.0, 1.0])
    seen = frames.moved(frames.mirrored(motions), points * flip) * flip
    assert np.abs(seen - frames.moved(motions, points)).max() < 1e-9
    assert np.array_equal(frames.mirrored(frames.mirrored(motions)).rotation, motions.rotation)


def test_joined_and_selected_poses_keep_their_labels():
    poses = frames.labelled(
        some_motions(), positions(np.arange(50.0), 3.0, other_travel=-np.arange(50.0))
    )
    both = frames.joined(poses, frames.selected(poses, [4, 2]))
    assert both.travel[-2:].tolist() == [4.0, 2.0]
    assert both.other_travel[-1] == -2.0
    assert np.array_equal(both.rotation[-1], poses.rotation[2])


@pytest.mark.parametrize("broken", [np.nan, np.inf])
def test_a_number_that_is_not_finite_never_becomes_a_pose(broken):
    with pytest.raises(ValueError, match="finite"):
        positions([0.0, broken])
    rotation = np.eye(3)[None].copy()
    rotation[0, 1, 2] = broken
    zero = np.zeros(1)
    with pytest.raises(ValueError, match="finite"):
        Poses(rotation, np.zeros((1, 3)), zero, zero, zero)


def test_rows_of_unequal_length_are_refused():
    with pytest.raises(ValueError, match="equal"):
        frames.Positions(np.zeros(2), np.zeros(3), np.zeros(2))
    with pytest.raises(ValueError, match="equal"):
        Poses(np.eye(3)[None], np.zeros((2, 3)), np.zeros(1), np.zeros(1), np.zeros(1))


def test_an_axis_without_length_is_refused():
    with pytest.raises(ValueError, match="axis"):
        frames.rotations((0.0, 0.0, 0.0), 10.0)
