import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.geometry.wheel import (
    ASSUMED_FLANGE,
    PositionWeights,
    WheelDimensions,
    position_change,
    tyre_faces,
    wheel_position,
)
from generator.quantities.estimate import Basis, Estimate


def known(value, u=0.0, basis=Basis.MEASURED):
    return Estimate(value, u, basis)


NONE = known(0.0)
lengths = st.floats(1.0, 300.0)
offsets = st.floats(-60.0, 80.0)


def test_position_without_offset_and_backspacing_is_refused():
    with pytest.raises(ValueError, match="offset or its backspacing"):
        WheelDimensions(known(152.4))


def test_width_of_zero_and_spacer_below_zero_are_refused():
    with pytest.raises(ValueError, match="above zero"):
        WheelDimensions(known(0.0), offset=known(10.0))
    wheel = WheelDimensions(known(152.4), offset=known(24.0))
    with pytest.raises(ValueError, match="spacer"):
        wheel_position(wheel, known(-1.0))


def test_unmeasured_flange_is_half_an_inch_and_assumed():
    position = wheel_position(WheelDimensions(known(152.4), offset=known(24.0)), NONE)
    assert position.flange_inboard == ASSUMED_FLANGE
    assert position.backspacing.basis is Basis.ASSUMED
    assert position.effective_offset.basis is Basis.MEASURED
    assert math.isclose(position.backspacing.u, 3.0)


def test_measured_backspacing_places_the_inboard_lip_without_the_flange():
    # The flange enters the offset and the lip with opposite signs and cancels: u stays 1 mm.
    position = wheel_position(WheelDimensions(known(203.2), backspacing=known(138.3, 1.0)), NONE)
    assert math.isclose(position.inboard_lip.value, -138.3)
    assert math.isclose(position.inboard_lip.u, 1.0)
    assert position.inboard_lip.basis is Basis.MEASURED
    assert math.isclose(position.offset.value, 138.3 - 101.6 - 12.7)
    assert math.isclose(position.offset.u, math.hypot(1.0, 3.0))
    assert position.offset.basis is Basis.ASSUMED


def test_two_accounts_of_the_offset_combine_by_inverse_variance():
    # Inverse-variance mean: 24 ± 1 and 30 ± sqrt(1 + 9) weigh 1 and 1/10.
    wheel = WheelDimensions(
        known(203.2), offset=known(24.0, 1.0), backspacing=known(101.6 + 12.7 + 30.0, 1.0)
    )
    position = wheel_position(wheel, NONE)
    assert math.isclose(position.offset.value, (24.0 + 30.0 / 10.0) / 1.1)
    assert math.isclose(position.offset.u, math.sqrt(1.0 / 1.1))
    assert position.closure is not None
    assert math.isclose(position.closure.value, 6.0)
    assert math.isclose(position.closure.u, math.sqrt(11.0))


def test_agreeing_accounts_close_to_zero_and_single_ones_have_no_closure():
    wheel = WheelDimensions(
        known(152.4), offset=known(24.0), backspacing=known(113.0), flange_inboard=known(12.8)
    )
    both = wheel_position(wheel, NONE)
    assert both.closure is not None
    assert math.isclose(both.closure.value, 0.0, abs_tol=1e-9)
    assert wheel_position(replace(wheel, backspacing=None), NONE).closure is None


def test_exact_accounts_that_disagree_are_reported_and_the_offset_stays():
    wheel = WheelDimensions(
        known(152.4), offset=known(24.0), backspacing=known(120.0), flange_inboard=known(12.7)
    )
    position = wheel_position(wheel, NONE)
    assert position.closure is not None
    assert math.isclose(position.closure.value, 120.0 - 76.2 - 12.7 - 24.0)
    assert math.isclose(position.offset.value, 24.0)


def test_overall_width_replaces_the_assumed_flanges():
    # Two flanges of equal prior share what the overall width says; its u then governs their sum.
    wheel = WheelDimensions(known(203.2), offset=known(35.0), overall_width=known(223.2, 0.5))
    position = wheel_position(wheel, NONE)
    share = 18.0 / (18.0 + 0.25)
    assert math.isclose(position.flange_inboard.value, 12.7 + (20.0 - 25.4) * share / 2)
    assert math.isclose(position.overall_width.u, math.sqrt(18.0 * 0.25 / 18.25))
    assert position.width_closure is not None
    assert math.isclose(position.width_closure.value, 20.0 - 25.4)


