"""What each entry does to a limit: the range of the next car had it not been made."""

from collections.abc import Mapping

from generator.evidence.club import SiteLimits, Weighed
from generator.evidence.distribution import Range
from generator.frozen import dataclass
from generator.quantities.units import Mm
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.site import urls

SHOWN = 3
"""Entries told of each limit, those that move it most; the data files have all."""
NOTHING: Mm = 0.5
"""An entry that moves neither end of the range by so much is only counted."""


@dataclass(frozen=True)
class Without:
    """One entry, by the record that has it, and the range without it."""

    title: str
    state: str
    """In which the gap was looked at; a mark has none."""
    href: str
    low: Mm
    high: Mm
    doubtful: bool


@dataclass(frozen=True)
class Influences:
    """The entries that move a limit most, and how many more there are."""

    entries: tuple[Without, ...] = ()
    more: int = 0


def influences_shown(limit: SiteLimits, setups: Mapping[str, Filed[Setup]]) -> Influences:
    """Choose what is told of a limit: doubtful entries first, then those that move it most."""
    limits = limit.posterior.limits
    told = sorted(
        (
            weighed
            for weighed in limit.weighed
            if weighed.influence.doubtful or not moved(limits, weighed.influence.without) < NOTHING
        ),
        key=lambda weighed: _rank(weighed, limits),
    )[:SHOWN]
    shown = tuple(_without(weighed, setups) for weighed in told)
    return Influences(shown, len(limit.weighed) - len(shown))


def moved(limits: Range, without: Range) -> Mm:
    """Give by how much the end of a range lies elsewhere that moves more.

    >>> moved(Range(-4.0, 0.0, 4.0), Range(-5.0, 0.0, 7.0))
    3.0
    """
    return max(abs(without.low - limits.low), abs(without.high - limits.high))


def _rank(weighed: Weighed, limits: Range) -> tuple[bool, Mm, str, int]:
    entry, influence = weighed.entry, weighed.influence
    by = -moved(limits, influence.without)
    return (not influence.doubtful, by, entry.record, entry.index)


def _without(weighed: Weighed, setups: Mapping[str, Filed[Setup]]) -> Without:
    record, influence = weighed.entry.record, weighed.influence
    setup, index, range_ = setups[record].value, weighed.entry.index, influence.without
    state = setup.gaps[index].state.value if index >= 0 else "a mark"
    href = urls.setup(record)
    return Without(setup.title, state, href, range_.low, range_.high, influence.doubtful)
