"""Numbers with units: what is read exactly, and what is refused, quickly, with the text to type.

Rows are those of the threat list; factors are exact by definition: the inch is 25.4 mm and the
pound 0.45359237 kg (international agreement of 1959).
"""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.quantities.misread import Misread
from generator.quantities.quantity import LONGEST, read_quantity
from generator.quantities.units import BY_SPELLING, Dimension, factor
from tests.processor import at_most

AT_ONCE = 0.05
"""Seconds: the limit of row 27."""

# Text, dimension, value in the canonical unit.
READ = [
    ("35 mm", Dimension.LENGTH, 35.0),
    ("35mm", Dimension.LENGTH, 35.0),
    ("-12 mm", Dimension.LENGTH, -12.0),
    ("1.5 in", Dimension.LENGTH, 38.1),
    ("0.200 in", Dimension.LENGTH, 5.08),
    ("3/8 in", Dimension.LENGTH, 9.525),
    ("-1/64 in", Dimension.LENGTH, -0.396875),
    ("200 thou", Dimension.LENGTH, 5.08),
    ("2.5 cm", Dimension.LENGTH, 25.0),
    ("100 lb", Dimension.MASS, 45.359237),
    ("7400 g", Dimension.MASS, 7.4),
    ("-1.5°", Dimension.ANGLE, -1.5),
    ("30 arcmin", Dimension.ANGLE, 0.5),
    ("95 N·m", Dimension.TORQUE, 95.0),
    ("100 mi", Dimension.DISTANCE, 160.9344),
    ("100 kPa", Dimension.PRESSURE, 1.0),
    ("60 mph", Dimension.SPEED, 96.56064),
    ("-0.013 deg/mm", Dimension.ANGLE_PER_LENGTH, -0.013),
    ("999999.999999 mm", Dimension.LENGTH, 999999.999999),
]  # fmt: skip


@pytest.mark.parametrize(("text", "dimension", "value"), READ)
def test_a_number_with_its_unit_is_read_exactly(
    text: str, dimension: Dimension, value: float
) -> None:
    quantity = read_quantity(text, dimension)
    assert quantity.value == value
    assert quantity.typed == quantity.canonical == text


