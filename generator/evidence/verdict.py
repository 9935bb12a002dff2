"""What the next car may expect of a setup: site by site, and all sites together. Never a bare yes.

The chance of a site is that its least gap reaches the wanted one on a car nobody has looked at,
from the computed gap, the learned correction and what is not known of wheel and tyre.
"""

from collections.abc import Sequence
from functools import lru_cache
from math import sqrt

from generator.assessment.assess import Assessment, AxleAssessment
from generator.assessment.clearances import Clearance, GapAt
from generator.assessment.sites import Condition
from generator.evidence.club import ChassisEvidence
from generator.evidence.distribution import Range
from generator.evidence.entries import SiteKey
from generator.evidence.joint import Demand, Joint, joint_clearance
from generator.evidence.limits import Answer, Asked, SitePosterior, answered
from generator.frozen import dataclass
from generator.quantities.estimate import Estimate
from generator.quantities.units import Mm, Probability
from generator.records.site_sheet import SiteSheet
from generator.records.words import Axle, Side

EXPECTED: Probability = 0.9
"""From this chance on a site is expected to clear (fit model, section 8)."""
WORDS = ("touches", "not known", "tight", "clears")
"""The words for a site and for an end of a car, the one that decides first."""
FREE: Probability = 0.5
"""Below this chance of any gap at all a site is expected to touch."""


_REMEMBERED = 16_384
"""Judgements; where a record changes, most sites of most setups are judged as before."""


@dataclass(frozen=True)
class SiteVerdict:
    """One site on one side. None is not known, and `refused` says why there is no chance.

    `chance` is that of the wanted gap, `free` that of any gap at all, on the next car.
    """

    clearance: Clearance
    side: Side
    posterior: SitePosterior | None
    chance: Probability | None
    free: Probability | None
    gap: Range | None
    refused: str

    @property
    def word(self) -> str:
        """Say it in one word; see `word_of`."""
        return word_of(self.chance, self.free)


def word_of(chance: Probability | None, free: Probability | None) -> str:
    """Say in one word how a site stands, by the chance of the wanted gap and of any gap.

    Clears: the wanted gap is expected. Tight: less than that, and more likely free than not.
    Touches: more likely not. Not known: nothing carries a statement.
    """
    if chance is None or free is None:
        return "not known"
    if chance >= EXPECTED:
        return "clears"
    return "tight" if free >= FREE else "touches"


@dataclass(frozen=True)
class AxleVerdict:
    """All sites of one end, the weakest first, and the chance that all of them clear."""

    axle: Axle
    sites: tuple[SiteVerdict, ...]
    joint: Joint | None

    @property
    def weakest(self) -> SiteVerdict | None:
        """Give the site with the least chance; one that is not known comes first."""
        return self.sites[0] if self.sites else None

    @property
    def word(self) -> str:
        """Say it in one word: the worst of all sites, where not known hides all but touches."""
        words = {site.word for site in self.sites} or {"not known"}
        return next(word for word in WORDS if word in words)


@dataclass(frozen=True)
class Verdict:
    """Front and rear, and both together; `chance` is None while any site is not known."""

    front: AxleVerdict
    rear: AxleVerdict
    chance: Probability | None
    refused: tuple[str, ...]

    def axles(self) -> tuple[AxleVerdict, AxleVerdict]:
        """Give front and rear."""
        return (self.front, self.rear)

    @property
    def weakest(self) -> SiteVerdict | None:
        """Give the weakest site of both ends."""
        found = [axle.weakest for axle in self.axles() if axle.weakest is not None]
        return min(found, key=_strength, default=None)


@dataclass(frozen=True)
class Numbers:
    """All that takes long of a verdict on one end: what was answered of each site, and of all.

    The sites come in the order of `_looked_at`; None for one that is not known.
    """

    answers: tuple[Answer | None, ...]
    joint: Joint | None


def all_numbers(assessment: Assessment, evidence: ChassisEvidence) -> tuple[Numbers, Numbers]:
    """Give the numbers of a verdict on a setup, front and rear."""
    front, rear = (_numbers(_looked_at(each), each, evidence) for each in assessment.axles())
    return front, rear


def verdict(
    assessment: Assessment,
    evidence: ChassisEvidence,
    numbers: tuple[Numbers, Numbers] | None = None,
) -> Verdict:
    """Judge a setup by the computed gaps and what the club has learned of the chassis.

    Front and rear are taken as independent: their tyres are, as far as anyone knows. numbers: what
    `all_numbers` gives, where it was kept.
    """
    known = numbers or all_numbers(assessment, evidence)
    front, rear = (
        _axle_verdict(each, evidence, of_end)
        for each, of_end in zip(assessment.axles(), known, strict=True)
    )
    refused = tuple(
        f"{site.clearance.site.label}: {site.refused}"
        for axle in (front, rear)
        for site in axle.sites
        if site.refused
    )
    chance = None
    if front.joint is not None and rear.joint is not None and not refused:
        chance = front.joint.probability * rear.joint.probability
    return Verdict(front, rear, chance, refused)