def test_combination_agrees_with_generalised_least_squares():
    # numpy's least squares on the whitened observations of W, t_i, t_o, ET, B and overall width.
    values = np.array([203.0, 12.7, 12.0, 24.0, 137.0, 228.0])
    spreads = np.array([0.5, 3.0, 1.0, 1.0, 1.5, 0.7])
    design = np.array(
        [
            [1, 0, 0, 0],
            [0, 1, 0, 0],
            [0, 0, 1, 0],
            [0, 0, 0, 1],
            [0.5, 1, 0, 1],
            [1, 1, 1, 0],
        ]
    )
    whitened = design / spreads[:, None]
    expected = np.linalg.lstsq(whitened, values / spreads, rcond=None)[0]
    covariance = np.linalg.inv(whitened.T @ whitened)
    w, ti, to, et, b, ow = (known(v, u) for v, u in zip(values, spreads, strict=True))
    position = wheel_position(WheelDimensions(w, et, b, ow, ti, to), NONE)
    got = (position.width, position.flange_inboard, position.flange_outboard, position.offset)
    assert np.allclose([x.value for x in got], expected, atol=1e-9)
    assert np.allclose([x.u for x in got], np.sqrt(np.diag(covariance)), atol=1e-9)
    to_placing = np.array([[0, 0, 0, -1], [1, 0, 0, 0], [0, 1, 0, 0], [0, 0, 1, 0]])
    assert np.allclose(position.covariance, to_placing @ covariance @ to_placing.T, atol=1e-9)


def test_propagated_uncertainty_agrees_with_a_seeded_monte_carlo_run():
    rng = np.random.default_rng(7)
    n = 200_000
    w = rng.normal(177.8, 0.5, n)
    t = rng.normal(12.7, 3.0, n)
    b = rng.normal(133.0, 1.0, n)
    s = rng.normal(5.0, 0.1, n)
    offset = b - w / 2 - t
    front = w / 2 + rng.normal(12.7, 3.0, n) - offset
    wheel = WheelDimensions(known(177.8, 0.5), backspacing=known(133.0, 1.0))
    position = wheel_position(wheel, known(5.0, 0.1))
    assert math.isclose(position.effective_offset.u, (offset - s).std(), rel_tol=0.01)
    assert math.isclose(position.inboard_lip.u, (s - b).std(), rel_tol=0.01)
    assert math.isclose(position.outboard_lip.u, (s + front).std(), rel_tol=0.01)
    lip = PositionWeights(centre_plane=1.0, width=-0.5, flange_inboard=-1.0)
    assert math.isclose(position.uncertainty(lip), position.inboard_lip.u)


@given(lengths, offsets, st.floats(0.0, 40.0))
def test_spacer_is_the_same_as_less_offset(width, offset, spacer):
    spaced = wheel_position(WheelDimensions(known(width), offset=known(offset)), known(spacer))
    plain = wheel_position(WheelDimensions(known(width), offset=known(offset - spacer)), NONE)
    for name in ("effective_offset", "centre_plane", "inboard_lip", "outboard_lip"):
        a, b = getattr(spaced, name).value, getattr(plain, name).value
        assert math.isclose(a, b, abs_tol=1e-9)


@given(lengths, offsets)
def test_backspacing_and_front_spacing_make_the_overall_width(width, offset):
    position = wheel_position(WheelDimensions(known(width), offset=known(offset)), NONE)
    total = position.backspacing.value + position.front_spacing.value
    assert math.isclose(total, position.overall_width.value, abs_tol=1e-9)


@given(lengths, offsets)
def test_turned_offset_mirrors_the_wheel(width, offset):
    one = wheel_position(WheelDimensions(known(width), offset=known(offset)), NONE)
    other = wheel_position(WheelDimensions(known(width), offset=known(-offset)), NONE)
    assert math.isclose(one.inboard_lip.value, -other.outboard_lip.value, abs_tol=1e-9)


@given(lengths, st.floats(0.0, 60.0), offsets, lengths)
def test_wider_wheel_and_tyre_never_gain_room_on_either_side(width, more, offset, section):
    def sides(grow):
        wheel = WheelDimensions(known(width + grow), offset=known(offset))
        position = wheel_position(wheel, NONE)
        faces = tyre_faces(position, known(section + grow))
        return (
            position.inboard_lip.value,
            faces.inboard.value,
            -position.outboard_lip.value,
            -faces.outboard.value,
        )

    assert all(a <= b + 1e-9 for a, b in zip(sides(more), sides(0.0), strict=True))


setups = st.tuples(lengths, offsets, lengths)


@settings(max_examples=50)
@given(setups, setups, st.floats(-5.0, 5.0))
def test_inner_and_outer_change_add_to_the_change_of_section(old, new, moved):
    def faces(width, offset, section):
        position = wheel_position(WheelDimensions(known(width), offset=known(offset)), NONE)
        return tyre_faces(position, known(section))

    change = position_change(faces(*new), faces(*old), hub_face_moved=known(moved))
    inner_and_outer = change.inner.value + change.outer.value
    assert math.isclose(inner_and_outer, new[2] - old[2], abs_tol=1e-9)
    assert math.isclose(change.track.value, 2 * (old[1] - new[1] + moved), abs_tol=1e-9)
