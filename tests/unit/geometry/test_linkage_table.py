"""The table of a linkage against the linkage solved pose by pose."""

import numpy as np
import pytest

from generator.geometry.frames import camber, moved, positions, toe_out
from generator.geometry.linkage import (
    Arm,
    DoubleWishbone,
    StrutLinkage,
    TieRod,
    lengths,
    solved,
)
from generator.geometry.linkage_steer import LinkageCorner
from generator.geometry.linkage_table import tabulated
from generator.geometry.suspension import Tilt
from generator.geometry.sweep import swept
from generator.geometry.travel import Locks, MotionRange, TravelLimits

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
LIMITS, LOCKS = TravelLimits(85.0, 80.0), Locks(36.0, 31.0)
# Points of a wheel where it comes near to something.
POINTS = np.array([[300.0, 100.0, 0.0], [-300.0, -150.0, 0.0], [0.0, 0.0, 310.0]])


@pytest.mark.parametrize("linkage", [WISHBONE, STRUT], ids=["wishbone", "strut"])
@pytest.mark.parametrize("tilt", [Tilt(), Tilt(-1.5, z=-120.0)], ids=["plain", "camber bolts"])
def test_the_table_follows_the_linkage_to_a_hundredth_of_a_millimetre(linkage, tilt):
    corner = LinkageCorner(linkage, tilt)
    at = swept(MotionRange(LIMITS, LOCKS))
    by_table, by_solving = tabulated(corner, LIMITS, LOCKS).poses(at), corner.poses(at)
    for seen in ("body", "arm", "strut", "hub"):
        points = [moved(getattr(poses, seen), POINTS) for poses in (by_table, by_solving)]
        assert np.abs(points[0] - points[1]).max() < 0.01, seen


def test_positions_outside_the_table_are_refused():
    table = tabulated(LinkageCorner(WISHBONE), LIMITS, LOCKS)
    with pytest.raises(ValueError, match="outside the tabulated"):
        table.poses(positions(90.0))
    with pytest.raises(ValueError, match="outside the tabulated"):
        table.poses(positions(0.0, 40.0))


def test_a_range_beyond_the_linkage_is_refused():
    with pytest.raises(ValueError, match="no position"):
        tabulated(LinkageCorner(WISHBONE), TravelLimits(400.0, 80.0), LOCKS)


def test_a_wheel_that_does_not_steer_has_a_table_too():
    table = tabulated(LinkageCorner(WISHBONE), LIMITS, Locks())
    assert abs(float(toe_out(table.poses(positions(0.0)).body)[0])) < 1e-6


def test_a_shifted_upper_arm_keeps_all_its_lengths():
    shifted = DoubleWishbone(LOWER, WISHBONE.upper, WISHBONE.tie_rod, (0.0, -5.0, 0.0))
    motions = solved(shifted, [-60.0, 0.0, 70.0])
    rods = lengths(shifted, motions, 0.0)
    assert np.abs(rods - rods[0]).max() < 1e-6
    joint = moved(motions, np.array([WISHBONE.upper.ball_joint]))[:, 0]
    for pivot in (WISHBONE.upper.front_pivot, WISHBONE.upper.rear_pivot):
        moved_pivot = np.add(pivot, (0.0, -5.0, 0.0))
        leg = np.linalg.norm(joint - moved_pivot, axis=1)
        at_rest = np.linalg.norm(np.subtract(WISHBONE.upper.ball_joint, pivot))
        assert np.abs(leg - at_rest).max() < 1e-6


def test_an_upper_arm_shifted_inboard_gives_negative_camber():
    shifted = DoubleWishbone(LOWER, WISHBONE.upper, WISHBONE.tie_rod, (0.0, -5.0, 0.0))
    # 5 mm over the 290 mm between the joints: atan(5/290) = 0.988 degrees, a little less as the
    # joints do not lie straight across.
    assert camber(solved(shifted, 0.0))[0] == pytest.approx(-0.988, abs=0.03)


def test_an_upper_arm_that_is_not_shifted_is_the_plain_one():
    unmoved = DoubleWishbone(LOWER, WISHBONE.upper, WISHBONE.tie_rod, (0.0, 1e-9, 0.0))
    motions = solved(unmoved, [-60.0, 70.0]), solved(WISHBONE, [-60.0, 70.0])
    assert np.abs(motions[0].translation - motions[1].translation).max() < 1e-6
