"""One end of a car with changes tried on it: how each site then stands, and what then fails."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial

from generator.assessment.car import car
from generator.assessment.finding import Finding, Outcome
from generator.assessment.fit import axle_fit
from generator.assessment.hazards import findings
from generator.assessment.sites import Condition
from generator.evidence.candidate import Candidate
from generator.evidence.club import ChassisEvidence
from generator.evidence.entries import SiteKey
from generator.evidence.tried import Made, Reached, Tried
from generator.evidence.verdict import sides_of, word_of
from generator.quantities.estimate import Estimate
from generator.quantities.units import Mm, Probability
from generator.records.fitted import AxleSetup
from generator.records.site_sheet import SiteSheet
from generator.records.words import Axle, Side

_BROKEN = (Outcome.FAILS, Outcome.TOO_CLOSE_TO_SAY)


@dataclass(frozen=True)
class Seen:
    """How one site stands on one side."""

    label: str
    side: Side
    chance: Probability | None
    word: str


@dataclass(frozen=True)
class Stand:
    """How one site stands: its words on all its sides, and the chance on the weaker one.

    None where a side is not known.
    """

    words: frozenset[str]
    chance: Probability | None


Whole = Mapping[tuple[str, Side], Seen]


@dataclass
class ChangedEnd:
    """One end of a candidate, and what is known of it before anything is changed."""

    candidate: Candidate
    axle: Axle
    evidence: ChassisEvidence
    tried: Tried
    before: Whole = field(default_factory=dict)
    broken: frozenset[tuple[str, Axle | None, Side]] = frozenset()
    chances: dict[tuple[int, Mm, Mm, Mm], tuple[Probability, Probability]] = field(
        default_factory=dict
    )

    def __post_init__(self) -> None:
        self._sites = {
            site.name: site for site in self.candidate.chassis.value.sites if site.axle is self.axle
        }

    def all_sites(self, made: Sequence[Made], site: str | None = None) -> tuple[Whole, ...]:
        """Judge one site, or all, with each of several things fitted."""
        seen = self.tried.reached(self.axle, made, self.candidate.chassis.value, site)
        return tuple(self._judged(each) for each in seen)

    def _judged(self, reached: Sequence[Reached]) -> Whole:
        found: dict[tuple[str, Side], Seen] = {}
        for each in reached:
            if each.condition is Condition.REMOVED:
                continue
            site = self._sites[each.site]
            for side in sides_of(site, each.side):
                if each.gap is None:
                    found[site.name, side] = Seen(site.label, side, None, word_of(None, None))
                    continue
                key = SiteKey(self.axle, site.name, side, each.condition)
                chance, free = self._chances(key, each.gap, each.wanted)
                found[site.name, side] = Seen(site.label, side, chance, word_of(chance, free))
        return found

    def _chances(
        self, key: SiteKey, computed: Estimate, wanted: Mm
    ) -> tuple[Probability, Probability]:
        """Give the chances of the wanted gap and of any gap; the same asked twice is kept."""
        posterior = self.evidence.posterior(key)
        asked = (id(posterior), computed.value, computed.u, wanted)
        if asked not in self.chances:
            self.chances[asked] = posterior.chances(computed, wanted)
        return self.chances[asked]

    def stands(self, site: SiteSheet, made: Sequence[Made]) -> tuple[Stand, ...]:
        """Say how one site stands with each of several things fitted."""
        return tuple(_stand(each.values()) for each in self.all_sites(made, site.name))

    def failing(self, made: Made) -> tuple[Finding, ...]:
        """Give the findings of the whole car that do not hold."""
        return self.tried.failing_with(made, partial(self._failing, made.fitted))

    def _failing(self, fitted: AxleSetup) -> tuple[Finding, ...]:
        whole = self.candidate.with_axle(self.axle, fitted)
        setup, chassis = whole.setup.value, whole.chassis.value
        front = axle_fit(Axle.FRONT, setup.front, chassis.front)
        rear = axle_fit(Axle.REAR, setup.rear, chassis.rear)
        found = findings(car(setup, chassis, front, rear))
        return tuple(each for each in found if each.outcome in _BROKEN)


def _stand(seen: Iterable[Seen]) -> Stand:
    sides = tuple(seen)
    words = frozenset(each.word for each in sides) or frozenset({"not known"})
    return Stand(words, _least(each.chance for each in sides))


def _least(chances: Iterable[Probability | None]) -> Probability | None:
    every = tuple(chances)
    known = [chance for chance in every if chance is not None]
    return min(known) if known and len(known) == len(every) else None
