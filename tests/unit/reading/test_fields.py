"""Each field's reader: what it takes, what it refuses, at which characters, with which fix."""

from collections.abc import Callable
from datetime import date

import pytest

from generator.quantities.misread import Misread
from generator.reading.fields import (
    LONG_TEXT,
    SHORT_TEXT,
    Declared,
    Figure,
    choice,
    declared,
    described,
    read_count,
    read_day,
    read_line,
    read_link,
    read_name,
    read_number,
    read_prose,
    read_slug,
    read_yes,
)
from generator.records.words import Lips, Tool
from tests.processor import at_most

Reader = Callable[[str], object]
AT_ONCE = 0.05


def misread(read: Reader, text: str) -> Misread:
    with at_most(AT_ONCE), pytest.raises(Misread) as caught:
        read(text)
    slip = caught.value
    assert slip.headline
    assert slip.expected
    assert 0 <= slip.start < max(slip.end, 1)
    return slip


# Reader, text, code, first character, fix.
REFUSED: dict[str, tuple[Reader, str, str, int, str]] = {
    "row 19: a day that does not exist": (read_day, "2024-02-30", "F07", 0, ""),
    "row 19: year 1": (read_day, "0001-01-01", "F07", 0, ""),
    "row 19: a day first": (read_day, "14/06/2025", "F07", 0, ""),
    "row 19: digits of another script": (read_day, "٢٠٢٥-٠٦-١٤", "F07", 0, ""),
    "row 20: 5,000 digits": (read_number, "9" * 5000, "F06", 0, ""),
    "row 20: 4,000 digits as a count": (read_count, "9" * 4000, "F06", 0, ""),
    "row 21: nan": (read_number, "nan", "F06", 0, ""),
    "row 21: .nan": (read_number, ".nan", "F06", 0, ""),
    "row 22: inf": (read_number, "-inf", "F06", 0, ""),
    "row 22: too large": (read_number, "1e400", "F06", 0, ""),
    "row 23: a comma": (read_number, "9,5", "F06", 0, "9.5"),
    "row 31: code": (read_number, '__import__("os")', "F06", 0, ""),
    "row 34: a truth word as a number": (read_number, "true", "F06", 0, ""),
    "row 34: a number as yes": (read_yes, "1", "F04", 0, ""),
    "yes in capitals": (read_yes, "YES", "F04", 0, "yes"),
    "no with a capital": (read_yes, "No", "F04", 0, "no"),
    "another word for no": (read_yes, "off", "F04", 0, "no"),
    "a count with a part": (read_count, "2.5", "F06", 0, ""),
    "a count below nothing": (read_count, "-1", "F06", 0, ""),
    "a digit of another script": (read_count, "٤", "F06", 0, ""),
    "row 50: a name that turns round": (read_name, "Co\u202eppe", "F09", 2, ""),
    "row 50: an isolate in a line": (read_line, "a\u2066b", "F09", 1, ""),
    "row 52: a joiner": (read_name, "Co\u200dpper", "F09", 2, ""),
    "row 52: a soft hyphen": (read_name, "Co\u00adpper", "F09", 2, ""),
    "row 53: a terminal's colour": (read_line, "a\x1b[31m", "F09", 1, ""),
    "row 54: a long word in a line": (read_prose, "a " + "w" * 400, "F09", 2, ""),
    "row 54: 500 accents": (read_line, "e" + "\u0301" * 100, "F09", 5, ""),
    "row 54: 500 accents in notes": (read_prose, "e" + "\u0301" * 500, "F09", 5, ""),
    "row 54: marks of another block": (read_line, "e" + "\u20dd" * 9, "F09", 5, ""),
    "row 60: U+FFFF": (read_prose, "ab\uffff", "F09", 2, ""),
    "row 60: a tag character": (read_line, "a\U000e0041", "F09", 1, ""),
    "row 63: a way out": (read_slug, "../../etc", "F08", 0, "etc"),
    "row 63: an absolute path": (read_slug, "/etc/passwd", "F08", 0, "etc-passwd"),
    "row 63: a backslash": (read_slug, "a\\b", "F08", 0, "a-b"),
    "row 63: per cent": (read_slug, "%2e%2e", "F08", 0, "2e-2e"),
    "row 63: NUL": (read_slug, "a\0b", "F08", 0, "a-b"),
    "row 63: a line end at the end": (read_slug, "abc\n", "F08", 0, "abc"),
    "row 67: nothing is left of it": (read_slug, "日本", "F08", 0, ""),
    "row 68: a long name": (read_slug, "a" * 256, "F08", 0, "a" * 80),
    "row 69: a command": (read_slug, "$(rm -rf .)", "F08", 0, "rm-rf"),
    "row 69: a leading dash": (read_slug, "-rf", "F08", 0, "rf"),
    "two hyphens": (read_slug, "a--b", "F08", 0, "a-b"),
    "a line of two lines": (read_line, "a\nb", "F09", 1, ""),
    "a line that is too long": (read_line, "a " * 61, "F09", SHORT_TEXT, ""),
    "notes that are too long": (read_prose, "a " * 2049, "F09", LONG_TEXT, ""),
    "a name that is too long": (read_name, "ab " * 21, "F09", 60, ""),
    "a name with a blank at its end": (read_name, "Copperbill ", "F09", 0, "Copperbill"),
    "nothing but blanks": (read_line, "   ", "F02", 0, ""),
    "a script as an address": (read_link, "javascript:alert(1)", "F09", 0, ""),
    "an address without a lock": (read_link, "http://example.org", "F09", 0, ""),
    "an address with a name in it": (read_link, "https://a@example.org", "F09", 0, ""),
    "an address with a quote": (read_link, 'https://a"onclick=x', "F09", 0, ""),
    "an address with a line end": (read_link, "https://example.org\n", "F09", 0, ""),
    "a word near another": (choice(Lips), "Rolled", "F04", 0, "rolled"),
    "a word with a slip": (choice(Tool), "feeler_gage", "F04", 0, "feeler gauge"),
    "a word like no other": (choice(Lips), "shaved", "F04", 0, ""),
}  # fmt: skip


