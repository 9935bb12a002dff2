import math
import time
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import cKDTree
from scipy.spatial.transform import Rotation
from shapely import distance
from shapely import points as as_points
from shapely.geometry import LineString, Polygon

from generator.geometry.clearance import (
    SectionPoint,
    closest,
    densify,
    gaps_by_pose,
    least_gap,
    poses_to_ur,
)
from generator.geometry.distance import lower_bound, signed_distance
from generator.geometry.frames import Motions, labelled, positions
from generator.geometry.gradient import gap_gradient, gap_uncertainty
from generator.geometry.outline import (
    EXAMPLE,
    TyreSection,
    finer_vertices,
    section_outline,
    tyre_section,
    vertices,
)
from generator.geometry.tyre import TyreDimensions, nominal_dimensions
from generator.geometry.wheel import WheelDimensions, wheel_position
from generator.quantities.estimate import Basis, Estimate


def known(value, u=0.0):
    return Estimate(value, u, Basis.MEASURED)


def random_section(rng):
    section = rng.uniform(140.0, 330.0)
    bead = 25.4 * rng.integers(13, 21) - 0.8
    return TyreSection(
        centre=rng.uniform(-70.0, 50.0),
        section_width=section,
        tread_width=section * rng.uniform(0.75, 0.97),
        diameter=bead + 2.0 * rng.uniform(80.0, 160.0),
        rim_width=section * rng.uniform(0.7, 1.0),
        bead_seat_diameter=bead,
        flange_inboard=rng.uniform(8.0, 16.0),
        flange_outboard=rng.uniform(8.0, 16.0),
    )


def random_poses(rng, count):
    # scipy's rotations: a general-purpose library composes the poses
    turned = Rotation.from_euler(
        "xyz",
        np.column_stack((rng.uniform(-5, 5, count), np.zeros(count), rng.uniform(-38, 38, count))),
        degrees=True,
    ).as_matrix()
    travel = rng.uniform(-80.0, 90.0, count)
    shift = np.column_stack((rng.uniform(-5, 5, count), rng.uniform(-20, 20, count), travel))
    return labelled(Motions(turned, shift), positions(travel))


def shapely_distance(polygon, points):
    there = as_points(points)
    outside = distance(polygon, there)
    inside = distance(polygon.exterior, there)
    return np.where(outside > 0.0, outside, -inside)


def test_distance_agrees_with_shapely_in_five_hundred_random_cases():
    # shapely's distance to the same curve with twenty times the chords: within 0.1 mm; to the
    # polygon itself: within 1e-9
    rng = np.random.default_rng(20)
    for _ in range(500):
        section = random_section(rng)
        points = np.column_stack(
            (rng.uniform(-300, 250, 40), rng.uniform(section.closing_radius, 480, 40))
        )
        found = signed_distance(points, section_outline(section))
        exact = shapely_distance(Polygon(vertices(section)), points)
        smooth = shapely_distance(Polygon(finer_vertices(section, 20)), points)
        assert np.abs(found - exact).max() < 1e-9
        assert np.abs(found - smooth).max() < 0.1


def test_least_gap_over_poses_agrees_with_shapely_on_all_points():
    rng = np.random.default_rng(4)
    for _ in range(20):
        section = random_section(rng)
        outline, poses = section_outline(section), random_poses(rng, 30)
        side = rng.choice([-1.0, 1.0])
        reach = section.diameter / 2.0
        points = np.column_stack(
            (rng.uniform(-60, 60, 25), side * rng.uniform(100, 260, 25), rng.uniform(0, reach, 25))
        )
        seen = poses_to_ur(points, poses.rotation, poses.translation)
        expected = shapely_distance(Polygon(outline.points), seen.reshape(-1, 2)).reshape(30, 25)
        worst = least_gap(points, poses, outline)
        assert math.isclose(expected.min(), worst.gap, abs_tol=1e-9)
        assert math.isclose(expected[worst.pose, worst.point], worst.gap, abs_tol=1e-9)
        by_pose = gaps_by_pose(points, poses, outline)
        assert np.abs(expected.min(axis=1) - by_pose.gaps).max() < 1e-9
        assert math.isclose(
            math.hypot(worst.site.u - worst.foot.u, worst.site.r - worst.foot.r),
            abs(worst.gap),
            abs_tol=1e-9,
        )


