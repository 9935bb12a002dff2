from math import hypot, inf, pi, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.geometry import fastening
from generator.geometry.bound import Outcome
from generator.geometry.fastening import Stack, ThicknessBand
from generator.quantities.estimate import Basis, Estimate

lengths = st.floats(0.0, 80.0)


def exact(value):
    return Estimate(float(value), 0.0, Basis.MEASURED)


def measured(value, u=0.5):
    return Estimate(float(value), u, Basis.MEASURED)


def stack(protrusion, spacer, pad):
    return Stack(exact(protrusion), exact(spacer), exact(pad))


@given(lengths, lengths, lengths, lengths)
def test_engagement_is_never_more_than_nut_or_stud_and_never_below_nothing(a, b, c, nut):
    engaged = fastening.engagement_from_stack(stack(a, b, c), exact(nut)).value
    assert 0.0 <= engaged <= nut
    assert engaged <= max(0.0, a - b - c)


@given(lengths, st.floats(0.0, 40.0), st.floats(0.0, 40.0))
def test_a_thicker_spacer_never_gains_engagement(protrusion, one, other):
    thin, thick = sorted((one, other))
    with_thin = fastening.engagement_from_stack(stack(protrusion, thin, 15.0), exact(20.0))
    with_thick = fastening.engagement_from_stack(stack(protrusion, thick, 15.0), exact(20.0))
    assert with_thick.value <= with_thin.value


def test_engagement_carries_the_uncertainty_of_what_governs():
    on = Stack(measured(45), measured(5, 0.1), measured(20, 0.3))
    # JCGM 100 5.1: sums in quadrature. 20 past the seat, nut of 16 governs, 4 apart.
    assert fastening.engagement_from_stack(on, measured(16, 0.2)).u == 0.2
    # Nut of 30: the stud governs.
    past_seat = hypot(0.5, 0.1, 0.3)
    assert pytest.approx(past_seat) == fastening.engagement_from_stack(on, measured(30, 0.2)).u


def test_engagement_takes_the_larger_uncertainty_where_either_may_govern():
    on = Stack(measured(45, 1.0), exact(5), exact(20))
    assert fastening.engagement_from_stack(on, measured(19.5, 0.1)).u == 1.0


def test_short_turn_lists_fall_short_of_one_diameter():
    # 6.5 turns of M12 × 1.5 are 9.75 mm, 0.81 d (pure geometry).
    check = fastening.engagement_check(exact(9.75), 12.0)
    assert check.outcome is Outcome.FAILS
    assert fastening.engagement_check(exact(12.0), 12.0).outcome is Outcome.HOLDS
    assert check.source == "PRACTICE"


def test_aluminium_may_ask_for_more_than_one_diameter():
    # 1.5 d with aluminium nuts, club technical note, second hand.
    assert fastening.engagement_check(exact(15.0), 12.0, in_diameters=1.5).outcome is Outcome.FAILS


def test_a_nut_stronger_than_its_stud_lets_the_stud_break_first():
    assert fastening.stripping_check(120_000.0, 91_700.0).outcome is Outcome.HOLDS
    assert fastening.stripping_check(80_000.0, 91_700.0).outcome is Outcome.FAILS


@given(st.floats(5.0, 20.0), st.floats(0.0, 30.0), st.floats(0.5, 2.5))
def test_bottoming_says_the_same_by_turns_and_by_depth(to_seat, spare, pitch):
    # A nut of depth D on a stud p past its seat: bottoms after D/P turns, seats after p/P.
    to_bottom = to_seat + spare
    by_turns = fastening.bottoming_by_turns(to_bottom, to_seat)
    depth, past_seat = to_bottom * pitch, to_seat * pitch
    by_depth = fastening.bottoming_by_depth(
        stack(past_seat + 15.0, 0.0, 15.0), exact(depth), pitch=pitch
    )
    assert by_depth.margin == pytest.approx(by_turns.margin * pitch, abs=1e-9)


def test_a_stud_too_long_for_a_closed_nut_fails():
    check = fastening.bottoming_by_depth(stack(50, 0, 15), exact(30), pitch=1.5)
    assert check.value == -5.0
    assert check.outcome is Outcome.FAILS


def test_threads_showing_count_the_stud_past_an_open_nut():
    shown = fastening.threads_showing(stack(45, 5, 18), exact(25), pitch=1.5)
    assert shown.value == -2.0


@given(st.floats(20.0, 60.0), st.floats(0.0, 30.0))
def test_a_bolt_longer_by_the_spacer_keeps_its_reach(length, spacer):
    stock = fastening.bolt_reach(exact(length), spacer=exact(0), pad=exact(12))
    longer = fastening.bolt_reach(exact(length + spacer), spacer=exact(spacer), pad=exact(12))
    assert stock.value == pytest.approx(longer.value)


def test_a_bolt_past_the_free_depth_fails_and_near_it_is_too_close_to_say():
    assert fastening.bolt_depth_check(exact(27), 26.0).outcome is Outcome.FAILS
    assert fastening.bolt_depth_check(measured(25.8), 26.0).outcome is Outcome.TOO_CLOSE_TO_SAY


@given(st.floats(5.0, 40.0))
def test_a_hexagon_has_its_corners_where_flats_and_sides_meet(flats):
    # Side of a regular hexagon = flats·tan 30°, corner to corner = two sides.
    assert 2.0 * flats * tan(pi / 6) == pytest.approx(fastening.across_corners(flats))


def test_a_narrow_pocket_lets_only_the_thin_socket_in():
    # Two walls and 1 mm past the corners, common practice.
    pocket = exact(27.5)
    assert fastening.socket_check(pocket, 19.0, socket_wall=2.0).outcome is Outcome.HOLDS
    assert fastening.socket_check(pocket, 19.0, socket_wall=3.0).outcome is Outcome.FAILS


def test_a_spacer_of_the_dead_zone_is_no_piloted_one():
    # Piloted slip-on spacers are 8 to 20 mm, common practice.
    thin, thick = fastening.spacer_band_checks(exact(6), ThicknessBand(8.0, 20.0))
    assert thin.outcome is Outcome.FAILS
    assert thick.outcome is Outcome.HOLDS
    unbounded = fastening.spacer_band_checks(exact(60), ThicknessBand(20.0, inf))
    assert all(check.outcome is Outcome.HOLDS for check in unbounded)


def test_a_bolt_on_spacer_hides_stud_and_inner_nut():
    # Stud 35 and no pocket: at least 35; inner nut ends at 22.
    stud, nut = fastening.bolt_on_spacer_checks(exact(25), 35.0, wheel_pocket=0.0, nut_height=22.0)
    assert stud.margin == -10.0
    assert nut.margin == 3.0


def test_a_pocket_in_the_wheel_takes_the_end_of_the_stock_stud():
    # Stud 35 less a pocket of 12: at least 23.
    checks = fastening.bolt_on_spacer_checks(exact(25), 35.0, wheel_pocket=12.0, nut_height=22.0)
    assert checks[0].bound == 23.0
    assert all(check.outcome is Outcome.HOLDS for check in checks)
