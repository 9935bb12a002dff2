"""For each site that does not clear: the smallest change of each kind that mends it, at what cost.

A change is tried on the real computation of that one site, larger or smaller by the odds it gave.
What is found is put back through the whole end of the car and the checks of the whole car, and told
with all that it spoils. A site is mended when it is expected to clear on both sides of the car;
what falls short of that, such as a touch made tight, is no remedy and is not offered. Two kinds
together are tried only where no single one is enough.
"""

from collections.abc import Iterator, Sequence
from itertools import combinations, islice

from generator.assessment.finding import Finding, Outcome
from generator.evidence.candidate import Candidate, changed
from generator.evidence.changed_end import ChangedEnd, Seen, Stand, Whole
from generator.evidence.club import ChassisEvidence
from generator.evidence.levers import Amount, Corner, Lever, levers
from generator.evidence.seeking import Told, odds_over, seeking
from generator.evidence.tried import Made, Tried
from generator.evidence.verdict import EXPECTED, WORDS, AxleVerdict
from generator.frozen import dataclass
from generator.quantities.units import Probability
from generator.records.fitted import AxleSetup
from generator.records.site_sheet import SiteSheet
from generator.records.words import Axle, RemedyKind, Side

MOST_REMEDIES = 8
CLEARS = frozenset({"clears"})
ENOUGH = f"{100.0 * EXPECTED:.0f} %"
"""The chance of its wanted gap that a site must have to be mended, in words."""
NOTHING = f"nothing that was tried, alone or two together, makes its wanted gap {ENOUGH} likely"
PAIRS = 3
"""Two kinds together that are sought for a site at most."""
HELPS: Probability = 0.02
"""A kind that raises the chance by less at its most is not tried together with another."""


@dataclass(frozen=True)
class Step:
    """One change: its kind, what to do in words, and what it costs in words."""

    kind: RemedyKind
    words: str
    costs: str


@dataclass(frozen=True)
class Spoiled:
    """A site that is worse than before: its words before and after."""

    label: str
    side: Side
    before: str
    after: str


@dataclass(frozen=True)
class Remedy:
    """One change, or two together, after which a site is expected to clear.

    `word` and `chance` are those of the site afterwards, on the weaker side. `mends` are the
    labels of other sites that then clear too. `spoils` and `findings` are what got worse.
    `fitted` is what is then on the car at that end.
    """

    steps: tuple[Step, ...]
    fitted: AxleSetup
    word: str
    chance: Probability
    mends: tuple[str, ...]
    spoils: tuple[Spoiled, ...]
    findings: tuple[Finding, ...]

    @property
    def spoiling(self) -> int:
        """Tell how much it spoils: contact counts most."""
        weight = {"touches": 4, "not known": 2, "tight": 1, "clears": 0}
        of_checks = sum(4 if each.outcome is Outcome.FAILS else 1 for each in self.findings)
        return sum(weight[each.after] for each in self.spoils) + of_checks


@dataclass(frozen=True)
class SiteRemedies:
    """A site that does not clear, and what mends it, that which spoils least first.

    Empty where nothing looked at is enough, and `told` says so.
    """

    axle: Axle
    site: SiteSheet
    word: str
    remedies: tuple[Remedy, ...]
    told: str


def remedies(
    candidate: Candidate,
    verdict: AxleVerdict,
    evidence: ChassisEvidence,
    *,
    only: str | None = None,
    tried: Tried | None = None,
) -> tuple[SiteRemedies, ...]:
    """Seek remedies for each site of one end that touches or is tight, the weakest first.

    verdict: of that end of the candidate, with all its sites. only: the name of the one site to
    mend. tried: what was computed of this end before; what is computed now is added to it. Sites
    that are not known have none: measuring comes before mending.
    """
    failing = [(site, word) for site, word in _failing(verdict) if only in (None, site.name)]
    if not failing:
        return ()
    search = ChangedEnd(candidate, verdict.axle, evidence, tried or Tried())
    fitted = Made("", candidate.axle(verdict.axle))
    search.before = {
        (each.clearance.site.name, each.side): Seen(
            each.clearance.site.label, each.side, each.chance, each.word
        )
        for each in verdict.sites
    }
    search.broken = frozenset((each.code, each.axle, each.side) for each in search.failing(fitted))
    found = []
    for site, word in failing:
        mended = _for_site(search, site, fitted)
        told = "" if mended else NOTHING
        found.append(SiteRemedies(verdict.axle, site, word, mended, told))
    return tuple(found)


