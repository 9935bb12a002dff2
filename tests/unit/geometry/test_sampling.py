"""Sampling: the stated chord error holds against a rounded body, whole and near a point."""

import numpy as np
import pytest
from shapely.geometry import LineString, Point

from generator.geometry.sampling import LEAST_ROUNDING, sampled, sampled_near
from generator.geometry.shapes import Arc, Block, Extent, Polyline, RoundBar

RNG = np.random.default_rng(11)


def ball_gap(points, centre):
    return np.linalg.norm(points - centre, axis=1).min() - LEAST_ROUNDING


@pytest.mark.parametrize("error", [2.0, 0.5, 0.1])
def test_points_of_a_line_miss_no_more_than_the_chord_error(error):
    line = Polyline(((0.0, 0.0, 0.0), (180.0, 0.0, 40.0), (200.0, 0.0, 190.0)))
    exact = LineString([(0, 0), (180, 40), (200, 190)])
    points = sampled(line, error).points
    for x, z in RNG.uniform(-80.0, 280.0, (200, 2)):
        true = exact.distance(Point(x, z)) - LEAST_ROUNDING
        if true > 0.0:
            assert -1e-9 <= ball_gap(points, (x, 0.0, z)) - true <= error


@pytest.mark.parametrize("error", [2.0, 0.5])
def test_points_of_a_panel_miss_no_more_than_the_chord_error(error):
    panel = Block(x=0.0, y=Extent(-140.0, 70.0), z=Extent(-90.0, 120.0))
    points = sampled(panel, error).points
    for centre in RNG.uniform((30.0, -200.0, -150.0), (90.0, 120.0, 180.0), (200, 3)):
        nearest = np.array(
            [0.0, np.clip(centre[1], -140.0, 70.0), np.clip(centre[2], -90.0, 120.0)]
        )
        true = float(np.linalg.norm(centre - nearest)) - LEAST_ROUNDING
        assert -1e-9 <= ball_gap(points, centre) - true <= error


def test_points_of_an_arc_miss_no_more_than_the_chord_error():
    points = sampled(Arc(0.0, 0.0, 366.0, 15.0, 165.0, 92.0), 0.5).points
    for angle in RNG.uniform(np.radians(20.0), np.radians(160.0), 200):
        for reach in (300.0, 430.0):
            centre = np.array([reach * np.cos(angle), 92.0, reach * np.sin(angle)])
            true = abs(366.0 - reach) - LEAST_ROUNDING
            assert -1e-9 <= ball_gap(points, centre) - true <= 0.5


def test_a_solid_is_sampled_on_its_faces():
    box = sampled(Block(Extent(0.0, 60.0), Extent(0.0, 40.0), Extent(0.0, 50.0)), 0.5).points
    on_face = (box == 0.0) | (box == [60.0, 40.0, 50.0])
    assert on_face.any(axis=1).all()
    assert box.min(0).tolist() == [0.0, 0.0, 0.0]
    assert box.max(0).tolist() == [60.0, 40.0, 50.0]


def test_sampling_near_a_point_finds_what_the_coarse_one_missed():
    rail = Block(x=Extent(-215.0, 180.0), y=-314.0, z=Extent(-40.0, 60.0))
    centre = np.array([33.3, -280.0, 11.1])
    coarse = sampled(rail, 4.0)
    nearest = int(np.argmin(np.linalg.norm(coarse.points - centre, axis=1)))
    fine = sampled_near(rail, coarse.parameters[nearest], reach=25.0, chord_error=0.01)
    assert np.linalg.norm(fine.points - centre, axis=1).min() == pytest.approx(34.0, abs=0.01)
    assert fine.points[:, 0].min() >= -215.0
    assert len(fine.points) < 3000


def test_sampling_near_an_end_stays_on_the_shape():
    bar = RoundBar(((0.0, 0.0, 0.0), (50.0, 0.0, 0.0)), 5.0)
    fine = sampled_near(bar, np.array([1.0, 0.0, 0.0]), reach=10.0, chord_error=0.1)
    assert fine.points[:, 0].min() == pytest.approx(40.0)
    assert fine.points[:, 0].max() == pytest.approx(50.0)
    assert fine.thickness == 5.0


@pytest.mark.parametrize("error", [0.0, -1.0, float("nan"), float("inf")])
def test_a_chord_error_is_above_zero(error):
    with pytest.raises(ValueError, match="chord error"):
        sampled(Block(0.0, 0.0, 0.0), error)