def test_gap_agrees_with_a_cloud_of_points_on_the_surface_of_revolution():
    # brute force in three dimensions: the surface sampled at 1.5 mm, scipy's nearest neighbour
    rng = np.random.default_rng(9)
    section = replace(EXAMPLE, centre=-30.0)
    rim = LineString(np.vstack((vertices(section), vertices(section)[:1])))
    along = np.arange(0.0, rim.length, 1.5)
    profile = np.array([rim.interpolate(s).coords[0] for s in along])
    turn = np.arange(0.0, 2 * np.pi, 1.5 / (section.diameter / 2.0))
    u, r = profile[:, 0][:, None], profile[:, 1][:, None]
    surface = np.stack((r * np.cos(turn), u + 0 * turn, r * np.sin(turn)), axis=-1).reshape(-1, 3)
    outline, poses = section_outline(section), random_poses(rng, 3)
    site = np.array([[5.0, 105.0, 330.0], [150.0, -150.0, 290.0], [-250.0, 60.0, 250.0]])
    for k in range(3):
        world = surface @ poses.rotation[k].T + poses.translation[k]
        brute = cKDTree(world).query(site)[0]
        seen = poses_to_ur(site, poses.rotation[k : k + 1], poses.translation[k : k + 1])[0]
        exact = signed_distance(seen, outline)
        half_diagonal = 1.5 * math.sqrt(2) / 2
        assert (exact > 0.0).all()
        # the nearest sample is never nearer than the surface, and at most half a diagonal beside
        # the foot, which adds in quadrature on a flat piece and less than that on a round one
        assert (brute >= exact - 1e-9).all()
        assert (brute <= np.hypot(exact, half_diagonal) + 0.05).all()


def test_points_in_the_wheel_frame_agree_with_scipy():
    rng = np.random.default_rng(1)
    points, poses = rng.normal(0, 200, (7, 3)), random_poses(rng, 5)
    seen = poses_to_ur(points, poses.rotation, poses.translation)
    for k in range(5):
        back = Rotation.from_matrix(poses.rotation[k]).inv().apply(points - poses.translation[k])
        expected = np.column_stack((back[:, 1], np.hypot(back[:, 0], back[:, 2])))
        assert np.abs(seen[k] - expected).max() < 1e-9


@settings(max_examples=50)
@given(st.integers(0, 10_000))
def test_bound_is_never_above_the_distance(seed):
    rng = np.random.default_rng(seed)
    outline = section_outline(random_section(rng))
    points = np.column_stack((rng.uniform(-300, 250, 200), rng.uniform(0, 480, 200)))
    bound = lower_bound(points[:, 0], points[:, 1], outline)
    assert (bound <= signed_distance(points, outline) + 1e-9).all()


@settings(max_examples=50)
@given(st.integers(0, 10_000), st.floats(0.0, 40.0))
def test_spacer_is_the_same_as_less_offset_for_every_gap(seed, spacer):
    rng = np.random.default_rng(seed)
    points = np.column_stack((rng.uniform(-300, 250, 30), rng.uniform(150, 400, 30)))
    tyre = nominal_dimensions(201.0, 609.0)

    def gaps(offset, spaced):
        wheel = WheelDimensions(known(152.4), offset=known(offset))
        place = wheel_position(wheel, known(spaced))
        section = tyre_section(place, tyre, bead_seat_diameter=354.8)
        return signed_distance(points, section_outline(section))

    assert np.allclose(gaps(24.0, spacer), gaps(24.0 - spacer, 0.0), atol=1e-9)
    shifted = section_outline(replace(EXAMPLE, centre=-24.0, tread_width=0.86 * 201.0)).at(spacer)
    assert np.allclose(gaps(24.0, spacer), signed_distance(points, shifted), atol=1e-9)


