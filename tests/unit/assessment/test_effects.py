"""Effects of trims: each undone alone, against hand-worked travel, lock, rod and gaps."""

import pytest

from generator.assessment.assess import assess
from generator.assessment.effects import effects_of
from generator.records.words import Axle, Part, Side

PLAIN = "camber: left out, bodywork: {lips: stock, lips_gained: left out, liner: stock}"


def front(text):
    return f"setup: {{front: {{{PLAIN}, {text}}}}}"


def rear(text):
    return f"setup: {{front: {{{PLAIN}}}, rear: {{{text}}}}}"


@pytest.fixture
def effects(case_of):
    def give(overlay):
        case = case_of(overlay)
        return effects_of(case, assess(case))

    return give


@pytest.fixture
def effect(effects):
    def give(overlay):
        (only,) = effects(overlay)
        return only

    return give


def numbers(effect):
    return {each.words: each.amount for each in effect.consequences}


def test_a_setup_without_changes_has_no_effects(effects):
    assert effects(front("bump_stop: {state: original}")) == ()


def test_a_trimmed_stop_gives_travel_and_takes_gap(effect, case_of):
    trimmed = front("bump_stop: {state: trimmed, trimmed: 12 mm}")
    found = effect(trimmed)
    # 12 mm at a motion ratio of 0.96 are 12.5 mm at the wheel.
    assert numbers(found)["bump travel of the wheel"] == pytest.approx(12.5)
    assert [each.site for each in found.cost] == ["fender-lip"]
    assert found.gained == ()
    apart = [
        assess(case_of(overlay)).front.clearance("fender-lip", Side.BOTH).least.gap.value
        for overlay in (trimmed, front("bump_stop: {state: original}"))
    ]
    assert found.cost[0].amount == pytest.approx(apart[0] - apart[1])


def test_a_spaced_stop_gives_gap_and_takes_travel(effect):
    found = effect(rear("bump_stop: {state: spaced, spaced: 9 mm}"))
    # 9 mm at a motion ratio of 0.9.
    assert numbers(found)["bump travel of the wheel"] == pytest.approx(-10.0)
    assert {each.site for each in found.gained} == {"quarter-lip"}


def test_a_removed_stop_leaves_every_gap_on_the_body_unknown(effect):
    found = effect(front("bump_stop: {state: removed}"))
    assert found.gained == found.cost == ()
    assert len(found.unknown) == 1
    assert found.unknown[0].startswith("fender lip")


def test_a_stop_shim_takes_lock(effect):
    found = effect(front("stop_shim: 4 mm"))
    # asin(4/74) = 3.0986 degrees; the other lock falls in the ratio of the locks, 32/37.5.
    assert numbers(found)["toe-out lock"] == pytest.approx(-3.0986, abs=1e-4)
    assert numbers(found)["toe-in lock"] == pytest.approx(-2.6441, abs=1e-4)
    assert all(each.amount > 0.0 for each in found.gained)
    assert found.cost == ()


def test_a_spacer_moves_the_wheel_off_the_strut(effect):
    found = effect(front("spacer: {thickness: 5 mm, kind: slip-on}"))
    gained = {each.site: each.amount for each in found.gained}
    # Both parts lie at the tyre's inner side and move with the wheel: 5 mm along the spin axis.
    # The strut leans, so that its gap grows by a little less than the axial way.
    assert gained["brake-hose"] == pytest.approx(5.0, abs=0.05)
    assert 4.5 < gained["strut-tube"] <= 5.0 + 1e-6
    assert [each.site for each in found.cost] == ["fender-lip"]
    assert -5.0 <= found.cost[0].amount < 0.0
    assert numbers(found)["track"] == 10.0


def test_lowering_alone_changes_no_least_gap(effect):
    # The stop, not the height, decides how far the wheel goes (common practice, trade rule).
    found = effect(front("ride_height: {change: -25 mm}"))
    assert found.gained == found.cost == ()
    assert numbers(found)["bump travel left from standing"] == -25.0


def test_lowering_on_a_rod_shifts_the_axle(effect):
    found = effect(rear("ride_height: {change: -25 mm}"))
    # Rod of 1015 mm, ends 42 mm apart, bracket on the left: +25 mm of travel shift the axle 0.7
    # away from the bracket (worked table of rods), so to the right; the rod as much shorter.
    # sqrt(1015² - 17²) - sqrt(1015² - 42²) = 0.727; sqrt(1014.131² + 17²) - 1015 = -0.727.
    told = numbers(found)
    assert told["axle to the right, by height and rod as set"] == pytest.approx(0.727, abs=0.001)
    longer = told["length of the lateral rod, to centre the axle at this height"]
    assert longer == pytest.approx(-0.727, abs=0.001)


def test_a_rod_set_longer_moves_the_axle_to_its_far_side(effect):
    found = effect(rear("rod_change: 2 mm"))
    by_side = {(each.site, each.side): each.amount for each in (*found.gained, *found.cost)}
    # Bracket on the left: a longer rod pushes the axle to the right by about its own change.
    assert by_side["inner-wheelhouse", Side.RIGHT] == pytest.approx(2.0, abs=0.1)
    assert by_side["inner-wheelhouse", Side.LEFT] == pytest.approx(-2.0, abs=0.1)


def test_camber_gains_at_the_lip(effect):
    found = effect(
        "setup: {front: {camber: -1 deg, camber_by: top mount or arm,"
        " bodywork: {lips: stock, lips_gained: left out, liner: stock}}}"
    )
    # 1 degree at about 300 mm above the spin axis is 5.2 mm (common practice); the least gap lies
    # at the shoulder, lower, and along the lip's own direction: some of it.
    assert [each.site for each in found.gained] == ["fender-lip"]
    assert 1.0 < found.gained[0].amount < 5.3


def test_a_rolled_lip_gains_what_it_was_moved_at_most(case_of):
    case = case_of("setup: {front: {camber: left out}}")
    chassis = case.chassis.value
    lips = tuple(
        site.model_copy(update={"part": Part.LIP}) if site.name == "fender-lip" else site
        for site in chassis.sites
    )
    sheet = case.chassis.__class__(
        case.chassis.id, chassis.model_copy(update={"sites": lips}), case.chassis.source
    )
    case = case.__class__(case.setup, sheet)
    (rolled,) = effects_of(case, assess(case))
    assert (rolled.axle, rolled.amount) == (Axle.FRONT, 8.0)
    assert [each.site for each in rolled.gained] == ["fender-lip"]
    assert 0.0 < rolled.gained[0].amount <= 8.0


def test_ends_are_told_apart_and_in_order(effects):
    found = effects(
        "setup: {front: {stop_shim: 3 mm}, rear: {spacer: {thickness: 3 mm, kind: slip-on}}}"
    )
    axles = [each.axle for each in found]
    assert axles == sorted(axles, key=lambda axle: axle is Axle.REAR)
    assert {each.axle for each in found} == {Axle.FRONT, Axle.REAR}