def _failing(verdict: AxleVerdict) -> list[tuple[SiteSheet, str]]:
    """Give the sites that touch, then those that are tight on a side, the weakest first."""
    worst: dict[str, tuple[SiteSheet, str]] = {}
    for each in verdict.sites:
        site = each.clearance.site
        _, known = worst.get(site.name, (site, each.word))
        worst[site.name] = (site, min(known, each.word, key=WORDS.index))
    return [pair for word in ("touches", "tight") for pair in worst.values() if pair[1] == word]


_Chosen = tuple[tuple[Lever, Amount], ...]


def _for_site(search: ChangedEnd, site: SiteSheet, fitted: Made) -> tuple[Remedy, ...]:
    known = levers(Corner(search.axle, fitted.fitted, search.candidate.chassis.value), site)
    trial = _Trial(search, site, fitted)
    chosen = list(trial.alone(known)) or list(trial.pairs(known))
    return tuple(sorted(trial.put_back(chosen), key=_order)[:MOST_REMEDIES])


def _order(remedy: Remedy) -> tuple[int, int]:
    kinds = list(RemedyKind)
    return (remedy.spoiling, sum(kinds.index(step.kind) for step in remedy.steps))


@dataclass(frozen=True)
class _Sought:
    """A kind whose least amount is sought, and what is changed before it."""

    lever: Lever
    after: _Chosen = ()


def _told(stand: Stand | None) -> Told:
    if stand is None:
        return Told(is_enough=False, odds=None)
    return Told(stand.words <= CLEARS, odds_over(stand.chance, EXPECTED))


