"""A corner on hard points: it says what the sheet says, and goes the way its joints must."""

from pathlib import Path

import numpy as np
import pytest

from generator.assessment.assess import assess
from generator.assessment.corner import Standing, corner_motion
from generator.assessment.linked import camber_straight_ahead, linkage, with_camber
from generator.geometry.frames import camber, positions, toe_out
from generator.geometry.linkage import lengths, solved
from generator.geometry.linkage_table import LinkageTable
from generator.geometry.steering_axis import axis_through
from generator.geometry.suspension import IndependentCorner
from generator.reading.folder import Found
from generator.records.collect import collect
from generator.records.words import Axle, CamberBy, Side

STRUT = """
chassis:
  front:
    hard_points:
      lower_arm:
        front_pivot: {x: 150 mm, y: -400 mm, z: -110 mm}
        rear_pivot: {x: -150 mm, y: -400 mm, z: -110 mm}
        ball_joint: {x: 8 mm, y: -71 mm, z: -120 mm}
      top_mount: {x: -35 mm, y: -204 mm, z: 516 mm}
      tie_rod:
        inner: {x: 130 mm, y: -345 mm, z: -70 mm}
        outer: {x: 130 mm, y: -80 mm, z: -80 mm}
"""


# Invented joints of a double wishbone, placed so that they say what the sheet of the Sarrik says.
JOINTS = """  hard_points:
    lower_arm:
      front_pivot: {x: 171 mm, y: -495.5 mm, z: -94 mm}
      rear_pivot: {x: -129 mm, y: -495.5 mm, z: -94 mm}
      ball_joint: {x: 11 mm, y: -75.5 mm, z: -120 mm}
    upper_arm:
      front_pivot: {x: 75.5 mm, y: -419 mm, z: 147 mm}
      rear_pivot: {x: -124.5 mm, y: -419 mm, z: 147 mm}
      ball_joint: {x: -14.5 mm, y: -119 mm, z: 162 mm}
    tie_rod:
      inner: {x: -130 mm, y: -486 mm, z: -45 mm}
      outer: {x: -128 mm, y: -104 mm, z: -60 mm}
"""
CHASSIS = Path(__file__).parents[3] / "content_demo" / "chassis"


def read(name, text):
    collected = collect([Found(f"chassis/{name}.yaml", text.encode("utf-8"))])
    assert not collected.faults
    return collected.library.chassis[name].value


@pytest.fixture(scope="module")
def sarrik():
    text = (CHASSIS / "quillane-sarrik.yaml").read_text("utf-8")
    if "hard_points:" not in text:
        text = text.replace("\nrear:\n", f"\n{JOINTS}rear:\n", 1)
    return read("quillane-sarrik", text)


@pytest.mark.parametrize("path", sorted(CHASSIS.glob("*.yaml")), ids=lambda path: path.stem)
def test_a_demo_sheet_with_hard_points_agrees_with_itself(path):
    sheet = read(path.stem, path.read_text("utf-8"))
    for end in (sheet.front, sheet.rear):
        if end.hard_points is None:
            continue
        # A gain on a sheet is a line through readings over the travel, not the tangent.
        motions = solved(linkage(end.hard_points), [-30.0, 30.0])
        gain = float(np.diff(camber(motions))[0]) / 60.0
        assert end.suspension.camber_gain.value == pytest.approx(gain, abs=0.005)


@pytest.fixture(scope="module")
def wishbone(sarrik):
    return linkage(sarrik.front.hard_points)


def test_the_joints_carry_the_sheets_steering_axis(sarrik, wishbone):
    axis = axis_through(wishbone.lower.ball_joint, wishbone.upper.ball_joint)
    steering = sarrik.steering
    # Joints are typed to half a millimetre over 282 mm of height: 0.1 degree.
    assert steering.inclination.value == pytest.approx(axis.inclination, abs=0.1)
    assert steering.caster.value == pytest.approx(axis.caster, abs=0.1)
    assert steering.axis_inset.value == pytest.approx(axis.distance, abs=0.5)
    assert abs(axis.lead) < 0.5


def test_the_linkage_has_the_sheets_gains(sarrik, wishbone):
    motions = solved(wishbone, [-1.0, 1.0])
    suspension = sarrik.front.suspension
    camber_gain = float(np.diff(camber(motions))[0]) / 2.0
    lateral_gain = float(np.diff(motions.translation[:, 1])[0]) / 2.0
    assert suspension.camber_gain.value == pytest.approx(camber_gain, abs=0.001)
    assert suspension.lateral_gain.value == pytest.approx(lateral_gain, abs=0.002)


