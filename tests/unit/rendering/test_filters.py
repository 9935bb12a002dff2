from datetime import date

import pytest

from generator.rendering import filters


@pytest.mark.parametrize(
    ("expected", "value", "decimals"),
    [
        # ISO 80000-1 7.3.1: groups of three by a small space; four digits may stand together
        ("12\u202f400", 12400, 0),
        ("1\u202f234\u202f567.9", 1234567.89, 1),
        ("7705", 7705, 0),
        # Unicode: U+2212 is the minus sign
        ("\u22121.5", -1.5, 1),
        ("\u221210\u202f000", -10000, 0),
        ("0.0", -0.04, 1),
        ("0.0", 0.0, 1),
        ("not known", None, 1),
    ],
)
def test_figure_writes_a_number_the_same_everywhere(expected, value, decimals):
    assert filters.figure(value, decimals) == expected


@pytest.mark.parametrize(
    ("expected", "value"),
    [("+3.0", 3.0), ("\u22123.0", -3.0), ("0.0", 0.0), ("0.0", 0.01), ("not known", None)],
)
def test_signed_gives_zero_no_sign(expected, value):
    assert filters.signed(value) == expected


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
@pytest.mark.parametrize("show", [filters.figure, filters.mm, filters.inch, filters.plain])
def test_a_number_that_is_not_finite_reaches_no_page(show, value):
    with pytest.raises(ValueError, match="not a number that can be shown"):
        show(value)


def test_data_carries_plain_numbers():
    assert filters.plain(-12.5, 1) == "-12.5"
    assert filters.plain(1e-9) == "0.000000"
    assert filters.plain(12400.0, 0) == "12400"


@pytest.mark.parametrize(
    ("expected", "u"),
    [
        # JCGM 100 7.2.6: u to at most two significant digits, the value to the same decimal.
        # Its own example: y = 10.057 62 with u = 27 mΩ is rounded to 10.058 Ω, thus 3 decimals
        # where two digits of u are kept; this guide keeps one digit from 2 on, hence 2.
        (2, 0.027),
        (2, 0.14),
        (1, 0.4),
        (1, 0.96),
        (1, 1.2),
        (0, 2.0),
        (0, 35.0),
        (4, 1e-7),
        (1, None),
        (1, 0.0),
    ],
)
def test_uncertainty_sets_the_decimals(expected, u):
    assert filters.decimals_for(u, 1) == expected


@pytest.mark.parametrize(
    ("expected", "value"),
    # 1 in = 25.4 mm exactly (yard-pound agreement of 1959)
    [("1.00\u00a0in", 25.4), ("\u22120.50\u00a0in", -12.7), ("not known", None)],
)
def test_inch_divides_by_exactly_25_4(expected, value):
    assert filters.inch(value) == expected


@pytest.mark.parametrize(
    ("expected", "value", "decimals"),
    [
        # By hand: 25.0 / 25.4 = 0.984, 24.0 / 25.4 = 0.9449, 25 / 25.4 = 0.984, 3.18 / 25.4 = 0.125
        ("0.98", 24.96, 1),
        ("0.98", 25.04, 1),
        ("0.94", 24.04, 1),
        ("0.98", 24.6, 0),
        ("0.125", 3.175, 2),
        ("\u22120.08", -2.4, 0),
        ("0.00", -0.04, 1),
        ("not known", None, 1),
    ],
)
def test_inches_are_those_of_the_millimetres_shown(expected, value, decimals):
    assert filters.inches(value, decimals) == expected


def test_signed_inches_have_the_sign_of_the_millimetres():
    assert filters.inches(3.0, 0, is_signed=True) == "+0.12"
    assert filters.inches(0.04, 1, is_signed=True) == "0.00"


def test_words_are_told_in_inches_with_the_same_count_of_lengths():
    """By hand: 38.1 / 25.4 = 1.5, 9 / 25.4 = 0.354, 11 / 25.4 = 0.433."""
    told = [filters.in_inches(each) for each in ("more than 38.1 mm", "9\u00a0to\u00a011\u00a0mm")]
    assert [each.replace("\u00a0", " ") for each in told] == [
        "more than 1.50 in",
        "0.35 to 0.43 in",
    ]


