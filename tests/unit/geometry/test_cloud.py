"""What boxes and bounds pass over is never nearest: against every point, measured by shapely."""

import numpy as np
import pytest
from shapely import distance
from shapely import points as as_points
from shapely.geometry import Polygon

from generator.geometry.cloud import cloud_of, nearest_points, points_near_least
from generator.geometry.frames import positions
from generator.geometry.outline import EXAMPLE, section_outline
from generator.geometry.sampling import sampled
from generator.geometry.shapes import Arc, Block, Extent
from generator.geometry.steering_axis import SteeringAxis
from generator.geometry.suspension import Curves, IndependentCorner, TravelCurve

CORNER = IndependentCorner(
    Curves(camber=TravelCurve((-0.013,)), lateral=TravelCurve((0.02,))),
    SteeringAxis(11.8, 3.9, 96.4),
)
SHAPES = (
    Arc(4.0, 8.0, 366.0, 15.0, 165.0, 92.0),
    Block(x=358.0, y=Extent(-140.0, 70.0), z=Extent(-90.0, 120.0)),
    Block(x=Extent(-215.0, 180.0), y=-214.0, z=Extent(-40.0, 60.0)),
)
WITHIN = 3.0


def everything(seed):
    rng = np.random.default_rng(seed)
    poses = CORNER.poses(positions(rng.uniform(-70, 80, 40), rng.uniform(-30, 30, 40))).body
    clouds = [cloud_of(sampled(shape, 6.0).points, poses) for shape in SHAPES]
    outline = section_outline(EXAMPLE)
    outlines = [outline, outline.at(float(rng.uniform(-40.0, 40.0))), outline]
    return clouds, outlines


def by_shapely(cloud, outline):
    polygon = Polygon(outline.points)
    there = as_points(np.column_stack((cloud.u.ravel(), cloud.r.ravel())))
    outside = distance(polygon, there)
    signed = np.where(outside > 0.0, outside, -distance(polygon.exterior, there))
    return signed.reshape(cloud.u.shape)


@pytest.mark.parametrize("seed", range(4))
def test_every_pose_has_the_least_gap_of_all_its_points(seed):
    clouds, outlines = everything(seed)
    for cloud, outline, found in zip(
        clouds, outlines, nearest_points(clouds, outlines), strict=True
    ):
        every = by_shapely(cloud, outline)
        assert np.abs(found.gaps - every.min(axis=1)).max() < 1e-9
        own = every[np.arange(len(every)), found.points]
        assert np.abs(own - found.gaps).max() < 1e-9


@pytest.mark.parametrize("seed", range(4))
def test_no_pose_that_comes_near_the_least_gap_is_passed_over(seed):
    clouds, outlines = everything(seed)
    found = points_near_least(clouds, outlines, within=[WITHIN] * len(clouds))
    for cloud, outline, (poses, points) in zip(clouds, outlines, found, strict=True):
        every = by_shapely(cloud, outline)
        least = every.min(axis=1)
        assert poses.tolist() == np.flatnonzero(least <= least.min() + WITHIN).tolist()
        assert np.abs(every[poses, points] - least[poses]).max() < 1e-9