# Text, code, first and last character at fault, fix. All are lengths.
REFUSED: dict[str, tuple[str, str, tuple[int, int], str]] = {
    "row 20: 5,000 digits": ("9" * 5000, "Q09", (0, 5000), ""),
    "row 21: NaN": ("NaN mm", "Q02", (0, 6), ""),
    "row 21: .nan": (".nan", "Q02", (0, 4), ""),
    "row 22: infinite": ("inf mm", "Q02", (0, 6), ""),
    "row 22: -inf": ("-inf mm", "Q02", (0, 7), ""),
    "row 22: an exponent": ("1e400 mm", "Q02", (0, 8), ""),
    "row 22: a small exponent": ("1e3 mm", "Q02", (0, 6), ""),
    "row 23: a comma": ("5,5 mm", "Q05", (1, 2), "5.5 mm"),
    "row 24: a mixed number": ("1 1/2 in", "Q06", (0, 5), "1.5 in"),
    "row 24: a mixed number with a hyphen": ("1-1/2 in", "Q06", (0, 5), "1.5 in"),
    "row 25: feet and inches by ticks": ("5' 3\"", "Q06", (1, 5), ""),
    "row 25: an inch sign": ("5″", "Q06", (1, 2), "5 in"),
    "row 25: an inch tick": ('5"', "Q06", (1, 2), "5 in"),
    "row 25: feet and inches": ("5 ft 3 in", "Q06", (0, 9), "63 in"),
    "row 26: capitals": ("5 MM", "Q03", (2, 4), "5 mm"),
    "row 26: another case": ("5 Mm", "Q03", (2, 4), "5 mm"),
    "row 26: pints": ("5 pt", "Q03", (2, 4), ""),
    "row 26: a square": ("5 m m", "Q03", (2, 5), "5 mm"),
    "row 27: powers": ("9**9**9", "Q02", (0, 7), ""),
    "row 27: a large power": ("10**10**8", "Q02", (0, 9), ""),
    "row 28: 50,000 letters": ("5 " + "m" * 50_000, "Q09", (0, 50_002), ""),
    "row 28: 3,000 terms": ("1" + "+1" * 3000, "Q09", (0, 6001), ""),
    "row 29: no number": ("mm", "Q02", (0, 2), ""),
    "row 29: no text": ("", "Q01", (0, 1), ""),
    "row 29: two numbers": ("5 5", "Q02", (0, 3), ""),
    "row 30: a remark": ("5 mm # ok", "Q03", (2, 9), ""),
    "row 30: a second line": ("5 mm\n+ 1 m", "Q02", (4, 10), ""),
    "row 30: a line end": ("5 mm\n", "Q03", (2, 5), "5 mm"),
    "row 31: code behind": ("35 mm; import os", "Q03", (3, 16), ""),
    "row 31: code": ('__import__("os")', "Q06", (11, 16), ""),
    "row 32: the minus of typesetters": ("\u221212 mm", "Q07", (0, 1), "-12 mm"),
    "row 32: an en dash": ("\u201312 mm", "Q07", (0, 1), "-12 mm"),
    "row 32: wide digits": ("\uff15 mm", "Q02", (0, 1), "5 mm"),
    "row 32: digits of another script": ("1\u0665 mm", "Q02", (1, 2), "15 mm"),
    "row 34: a truth word": ("true", "Q02", (0, 4), ""),
    "row 23: a comma that may stand for thousands": ("1,234 mm", "Q05", (1, 2), ""),
    "row 23: a comma that cannot": ("0,254 in", "Q05", (1, 2), "0.254 in"),
    "row 23: a comma and a point": ("1,234.5 mm", "Q05", (1, 2), ""),
    "row 23: a point and a comma": ("1.234,5", "Q05", (5, 6), ""),
    "row 24: a fraction in one sign": ("⅜ in", "Q06", (0, 1), "3/8 in"),
    "row 24: a fraction in one sign, without a unit": ("¾", "Q06", (0, 1), "3/4 in"),
    "row 24: a whole number and a fraction in one sign": ("5⅜ in", "Q06", (1, 2), "5.375 in"),
    "row 24: a fraction in one sign of a millimetre": ("½ mm", "Q06", (0, 1), ""),
    "row 24: a whole number before a fraction in one sign": ("5½", "Q06", (1, 2), ""),
    "no unit": ("35", "Q08", (2, 3), "35 mm"),
    "a fraction without a unit": ("3/8", "Q08", (3, 4), "3/8 in"),
    "a unit of another kind": ("35 deg", "Q04", (3, 6), ""),
    "a fraction of a millimetre": ("3/8 mm", "Q06", (1, 3), ""),
    "a third of an inch": ("1/3 in", "Q06", (1, 3), ""),
    "a fraction by nothing": ("1/0 in", "Q06", (1, 3), ""),
    "a fraction of a decimal": ("1.5/8 in", "Q06", (3, 5), ""),
    "two blanks": ("5  mm", "Q03", (2, 5), "5 mm"),
    "a blank that cannot be broken": ("5\u00a0mm", "Q03", (1, 4), "5 mm"),
    "two signs": ("--5 mm", "Q02", (0, 6), ""),
    "a bare point": (". mm", "Q02", (0, 4), ""),
    "a sum": ("5 + 3 mm", "Q02", (0, 8), ""),
    "a range": ("5-8 mm", "Q02", (0, 6), ""),
    "a slip of spelling": ("5 milimetres", "Q03", (2, 12), "5 millimetres"),
    "seven digits": ("1234567 mm", "Q02", (0, 10), ""),
}  # fmt: skip


@pytest.mark.parametrize("row", REFUSED)
def test_what_is_no_quantity_is_refused_at_once_at_its_characters(row: str) -> None:
    text, code, span, fix = REFUSED[row]
    read_quantity("1 in", Dimension.LENGTH)  # the factor of the inch is looked up once
    with at_most(AT_ONCE), pytest.raises(Misread) as caught:
        read_quantity(text, Dimension.LENGTH)
    slip = caught.value
    assert (slip.code, (slip.start, slip.end), slip.fix) == (code, span, fix)
    assert slip.expected


