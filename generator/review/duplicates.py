"""Records that say nearly the same as another one: a copy sent twice, or a correction gone astray.

Compared are the values of the two files, but for those that say who reports and when.
"""

from generator.frozen import dataclass
from generator.quantities.units import Ratio
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.review.edition import Edition
from generator.review.fields import leaves

ALIKE: Ratio = 0.9
"""Share of equal values from which two records are nearly the same: judgement of the guide."""
_FEWEST = 12
"""Values a record has at least; a shorter one is alike by chance."""
_OF_THE_REPORT = ("title", "member", "date", "notes", "car", "odometer", "supersedes")
_SHOWN = 6

_Values = frozenset[tuple[str, str]]


@dataclass(frozen=True)
class Duplicate:
    """Two records of one chassis that are nearly the same, and where they differ."""

    setup: str
    other: str
    alike: Ratio
    same_car: bool
    differ: tuple[str, ...]


def duplicates(old: Edition, new: Edition) -> tuple[Duplicate, ...]:
    """Give the near duplicates of the new and changed records, the most alike first."""
    before, after = old.setups(), new.setups()
    fresh = {
        name
        for name, filed in after.items()
        if name not in before or before[name].source.text != filed.source.text
    }
    values = {name: _values(filed) for name, filed in after.items()} if fresh else {}
    found = []
    for name in sorted(fresh):
        for other in sorted(after):
            is_first_of_two = other in fresh and other <= name
            is_earlier = after[name].value.supersedes == other.rsplit("/", 1)[-1]
            same_chassis = after[name].value.chassis == after[other].value.chassis
            if other == name or is_first_of_two or is_earlier or not same_chassis:
                continue
            alike = _alike(values[name], values[other])
            if alike >= ALIKE:
                found.append(_duplicate(after[name], after[other], alike))
    return tuple(sorted(found, key=lambda each: (-each.alike, each.setup, each.other)))


def _values(filed: Filed[Setup]) -> _Values:
    return frozenset(
        (where, text)
        for where, text in leaves(filed.source)
        if where.split(" ", 1)[0] not in _OF_THE_REPORT
    )


def _alike(one: _Values, other: _Values) -> Ratio:
    if min(len(one), len(other)) < _FEWEST:
        return 0.0
    return len(one & other) / max(len(one), len(other))


def _duplicate(one: Filed[Setup], other: Filed[Setup], alike: Ratio) -> Duplicate:
    differing = sorted({where for where, _ in _values(one) ^ _values(other)})
    return Duplicate(
        one.id, other.id, alike, one.value.car == other.value.car, tuple(differing[:_SHOWN])
    )
