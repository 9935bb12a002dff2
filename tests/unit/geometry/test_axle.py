"""Axles: closed form against scipy's root, both sides by mirroring, and the direction of tilt."""

import numpy as np
import pytest
from scipy.optimize import root
from scipy.spatial.transform import Rotation

from generator.geometry import axle, lateral_rod
from generator.geometry.axle import (
    AxleCorner,
    HeldCentre,
    PanhardRod,
    RigidAxle,
    Side,
    TwistBeam,
    rod_across,
)
from generator.geometry.frames import camber, moved, positions, toe_out
from generator.geometry.suspension import Curves, TravelCurve

ROD = rod_across(1015.0, body_height=46.0, axle_height=4.0, body_side=Side.LEFT)
SLANTED = PanhardRod(body_end=(430.0, 95.0), axle_end=(-390.0, -20.0))
RODS = pytest.mark.parametrize("rod", [ROD, SLANTED], ids=["even", "slanted"])


def by_root(rod, width, left, right):
    """Find the axle's place in the plane from its rod and both hubs' heights alone."""

    def errors(unknown):
        shift, heave, tilt = unknown
        turn = Rotation.from_euler("x", tilt).as_matrix()[1:, 1:]
        centre = np.array([shift, heave])
        ends = [centre + turn @ [0.5 * width, 0.0], centre + turn @ [-0.5 * width, 0.0]]
        rod_end = centre + turn @ np.array(rod.axle_end)
        return [
            ends[0][1] - left,
            ends[1][1] - right,
            np.linalg.norm(rod_end - np.array(rod.body_end)) - rod.length,
        ]

    found = root(errors, [0.0, 0.5 * (left + right), (left - right) / width], tol=1e-13)
    assert np.abs(errors(found.x)).max() < 1e-9
    return found.x


@RODS
def test_the_closed_form_agrees_with_a_numerical_root(rod):
    for left, right in ((0, 0), (70, -60), (-60, 70), (85, 85), (-90, -90), (31, 4)):
        shift, _, tilt = by_root(rod, 1428.0, left, right)
        at = positions(float(left), other_travel=float(right))
        found = AxleCorner(RigidAxle(1428.0, rod), Side.LEFT).poses(at).body
        hub = [shift + 714.0 * np.cos(tilt) - 714.0, float(left)]
        assert found.translation[0, 1:] == pytest.approx(hub, abs=1e-7)
        expected = Rotation.from_euler("x", tilt).as_matrix()
        assert np.abs(found.rotation[0] - expected).max() < 1e-9


@RODS
def test_both_wheels_are_on_one_rigid_axle(rod):
    at = positions([70.0, 10.0], other_travel=[-60.0, 85.0])
    other = positions(at.other_travel, other_travel=at.travel)
    left = AxleCorner(RigidAxle(1428.0, rod), Side.LEFT).poses(at).body
    right = AxleCorner(RigidAxle(1428.0, rod), Side.RIGHT).poses(other).body
    flip = np.array([1.0, -1.0, 1.0])
    half = np.array([0.0, 714.0, 0.0])
    on_left = left.translation + half
    on_right = (right.translation + half) * flip
    assert np.linalg.norm(on_left - on_right, axis=1) == pytest.approx(1428.0, abs=1e-9)
    assert np.abs(right.rotation * np.outer(flip, flip) - left.rotation).max() < 1e-12


def test_a_device_in_the_middle_makes_both_sides_alike():
    at = positions([70.0, -60.0, 85.0], other_travel=[-60.0, 70.0, 85.0])
    wheel = RigidAxle(1435.0, HeldCentre(15.0))
    left, right = (AxleCorner(wheel, side).poses(at).body for side in Side)
    assert np.array_equal(left.translation, right.translation)
    assert np.array_equal(left.rotation, right.rotation)


def test_zero_pose_is_the_static_one():
    for location in (ROD, HeldCentre(40.0)):
        found = AxleCorner(RigidAxle(1428.0, location), Side.RIGHT).poses(positions(0.0)).body
        assert np.abs(found.rotation[0] - np.eye(3)).max() < 1e-12
        assert np.abs(found.translation[0]).max() < 1e-9


def test_each_hub_stands_at_exactly_its_travel():
    # With the tangent in place of the sine it would stand 0.3 mm lower.
    at = positions([70.0, -60.0], other_travel=[-60.0, 70.0])
    found = AxleCorner(RigidAxle(1428.0), Side.LEFT).poses(at).body
    assert found.translation[:, 2] == pytest.approx([70.0, -60.0], abs=1e-9)