@pytest.mark.parametrize("row", [row for row in REFUSED if REFUSED[row][3]])
def test_the_fix_is_itself_read(row: str) -> None:
    assert read_quantity(REFUSED[row][3], Dimension.LENGTH).value != 0.0


@pytest.mark.parametrize("text", ["5 MM", "5 Mm", "5 pt", "5 m m", "35 mm; import os"])
def test_row_26_an_unknown_unit_lists_those_there_are(text: str) -> None:
    with pytest.raises(Misread) as caught:
        read_quantity(text, Dimension.LENGTH)
    assert caught.value.expected == "a length in `mm` or `cm` or `in` or `thou`"


@pytest.mark.parametrize(
    ("text", "canonical"),
    [("-0 mm", "0 mm"), ("+35 mm", "35 mm"), ("035 mm", "35 mm"), ("35. mm", "35 mm"),
     ("00 mm", "0 mm"), ("+.5 in", "0.5 in"), ("-0.0 mm", "0.0 mm"), ("07/8 in", "7/8 in"),
     ("+35mm", "35 mm")],
)  # fmt: skip
def test_row_33_an_odd_form_has_one_canonical_form_of_the_same_value(
    text: str, canonical: str
) -> None:
    odd = read_quantity(text, Dimension.LENGTH)
    usual = read_quantity(canonical, Dimension.LENGTH)
    assert (odd.typed, odd.canonical) == (text, canonical)
    assert (odd.value, usual.canonical) == (usual.value, canonical)
    assert str(odd.value) != "-0.0"


@pytest.mark.parametrize("text", ["19.99 mm", "0.3 mm", "0.1 mm", "0.7 mm", "123.456 mm"])
def test_row_36_a_decimal_is_the_nearest_number_there_is(text: str) -> None:
    assert read_quantity(text, Dimension.LENGTH).value == float(Decimal(text.split(maxsplit=1)[0]))


@pytest.mark.parametrize(
    ("text", "resolution"),
    [("9 mm", 1.0), ("9.0 mm", 0.1), ("9.25 mm", 0.01), ("0.2 in", 2.54), ("3/8 in", 3.175),
     ("3/64 in", 0.396875), ("2 cm", 10.0)],
)  # fmt: skip
def test_the_resolution_is_one_step_of_the_last_digit(text: str, resolution: float) -> None:
    assert read_quantity(text, Dimension.LENGTH).resolution == resolution


@given(
    st.decimals(-99999, 99999, places=3, allow_nan=False),
    st.sampled_from(sorted(BY_SPELLING)),
)
def test_any_number_in_any_unit_is_value_times_factor(number: Decimal, spelling: str) -> None:
    unit = BY_SPELLING[spelling]
    text = f"{number} {spelling}"
    if len(text) > LONGEST:
        return
    quantity = read_quantity(text, unit.dimension)
    assert quantity.unit is unit
    assert quantity.value == pytest.approx(float(number) * factor(unit), rel=1e-12, abs=1e-9)
    again = read_quantity(quantity.canonical, unit.dimension)
    assert again.value == quantity.value
    assert again.canonical == quantity.canonical


LIKELY = st.text(
    st.sampled_from("0123456789+-−–./, '\"″ mincthouMdegft\u00a0\u0665\n"), max_size=26
)


@given(LIKELY | st.text(max_size=40), st.sampled_from(Dimension))
def test_any_text_gives_a_finite_number_or_a_placed_misread(
    text: str, dimension: Dimension
) -> None:
    try:
        quantity = read_quantity(text, dimension)
    except Misread as slip:
        at, code = (slip.start, slip.end), slip.code
    else:
        assert abs(quantity.value) < 1e9 * 1610
        assert quantity.unit.dimension is dimension
        return
    assert 0 <= at[0] < at[1] <= len(text) + 1
    assert code.startswith("Q0")