@settings(max_examples=50)
@given(st.integers(0, 10_000))
def test_mirrored_site_and_wheel_have_the_same_gap(seed):
    rng = np.random.default_rng(seed)
    section = random_section(rng)
    turned = replace(
        section,
        centre=-section.centre,
        flange_inboard=section.flange_outboard,
        flange_outboard=section.flange_inboard,
    )
    points = np.column_stack((rng.uniform(-300, 250, 50), rng.uniform(100, 480, 50)))
    one = signed_distance(points, section_outline(section))
    other = signed_distance(points * (-1.0, 1.0), section_outline(turned))
    assert np.allclose(one, other, atol=1e-9)


@settings(max_examples=50)
@given(st.integers(0, 10_000), st.floats(0.0, 40.0))
def test_wider_or_taller_never_gains_a_gap(seed, more):
    rng = np.random.default_rng(seed)
    section = random_section(rng)
    wider = replace(
        section,
        section_width=section.section_width + more,
        tread_width=section.tread_width + more,
        rim_width=section.rim_width + more,
    )
    taller = replace(section, diameter=section.diameter + more)
    points = np.column_stack((rng.uniform(-300, 250, 80), rng.uniform(150, 480, 80)))
    before = signed_distance(points, section_outline(section))
    outside = before > 0.0
    # a taller tyre carries its widest point higher, so only what lies above that never gains
    above = outside & (points[:, 1] >= taller.widest_radius)
    for larger, judged in ((wider, outside), (taller, above)):
        after = signed_distance(points, section_outline(larger))
        # two polygons may each err by less than 0.1 mm, inwards
        assert (after[judged] <= before[judged] + 0.1).all()


def test_lip_that_stands_out_further_than_the_tyre_touches_first():
    stretched = replace(EXAMPLE, section_width=205.0, tread_width=170.0, rim_width=203.2)
    lip = 203.2 / 2 + 12.7 - 24.0
    beside_flange = np.array([[lip + 3.0, 190.0]])
    assert math.isclose(3.0, signed_distance(beside_flange, section_outline(stretched))[0])


def test_nan_never_becomes_a_gap():
    outline = section_outline(EXAMPLE)
    poses = random_poses(np.random.default_rng(0), 2)
    bad = np.array([[0.0, np.nan, 300.0]])
    for call in (
        lambda: signed_distance(bad[:, :2], outline),
        lambda: least_gap(bad, poses, outline),
        lambda: gaps_by_pose(bad, poses, outline),
        lambda: poses_to_ur(bad, poses.rotation, poses.translation),
        lambda: poses_to_ur(np.zeros((1, 3)), poses.rotation * np.nan, poses.translation),
        lambda: densify(bad, 5.0),
        lambda: least_gap(np.empty((0, 3)), poses, outline),
        lambda: densify(np.zeros((2, 3)), 0.0),
        lambda: closest(SectionPoint(math.nan, 300.0), outline),
    ):
        with pytest.raises(ValueError, match="need"):
            call()


@given(st.integers(0, 1000), st.floats(0.5, 50.0))
def test_dense_line_keeps_its_corners_and_its_step(seed, step):
    line = np.random.default_rng(seed).uniform(-200, 200, (4, 3))
    dense = densify(line, step)
    assert np.linalg.norm(np.diff(dense, axis=0), axis=1).max() <= step + 1e-9
    assert all(np.linalg.norm(dense - corner, axis=1).min() < 1e-9 for corner in line)
    assert LineString(line).length == pytest.approx(LineString(dense).length)


def test_dense_line_is_nearer_than_its_points_by_no_more_than_half_a_step():
    rng = np.random.default_rng(12)
    outline = section_outline(EXAMPLE)
    for _ in range(50):
        line = np.column_stack((rng.uniform(-200, 150, 2), rng.uniform(310, 400, 2)))
        truth = LineString(line).distance(Polygon(outline.points))
        sampled = signed_distance(densify(line, 6.0), outline).min()
        assert truth <= sampled + 1e-9
        if truth > 0.0:
            assert sampled <= truth + 3.0


