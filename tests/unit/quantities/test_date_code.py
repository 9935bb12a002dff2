"""Readings of date codes; the published worked codes are in tests/published/cfr574.yaml."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.quantities.date_code import read_date_code, week_days
from generator.quantities.misread import Misread


@given(st.integers(1, 53), st.integers(0, 99))
def test_week_runs_from_sunday_to_saturday(week: int, year: int) -> None:
    first, last = week_days(read_date_code(f"{week:02}{year:02}"))
    assert (first.weekday(), last.weekday()) == (6, 5)
    assert last - first == timedelta(days=6)


@given(st.integers(0, 99))
def test_week_one_is_the_first_whole_week_of_the_year(year: int) -> None:
    first, _ = week_days(read_date_code(f"01{year:02}"))
    assert date(2000 + year, 1, 1) <= first <= date(2000 + year, 1, 7)


def test_three_digits_never_give_one_year() -> None:
    for digits in range(10, 540):
        code = read_date_code(f"{digits:03}")
        assert not code.is_certain
        assert all(year % 10 == digits % 10 for year in code.years)


def test_three_digits_span_the_first_to_the_last_year() -> None:
    first, last = week_days(read_date_code("317"))
    assert (first.year, last.year) == (1977, 1997)


@pytest.mark.parametrize(
    ("text", "code", "fix"),
    [
        ("DOT AB12 CDEF 2501", "N503", "2501"),
        ("dot xxxx 2501", "N503", "2501"),
        ("25/01", "N501", "2501"),
        ("12A4", "N501", ""),
        ("0016", "N502", ""),
        ("5416", "N502", ""),
        ("25", "N501", ""),
        ("２５０１", "N501", ""),
    ],
)
def test_each_slip_has_its_code_and_fix(text: str, code: str, fix: str) -> None:
    with pytest.raises(Misread) as caught:
        read_date_code(text)
    assert (code, fix) == (caught.value.code, caught.value.fix)
