"""The least gap over a sweep against looking everywhere: dense poses and dense points."""

import numpy as np
import pytest

from generator.geometry.clearance import gaps_by_pose
from generator.geometry.frames import positions
from generator.geometry.nearest import Target, least_of, nearest_of
from generator.geometry.outline import EXAMPLE, section_outline
from generator.geometry.sampling import sampled
from generator.geometry.shapes import Arc, Attachment, Block, Extent, Polyline
from generator.geometry.steering_axis import SteeringAxis
from generator.geometry.suspension import Curves, IndependentCorner, TravelCurve
from generator.geometry.sweep import swept
from generator.geometry.travel import Locks, MotionRange, TravelLimits, lock_share

CORNER = IndependentCorner(
    Curves(camber=TravelCurve((-0.013,)), lateral=TravelCurve((0.02,))),
    SteeringAxis(11.8, 3.9, 96.4),
)
REACH = MotionRange(TravelLimits(84.0, 76.0), Locks(37.5, 32.0))
OUTLINE = section_outline(EXAMPLE)
SHAPES = {
    "lip": Arc(4.0, 8.0, 366.0, 15.0, 165.0, 92.0),
    "panel": Block(x=358.0, y=Extent(-140.0, 70.0), z=Extent(-90.0, 120.0)),
    "edge": Block(x=Extent(-215.0, 180.0), y=-314.0, z=Extent(-40.0, 60.0)),
    "rod": Polyline(((45.0, -205.0, -118.0), (345.0, -346.0, -84.0))),
}


def target(shape, centre=0.0) -> Target:
    return Target(sampled(shape, 3.0), OUTLINE.at(centre), Attachment.BODY, CORNER, REACH)


def everywhere() -> "np.ndarray":
    travel = np.linspace(-REACH.limits.droop, REACH.limits.bump, 49)
    shares = np.linspace(-1.0, 1.0, 61)
    rows = []
    for z in travel:
        share = lock_share(REACH.limits, float(z))
        locks = np.where(shares > 0.0, REACH.locks.toe_out, REACH.locks.toe_in)
        rows += [(z, steer) for steer in share * locks * shares]
    return np.asarray(rows)


@pytest.mark.parametrize("name", SHAPES)
def test_the_least_gap_is_right_to_a_tenth_of_a_millimetre(name):
    shape = SHAPES[name]
    found = least_of([target(shape)])[0]
    rows = everywhere()
    poses = CORNER.poses(positions(rows[:, 0], rows[:, 1])).body
    dense = gaps_by_pose(sampled(shape, 0.3).points, poses, OUTLINE).gaps.min()
    # The dense grid is itself up to 0.3 mm of points and its own steps too high, never too low.
    assert dense - 0.6 < found.gap < dense + 0.1


@pytest.mark.parametrize("name", SHAPES)
def test_the_search_along_a_shape_ends_at_the_nearest_of_dense_points(name):
    shape = SHAPES[name]
    poses = CORNER.poses(swept(REACH)).body
    near = nearest_of([target(shape)], [swept(REACH)])[0].gaps
    dense = gaps_by_pose(sampled(shape, 0.02).points, poses, OUTLINE).gaps
    assert (near <= dense + 0.02).all()
    assert (near >= dense - 0.04).all()


def test_shapes_searched_together_are_found_as_alone():
    targets = [target(shape, shift) for shift in (0.0, -35.0, 60.0) for shape in SHAPES.values()]
    alone = [least_of([each])[0] for each in targets]
    assert list(least_of(targets)) == alone
    assert list(least_of(targets[::-1])) == alone[::-1]


def test_shapes_looked_at_together_are_as_near_as_alone():
    targets = [target(shape, shift) for shift in (0.0, 60.0) for shape in SHAPES.values()]
    at = [positions(np.linspace(-70.0, 80.0, 5 + place)) for place in range(len(targets))]
    together = nearest_of(targets, at)
    for one, there, found in zip(targets, at, together, strict=True):
        assert nearest_of([one], [there])[0].gaps.tolist() == found.gaps.tolist()
