"""The least amount that is enough, against trying all of them in turn."""

import pytest

from generator.evidence.candidate import AxleChange
from generator.evidence.levers import Lever
from generator.evidence.seeking import seeking
from generator.records.words import RemedyKind


def lever(amounts, rises=True):
    return Lever(RemedyKind.SPACER, tuple(amounts), lambda _: AxleChange(), lambda _: "", rises)


def answered(search, enough):
    asked = next(search)
    while True:
        try:
            asked = search.send(tuple(enough(each) for each in asked))
        except StopIteration as end:
            return end.value


@pytest.mark.parametrize("needed", [0.5, 1.0, 3.2, 7.0, 12.0, 12.5])
def test_of_rising_amounts_the_least_that_is_enough_is_found(needed):
    amounts = [float(mm) for mm in range(1, 13)]
    expected = next((mm for mm in amounts if mm >= needed), None)
    assert answered(seeking(lever(amounts)), lambda mm: mm >= needed) == expected


def test_of_amounts_in_no_order_the_first_that_is_enough_is_found():
    enough = {2.0, 3.0}
    search = seeking(lever([0.0, 1.0, 2.0, 3.0], rises=False))
    assert answered(search, enough.__contains__) == 2.0
    assert answered(seeking(lever([0.0, 1.0], rises=False)), enough.__contains__) is None