def test_gradient_agrees_with_finite_differences_of_the_gap():
    rng = np.random.default_rng(6)
    names = ("section_width", "tread_width", "diameter", "rim_width", "centre")
    names += ("flange_inboard", "flange_outboard")
    step, checked = 1e-4, 0
    for _ in range(60):
        section = random_section(rng)
        u = section.centre + rng.choice([-1, 1]) * rng.uniform(0, section.section_width / 2 + 30)
        point = np.array([[u, rng.uniform(section.closing_radius, section.diameter / 2 + 30)]])
        outline = section_outline(section)
        gradient = gap_gradient(SectionPoint(*point[0]), outline)
        for name in names:
            gaps = [
                signed_distance(
                    point,
                    section_outline(replace(section, **{name: getattr(section, name) + by})),
                )[0]
                for by in (-step, step)
            ]
            # near a change of edge the second difference is not small: no derivative to compare
            bend = abs(gaps[0] + gaps[1] - 2 * gradient.gap) / step
            if bend < 1e-3:
                expected = (gaps[1] - gaps[0]) / (2 * step)
                assert math.isclose(expected, getattr(gradient, name), abs_tol=2e-3), name
                checked += 1
    assert checked > 300


def test_gap_uncertainty_agrees_with_a_seeded_monte_carlo_run():
    rng = np.random.default_rng(11)
    n = 3000
    wheel = WheelDimensions(known(203.2, 0.5), backspacing=known(138.3, 1.5))
    place = wheel_position(wheel, known(5.0, 0.1))
    tyre = TyreDimensions(known(230.0, 2.0), None, known(637.0, 3.0))
    outline = section_outline(tyre_section(place, tyre, bead_seat_diameter=462.0))
    sites = ((95.0, 285.0), (-150.0, 270.0), (100.0, 240.0), (0.0, 330.0))
    drawn = {site: [] for site in sites}
    for _ in range(n):
        width, back = rng.normal(203.2, 0.5), rng.normal(138.3, 1.5)
        flange, outer = rng.normal(12.7, 3.0), rng.normal(12.7, 3.0)
        centre = rng.normal(5.0, 0.1) - (back - width / 2 - flange)
        section = rng.normal(230.0, 2.0)
        share = rng.normal(0.86, 0.22 / math.sqrt(12.0))
        varied = TyreSection(
            centre, section, min(share, 1.0) * section, rng.normal(637.0, 3.0), width, 462.0,
            max(flange, 0.0), max(outer, 0.0),
        )  # fmt: skip
        found = signed_distance(np.array(sites), section_outline(varied))
        for site, gap in zip(sites, found, strict=True):
            drawn[site].append(gap)
    for site in sites:
        u = gap_uncertainty(gap_gradient(SectionPoint(*site), outline), place, tyre)
        assert math.isclose(u, float(np.std(drawn[site])), rel_tol=0.12), site


def test_measured_tyre_narrows_the_gap_of_a_nominal_one():
    place = wheel_position(WheelDimensions(known(152.4), offset=known(24.0)), known(0.0))
    nominal = nominal_dimensions(201.0, 609.0)
    gradient = gap_gradient(SectionPoint(92.0, 290.0), section_outline(EXAMPLE))
    measured = TyreDimensions(known(201.0, 1.0), known(172.0, 2.0), known(609.0, 1.0))
    loose = gap_uncertainty(gradient, place, nominal)
    assert gap_uncertainty(gradient, place, measured) < loose / 2


def test_a_setup_of_twelve_sites_of_forty_points_over_two_hundred_poses_is_quick():
    rng = np.random.default_rng(5)
    outline, poses = section_outline(EXAMPLE), random_poses(rng, 200)
    reach = np.linspace(0.3, 2.8, 40)
    arc = np.column_stack((366 * np.cos(reach), np.full(40, 92.0), 366 * np.sin(reach) + 8))
    rail = np.column_stack(
        (np.linspace(-215, 180, 40), np.full(40, -314.0), np.linspace(-40, 60, 40))
    )
    panel = np.column_stack(
        (np.full(40, 358.0), np.linspace(-140, 70, 40), rng.uniform(-90, 120, 40))
    )
    took = []
    for _ in range(15):
        start = time.process_time()
        for site in (arc, rail, panel) * 4:
            least_gap(site, poses, outline)
        took.append(time.process_time() - start)
    assert min(took) < 0.020
