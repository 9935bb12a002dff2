"""Numbers as data. Row 58 of the list of hostile inputs: a negative offset stays a bare number."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.site.data.columns import canonical


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (-12.0, "-12"), (0.0, "0"), (-0.0, "0"), (-0.0004, "0"), (0.0005, "0.001"),
        (100.0, "100"), (1e15, "1000000000000000"), (1234567.891, "1234567.891"), (5, "5"),
    ],
)  # fmt: skip
def test_numbers_have_one_form(value: float, text: str) -> None:
    # 0.0005 as a binary fraction lies a little above a half (0.0005000000000000000104…)
    assert canonical(value, 3) == text


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_no_number_that_is_not_finite_is_given_out(value: float) -> None:
    with pytest.raises(ValueError, match="no number"):
        canonical(value, 3)


@given(st.floats(-1e9, 1e9), st.integers(0, 9))
def test_the_written_number_reads_back_within_half_a_step(value: float, decimals: int) -> None:
    text = canonical(value, decimals)
    assert set(text) <= set("-.0123456789")
    assert len(text.partition(".")[2]) <= 6
    kept = min(decimals, 6)
    assert abs(float(text) - value) <= 0.5 * 10.0**-kept + 1e-6 * 2.0**-20 * abs(value)