def test_the_linkage_follows_the_sheets_line_of_camber_near_reference(sarrik, wishbone):
    travel = np.linspace(-30.0, 30.0, 7)
    by_sheet = sarrik.front.suspension.camber_gain.value * travel
    # The line is the tangent of the curve: a tenth of a degree within 30 mm.
    assert np.abs(camber(solved(wishbone, travel)) - by_sheet).max() < 0.1


def test_the_linkage_hardly_steers_over_travel(sarrik, wishbone):
    suspension = sarrik.front.suspension
    ends = [-suspension.droop.value, suspension.bump.value]
    assert np.abs(toe_out(solved(wishbone, ends))).max() < 0.1


def test_the_linkage_reaches_all_travel_and_both_locks(sarrik, wishbone):
    motion = corner_motion(sarrik, Axle.FRONT, Side.BOTH)
    assert isinstance(motion.corner, LinkageTable)
    steering = sarrik.steering
    locks = positions(0.0, [steering.toe_out_lock.value, -steering.toe_in_lock.value])
    reached = toe_out(motion.corner.poses(locks).body)
    assert reached == pytest.approx([36.5, -31.5], abs=0.01)
    held = lengths(wishbone, solved(wishbone, [-72.0, 82.0]), 0.0)
    assert np.abs(held - held[0]).max() < 1e-6


def test_the_rear_of_the_same_car_is_not_solved_so(sarrik):
    assert not isinstance(corner_motion(sarrik, Axle.REAR, Side.LEFT).corner, LinkageTable)


@pytest.mark.parametrize("by", [CamberBy.MOUNT, CamberBy.KNUCKLE, None])
def test_camber_stands_as_the_record_says(sarrik, by):
    changed = Standing(camber=-1.5, camber_by=by)
    motion = corner_motion(sarrik, Axle.FRONT, Side.BOTH, changed)
    # The sheet's camber at reference height is 0.
    assert camber(motion.corner.poses(positions(0.0)).body)[0] == pytest.approx(-1.5, abs=0.002)


def test_camber_of_a_lowered_car_counts_the_linkages_own(sarrik):
    changed = Standing(camber=-2.0, ride_height=-30.0)
    motion = corner_motion(sarrik, Axle.FRONT, Side.BOTH, changed)
    standing = camber(motion.corner.poses(positions(30.0)).body)[0]
    # What the arm was set by is set at reference height; the linkage's own gain is a little
    # different once it is set otherwise.
    assert standing == pytest.approx(-2.0, abs=0.05)


def test_camber_at_the_arm_leaves_the_lower_joint(wishbone):
    set_by_arm = with_camber(wishbone, -1.0)
    assert camber_straight_ahead(set_by_arm) == pytest.approx(-1.0, abs=1e-6)
    assert set_by_arm.lower == wishbone.lower
    assert with_camber(wishbone, 0.0) == wishbone


def test_a_car_beyond_its_linkage_has_no_gap_but_words(case_of):
    stub = STRUT.replace("y: -400 mm", "y: -120 mm")
    case = case_of(stub)
    with pytest.raises(ValueError, match="the linkage has no position"):
        corner_motion(case.chassis.value, Axle.FRONT, Side.BOTH)
    lip = assess(case).front.clearance("fender-lip", Side.BOTH)
    assert lip.least is None
    assert "the linkage has no position" in lip.unknown


def test_a_strut_is_solved_from_its_mount_and_its_gaps_are_near_the_curves(case_of):
    solved_case, curved = case_of(STRUT), case_of("setup: {}")
    motion = corner_motion(solved_case.chassis.value, Axle.FRONT, Side.BOTH)
    assert isinstance(motion.corner, LinkageTable)
    plain = corner_motion(curved.chassis.value, Axle.FRONT, Side.BOTH)
    assert isinstance(plain.corner, IndependentCorner)
    on_joints, on_curves = (
        assess(case).front.clearance("strut-tube", Side.BOTH).least.gap.value
        for case in (solved_case, curved)
    )
    # A part of the knuckle keeps its gap whatever carries the knuckle.
    assert on_joints == pytest.approx(on_curves)


def test_standing_gaps_do_not_depend_on_how_the_wheel_moves(case_of):
    gaps = [
        assess(case_of(overlay + "\nsetup: {front: {camber: left out}}"))
        .front.clearance("fender-lip", Side.BOTH)
        .static.value
        for overlay in (STRUT, "")
    ]
    assert gaps[0] == pytest.approx(gaps[1], abs=0.01)
