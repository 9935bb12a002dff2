"""The least amount that is enough, against trying all of them in turn."""

from functools import partial

import pytest

from generator.evidence.candidate import AxleChange
from generator.evidence.levers import Lever
from generator.evidence.seeking import Told, seeking
from generator.records.words import RemedyKind


def lever(amounts, rises=True):
    return Lever(RemedyKind.SPACER, tuple(amounts), lambda _: AxleChange(), lambda _: "", rises)


def answered(search, odds):
    """Answer a search by the odds of an amount; tell the least amount and how many were asked."""
    asked, count = next(search), 0
    while True:
        count += len(asked)
        try:
            asked = search.send(tuple(Told(odds(each) >= 0.0, odds(each)) for each in asked))
        except StopIteration as end:
            return end.value, count


ROW = [float(mm) for mm in range(1, 41)]
SHAPES = {
    "even": lambda mm, needed: mm - needed,
    "steep at first": lambda mm, needed: mm**0.3 - needed**0.3,
    "steep at last": lambda mm, needed: (mm / 10.0) ** 5 - (needed / 10.0) ** 5,
    "a step": lambda mm, needed: 20.0 if mm >= needed else -20.0,
}


@pytest.mark.parametrize("needed", [0.5, 1.0, 3.2, 7.0, 22.0, 39.5, 40.0, 40.5])
@pytest.mark.parametrize("shape", SHAPES)
def test_of_rising_amounts_the_least_that_is_enough_is_found(shape, needed):
    odds = partial(SHAPES[shape], needed=needed)
    expected = next((mm for mm in ROW if mm >= needed), None)
    found, count = answered(seeking(lever(ROW), odds(0.0)), odds)
    assert found == expected
    # The last, three guesses of two, and then halves of what is left: 40, 20, 10, 5, 3, 2.
    assert count <= 1 + 6 + 2 * 6


@pytest.mark.parametrize("needed", [3.2, 22.0, 39.5])
def test_odds_that_rise_evenly_are_followed_to_the_place_at_once(needed):
    odds = partial(SHAPES["even"], needed=needed)
    assert answered(seeking(lever(ROW), odds(0.0)), odds)[1] <= 3


def test_where_nothing_is_known_before_the_row_is_halved():
    odds = partial(SHAPES["a step"], needed=13.0)
    assert answered(seeking(lever(ROW), None), odds)[0] == 13.0


def test_of_amounts_in_no_order_the_first_that_is_enough_is_found():
    def odds(place):
        return 1.0 if place in {2.0, 3.0} else -1.0

    search = seeking(lever([0.0, 1.0, 2.0, 3.0], rises=False), -1.0)
    assert answered(search, odds) == (2.0, 4)
    assert answered(seeking(lever([0.0, 1.0], rises=False), -1.0), odds) == (None, 2)
