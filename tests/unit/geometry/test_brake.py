import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point

from generator.geometry.brake import (
    SectionLine,
    barrel_gap,
    barrel_gap_with_spacer,
    bore_clearance,
    cap_gap,
    level_barrel,
    level_spokes,
    locate_barrel,
    locate_spokes,
    remaining_pilot,
    spoke_gap,
    spoke_gap_with_spacer,
)
from generator.quantities.estimate import Basis, Estimate

# an invented caliper: hub outward, then inboard along its largest radius
CALIPER = SectionLine(((2.0, 66.0), (4.0, 96.0), (3.0, 138.0), (-12.0, 151.0), (-88.0, 151.0)))
BARREL = SectionLine(((-110.0, 176.0), (-60.0, 172.0), (-40.0, 160.0), (20.0, 160.0)))
SPOKES = SectionLine(((30.0, 50.0), (22.0, 120.0), (26.0, 158.0)))


def known(value, u=0.0):
    return Estimate(value, u, Basis.MEASURED)


def test_gaps_agree_with_shapely_in_five_hundred_random_cases():
    # shapely's distance of two lines, where they do not overlap
    rng = np.random.default_rng(2)
    for _ in range(500):
        spacer = float(rng.uniform(0, 30))
        u = np.sort(rng.uniform(-120, 20, 6))
        barrel = SectionLine(tuple(zip(u, rng.uniform(152, 190, 6), strict=True)))
        r = np.sort(rng.uniform(50, 160, 5))
        spokes = SectionLine(tuple(zip(rng.uniform(5, 60, 5), r, strict=True)))
        brake = LineString(CALIPER.points)
        for found, line in (
            (barrel_gap(CALIPER, barrel, spacer=spacer), barrel.moved(spacer)),
            (spoke_gap(CALIPER, spokes, spacer=spacer), spokes.moved(spacer)),
        ):
            assert math.isclose(brake.distance(LineString(line.points)), found.gap, abs_tol=1e-9)
            assert brake.distance(Point(found.brake)) < 1e-9
            assert LineString(line.points).distance(Point(found.wheel)) < 1e-9
            assert math.isclose(math.dist(found.brake, found.wheel), found.gap, abs_tol=1e-9)


def test_drop_centre_brought_over_the_caliper_takes_the_gap():
    # by hand: the caliper's corner (−12, 151) lies under the drop centre at 160 already; with the
    # flank moved outboard by 20 the wider part stands over it
    assert math.isclose(9.0, barrel_gap(CALIPER, BARREL).gap)
    narrow_inboard = SectionLine(((-110.0, 156.0), (-100.0, 156.0), (-90.0, 170.0), (20.0, 170.0)))
    assert math.isclose(5.0, barrel_gap(CALIPER, narrow_inboard, spacer=15.0).gap)
    assert barrel_gap(CALIPER, narrow_inboard).gap > 5.0


def test_overlap_is_negative_by_the_depth_of_its_deepest_vertex():
    assert math.isclose(-3.0, barrel_gap(CALIPER, level_barrel().moved(0.0, 148.0)).gap)
    assert math.isclose(-2.0, spoke_gap(CALIPER, level_spokes().moved(2.0)).gap)
    pin = SectionLine(((-50.0, 149.0), (-45.0, 180.0)))
    assert math.isclose(-2.0, barrel_gap(CALIPER, pin).gap)


def test_lines_that_only_cross_are_not_free():
    across = SectionLine(((-20.0, 150.0), (-20.0, 152.0)))
    found = barrel_gap(CALIPER, across)
    assert not found.gap > 0.0


@given(st.floats(0.0, 40.0))
def test_spoke_gap_to_a_plane_moves_one_to_one_with_the_spacer(spacer):
    plane = level_spokes().moved(20.0)
    assert math.isclose(16.0 + spacer, spoke_gap(CALIPER, plane, spacer=spacer).gap)


@settings(max_examples=40)
@given(st.floats(1.0, 20.0), st.floats(0.0, 20.0), st.floats(0.0, 20.0))
def test_line_located_by_a_measured_gap_gives_that_gap_and_serves_other_spacers(gap, here, there):
    barrel = locate_barrel(CALIPER, BARREL, measured=gap, spacer=here)
    assert math.isclose(gap, barrel_gap(CALIPER, barrel, spacer=here).gap, abs_tol=1e-6)
    spokes = locate_spokes(CALIPER, SPOKES, measured=gap, spacer=here)
    assert math.isclose(gap, spoke_gap(CALIPER, spokes, spacer=here).gap, abs_tol=1e-6)
    flat = locate_spokes(CALIPER, level_spokes(), measured=gap, spacer=here)
    if gap + there - here > 0.0:
        expected = gap + there - here
        assert math.isclose(expected, spoke_gap(CALIPER, flat, spacer=there).gap, abs_tol=1e-6)
        elsewhere = spoke_gap_with_spacer(known(gap), measured_with=here, spacer=there)
        assert math.isclose(expected, elsewhere.value, abs_tol=1e-9)


@given(st.floats(152.0, 200.0), st.floats(0.0, 30.0))
def test_larger_barrel_never_loses_its_gap(radius, more):
    small = barrel_gap(CALIPER, level_barrel().moved(0.0, radius)).gap
    assert barrel_gap(CALIPER, level_barrel().moved(0.0, radius + more)).gap >= small - 1e-9


def test_measured_gap_stays_as_it_is_with_its_own_spacer():
    assert barrel_gap_with_spacer(known(6.0, 0.5), measured_with=5.0, spacer=5.0) == known(6.0, 0.5)
    assert spoke_gap_with_spacer(known(6.0, 0.5), measured_with=5.0, spacer=5.0) == known(6.0, 0.5)
    moved = barrel_gap_with_spacer(known(6.0, 0.5), measured_with=5.0, spacer=0.0)
    assert moved.u > 0.5
    assert moved.basis is Basis.INFERRED


def test_gap_that_no_place_gives_is_refused():
    beside = SectionLine(((100.0, 160.0), (120.0, 160.0)))
    with pytest.raises(ValueError, match="no place"):
        locate_barrel(CALIPER, beside, measured=1.0)


def test_lines_and_thicknesses_that_are_unknown_are_refused():
    with pytest.raises(ValueError, match="one point"):
        SectionLine(())
    for points in (((math.nan, 100.0),), ((0.0, math.inf),), ((0.0, -1.0),)):
        with pytest.raises(ValueError, match="finite points"):
            SectionLine(points)
    for spacer in (-1.0, math.nan):
        with pytest.raises(ValueError, match="zero or more"):
            barrel_gap(CALIPER, BARREL, spacer=spacer)


def test_pilot_is_what_snout_has_beyond_spacer_and_chamfer():
    # by hand: 9 − 5 − 1 and 9 − 10, the second leaves none
    left = remaining_pilot(known(9.0, 0.3), known(5.0, 0.4), bore_chamfer=1.0)
    assert math.isclose(3.0, left.value)
    assert math.isclose(0.5, left.u)
    assert remaining_pilot(known(9.0), known(10.0)).value < 0.0


def test_bore_smaller_than_the_snout_does_not_go_on():
    assert bore_clearance(known(60.0), known(61.5)).value < 0.0


def test_cap_gains_room_from_the_spacer():
    # by hand: pocket 38 + spacer 5 − cap 41
    assert math.isclose(
        2.0, cap_gap(known(41.0), pocket_depth=known(38.0), spacer=known(5.0)).value
    )
    assert cap_gap(known(41.0), pocket_depth=known(38.0), spacer=known(0.0)).value < 0.0
