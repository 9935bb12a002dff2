from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from generator.geometry.outline import (
    EXAMPLE,
    TyreSection,
    finer_vertices,
    largest_deviation,
    section_outline,
    tyre_section,
    vertices,
)
from generator.geometry.tyre import TyreDimensions, nominal_dimensions
from generator.geometry.wheel import WheelDimensions, wheel_position
from generator.quantities.estimate import Basis, Estimate


@st.composite
def sections(draw):
    inches = draw(st.integers(12, 20))
    section = draw(st.floats(130.0, 330.0))
    bead = 25.4 * inches - 0.8
    return TyreSection(
        centre=draw(st.floats(-80.0, 60.0)),
        section_width=section,
        tread_width=section * draw(st.floats(0.70, 1.0)),
        diameter=bead + 2.0 * draw(st.floats(75.0, 190.0)),
        rim_width=section * draw(st.floats(0.65, 1.05)),
        bead_seat_diameter=bead,
        flange_inboard=draw(st.floats(6.0, 18.0)),
        flange_outboard=draw(st.floats(6.0, 18.0)),
    )


def known(value, u=0.0):
    return Estimate(value, u, Basis.MEASURED)


@given(sections())
def test_outline_is_a_simple_polygon_through_its_named_points(section):
    outline = section_outline(section)
    polygon = Polygon(outline.points)
    assert polygon.is_valid
    x = outline.points[:, 0] - section.centre
    r = outline.points[:, 1]
    assert np.isclose(r.max(), section.diameter / 2.0)
    assert np.isclose(r.min(), section.bead_seat_diameter / 2.0 - 17.5)  # common practice
    half = max(section.section_width / 2.0, section.rim_width / 2.0 + section.flange_outboard)
    assert np.isclose(x.max(), half)
    widest = (section.diameter + section.bead_seat_diameter) / 4.0
    tread_edge = (section.tread_width / 2.0, section.diameter / 2.0 - 0.03 * section.tread_width)
    bead = (section.rim_width / 2.0, section.bead_seat_diameter / 2.0 + 17.3)
    for named in ((section.section_width / 2.0, widest), tread_edge, bead):
        for side in (1.0, -1.0):
            assert np.min(np.hypot(x - side * named[0], r - named[1])) < 1e-9


@given(sections())
def test_tyre_is_convex_above_its_widest_point(section):
    points = vertices(section)
    points = points[points[:, 1] >= section.widest_radius - 1e-9]
    points = points[np.abs(points[:, 0] - section.centre) <= section.section_width / 2.0 + 1e-9]
    along = np.diff(points, axis=0)
    turns = along[:-1, 0] * along[1:, 1] - along[:-1, 1] * along[1:, 0]
    assert (turns <= 1e-9).all()


@settings(max_examples=25)
@given(sections())
def test_polygon_errs_by_less_than_a_tenth_against_the_refined_curve(section):
    # shapely's Hausdorff distance to the same curve with forty times the chords
    usual, fine = Polygon(vertices(section)), Polygon(finer_vertices(section, 40))
    error = usual.exterior.hausdorff_distance(fine.exterior)
    assert error < 0.1
    assert error <= largest_deviation(section) * 1.01 + 1e-9


@given(sections())
def test_tangents_match_where_the_curves_meet(section):
    points = finer_vertices(section, 200)
    x, r = points[:, 0] - section.centre, points[:, 1]
    edge = section.tread_edge_radius
    meeting = (
        (section.section_width / 2.0, section.widest_radius),
        (section.tread_width / 2.0, edge),
    )
    for u, at in meeting:
        if section.tread_width > 0.995 * section.section_width:
            continue  # a tread as wide as the section has a true corner
        k = int(np.argmin(np.hypot(x - u, r - at)))
        before, after = points[k] - points[k - 1], points[k + 1] - points[k]
        cosine = before @ after / np.linalg.norm(before) / np.linalg.norm(after)
        assert cosine > np.cos(np.radians(3.0))


@given(sections(), st.floats(-50.0, 50.0))
def test_moved_outline_is_the_outline_of_the_moved_section(section, by):
    moved = section_outline(section).at(by)
    fresh = section_outline(replace(section, centre=section.centre + by))
    assert np.allclose(moved.points, fresh.points, atol=1e-9)
    assert np.allclose(moved.support_distances, fresh.support_distances, atol=1e-9)
    assert np.isclose(moved.section.centre, fresh.section.centre)


@given(sections())
def test_outline_with_flanges_exchanged_is_the_mirror_image(section):
    turned = replace(
        section,
        centre=-section.centre,
        flange_inboard=section.flange_outboard,
        flange_outboard=section.flange_inboard,
    )
    mirrored = Polygon(vertices(turned) * (-1.0, 1.0))
    assert Polygon(vertices(section)).symmetric_difference(mirrored).area < 1e-6


def test_outline_cannot_be_written_to():
    outline = section_outline(EXAMPLE)
    with pytest.raises(ValueError, match="read-only"):
        outline.points[0, 0] = 0.0


def test_sections_that_do_not_exist_are_refused():
    for change in (
        {"tread_width": 202.0},
        {"tread_width": 0.0},
        {"diameter": 380.0},
        {"rim_width": 0.0},
        {"flange_inboard": -1.0},
        {"centre": float("nan")},
        {"section_width": float("nan")},
        {"diameter": float("nan")},
    ):
        with pytest.raises(ValueError, match=r"."):
            replace(EXAMPLE, **change)


def test_section_is_made_of_the_best_values_of_wheel_and_tyre():
    wheel = WheelDimensions(
        known(152.4), offset=known(24.0), flange_inboard=known(11.0), flange_outboard=known(14.0)
    )
    place = wheel_position(wheel, known(6.0))
    unmeasured = tyre_section(place, nominal_dimensions(200.0, 609.0), bead_seat_diameter=354.8)
    assert (unmeasured.centre, unmeasured.flange_inboard) == (-18.0, 11.0)
    assert np.isclose(unmeasured.tread_width, 0.86 * 200.0)  # common practice
    wide = TyreDimensions(known(200.0), known(204.0), known(609.0))
    assert tyre_section(place, wide, bead_seat_diameter=354.8).section_width == 204.0
