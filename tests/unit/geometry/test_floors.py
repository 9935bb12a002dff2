"""Floors of a gap against the least gap of dense points on the part of the shape within reach."""

import numpy as np
import pytest

from generator.geometry.clearance import poses_to_ur
from generator.geometry.distance import signed_distance
from generator.geometry.floors import floors
from generator.geometry.frames import positions
from generator.geometry.outline import EXAMPLE, section_outline
from generator.geometry.shapes import Arc, Block, Extent, Polyline, Ramp, Shifted
from generator.geometry.steering_axis import SteeringAxis
from generator.geometry.straight import rows_of
from generator.geometry.suspension import Curves, IndependentCorner, TravelCurve

OUTLINE = section_outline(EXAMPLE)
CORNER = IndependentCorner(
    Curves(camber=TravelCurve((-0.013,)), lateral=TravelCurve((0.02,))),
    SteeringAxis(11.8, 3.9, 96.4),
)
FLAT = {
    "panel": Block(x=358.0, y=Extent(-140.0, 70.0), z=Extent(-90.0, 120.0)),
    "rail": Block(x=Extent(-215.0, 180.0), y=-214.0, z=Extent(-40.0, 60.0)),
    "tube": Block(x=Extent(-25.0, 25.0), y=Ramp(-139.0, -154.0), z=Ramp(200.0, 300.0)),
    "lump": Block(x=Extent(300.0, 350.0), y=Extent(-60.0, 20.0), z=Extent(-20.0, 90.0)),
    "edge, moved": Shifted(Block(x=Extent(-200.0, 200.0), y=80.0, z=300.0), (0.0, 6.0, 9.0)),
    "near the axis": Block(x=Extent(-40.0, 40.0), y=-140.0, z=Extent(-30.0, 30.0)),
}


def starts(shape, count, seed):
    rng = np.random.default_rng(seed)
    used = np.array(shape.sizes()) > 0.0
    return np.where(used, rng.uniform(0.0, 1.0, (count, 3)), 0.0)


def floor_of(shape, begun, rotation, translation, *, left):
    beside = Block(x=Extent(0.0, 9.0), y=Extent(0.0, 9.0), z=Extent(0.0, 9.0))
    owner = np.ones(len(begun), dtype=int)
    pose = {"rotation": rotation, "translation": translation}
    return floors(rows_of([beside, shape]), owner, OUTLINE, begun, **pose, left=left)


@pytest.mark.parametrize("left", [4.5, 22.5])
@pytest.mark.parametrize("name", FLAT)
def test_no_point_within_reach_is_below_the_floor(name, left):
    shape = FLAT[name]
    sizes = np.array(shape.sizes())
    travel, steer = np.linspace(-70.0, 80.0, 24), np.linspace(-30.0, 30.0, 24)
    poses = CORNER.poses(positions(travel, steer)).body
    begun = starts(shape, len(poses), len(name))
    found = floor_of(shape, begun, poses.rotation, poses.translation, left=left)
    reach = np.where(sizes > 0.0, left / np.where(sizes > 0.0, sizes, 1.0), 0.0)
    grid = np.stack([each.ravel() for each in np.meshgrid(*[np.linspace(-1, 1, 11)] * 3)], axis=1)
    for at, start in enumerate(begun):
        near = np.unique(np.clip(start + grid * reach, 0.0, 1.0), axis=0)
        pose = poses.rotation[at : at + 1], poses.translation[at : at + 1]
        seen = poses_to_ur(shape.at(near), *pose)[0]
        assert found[at] <= signed_distance(seen, OUTLINE).min() + 1e-9


def test_a_floor_above_a_flat_roof_is_all_but_reached():
    # By hand: the crown is level in its middle, so a level rail over it comes no nearer.
    rail = Block(x=0.0, y=Extent(-200.0, 200.0), z=EXAMPLE.diameter / 2.0 + 50.0)
    middle = np.array([[0.0, (200.0 + EXAMPLE.centre) / 400.0, 0.0]])
    rotation, translation = np.eye(3)[None], np.zeros((1, 3))
    found = floor_of(rail, middle, rotation, translation, left=4.5)
    assert found[0] == pytest.approx(50.0, abs=0.5)
    assert found[0] <= 50.0


@pytest.mark.parametrize(
    "shape",
    [
        Arc(4.0, 8.0, 366.0, 15.0, 165.0, 92.0),
        Polyline(((0, -200, 0), (300, -300, 0), (300, 0, 9))),
    ],
)
def test_a_bent_shape_has_no_floor(shape):
    rotation, translation = np.eye(3)[None], np.zeros((1, 3))
    found = floor_of(shape, np.zeros((1, 3)), rotation, translation, left=4.5)
    assert found.tolist() == [-np.inf]
