"""How values are prepared for pages: units, decimals, what was typed, and what is not known."""

import pytest

from generator.quantities.estimate import Basis, Estimate
from generator.quantities.quantity import read_quantity
from generator.quantities.span import read_gap
from generator.quantities.units import Dimension
from generator.rendering.filters import inches
from generator.site.facts import (
    UNKNOWN,
    Kind,
    estimated,
    given,
    length_and_words,
    percent,
    said,
    words,
    yes_no,
)


def test_what_is_not_known_is_unknown_and_never_a_number() -> None:
    for shown in (given(None), estimated(None), percent(None), words(""), yes_no(None)):
        assert shown == UNKNOWN
        assert shown.kind is Kind.UNKNOWN
        assert shown.value is None


@pytest.mark.parametrize(
    ("text", "value", "rest"),
    [
        ("8 mm", 8.0, ""),
        ("5/16 in", 7.9375, ""),  # 5/16 of 25.4 mm
        ("8 mm, in three passes", 8.0, ", in three passes"),
        ("0.24 in at the apron seam", 6.096, " at the apron seam"),  # 0.24 of 25.4 mm
    ],
)
def test_a_length_that_words_begin_with_is_one(text: str, value: float, rest: str) -> None:
    shown, told = length_and_words(text)
    assert (shown.kind, told) == (Kind.LENGTH, rest)
    assert shown.value == pytest.approx(value, abs=1e-9)


@pytest.mark.parametrize(
    "text", ["8", "2.4 degrees", "27 mm instead of 30", "clip 6 mm inboard", "tried for a week"]
)
def test_other_words_stay_as_typed(text: str) -> None:
    assert length_and_words(text) == (words(text), "")
    assert length_and_words(None) == (UNKNOWN, "")


@pytest.mark.parametrize(
    ("typed", "value", "decimals"),
    [
        ("123.5 mm", 123.5, 1),
        ("9 mm", 9.0, 0),
        ("5.44 in", 138.176, 1),  # 1 in = 25.4 mm, yard-pound agreement of 1959
        ("3/8 in", 9.525, 1),
        ("1 in", 25.4, 1),
        ("1.10 in", 27.94, 1),
        ("0.375 in", 9.525, 2),
    ],
)
def test_a_length_keeps_what_was_typed_and_how_finely(
    typed: str, value: float, decimals: int
) -> None:
    shown = given(read_quantity(typed, Dimension.LENGTH))
    assert (shown.kind, shown.typed, shown.decimals) == (Kind.LENGTH, typed, decimals)
    assert shown.value == pytest.approx(value, abs=1e-9)


@pytest.mark.parametrize(
    ("typed", "dimension", "value", "other", "other_unit"),
    [
        # NIST SP 811, appendix B: 1 lbf·ft = 1.355 818 N·m, 1 psi = 6.894 757 kPa,
        # 1 lb = 0.453 592 37 kg, 1 mile = 1.609 344 km
        ("100 N·m", Dimension.TORQUE, 100.0, 73.756, "lb ft"),
        ("2.0 bar", Dimension.PRESSURE, 2.0, 29.008, "psi"),
        ("80 kg", Dimension.MASS, 80.0, 176.370, "lb"),
        ("100 mi", Dimension.DISTANCE, 160.9344, 100.0, "mi"),
    ],
)
def test_other_quantities_carry_the_unit_of_the_inch_readers(
    typed: str, dimension: Dimension, value: float, other: float, other_unit: str
) -> None:
    shown = given(read_quantity(typed, dimension))
    assert shown.value == pytest.approx(value, abs=1e-4)
    assert shown.other == pytest.approx(other, abs=1e-2)
    assert (shown.other_unit, shown.typed) == (other_unit, typed)


def test_an_angle_is_the_same_to_all() -> None:
    shown = given(read_quantity("-1.5 deg", Dimension.ANGLE), is_signed=True)
    assert (shown.value, shown.unit, shown.other) == (-1.5, "°", None)


def test_an_estimate_shows_its_spread_and_ground() -> None:
    shown = estimated(Estimate(22.0, 0.9, Basis.STAMPED))
    assert (shown.value, shown.u, shown.basis) == (22.0, 0.9, "stamped")


def test_an_exact_estimate_shows_no_spread() -> None:
    assert estimated(Estimate(22.0, 0.0, Basis.PUBLISHED)).u is None


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("6 mm", Kind.LENGTH),
        ("6 to 9 mm", Kind.TOLD),
        ("clears", Kind.WORDS),
        ("more than 10 mm", Kind.TOLD),
    ],
)
def test_a_gap_tells_its_lengths_and_what_was_typed(text: str, kind: Kind) -> None:
    shown = said(read_gap(text))
    assert shown.kind is kind
    assert text in (shown.typed, shown.text)


@pytest.mark.parametrize(
    ("typed", "told"),
    # 1.1 x 25.4 = 27.94, 0.25 x 25.4 = 6.35 and 0.375 x 25.4 = 9.525
    [
        ("more than 1.1 in", "more than 27.9 mm"),
        ("0.25 to 0.50 in", "6.3 to 12.7 mm"),
        ("22 to 23 mm", "22 to 23 mm"),
    ],
)
def test_a_gap_typed_in_words_is_told_in_mm_and_stays_as_typed(typed: str, told: str) -> None:
    shown = said(read_gap(typed))
    assert (shown.text, shown.typed) == (told, typed)


@pytest.mark.parametrize("typed", ["0.98 in", "1.1 in", "0.125 in", "0.063 in", "12.75 in", "3 in"])
def test_a_length_typed_in_inches_shows_the_same_inches(typed: str) -> None:
    shown = given(read_quantity(typed, Dimension.LENGTH))
    assert float(inches(shown.value, shown.decimals)) == float(typed.removesuffix(" in"))
