"""Entries of records as statements about a correction."""

from math import inf, nan

import pytest

from generator.evidence.observation import (
    Kind,
    Observation,
    Origin,
    exact,
    gap_above,
    gap_at_most,
    gap_between,
    lower_bound,
    measured_gap,
    upper_bound,
)
from generator.quantities.estimate import Basis, Estimate

ORIGIN = Origin("car", "member", "record")
COMPUTED = Estimate(5.0, 4.0, Basis.INFERRED)


def test_a_measured_gap_is_the_difference_with_both_uncertainties():
    entry = measured_gap(Estimate(8.0, 3.0, Basis.MEASURED), COMPUTED, ORIGIN)
    # 8 − 5 = 3; √(3² + 4²) = 5, JCGM 100 clause 5.1
    assert (entry.low, entry.high, entry.u) == (3.0, 3.0, 5.0)
    assert entry.kind is Kind.EXACT


def test_clears_touches_and_between_bound_the_correction():
    # by hand: 5 + c > 10 ⇔ c > 5;  5 + c ≤ 0 ⇔ c ≤ −5;  2 < 5 + c ≤ 4 ⇔ −3 < c ≤ −1
    assert gap_above(10.0, COMPUTED, ORIGIN) == lower_bound(5.0, 4.0, ORIGIN)
    assert gap_at_most(0.0, COMPUTED, ORIGIN) == upper_bound(-5.0, 4.0, ORIGIN)
    between = gap_between(2.0, 4.0, COMPUTED, ORIGIN)
    assert (between.low, between.high, between.kind) == (-3.0, -1.0, Kind.INTERVAL)


@pytest.mark.parametrize(
    ("low", "high", "u"),
    [
        (nan, 1.0, 1.0),
        (0.0, nan, 1.0),
        (2.0, 1.0, 1.0),
        (-inf, inf, 1.0),
        (inf, inf, 1.0),
        (-inf, -inf, 1.0),
        (0.0, 1.0, -1.0),
        (0.0, 1.0, nan),
        (0.0, 1.0, inf),
    ],
)
def test_a_statement_that_says_nothing_is_refused(low, high, u):
    with pytest.raises(ValueError, match="observation"):
        Observation(low, high, u, ORIGIN)


def test_an_interval_turned_round_is_refused():
    with pytest.raises(ValueError, match="least < most"):
        gap_between(4.0, 4.0, COMPUTED, ORIGIN)


def test_an_entry_without_a_car_is_refused():
    with pytest.raises(ValueError, match="car"):
        exact(0.0, 1.0, Origin("", "member", "record"))


def test_the_sort_key_orders_by_content():
    first, second = exact(1.0, 1.0, ORIGIN), exact(2.0, 1.0, ORIGIN)
    assert sorted([second, first], key=lambda o: o.sort_key) == [first, second]