def test_lengths_within_words_are_parted_from_them():
    """1 in is 25.4 mm; the rest of the words stays as it is written."""
    parts = filters.lengths_apart("spacer of 12.7 mm instead of -5 mm, within 3 mmm")
    lengths = [part for part in parts if not isinstance(part, str)]
    assert [(each.mm, each.decimals, each.is_signed) for each in lengths] == [
        (12.7, 1, False),
        (-5.0, 0, False),
    ]
    assert filters.inches(lengths[0].mm) == "0.50"
    assert [part for part in parts if isinstance(part, str)] == [
        "spacer of ",
        " instead of ",
        ", within 3 mmm",
    ]
    assert filters.lengths_apart("full bump") == ("full bump",)


@pytest.mark.parametrize(
    ("words", "mm", "spread", "upto"),
    [
        ("suits from 3 to 6 mm of", 3.0, None, 6.0),
        ("from -7 to 7.5 mm", -7.0, None, 7.5),
        ("it would be 9.5 ± 1.4 mm with", 9.5, 1.4, None),
        ("mounted; ±1 mm is accepted", 1.0, None, None),
        ("stands \u22125\u00a0mm out", -5.0, None, None),
    ],
)
def test_a_range_and_an_uncertainty_within_words_stay_together(words, mm, spread, upto):
    (length,) = [part for part in filters.lengths_apart(words) if not isinstance(part, str)]
    assert (length.mm, length.spread, length.upto) == (mm, spread, upto)


def test_a_title_tells_its_lengths_in_inches_too():
    """By hand: 12 / 25.4 = 0.47, 3 / 25.4 = 0.12, 1 / 25.4 = 0.04."""
    told = filters.in_both_units("12 mm above, -3 mm here; 12 ± 1 mm; 7 x 15, at 3 mmm")
    assert told.replace("\u00a0", " ") == (
        "12 mm (0.47 in) above, -3 mm (\u22120.12 in) here; 12 ± 1 mm (0.47 ± 0.04 in); "
        "7 x 15, at 3 mmm"
    )


def test_millimetres_carry_their_unit_unbroken():
    assert filters.mm(112.54) == "112.5\u00a0mm"
    assert filters.mm(None) == "not known"


@pytest.mark.parametrize(
    ("expected", "probability"),
    [
        ("0 %", 0.0),
        ("< 1 %", 0.004),
        ("1 %", 0.01),
        ("50 %", 0.5),
        ("99 %", 0.99),
        ("> 99 %", 0.9999),
        ("100 %", 1.0),
        ("not known", None),
    ],
)
def test_percent_never_rounds_to_certainty(expected, probability):
    assert filters.percent(probability).replace("\u00a0", " ") == expected


@pytest.mark.parametrize("probability", [-0.1, 1.1, float("nan")])
def test_percent_refuses_what_is_no_probability(probability):
    with pytest.raises(ValueError, match="not a probability"):
        filters.percent(probability)


def test_date_writes_the_month_as_a_word():
    assert filters.long_date(date(2026, 3, 4)).replace("\u00a0", " ") == "4 March 2026"
    assert filters.long_date(None) == "not known"


def test_plural_follows_the_count():
    assert filters.plural(0, "car").replace("\u00a0", " ") == "0 cars"
    assert filters.plural(1, "entry", "entries").replace("\u00a0", " ") == "1 entry"
    assert filters.plural(2, "entry", "entries").replace("\u00a0", " ") == "2 entries"


@pytest.mark.parametrize(
    ("expected", "text"),
    [
        ("strut-tube-left", "Strut tube (left)"),
        ("uber", "Über"),
        ("n-7-in", "7 in"),
        ("n-x", "日本"),
        ("n-x", ""),
        ("a-onclick-x", 'a" onclick="x'),
    ],
)
def test_ident_is_safe_inside_an_attribute(expected, text):
    assert filters.ident(text) == expected


def test_filters_do_not_follow_the_language_of_the_machine(monkeypatch):
    import locale

    before = filters.figure(12345.6)
    monkeypatch.setattr(locale, "localeconv", lambda: {"decimal_point": ","})
    assert filters.figure(12345.6) == before == "12\u202f345.6"
