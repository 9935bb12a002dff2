"""Which characters no text may hold, for every one that Unicode has.

Source: the Unicode Character Database's general categories, as Python's unicodedata gives them, and
chapter 23.7 of the Unicode Standard for the 66 non-characters.
"""

import unicodedata

from generator.reading.text import first_forbidden

EVERY = range(0x110000)


def refused(newlines: bool) -> set[int]:
    return {code for code in EVERY if first_forbidden(chr(code), newlines=newlines) is not None}


def test_controls_surrogates_separators_tags_and_no_characters_are_refused_and_nothing_else() -> (
    None
):
    by_category = {
        code for code in EVERY if unicodedata.category(chr(code)) in ("Cc", "Cs", "Zl", "Zp")
    }
    none = {*range(0xFDD0, 0xFDF0), *(code for code in EVERY if code & 0xFFFF >= 0xFFFE)}
    assert len(none) == 66
    wanted = by_category | none | set(range(0xE0000, 0xE0080))
    assert refused(newlines=False) == wanted
    assert refused(newlines=True) == wanted - {ord("\n")}


def test_the_first_one_is_found_behind_lines_of_other_text() -> None:
    assert first_forbidden("a\nβ\n\x1b[31m", newlines=True) == 4
    assert first_forbidden("a\nβ", newlines=False) == 1