@dataclass(frozen=True)
class _Trial:
    """One site of one end, on which changes are tried."""

    search: ChangedEnd
    site: SiteSheet
    fitted: Made

    def all_smallest(self, sought: Sequence[_Sought]) -> tuple[Amount | None, ...]:
        """Give for each the least amount with which the site clears; None if none does.

        All are sought side by side, so that what is tried is looked at together.
        """
        found: dict[int, Amount | None] = {}
        here = self.search.stands(self.site, (self.fitted,))[0]
        running = {
            place: seeking(each.lever, None if each.after else odds_over(here.chance, EXPECTED))
            for place, each in enumerate(sought)
        }
        asked = {place: next(search) for place, search in running.items()}
        while asked:
            told = self._mend([(sought[place], each) for place, each in asked.items()])
            waiting = dict(zip(asked, told, strict=True))
            asked = {}
            for place, mended in waiting.items():
                try:
                    asked[place] = running[place].send(mended)
                except StopIteration as end:
                    found[place] = end.value
        return tuple(found[place] for place in range(len(sought)))

    def _mend(
        self, asked: Sequence[tuple[_Sought, tuple[Amount, ...]]]
    ) -> Iterator[tuple[Told, ...]]:
        """Tell of all amounts asked about whether the site then clears."""
        tried = [
            self._with((*each.after, (each.lever, amount)))
            for each, amounts in asked
            for amount in amounts
        ]
        stands = iter(self.search.stands(self.site, [each for each in tried if each is not None]))
        told = iter([None if each is None else next(stands) for each in tried])
        for _, amounts in asked:
            yield tuple(_told(stand) for stand in islice(told, len(amounts)))

    def _with(self, chosen: _Chosen) -> Made | None:
        """Give what is fitted after changes; None where they cannot be made."""
        fitted = self.fitted.fitted
        for lever, amount in chosen:
            try:
                fitted = changed(fitted, lever.change(amount))
            except ValueError:
                return None
        words = "; ".join(f"{lever.kind.value} {amount!r}" for lever, amount in chosen)
        return Made(words, fitted)

    def alone(self, known: Sequence[Lever]) -> Iterator[_Chosen]:
        """Give each kind that is enough alone, with its least amount."""
        amounts = self.all_smallest([_Sought(lever) for lever in known])
        for lever, amount in zip(known, amounts, strict=True):
            if amount is not None:
                yield ((lever, amount),)

    def pairs(self, known: Sequence[Lever]) -> Iterator[_Chosen]:
        """Give pairs of kinds that are enough together, the second no more than it must be."""
        tried = self._helpful(known)
        apart = [(a, b) for a, b in combinations(tried, 2) if a.kind is not b.kind][:PAIRS]
        amounts = self.all_smallest(
            [_Sought(second, ((first, first.amounts[-1]),)) for first, second in apart]
        )
        enough = [
            (first, second, amount)
            for (first, second), amount in zip(apart, amounts, strict=True)
            if amount is not None
        ]
        leasts = self.all_smallest(
            [_Sought(first, ((second, amount),)) for first, second, amount in enough]
        )
        for (first, second, amount), least in zip(enough, leasts, strict=True):
            yield ((second, amount), (first, first.amounts[-1] if least is None else least))

    def _helpful(self, known: Sequence[Lever]) -> list[Lever]:
        """Give the kinds that at their most raise the chance, the most helpful first."""
        most = [(lever, self._with(((lever, lever.amounts[-1]),))) for lever in known]
        made = [(lever, fitted) for lever, fitted in most if fitted is not None]
        here, *chances = (
            each.chance
            for each in self.search.stands(self.site, (self.fitted, *(each for _, each in made)))
        )
        helpful = [
            (chance, lever)
            for (lever, _), chance in zip(made, chances, strict=True)
            if chance is not None and chance > (here or 0.0) + HELPS
        ]
        helpful.sort(key=lambda each: -each[0])
        return [lever for _, lever in helpful[: PAIRS + 1]]

    def put_back(self, chosen: Sequence[_Chosen]) -> list[Remedy]:
        """Put changes back through the whole end and the checks of the whole car, each alone."""
        made = [self._with(each) for each in chosen]
        fitted = [each for each in made if each is not None]
        after = self.search.all_sites(fitted)
        return [self._remedy(*each) for each in zip(chosen, fitted, after, strict=True)]

    def _remedy(self, chosen: _Chosen, fitted: Made, after: Whole) -> Remedy:
        before = self.search.before
        own = [each for (name, _), each in after.items() if name == self.site.name]
        mended = {
            each.label
            for key, each in after.items()
            if key[0] != self.site.name and each.word == "clears" and _word(before, key) != "clears"
        }
        spoils = tuple(
            Spoiled(each.label, each.side, _word(before, key), each.word)
            for key, each in after.items()
            if _is_worse(each.word, _word(before, key))
        )
        worse = tuple(
            each
            for each in self.search.failing(fitted)
            if (each.code, each.axle, each.side) not in self.search.broken
        )
        steps = tuple(Step(each.kind, each.words(amount), each.costs) for each, amount in chosen)
        chance = min(each.chance for each in own if each.chance is not None)
        word = min((each.word for each in own), key=WORDS.index)
        return Remedy(steps, fitted.fitted, word, chance, tuple(sorted(mended)), spoils, worse)


def _word(whole: Whole, key: tuple[str, Side]) -> str:
    """Give the word of a site before; where sides were alike, that of both."""
    seen = whole.get(key)
    return seen.word if seen else "not known"


def _is_worse(after: str, before: str) -> bool:
    return WORDS.index(after) < WORDS.index(before)
