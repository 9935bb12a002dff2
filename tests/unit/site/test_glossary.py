"""The glossary: enough words, each explained, cited and found."""

import re

from generator.published.tables import source
from generator.site.glossary import terms


def test_at_least_forty_five_words_are_explained() -> None:
    assert len(terms()) >= 45
    assert all(len(term.meaning) > 25 for term in terms())


def test_every_word_has_one_place() -> None:
    anchors = [term.anchor for term in terms()]
    assert len(set(anchors)) == len(anchors)
    assert all(re.fullmatch(r"[a-z][a-z0-9-]*", anchor) for anchor in anchors)


def test_every_source_is_in_the_list_of_sources() -> None:
    for term in terms():
        if term.source:
            assert source(term.source).key == term.source
            assert term.clause


def test_every_neighbour_exists() -> None:
    names = {term.name for term in terms()}
    for term in terms():
        assert set(term.see) <= names, term.name