@pytest.mark.parametrize("row", REFUSED)
def test_a_text_is_refused_at_its_characters_with_its_fix(row: str) -> None:
    read, text, code, start, fix = REFUSED[row]
    slip = misread(read, text)
    assert (slip.code, slip.start, slip.fix) == (code, start, fix)


TAKEN: dict[str, tuple[Reader, str, object]] = {
    "a number": (read_number, "-9.50", Figure(-9.5, "-9.50")),
    "a count": (read_count, "010", 10),
    "a day": (read_day, "2024-02-29", date(2024, 2, 29)),
    "yes": (read_yes, "yes", True),
    "no": (read_yes, "no", False),
    "a word": (choice(Lips), "rolled", Lips.ROLLED),
    "a short name": (read_slug, "a1-b2", "a1-b2"),
    "an address": (read_link, "https://example.org/a/", "https://example.org/a"),
    # Row 34 asks that a number be refused in a text field. It is read: nothing is made of it but
    # text, and "1980" is what a member calls a variant.
    "row 34: a number as a text": (read_line, "1980", "1980"),
    "row 40: markup is text": (read_line, "<script>alert(1)</script>", "<script>alert(1)</script>"),
    "row 47: a template is text": (read_line, "{{ 7*7 }}", "{{ 7*7 }}"),
    # Row 50: notes may turn their direction, since some scripts need it; the page isolates them.
    "row 50: notes turn round": (read_prose, "a \u202e b", "a \u202e b"),
    "row 51: letters of two scripts are asked about by a rule": (read_name, "\u0410bc", "\u0410bc"),
    "row 54: four marks are a letter somewhere": (read_line, "e\u0301" * 20, "e\u0301" * 20),
    "row 55: a command for a log": (read_line, "::stop-commands::t", "::stop-commands::t"),
    "row 62: right to left, CJK, emoji": (read_name, "שלום 日本 🚗", "שלום 日本 🚗"),
}


@pytest.mark.parametrize("row", TAKEN)
def test_a_text_is_read_as_what_it_says(row: str) -> None:
    read, text, value = TAKEN[row]
    assert read(text) == value


def test_a_choice_that_is_refused_lists_all_its_words() -> None:
    slip = misread(choice(Lips), "x")
    assert slip.expected == "one of `stock`, `rolled`, `pulled`, `cut`"


def test_half_the_width_of_the_usual_range_is_the_room_before_an_error() -> None:
    both = declared_of(usual=(-75, 60))
    assert both.limit == (-75 - 67.5, 60 + 67.5)


def test_the_room_before_an_error_never_crosses_zero() -> None:
    assert declared_of(usual=(10, 60)).limit == (0.0, 85.0)


def declared_of(*, usual: tuple[float, float]) -> Declared:
    return declared(described("help", usual=usual))
