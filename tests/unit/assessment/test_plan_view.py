"""A corner from above: places by hand and by shapely's rotation, gaps those of the assessment."""

import pytest
from shapely.affinity import rotate
from shapely.geometry import Polygon

from generator.assessment.assess import assess
from generator.assessment.plan_view import plan_view, tightest
from generator.records.collect import collect
from generator.records.examples import example_files
from generator.records.words import Axle

UPRIGHT = """
chassis:
  steering: {inclination: 0 deg, caster: 0 deg, axis_inset: 100 mm}
setup:
  front: {camber: left out, bodywork: left out}
"""


@pytest.fixture
def case_of():
    """Give the case of an overlay; an upright axis is unusual, so warnings are let pass."""
    return lambda overlay: next(iter(collect(example_files(overlay)).library.cases()))


@pytest.fixture
def view(case_of):
    def give(overlay):
        case = case_of(overlay)
        end = assess(case).front
        return plan_view(case.chassis.value, case.setup.value.front, end)

    return give


def test_an_upright_axis_stands_inboard_by_its_inset(view):
    assert view(UPRIGHT).axis == pytest.approx((0.0, -100.0), abs=1e-6)


def test_a_lock_turns_the_outline_about_the_axis(view):
    seen = view(UPRIGHT)
    # Upright axis: a turn in plan. Toe-out brings the front outboard, +x towards +y: anticlockwise.
    for pose, angle in ((seen.toe_out, 37.5), (seen.toe_in, -32.0)):
        turned = rotate(Polygon(seen.straight.outline), angle, origin=(0.0, -100.0))
        drawn = Polygon(pose.outline)
        assert turned.symmetric_difference(drawn).area < 1e-3 * drawn.area


def test_the_straight_tyre_is_as_long_and_wide_as_measured(view):
    outline = view(UPRIGHT).straight.outline
    # The sample's tyre: 612 mm in diameter, 206 mm wide, on a wheel of offset 22 mm.
    assert max(x for x, _ in outline) == pytest.approx(306.0, abs=0.1)
    assert min(x for x, _ in outline) == pytest.approx(-306.0, abs=0.1)
    assert max(y for _, y in outline) - min(y for _, y in outline) == pytest.approx(206.0, abs=0.3)


def test_camber_at_the_top_mount_tilts_the_axis_about_the_lower_joint(view):
    plain = view(UPRIGHT).axis[1]
    tilted = view(UPRIGHT.replace("camber: left out", "camber: -2 deg")).axis[1]
    # The joint lies 120 mm below the spindle (assumed, typical): 120 tan 2° = 4.19 mm.
    assert tilted - plain == pytest.approx(-4.19, abs=0.2)


def test_a_site_high_above_the_hub_is_named_and_not_drawn(view):
    seen = view(UPRIGHT)
    assert seen.elsewhere == ("fender lip",)
    assert seen.sites == ()


def test_a_site_at_hub_height_is_drawn_where_the_sheet_has_it(view):
    overlay = UPRIGHT.replace(
        "setup:",
        "  sites:\n    - {name: rail, label: rail, axle: front, facing: inboard, moves_with: body, "
        "block: {x: -200 to 150 mm, y: -320 to -300 mm, z: -40 to 60 mm}, wanted: 8 mm}\nsetup:",
    )
    (site,) = [each for each in view(overlay).sites if each.clearance.site.name == "rail"]
    (piece,) = site.pieces
    assert set(piece) == {(-200.0, -320.0), (-200.0, -300.0), (150.0, -320.0), (150.0, -300.0)}


def test_the_worst_pose_is_that_of_the_least_gap(view, case_of):
    end = assess(case_of(UPRIGHT)).front
    (least, *_) = tightest(end, 1)
    worst = view(UPRIGHT).worst
    assert worst.clearance.site.name == least.site.name
    assert worst.pose.position == least.least.position
    # the fender lip: an arc at y = 92 mm
    assert worst.nearest[1] == pytest.approx(92.0)


def test_a_wheel_of_unknown_place_is_not_seen(view):
    unknown = "setup:\n  front:\n    wheel: {offset: left out, backspacing: left out}\n"
    assert view(unknown) is None


def test_a_rear_wheel_has_no_locks_to_be_seen_at(case_of):
    case = case_of(UPRIGHT)
    end = assess(case).rear
    assert end.axle is Axle.REAR
    assert plan_view(case.chassis.value, case.setup.value.rear, end) is None
