"""Readings of rim designations; examples of ISO 4000-2 and DIN 7817, second hand, or practice."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.quantities.misread import Misread
from generator.quantities.rim_size import FLANGES, HUMPS, read_rim_size


@pytest.mark.parametrize(
    ("text", "width", "diameter", "flange", "humps"),
    [
        ("15 x 6 J", 6.0, 15.0, "J", None),  # ISO 4000-2
        ("13 x 5.50 B", 5.5, 13.0, "B", None),  # ISO 4000-2
        ("5 J 13 H2", 5.0, 13.0, "J", "H2"),  # DIN 7817
        ("5J13H2", 5.0, 13.0, "J", "H2"),
        ("16x7J", 7.0, 16.0, "J", None),  # SAE J2530
        ("7JJ X 14", 7.0, 14.0, "JJ", None),  # South Australian marking
        ("6 J x 15 H2", 6.0, 15.0, "J", "H2"),
        ("7x16", 7.0, 16.0, None, None),
        ("16x7", 7.0, 16.0, None, None),
        ("12x12", 12.0, 12.0, None, None),
        ("10x13", 10.0, 13.0, None, None),
        ("13x14J", 14.0, 13.0, "J", None),
        ("7 1/2 J x 16", 7.5, 16.0, "J", None),
        ('7"x16"', 7.0, 16.0, None, None),
        ("6.25Jx14 FH2", 6.25, 14.0, "J", "FH2"),
    ],
)
def test_designation_is_read_in_either_order(
    text: str, width: float, diameter: float, flange: str | None, humps: str | None
) -> None:
    rim = read_rim_size(text)
    assert (width, diameter, flange, humps) == (
        rim.width_code,
        rim.diameter_code,
        rim.flange,
        rim.humps,
    )


def test_width_is_in_mm_exactly() -> None:
    assert read_rim_size("7Jx16").width == pytest.approx(177.8)  # 7 x 25.4


def test_hyphen_means_several_pieces() -> None:
    assert read_rim_size("15-6J").several_pieces
    assert not read_rim_size("15x6J").several_pieces


@pytest.mark.parametrize("mark", ["ET35", " ET 35 mm", " IS35", "x35", " 35P"])
def test_offset_is_sent_to_its_own_field(mark: str) -> None:
    with pytest.raises(Misread) as caught:
        read_rim_size(f"7Jx16{mark}")
    assert caught.value.code == "N205"
    assert "offset: 35 mm" in caught.value.expected
    assert caught.value.fix == "7 J x 16"


def test_letter_at_the_diameter_is_refused_with_the_fix() -> None:
    with pytest.raises(Misread) as caught:
        read_rim_size("7x16J")
    assert (caught.value.code, caught.value.fix) == ("N203", "7 J x 16")


@given(
    st.integers(12, 60).map(lambda quarters: quarters / 4),
    st.integers(10, 24),
    st.sampled_from(["", *FLANGES]),
    st.sampled_from(["", *HUMPS]),
    st.sampled_from("x-×"),
)
def test_canonical_text_reads_as_the_same_rim(
    width: float, diameter: int, flange: str, humps: str, separator: str
) -> None:
    if width > diameter:
        return
    rim = read_rim_size(f"{width} {flange} {separator} {diameter} {humps}")
    assert read_rim_size(str(rim)) == rim
    assert (rim.width_code, rim.diameter_code) == (width, float(diameter))
