"""Extents, ramps and what is said of gaps: read exactly, refused at the right characters."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.quantities.misread import Misread
from generator.quantities.span import (
    Extent,
    Ramp,
    Said,
    read_coordinate,
    read_extent,
    read_gap,
)
from tests.processor import at_most

Reader = Callable[[str], object]

# The inch is 25.4 mm by definition; all else is in millimetres as typed.
COORDINATES = {
    "92 mm": Extent(92.0, 92.0, "92 mm"),
    "-25 to 25 mm": Extent(-25.0, 25.0, "-25 to 25 mm"),
    "-139 -> -154 mm": Ramp(-139.0, -154.0, "-139 -> -154 mm"),
    "1 to 2 in": Extent(25.4, 50.8, "1 to 2 in"),
    "1/2 to 3/4 in": Extent(12.7, 19.05, "1/2 to 3/4 in"),
    "5 to 5 mm": Extent(5.0, 5.0, "5 to 5 mm"),
}


@pytest.mark.parametrize("text", COORDINATES)
def test_a_coordinate_is_a_length_an_extent_or_a_ramp(text: str) -> None:
    assert read_coordinate(text) == COORDINATES[text]


def test_a_range_of_widths_is_read_in_inches() -> None:
    assert read_extent("5.5 to 7.5 in") == Extent(139.7, 190.5, "5.5 to 7.5 in")


GAPS = {
    "6 mm": (Said.MEASURED, 6.0, 6.0, 1.0),
    "0.25 in": (Said.MEASURED, 6.35, 6.35, 0.254),
    "4 to 5 mm": (Said.BETWEEN, 4.0, 5.0, 1.0),
    "clears": (Said.CLEARS, 0.0, None, 0.0),
    "touches": (Said.TOUCHES, None, 0.0, 0.0),
    "more than 10 mm": (Said.MORE_THAN, 10.0, None, 1.0),
    "not checked": (Said.NOT_CHECKED, None, None, 0.0),
    "-2 mm": (Said.MEASURED, -2.0, -2.0, 1.0),
}


@pytest.mark.parametrize("text", GAPS)
def test_what_is_said_of_a_gap_bounds_it(text: str) -> None:
    gap = read_gap(text)
    assert (gap.said, gap.low, gap.high, gap.resolution) == GAPS[text]
    assert gap.typed == text


def test_row_37_an_unchecked_gap_has_no_bound_at_all() -> None:
    gap = read_gap("not checked")
    assert (gap.low, gap.high) == (None, None)


REFUSED: dict[str, tuple[Reader, str, str, tuple[int, int], str]] = {
    "backwards": (read_coordinate, "25 to -25 mm", "S01", (0, 12), ""),
    "backwards in a gap": (read_gap, "5 to 4 mm", "S01", (0, 9), ""),
    "an arrow in a range": (read_extent, "5 -> 7 in", "S02", (2, 4), "5 to 7 in"),
    "an arrow in a gap": (read_gap, "5 -> 7 mm", "Q02", (0, 9), ""),
    "another word": (read_gap, "plenty", "S03", (0, 6), ""),
    "a word near one": (read_gap, "Clear!", "S03", (0, 6), "clears"),
    "another word for unknown": (read_gap, "unknown", "S03", (0, 7), "not checked"),
    "a capital": (read_gap, "Clears", "S03", (0, 6), "clears"),
    "row 21: nan": (read_gap, "nan mm", "S03", (0, 6), ""),
    "row 21: more than nan": (read_gap, "more than nan mm", "Q02", (10, 16), ""),
    "row 22: infinite": (read_gap, "inf", "S03", (0, 3), ""),
    "row 23: a comma behind words": (
        read_gap, "more than 5,5 mm", "Q05", (11, 12), "more than 5.5 mm",
    ),
    "row 26: the second unit": (read_gap, "4 to 5 MM", "Q03", (7, 9), "4 to 5 mm"),
    "row 26: the second unit of a coordinate": (
        read_coordinate, "-4 -> 5 xx", "Q03", (8, 10), "",
    ),
    "no unit at the end": (read_gap, "4 to 5", "Q02", (0, 6), ""),
    "two units": (read_gap, "4 mm to 5 mm", "Q02", (0, 12), ""),
    "row 28: long": (read_gap, "4 to 5 " + "m" * 50_000, "Q09", (0, 50_007), ""),
    "row 28: long words": (read_gap, "m" * 50_000, "S03", (0, 50_000), ""),
    "row 28: many blanks": (
        read_coordinate, "4" + " " * 50_000 + "to 5 mm", "Q09", (0, 50_008), "",
    ),
    "row 32: another minus": (read_coordinate, "−25 to 25 mm", "Q07", (0, 1), "-25 to 25 mm"),
    "empty": (read_gap, "", "Q01", (0, 1), ""),
}  # fmt: skip


@pytest.mark.parametrize("row", REFUSED)
def test_what_is_no_span_is_refused_at_once_at_its_characters(row: str) -> None:
    read, text, code, span, fix = REFUSED[row]
    with at_most(0.2), pytest.raises(Misread) as caught:
        read(text)
    slip = caught.value
    assert (slip.code, (slip.start, slip.end), slip.fix) == (code, span, fix)


@given(st.integers(-9999, 9999), st.integers(-9999, 9999))
def test_an_extent_is_read_only_from_less_to_more(low: int, high: int) -> None:
    text = f"{low} to {high} mm"
    if low <= high:
        assert read_extent(text) == Extent(low, high, text)
    else:
        with pytest.raises(Misread):
            read_extent(text)


@given(st.integers(-9999, 9999), st.integers(-9999, 9999))
def test_a_ramp_runs_either_way(start: int, end: int) -> None:
    text = f"{start} -> {end} mm"
    assert read_coordinate(text) == Ramp(start, end, text)


LIKELY = st.text(st.sampled_from("0123456789 .-+>to,mincleartouhs\n/"), max_size=44)


@pytest.mark.parametrize("read", [read_coordinate, read_extent, read_gap])
@given(text=LIKELY | st.text(max_size=50))
def test_any_text_gives_a_value_or_a_placed_misread(read: Reader, text: str) -> None:
    try:
        read(text)
    except Misread as slip:
        at = (slip.start, slip.end)
    else:
        return
    assert 0 <= at[0] < at[1] <= max(len(text), 1) + 1
