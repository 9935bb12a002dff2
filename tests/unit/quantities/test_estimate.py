from math import inf, nan, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.quantities.estimate import Basis, Estimate, weakest

bases = st.sampled_from(Basis)
estimates = st.builds(
    Estimate,
    st.floats(-1e4, 1e4),
    st.floats(0.0, 1e3),
    bases,
    st.lists(st.sampled_from(("GUM", "UNR30", "wheel.offset")), max_size=2, unique=True).map(tuple),
)


def of_u(*uncertainties):
    """Add zeros of the given uncertainties."""
    total = Estimate(0.0, 0.0, Basis.MEASURED)
    for u in uncertainties:
        total = total.plus(Estimate(0.0, u, Basis.MEASURED))
    return total.u


def test_the_difference_of_two_end_gauges_is_as_uncertain_as_the_guide_says():
    # JCGM 100 example H.1 (from memory): 5.8, 3.9 and 6.7 nm give 9.7 nm.
    assert of_u(5.8, 3.9, 6.7) == pytest.approx(9.7, abs=0.05)


def test_the_length_of_an_end_gauge_is_as_uncertain_as_the_guide_says():
    # JCGM 100 example H.1 (from memory): 25, 9.7, 2.9 and 16.6 nm give 32 nm, 1002 nm² before
    # its rounded parts.
    assert of_u(25.0, 9.7, 2.9, 16.6) == pytest.approx(32.0, abs=0.5)
    assert of_u(25.0, 9.7, 2.9, 16.6) ** 2 == pytest.approx(1002.0, abs=2.0)


def test_a_difference_is_no_better_known_than_a_sum():
    # JCGM 100 5.1.2: sensitivities enter squared.
    one, other = Estimate(10.0, 0.3, Basis.MEASURED), Estimate(4.0, 0.4, Basis.ASSUMED)
    assert one.minus(other).value == 6.0
    assert one.minus(other).u == pytest.approx(0.5)
    assert one.plus(other).u == pytest.approx(0.5)


@given(estimates, st.floats(-50.0, 50.0))
def test_a_known_factor_scales_value_and_uncertainty(estimate, by):
    # JCGM 100 5.1.3: u(c·x) = |c|·u(x).
    scaled = estimate.scaled(by)
    assert scaled.value == estimate.value * by
    assert scaled.u == pytest.approx(abs(by) * estimate.u)
    assert scaled.basis is estimate.basis


@given(estimates, st.floats(-1e4, 1e4))
def test_a_known_number_added_changes_no_uncertainty(estimate, by):
    shifted = estimate.shifted(by)
    assert shifted.value == estimate.value + by
    assert shifted.u == estimate.u
    assert shifted.sources == estimate.sources


@given(estimates, estimates)
def test_adding_in_either_order_gives_the_same_number(one, other):
    assert one.plus(other).value == other.plus(one).value
    assert one.plus(other).u == other.plus(one).u
    assert one.plus(other).basis is other.plus(one).basis
    assert set(one.plus(other).sources) == set(one.sources) | set(other.sources)


@given(estimates, estimates)
def test_a_sum_is_never_better_known_than_either_part(one, other):
    total = one.plus(other)
    assert total.u >= max(one.u, other.u)
    assert total.u <= one.u + other.u + 1e-9
    assert total.basis is weakest(one.basis, other.basis)


def test_n_equal_readings_add_with_the_root_of_n():
    # JCGM 100 5.1.2 for independent inputs.
    assert of_u(*[0.5] * 9) == pytest.approx(0.5 * sqrt(9))


@given(st.lists(bases, min_size=1))
def test_the_weakest_ground_is_the_last_in_the_list_of_grounds(found):
    order = [Basis.MEASURED, Basis.PUBLISHED, Basis.STAMPED, Basis.INFERRED, Basis.ASSUMED]
    assert weakest(*found) is order[max(order.index(basis) for basis in found)]


def test_a_source_is_named_once():
    one = Estimate(1.0, 0.1, Basis.MEASURED, ("UNR30", "GUM"))
    assert one.plus(one).sources == ("UNR30", "GUM")


@pytest.mark.parametrize(
    ("value", "u"), [(nan, 0.1), (inf, 0.1), (1.0, nan), (1.0, inf), (1.0, -0.1)]
)
def test_numbers_that_are_unknown_make_no_estimate(value, u):
    with pytest.raises(ValueError, match="finite"):
        Estimate(value, u, Basis.MEASURED)
