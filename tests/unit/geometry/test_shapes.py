"""Shapes of sites: where their points lie, and which poses each attachment sees."""

import numpy as np
import pytest

from generator.geometry.axle import AxleCorner, RigidAxle, Side
from generator.geometry.frames import in_wheel, positions
from generator.geometry.sampling import sampled
from generator.geometry.shapes import (
    Arc,
    AtRadius,
    Attachment,
    Block,
    Extent,
    Polyline,
    Ramp,
    RoundBar,
    Shifted,
    poses_against,
)
from generator.geometry.steering_axis import SteeringAxis
from generator.geometry.suspension import IndependentCorner, Tilt


def points(shape, chord_error=0.5):
    return sampled(shape, chord_error).points


def spanned(shape):
    found = points(shape)
    return [(float(low), float(high)) for low, high in zip(found.min(0), found.max(0), strict=True)]


def test_a_block_of_numbers_is_one_point():
    assert points(Block(1.0, 2.0, 3.0)).tolist() == [[1.0, 2.0, 3.0]]


def test_a_panel_spans_its_extents_freely():
    panel = Block(x=358.0, y=Extent(-140.0, 70.0), z=Extent(-90.0, 120.0))
    found = points(panel)
    assert spanned(panel) == [(358.0, 358.0), (-140.0, 70.0), (-90.0, 120.0)]
    corners = {(y, z) for y in (-140.0, 70.0) for z in (-90.0, 120.0)}
    assert corners <= {tuple(each) for each in found[:, 1:].tolist()}


def test_ramps_run_together_and_an_extent_across_them():
    tube = Block(x=Extent(-25.0, 25.0), y=Ramp(-139.0, -154.0), z=Ramp(200.0, 300.0))
    found = points(tube)
    assert spanned(tube) == [(-25.0, 25.0), (-154.0, -139.0), (200.0, 300.0)]
    assert found[:, 1] == pytest.approx(-139.0 - 0.15 * (found[:, 2] - 200.0))


def test_a_line_of_three_ramps_is_straight():
    rod = Block(x=Ramp(45.0, 345.0), y=Ramp(-205.0, -346.0), z=Ramp(-118.0, -84.0))
    found = points(rod)
    along = (found[:, 0] - 45.0) / 300.0
    assert found[:, 1] == pytest.approx(-205.0 - 141.0 * along)
    assert found[:, 2] == pytest.approx(-118.0 + 34.0 * along)


def test_a_lone_ramp_runs_as_an_extent():
    perch = Block(x=Extent(-70.0, 70.0), y=Ramp(-190.0, -104.0), z=322.0)
    assert spanned(perch) == [(-70.0, 70.0), (-190.0, -104.0), (322.0, 322.0)]


def test_arc_angles_run_from_forward_over_the_top():
    lip = Arc(x=4.0, z=8.0, radius=366.0, start=15.0, end=165.0, y=92.0)
    found = points(lip)
    assert np.hypot(found[:, 0] - 4.0, found[:, 2] - 8.0) == pytest.approx(366.0)
    assert found[0, 0] > 0.0 > found[-1, 0]
    assert found[:, 2].max() == pytest.approx(374.0, abs=0.5)
    assert set(found[:, 1]) == {92.0}


def test_an_arc_may_rise_across_or_be_a_band():
    rising = points(Arc(0.0, 0.0, 300.0, 0.0, 180.0, Ramp(80.0, 100.0)))
    assert rising[0] == pytest.approx([300.0, 80.0, 0.0])
    assert rising[-1] == pytest.approx([-300.0, 100.0, 0.0], abs=1e-9)
    band = points(Arc(0.0, 0.0, 300.0, 0.0, 180.0, Extent(80.0, 100.0)))
    assert {80.0, 100.0} <= set(band[:, 1])


def test_every_vertex_of_a_polyline_is_sampled():
    line = Polyline(((0.0, 0.0, 0.0), (33.0, 0.0, 0.0), (33.0, 41.0, 0.0), (33.0, 41.0, 7.0)))
    found = points(line, 4.0)
    for vertex in line.points:
        assert np.linalg.norm(found - vertex, axis=1).min() < 1e-9


def test_a_bar_takes_its_radius_from_the_gap():
    ends = ((0.0, -150.0, 0.0), (100.0, -150.0, 0.0))
    assert sampled(RoundBar(ends, 11.0), 1.0).thickness == 11.0
    assert sampled(Polyline(ends), 1.0).thickness == 0.0


def test_a_site_without_a_shape_is_one_point_at_its_radius():
    assert points(AtRadius(300.0, -140.0))[0] == pytest.approx([0.0, -140.0, 300.0])
    assert points(AtRadius(300.0, -140.0, 0.0))[0] == pytest.approx([300.0, -140.0, 0.0])


def test_a_modification_moves_the_whole_shape():
    lip = Arc(4.0, 8.0, 366.0, 15.0, 165.0, 92.0)
    assert points(Shifted(lip, (0.0, 9.0, 0.0))) - points(lip) == pytest.approx(
        np.tile([0.0, 9.0, 0.0], (len(points(lip)), 1))
    )


def test_each_attachment_sees_its_own_poses():
    corner = IndependentCorner(axis=SteeringAxis(11.8, 3.9, 96.4), knuckle_tilt=Tilt(-1.0))
    wheel = corner.poses(positions([0.0, 84.0], [0.0, 30.0]))
    top = np.array([[0.0, 0.0, 300.0]])

    def seen(attachment):
        return in_wheel(poses_against(wheel, attachment), top)[:, 0]

    assert seen(Attachment.KNUCKLE) == pytest.approx(np.tile(top, (2, 1)))
    assert seen(Attachment.AXLE) == pytest.approx(np.tile(top, (2, 1)))
    strut = seen(Attachment.STRUT)
    assert strut[0] == pytest.approx(strut[1])
    assert strut[0, 1] > 5.0
    assert seen(Attachment.ARM)[0] == pytest.approx(seen(Attachment.BODY)[0])
    assert seen(Attachment.ARM)[1] != pytest.approx(seen(Attachment.BODY)[1])
    assert all(len(poses_against(wheel, each)) == 2 for each in Attachment)


def test_an_axle_site_never_moves_against_the_wheel():
    wheel = AxleCorner(RigidAxle(1428.0), Side.LEFT).poses(positions(70.0, other_travel=-60.0))
    spring = np.array([[10.0, -152.0, 120.0]])
    assert in_wheel(poses_against(wheel, Attachment.AXLE), spring)[0] == pytest.approx(spring)


@pytest.mark.parametrize(
    "call",
    [
        lambda: Block(1.0, float("nan"), 0.0),
        lambda: Block(1.0, Extent(0.0, float("inf")), 0.0),
        lambda: Arc(0.0, 0.0, 0.0, 10.0, 20.0, 90.0),
        lambda: Arc(0.0, 0.0, float("nan"), 10.0, 20.0, 90.0),
        lambda: Arc(0.0, 0.0, 300.0, 10.0, float("nan"), 90.0),
        lambda: Polyline(((0.0, 0.0, 0.0),)),
        lambda: Polyline(((0.0, 0.0, 0.0), (0.0, 0.0, 0.0))),
        lambda: RoundBar(((0.0, 0.0, 0.0), (1.0, 0.0, 0.0)), -1.0),
        lambda: AtRadius(-1.0, 0.0),
        lambda: AtRadius(300.0, float("nan")),
    ],
)
def test_a_shape_that_is_nowhere_is_refused(call):
    with pytest.raises(ValueError, match=r".+"):
        call()