def test_the_top_of_the_tyre_goes_in_on_the_lifted_side_and_out_on_the_other():
    at = positions([70.0, -60.0], other_travel=[-60.0, 70.0])
    found = AxleCorner(RigidAxle(1380.0), Side.LEFT).poses(at).body
    top = moved(found, np.array([[0.0, 0.0, 290.0]]))[:, 0, 1] - found.translation[:, 1]
    # Worked in common practice: 5.4 deg and 27 mm.
    assert top == pytest.approx([-27.0, 27.0], abs=0.5)
    assert camber(found) == pytest.approx([-5.4, 5.4], abs=0.05)


def test_a_watts_pivot_stays_on_the_middle_plane():
    at = positions([65.0, -60.0, 80.0], other_travel=[-60.0, 65.0, 80.0])
    found = AxleCorner(RigidAxle(1435.0, HeldCentre(15.0)), Side.LEFT).poses(at).body
    pivot = moved(found, np.array([[0.0, -717.5, 15.0]]))[:, 0, 1]
    assert pivot == pytest.approx(-717.5, abs=1e-9)


def test_an_axle_held_off_the_middle_stands_off_by_as_much_on_both_sides_the_other_way():
    # By hand: 4 mm to the left is 4 mm outboard on the left and 4 mm inboard on the right, in every
    # pose; on a level axle nothing else moves it sideways.
    at = positions([0.0, 65.0, -60.0], other_travel=[0.0, -60.0, 65.0])
    off = RigidAxle(1435.0, HeldCentre(15.0, aside=4.0))
    centred = RigidAxle(1435.0, HeldCentre(15.0))
    for side, by in ((Side.LEFT, 4.0), (Side.RIGHT, -4.0)):
        found, middle = (AxleCorner(axle, side).poses(at).body for axle in (off, centred))
        moved_by = found.translation - middle.translation
        assert moved_by[:, 1] == pytest.approx([by, by, by], abs=1e-12)
        assert np.abs(moved_by[:, [0, 2]]).max() == 0.0
    assert AxleCorner(off, Side.LEFT).poses(at).body.translation[0, 1] == pytest.approx(4.0)


def test_lowering_shifts_the_axle_away_from_the_body_bracket_and_the_rod_cures_it():
    # Worked in common practice for this rod: 25 lower 0.7 to the right, 90 droop 7.8 to the left.
    assert axle.lowering_shift(ROD, 25.0) == pytest.approx(-0.7, abs=0.05)
    assert axle.lowering_shift(ROD, -90.0) == pytest.approx(7.8, abs=0.05)
    for rod in (ROD, SLANTED, SLANTED.mirrored()):
        mended = PanhardRod(
            rod.body_end, rod.axle_end, adjustment=axle.centring_adjustment(rod, 40.0)
        )
        assert axle.lowering_shift(mended, 40.0) == pytest.approx(0.0, abs=1e-9)
        aside = PanhardRod(
            rod.body_end, rod.axle_end, adjustment=axle.centring_adjustment(rod, 40.0, shift=-3.0)
        )
        assert axle.lowering_shift(aside, 40.0) == pytest.approx(-3.0, abs=1e-9)


def test_axle_sites_keep_the_zero_pose():
    found = AxleCorner(RigidAxle(1428.0, ROD), Side.LEFT).poses(
        positions([70.0, 85.0], other_travel=[-60.0, 85.0])
    )
    for poses in (found.hub, found.arm, found.strut):
        assert np.abs(poses.rotation - np.eye(3)).max() == 0.0
        assert np.abs(poses.translation).max() == 0.0


def test_a_twist_beam_meets_both_measured_cases():
    beam = TwistBeam(
        Curves(camber=TravelCurve((-0.002,))), single_camber=-0.018, single_toe_out=-0.010
    )
    alone = beam.poses(positions(50.0, other_travel=0.0)).body
    together = beam.poses(positions(50.0)).body
    assert camber(alone)[0] == pytest.approx(-0.018 * 50.0)
    assert toe_out(alone)[0] == pytest.approx(-0.010 * 50.0)
    assert camber(together)[0] == pytest.approx(-0.002 * 50.0)
    assert toe_out(together)[0] == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(
    "call",
    [
        lambda: rod_across(40.0, body_height=46.0, axle_height=4.0, body_side=Side.LEFT),
        lambda: PanhardRod((100.0, 0.0), (100.0, 50.0)),
        lambda: lateral_rod.rod_shift(600.0, 0.0, 601.0),
        lambda: lateral_rod.rod_shift(float("nan"), 0.0, 10.0),
        lambda: axle.lowering_shift(ROD, 1200.0),
        lambda: RigidAxle(0.0),
        lambda: axle.axle_tilt(100.0, 80.0, -80.0),
        lambda: AxleCorner(RigidAxle(1428.0), Side.LEFT).poses(positions(0.0, 5.0)),
        lambda: TwistBeam().poses(positions(0.0, 5.0)),
    ],
)
def test_outside_its_range_a_formula_raises(call):
    with pytest.raises(ValueError, match=r".+"):
        call()
