"""What is told of the entries behind a limit: the ones that matter, and how many do not."""

from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

import pytest

from generator.evidence.distribution import Range
from generator.site.limit_entries import NOTHING, SHOWN, influences_shown, moved

LIMITS = Range(-4.0, 0.0, 4.0)


@dataclass
class Told:
    """An entry's influence, as far as the page looks at it."""

    without: Range
    doubtful: bool = False


def _limit(*told: Told) -> Any:
    weighed = [
        SimpleNamespace(entry=SimpleNamespace(record=f"kind/r{i}", index=-1), influence=each)
        for i, each in enumerate(told)
    ]
    return SimpleNamespace(posterior=SimpleNamespace(limits=LIMITS), weighed=weighed)


def _setups(count: int) -> Any:
    return {
        f"kind/r{i}": SimpleNamespace(value=SimpleNamespace(title=f"Record {i}"))
        for i in range(count)
    }


def _wider(by: float) -> Range:
    return Range(-4.0 - by, 0.0, 4.0)


def test_those_that_move_it_most_come_first() -> None:
    found = influences_shown(_limit(Told(_wider(1.0)), Told(_wider(3.0))), _setups(2))
    assert [entry.title for entry in found.entries] == ["Record 1", "Record 0"]
    assert (found.entries[0].low, found.entries[0].high, found.more) == (-7.0, 4.0, 0)
    assert found.entries[0].href == "setups/kind/r1.html"


def test_the_state_of_a_gap_is_told() -> None:
    limit = _limit(Told(_wider(1.0)))
    limit.weighed[0].entry.index = 0
    setups = _setups(1)
    gap = SimpleNamespace(state=SimpleNamespace(value="full bump"))
    setups["kind/r0"].value.gaps = (gap,)
    assert influences_shown(limit, setups).entries[0].state == "full bump"
    assert influences_shown(_limit(Told(_wider(1.0))), setups).entries[0].state == "a mark"


def test_those_that_move_it_by_nothing_are_counted() -> None:
    found = influences_shown(_limit(Told(_wider(NOTHING / 2)), Told(_wider(2.0))), _setups(2))
    assert ([entry.title for entry in found.entries], found.more) == (["Record 1"], 1)


def test_a_doubtful_one_is_told_first_though_it_moves_nothing() -> None:
    doubtful = Told(LIMITS, doubtful=True)
    found = influences_shown(_limit(Told(_wider(2.0)), doubtful), _setups(2))
    assert [entry.doubtful for entry in found.entries] == [True, False]


def test_the_rest_is_counted_when_there_are_many() -> None:
    many = [Told(_wider(1.0 + i)) for i in range(SHOWN + 3)]
    found = influences_shown(_limit(*many), _setups(len(many)))
    assert (len(found.entries), found.more) == (SHOWN, 3)


def test_a_limit_that_is_not_known_without_an_entry_is_told() -> None:
    nothing = Range(float("nan"), float("nan"), float("nan"))
    assert len(influences_shown(_limit(Told(nothing)), _setups(1)).entries) == 1


@pytest.mark.parametrize(("high", "by"), [(4.0, 0.0), (5.5, 1.5), (2.0, 2.0)])
def test_the_end_that_moves_more_counts(high: float, by: float) -> None:
    assert moved(LIMITS, Range(-4.0, 0.0, high)) == by
