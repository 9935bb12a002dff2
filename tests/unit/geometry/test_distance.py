"""Distances to the section against shapely, where the rule for convex tyres holds and not."""

from dataclasses import replace

import numpy as np
import pytest
from shapely import distance
from shapely import points as as_points
from shapely.geometry import Polygon

from generator.geometry.distance import edges_of, lower_bound, signed_distance
from generator.geometry.outline import EXAMPLE, section_outline

SECTIONS = {
    "usual": EXAMPLE,
    "wide": replace(EXAMPLE, section_width=305.0, tread_width=280.0, diameter=650.0),
    "stretched": replace(EXAMPLE, rim_width=220.0),
    "upright walls": replace(EXAMPLE, rim_width=EXAMPLE.section_width),
    "nearly upright walls": replace(EXAMPLE, rim_width=EXAMPLE.section_width - 1e-5),
    "no flanges": replace(EXAMPLE, flange_inboard=0.0, flange_outboard=0.0),
    "uneven flanges": replace(EXAMPLE, flange_inboard=4.0, flange_outboard=19.0, centre=31.0),
    "rim as wide as the tyre with its flanges": replace(EXAMPLE, rim_width=190.0),
}


def by_shapely(outline, points):
    polygon = Polygon(outline.points)
    there = as_points(points)
    outside = distance(polygon, there)
    return np.where(outside > 0.0, outside, -distance(polygon.exterior, there))


@pytest.mark.parametrize("name", SECTIONS)
def test_every_point_is_as_far_as_shapely_says(name):
    outline = section_outline(SECTIONS[name])
    rng = np.random.default_rng(len(name))
    points = np.column_stack((rng.uniform(-260.0, 260.0, 6000), rng.uniform(90.0, 430.0, 6000)))
    beside = outline.points[rng.integers(0, len(outline.points), 2000)]
    points = np.vstack((points, beside + rng.normal(0.0, 2.0, beside.shape)))
    found = signed_distance(points, outline)
    assert np.abs(found - by_shapely(outline, points)).max() < 1e-9


@pytest.mark.parametrize("name", SECTIONS)
def test_a_vertex_has_no_distance(name):
    outline = section_outline(SECTIONS[name])
    assert np.abs(signed_distance(outline.points, outline)).max() < 1e-9


def test_only_a_tyre_wider_than_its_rim_is_taken_as_convex():
    # By the shape of a parabola: bowed outwards where its control point lies outboard of the bead.
    convex = {name: edges_of(section_outline(each)).convex for name, each in SECTIONS.items()}
    assert convex["usual"]
    assert convex["wide"]
    assert convex["no flanges"]
    assert not convex["stretched"]
    assert not convex["upright walls"]


def test_one_point_alone_has_the_distance_that_it_has_among_others():
    outline = section_outline(EXAMPLE)
    rng = np.random.default_rng(8)
    points = np.column_stack((rng.uniform(-260.0, 260.0, 3000), rng.uniform(90.0, 430.0, 3000)))
    together = signed_distance(points, outline)
    alone = [signed_distance(points[at : at + 1], outline)[0] for at in range(300)]
    assert together[:300].tolist() == alone
    assert together[1000:1777].tolist() == signed_distance(points[1000:1777], outline).tolist()


def test_numbers_that_are_not_finite_have_no_distance():
    with pytest.raises(ValueError, match="finite"):
        signed_distance(np.array([[np.nan, 300.0]]), section_outline(EXAMPLE))


def test_the_bound_holds_under_the_rim_too():
    outline = section_outline(EXAMPLE)
    rng = np.random.default_rng(5)
    points = np.column_stack((rng.uniform(-300.0, 300.0, 5000), rng.uniform(0.0, 480.0, 5000)))
    bound = lower_bound(points[:, 0], points[:, 1], outline)
    assert (bound <= by_shapely(outline, points) + 1e-9).all()
