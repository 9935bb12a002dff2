"""What was computed of changes that were tried at one end of a car: gaps and failing checks.

They follow from the record and the sheet alone, and not from what is known of the chassis; so where
another record moves a limit, what was tried before is only compared anew.
"""

from collections.abc import Callable, Mapping, Sequence

from generator.assessment.clearances import Clearance
from generator.assessment.finding import Finding
from generator.assessment.reach import all_seen_from
from generator.assessment.sites import Condition
from generator.frozen import dataclass
from generator.quantities.estimate import Estimate
from generator.quantities.units import Mm
from generator.records.chassis import Chassis
from generator.records.fitted import AxleSetup
from generator.records.words import Axle, Side


@dataclass(frozen=True)
class Reached:
    """The least gap at one site with a change, with what is not known of wheel, tyre and camber.

    None is not known.
    """

    site: str
    side: Side
    condition: Condition
    gap: Estimate | None
    wanted: Mm


@dataclass(frozen=True)
class Made:
    """What is fitted after changes, and the words that tell it from what other changes make."""

    words: str
    fitted: AxleSetup


_Gaps = Mapping[tuple[str, str], tuple[Reached, ...]]
_Findings = Mapping[str, tuple[Finding, ...]]
_ALL = ""


class Tried:
    """The gaps and findings of changes at one end of one car, each computed once."""

    def __init__(self, gaps: _Gaps | None = None, failing: _Findings | None = None) -> None:
        self.gaps = dict(gaps or {})
        self.failing = dict(failing or {})
        self._known = self._count()

    def _count(self) -> int:
        return len(self.gaps) + len(self.failing)

    @property
    def has_grown(self) -> bool:
        """Tell whether anything was computed that was not given."""
        return self._count() > self._known

    def reached(
        self, axle: Axle, made: Sequence[Made], chassis: Chassis, site: str | None = None
    ) -> list[tuple[Reached, ...]]:
        """Give the gaps of one site, or of all, with each of several things fitted."""
        names = None if site is None else frozenset({site})
        keys = [(each.words, site or _ALL) for each in made]
        missing = {
            key: each.fitted for key, each in zip(keys, made, strict=True) if key not in self.gaps
        }
        seen = all_seen_from(axle, [(fitted, names) for fitted in missing.values()], chassis)
        for key, clearances in zip(missing, seen, strict=True):
            self.gaps[key] = tuple(map(_reached, clearances))
        return [self.gaps[key] for key in keys]

    def failing_with(
        self, made: Made, find: Callable[[], tuple[Finding, ...]]
    ) -> tuple[Finding, ...]:
        """Give the findings of the whole car that do not hold with something fitted."""
        if made.words not in self.failing:
            self.failing[made.words] = find()
        return self.failing[made.words]


def _reached(clearance: Clearance) -> Reached:
    least = clearance.least
    return Reached(
        clearance.site.name,
        clearance.side,
        clearance.condition,
        least.of_setup if least else None,
        clearance.wanted,
    )
