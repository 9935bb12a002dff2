import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.geometry import tyre
from generator.quantities.estimate import Basis, Estimate


def known(value, u=0.0):
    return Estimate(value, u, Basis.MEASURED)


def test_halves_round_up_where_python_rounds_to_even():
    assert [tyre.round_half_up(x) for x in (102.5, 103.5, 102.49, 112.75)] == [103, 104, 102, 113]
    assert tyre.round_half_up(0.01 * 205 * 50) == 103


def test_lengths_that_are_not_above_zero_are_refused():
    for call in (
        lambda: tyre.section_height(0.0, 50.0),
        lambda: tyre.section_height(math.nan, 50.0),
        lambda: tyre.overall_diameter(-1.0, 100.0),
        lambda: tyre.section_width_exact(205.0, 143.5, rim_width=math.nan),
        lambda: tyre.loaded_radius_under(known(635.0), 127.0, load_share=1.5),
        lambda: tyre.revolutions_per_km(known(0.0)),
        lambda: tyre.true_speed_change(known(0.0), known(600.0)),
        lambda: tyre.load_at_pressure(500.0, math.nan, rated_pressure=2.5),
    ):
        with pytest.raises(ValueError, match="above zero"):
            call()


@given(st.floats(100.0, 350.0), st.floats(90.0, 330.0), st.floats(0.0, 60.0))
def test_wider_rim_never_makes_a_narrower_section(section, rim, more):
    here = tyre.section_width_exact(section, rim, rim_width=rim)
    assert math.isclose(here, section)
    assert tyre.section_width_exact(section, rim, rim_width=rim + more) >= here


def test_measured_figures_replace_nominal_ones_with_their_own_spread():
    nominal = tyre.nominal_dimensions(214.0, 632.0)
    assert nominal.section_width.basis is Basis.INFERRED
    assert (nominal.section_width.u, nominal.diameter.u) == (6.0, 5.0)  # common practice
    both = tyre.measured_over(nominal, section_width=known(221.0, 1.0), diameter=known(627.0, 1.5))
    assert both.section_width == known(221.0, 1.0)
    assert both.diameter == known(627.0, 1.5)
    assert both.tread_width is None


def test_tread_nobody_measured_is_a_stated_share_and_assumed():
    dimensions = tyre.nominal_dimensions(200.0, 600.0)
    tread = dimensions.tread()
    assert tread.basis is Basis.ASSUMED
    # common practice: 0.75 to 0.97 of the section, here within two standard deviations
    assert tread.value - 2 * tread.u <= 150.0
    assert tread.value + 2 * tread.u >= 194.0
    measured = tyre.measured_over(dimensions, tread_width=known(190.0, 2.0))
    assert measured.tread() == known(190.0, 2.0)


def test_section_carried_to_its_own_rim_is_unchanged():
    assert tyre.carried_to_rim(known(214.0, 1.0), 165.1, rim_width=165.1) == known(214.0, 1.0)


def test_two_accounts_of_the_loaded_radius_agree_within_their_spread():
    # rule of thumb 0.96 of the free radius against the deflection of a tyre-model library
    rule = tyre.loaded_radius(known(635.0))
    for share in (0.5, 0.7, 1.0):
        spring = tyre.loaded_radius_under(known(635.0), 127.0, load_share=share)
        assert abs(rule.value - spring.value) <= 2.0 * math.hypot(rule.u, spring.u)


def test_ratio_uncertainties_agree_with_a_seeded_monte_carlo_run():
    rng = np.random.default_rng(3)
    new, old = rng.normal(650.0, 5.0, 200_000), rng.normal(620.0, 2.0, 200_000)
    change = tyre.true_speed_change(known(650.0, 5.0), known(620.0, 2.0))
    assert math.isclose(change.u, 100.0 * (new / old).std(), rel_tol=0.01)
    turns = tyre.revolutions_per_km(tyre.rolling_circumference(known(650.0, 5.0)))
    drawn = 1e6 / (new * rng.normal(3.05, 0.015, 200_000))
    assert math.isclose(turns.u, drawn.std(), rel_tol=0.01)


def test_effective_radius_lies_where_handbook_examples_have_it():
    # handbook examples: effective radius 6 to 9 mm under the free radius, read
    circumference = tyre.rolling_circumference(known(635.0))
    below = 317.5 - circumference.value / (2 * math.pi)
    assert 6.0 - 0.5 <= below <= 9.0 + 0.5


def test_gearing_and_speed_changes_undo_each_other():
    faster = tyre.true_speed_change(known(650.0), known(620.0)).value
    slower = tyre.engine_speed_change(known(650.0), known(620.0)).value
    assert math.isclose((1 + faster / 100) * (1 + slower / 100), 1.0)


def test_pressure_above_the_rated_one_adds_no_load():
    assert tyre.load_at_pressure(500.0, 3.2, rated_pressure=2.5) == 500.0
