"""A trace loses no point that counts: against all points, measured by shapely."""

import numpy as np
import pytest
from shapely.geometry import Point, Polygon

from generator.geometry.outline import EXAMPLE, section_outline
from generator.geometry.trace import Band, Trace, frontier, joined, least_gaps, serving

OUTLINE = section_outline(EXAMPLE)
POLYGON = Polygon(OUTLINE.points)
BAND = Band(EXAMPLE.centre - 40.0, EXAMPLE.centre + 40.0, EXAMPLE.widest_radius)


def least_by_shapely(points, shift):
    """Least signed distance of points to the outline moved outboard."""
    gaps = []
    for u, r in points:
        point = Point(u - shift, r)
        apart = POLYGON.exterior.distance(point)
        gaps.append(-apart if POLYGON.contains(point) else apart)
    return min(gaps)


def traced(points):
    rows = np.hstack([points, np.zeros((len(points), 6))])
    return Trace(rows[frontier(points, BAND)], 0.0)


def cloud(seed, count, low, high):
    rng = np.random.default_rng(seed)
    return rng.uniform(low, high, (count, 2))


@pytest.mark.parametrize(
    ("low", "high"),
    [
        ((-330.0, 60.0), (-180.0, 330.0)),  # beside the wheel, on the hub's side
        ((140.0, 60.0), (200.0, 330.0)),  # outside
        ((-200.0, 330.0), (120.0, 420.0)),  # over the crown
    ],
)
@pytest.mark.parametrize("seed", range(4))
def test_few_points_give_the_least_gap_of_all(low, high, seed):
    points = cloud(seed, 600, low, high)
    few = traced(points)
    assert len(few.points) < 400
    shifts = np.linspace(-40.0, 40.0, 9)
    gaps, places = least_gaps(few, OUTLINE, shifts)
    for shift, gap, place in zip(shifts, gaps, places, strict=True):
        assert gap == pytest.approx(least_by_shapely(points, shift), abs=0.3)
        own = least_by_shapely(few.points[place : place + 1, :2], shift)
        assert own == pytest.approx(gap, abs=1e-6)


def test_a_bar_is_nearer_by_its_thickness():
    points = np.array([[-200.0, 240.0]])
    bare = least_gaps(traced(points), OUTLINE, np.zeros(1))[0][0]
    thick = Trace(traced(points).points, 8.0)
    assert least_gaps(thick, OUTLINE, np.zeros(1))[0][0] == pytest.approx(bare - 8.0)


def test_an_overlap_too_deep_to_matter_is_still_known_to_be_deep():
    points = cloud(3, 200, (-150.0, 200.0), (-60.0, 300.0))
    exact = least_gaps(traced(points), OUTLINE, np.zeros(1))[0][0]
    rough = least_gaps(traced(points), OUTLINE, np.zeros(1), deepest=-5.0)[0][0]
    assert exact < -5.0
    assert exact - 1e-9 <= rough <= -5.0


@pytest.mark.parametrize("seed", range(3))
def test_what_serves_a_grid_of_shifts_serves_those_between(seed):
    points = cloud(seed, 500, (-260.0, 330.0), (140.0, 420.0))
    whole = traced(points)
    shifts = np.linspace(-40.0, 40.0, 17)
    kept = serving(whole, (OUTLINE,), shifts, slack=5.0)
    assert len(kept.points) <= len(whole.points)
    between = np.random.default_rng(seed).uniform(-40.0, 40.0, 30)
    assert np.allclose(
        least_gaps(kept, OUTLINE, between)[0], least_gaps(whole, OUTLINE, between)[0]
    )


def test_joined_traces_know_what_each_knew():
    left, right = cloud(1, 200, (-300, 300), (-170, 360)), cloud(2, 200, (120, 300), (200, 360))
    both = joined([traced(left), traced(right)], BAND)
    shifts = np.linspace(-40.0, 40.0, 9)
    apart = [least_gaps(traced(each), OUTLINE, shifts)[0] for each in (left, right)]
    assert np.allclose(least_gaps(both, OUTLINE, shifts)[0], np.minimum(*apart), atol=0.15)
