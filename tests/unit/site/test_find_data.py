"""The columns of Find: what comes out is what went in, unknown stays unknown, words are alike."""

import json
from datetime import date

import pytest

from generator.site.facets import NO_FRONT, End, Trait, find_data
from generator.site.find_words import CHOICES
from generator.site.synonyms import alike, synonym_groups


def trait(front: tuple[float | None, ...], rear: tuple[float | None, ...]) -> Trait:
    words = {choice.key: (choice.order[0] if choice.order else "one",) for choice in CHOICES}
    ends = (End("7 x 15", "205/60 R15", "", front), End("7 x 15", "205/60 R15", "", rear))
    return Trait("car/one", "One", "Wren", date(2026, 1, 2), "", words, *ends, " one")


def decoded(column: dict[str, object]) -> tuple[float | None, float | None]:
    """Read the first row as templates/scripts/engine.js does."""
    front, less, per = column["front"][0], column["rearLess"][0], column["perUnit"]  # type: ignore[index]
    if front is None:
        return None, None if less == 0 else (NO_FRONT + less) / per
    return front / per, None if less is None else (front + less) / per


@pytest.mark.parametrize(
    ("front", "rear"), [(7.0, 8.5), (7.0, 7.0), (None, 0.0), (0.0, None), (None, None)]
)
def test_numbers_of_both_ends_come_back(front: float | None, rear: float | None) -> None:
    data = find_data((trait((front,) * 5, (rear,) * 5),), "today")
    columns = json.loads(data.facets.text)["ranges"]
    assert decoded(columns[0]) == (front, rear)
    assert decoded(columns[1]) == (front, rear)


def test_a_name_follows_what_is_in_the_file() -> None:
    one = find_data((trait((7.0,) * 5, (7.0,) * 5),), "today").facets.path
    assert one != find_data((trait((8.0,) * 5, (7.0,) * 5),), "today").facets.path


@pytest.mark.parametrize(
    ("expected", "text"),
    [
        (" 205 60 r15", "205/60 R15"),
        (" 7.5x15", "7.5×15"),
        (" ecru", "Écru"),
        (" end", "<b>end.</b>".replace("<b>", "").replace("</b>", "")),
        (" ", "—"),
    ],
)
def test_text_is_made_alike(expected: str, text: str) -> None:
    assert alike(text) == expected


def test_no_phrase_means_two_things() -> None:
    phrases = [phrase for group in synonym_groups() for phrase in group]
    assert len(phrases) == len(set(phrases))