def axle_verdict(axle: AxleAssessment, evidence: ChassisEvidence) -> AxleVerdict:
    """Judge one end of a car."""
    return _axle_verdict(axle, evidence, _numbers(_looked_at(axle), axle, evidence))


def _axle_verdict(axle: AxleAssessment, evidence: ChassisEvidence, numbers: Numbers) -> AxleVerdict:
    sites = _judged(_looked_at(axle), evidence, numbers.answers)
    return AxleVerdict(axle.axle, tuple(sorted(sites, key=_strength)), numbers.joint)


_LookedAt = Sequence[tuple[Clearance, Side]]


def _looked_at(axle: AxleAssessment) -> _LookedAt:
    return [
        (clearance, side)
        for clearance in axle.clearances
        if clearance.condition is not Condition.REMOVED
        for side in sides_of(clearance.site, clearance.side)
    ]


def _numbers(looked_at: _LookedAt, axle: AxleAssessment, evidence: ChassisEvidence) -> Numbers:
    answers = _answers(looked_at, evidence)
    sites = _judged(looked_at, evidence, answers)
    tyre = axle.fit.fitted.tyre
    width_u = tyre.section_width.u if tyre else 0.0
    demands = [
        _demand(site.clearance.least, site, width_u)
        for site in sites
        if site.clearance.least is not None and site.posterior is not None
    ]
    return Numbers(answers, _joint(tuple(demands), width_u) if demands else None)


def sides_of(site: SiteSheet, side: Side) -> tuple[Side, ...]:
    """Give the sides of the car that a look at a site on one side, or on both, speaks for."""
    return site.sides if side is Side.BOTH else (side,)


def _strength(site: SiteVerdict) -> tuple[float, str, str]:
    # Chances that differ by less than a billionth are alike: the browser's end in other digits.
    chance = -1.0 if site.chance is None else round(site.chance, 9)
    return (chance, site.clearance.site.name, site.side.value)


def site_verdict(clearance: Clearance, side: Side, evidence: ChassisEvidence) -> SiteVerdict:
    """Judge one site on one side, left or right."""
    looked_at = [(clearance, side)]
    return _judged(looked_at, evidence, _answers(looked_at, evidence))[0]


def _answers(looked_at: _LookedAt, evidence: ChassisEvidence) -> tuple[Answer | None, ...]:
    """Answer for sites, each on one side, all of them together."""
    asked = {
        place: Asked(_posterior(each, side, evidence), each.least.of_setup, each.wanted)
        for place, (each, side) in enumerate(looked_at)
        if each.least is not None
    }
    # Both sides of a car often ask the same.
    different = dict.fromkeys(asked.values())
    answers = dict(zip(different, answered(tuple(different)), strict=True))
    return tuple(
        answers[asked[place]] if place in asked else None for place in range(len(looked_at))
    )


def _judged(
    looked_at: _LookedAt, evidence: ChassisEvidence, answers: Sequence[Answer | None]
) -> list[SiteVerdict]:
    found = []
    for (each, side), said in zip(looked_at, answers, strict=True):
        if said is None:
            found.append(SiteVerdict(each, side, None, None, None, None, each.unknown))
            continue
        posterior = _posterior(each, side, evidence)
        found.append(SiteVerdict(each, side, posterior, said.chance, said.free, said.gap, ""))
    return found


def _posterior(clearance: Clearance, side: Side, evidence: ChassisEvidence) -> SitePosterior:
    site = clearance.site
    return evidence.posterior(SiteKey(site.axle, site.name, side, clearance.condition))


_joint = lru_cache(maxsize=_REMEMBERED)(joint_clearance)


def forget() -> None:
    """Let go of the judgements that were kept in memory."""
    _joint.cache_clear()


def _demand(least: GapAt, site: SiteVerdict, width_u: Mm) -> Demand:
    """Give what is asked of a site, with the tyre's width taken out of its own uncertainty."""
    if site.posterior is None:
        raise ValueError("a site that is not known asks for nothing")
    shared = least.width_rate * width_u
    own = sqrt(max(least.u_setup**2 - shared**2, 0.0))
    computed = Estimate(least.gap.value, own, least.gap.basis, least.gap.sources)
    wanted = site.clearance.wanted
    return Demand(site.posterior.next_car, computed, wanted, least.width_rate)
