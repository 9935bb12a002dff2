"""A number beside its bound shows on which side of it it lies."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.assessment.written import apart


@given(
    value=st.floats(-2000.0, 2000.0),
    bound=st.floats(-2000.0, 2000.0),
    places=st.integers(0, 2),
)
def test_what_is_told_is_in_the_order_of_what_was_measured(
    value: float, bound: float, places: int
) -> None:
    told = tuple(float(each) for each in apart(value, bound, places))
    assert (told[0] - told[1]) * (value - bound) >= 0.0
    # Half a unit of the last of four decimals on each side, and binary dust.
    if abs(value - bound) > 1.0001e-4:
        assert told[0] != told[1]


@pytest.mark.parametrize(
    ("value", "bound", "told"),
    [
        (20.04, 20.0, ("20.04", "20.00")),
        (19.96, 20.0, ("19.96", "20.00")),
        (2.9996, 3.0, ("2.9996", "3.0000")),
        (31.2, 20.0, ("31.2", "20.0")),
        (0.0, -0.04, ("0.00", "-0.04")),
        (20.0 + 1e-12, 20.0, ("20.0", "20.0")),
    ],
)
def test_decimals_grow_until_both_can_be_told_apart(
    value: float, bound: float, told: tuple[str, str]
) -> None:
    assert apart(value, bound) == told
