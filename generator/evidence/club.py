"""What the club's records say together: for each site the limits, and each entry's weight."""

from collections.abc import Mapping
from functools import cached_property, lru_cache
from hashlib import sha256

import numpy as np

from generator.assessment.assess import Assessment
from generator.assessment.sites import Condition, placed
from generator.cache.digests import digest
from generator.cache.once import kept
from generator.cache.program import program
from generator.evidence.entries import Entry, SiteKey, entries
from generator.evidence.learning import learn
from generator.evidence.limits import Influence, SitePosterior, influences, limits_of
from generator.evidence.observation import Observation
from generator.evidence.prior import SitePrior
from generator.frozen import dataclass
from generator.quantities.units import Mm
from generator.records.chassis import Chassis
from generator.records.library import Filed, Library
from generator.records.setup import Setup
from generator.records.site_sheet import SiteSheet
from generator.records.words import Axle

CAR_SPREAD: Mm = 4.0
"""Scale of the spread between cars where the sheet says nothing (fit model, section 7)."""

_REMEMBERED = 4096
"""Limits; a large club has fewer."""


@dataclass(frozen=True)
class Weighed:
    """One entry, and what it does to the limit it speaks of."""

    entry: Entry
    influence: Influence


@dataclass(frozen=True)
class SiteLimits:
    """What is known of one site on one side in one condition, and from which entries."""

    key: SiteKey
    site: SiteSheet
    posterior: SitePosterior
    weighed: tuple[Weighed, ...]


@dataclass(frozen=True)
class ChassisEvidence:
    """The limits of one chassis. A site without any record has those of its sheet alone."""

    chassis: str
    limits: Mapping[SiteKey, SiteLimits]
    sheet_alone: Mapping[str, SitePosterior]

    def posterior(self, key: SiteKey) -> SitePosterior:
        """Give what is known of a site, from the records if there are any."""
        known = self.limits.get(key)
        return known.posterior if known else self.sheet_alone[f"{key.axle.value}.{key.site}"]

    @cached_property
    def grounds(self) -> str:
        """A name for all of this beside the sheet: every entry that counts, as it was weighed."""
        weighed = (each.entry for limit in self.limits.values() for each in limit.weighed)
        return digest(self.chassis, *map(repr, weighed))

    def known(self, axle: Axle) -> str:
        """Give a name for what is known of one end: the same for the same distributions alone."""
        state = sha256()
        for key in sorted(self.limits, key=lambda each: each.order):
            if key.axle is axle:
                table = self.limits[key].posterior.next_car
                state.update(repr((key, len(table.knots))).encode())
                state.update(np.array((table.knots, table.below)).tobytes())
        return state.hexdigest()

    def doubtful(self, record: str) -> tuple[Weighed, ...]:
        """Give the entries of a record that look wrong beside the others."""
        return tuple(
            weighed
            for limit in self.limits.values()
            for weighed in limit.weighed
            if weighed.entry.record == record and weighed.influence.doubtful
        )


def prior(site: SiteSheet) -> SitePrior:
    """Give what the sheet holds of a site's correction before any record."""
    spread = placed(site, None, None).spread
    between = site.between_cars.value if site.between_cars else CAR_SPREAD
    return SitePrior(0.0, spread, between)


def learn_chassis(
    chassis: Filed[Chassis], setups: Mapping[str, tuple[Filed[Setup], Assessment]]
) -> ChassisEvidence:
    """Learn the limits of one chassis from its setups and what was computed for them.

    A record that another one replaces does not count, since the same car would speak twice.
    """
    replaced = {
        f"{filed.id.rsplit('/', 1)[0]}/{filed.value.supersedes}"
        for filed, _ in setups.values()
        if filed.value.supersedes and filed.value.withdrawn is None
    }
    by_key: dict[SiteKey, list[Entry]] = {}
    for name in sorted(setups):
        filed, assessment = setups[name]
        if name in replaced:
            continue
        for entry in entries(filed, assessment):
            by_key.setdefault(entry.key, []).append(entry)
    sites = {(site.axle, site.name): site for site in chassis.value.sites}
    limits = {
        key: _limits(key, sites[key.axle, key.site], by_key[key])
        for key in sorted(by_key, key=lambda each: each.order)
    }
    alone = {
        f"{site.axle.value}.{site.name}": _learned((), prior(site))[0]
        for site in chassis.value.sites
    }
    return ChassisEvidence(chassis.id, limits, alone)


def _limits(key: SiteKey, site: SiteSheet, found: list[Entry]) -> SiteLimits:
    posterior, said = _learned(tuple(entry.observation for entry in found), prior(site))
    # The learned observations stand in an order of their own: equal ones are told apart by turn.
    waiting = sorted(found, key=lambda entry: (entry.observation.sort_key, entry.index))
    weighed = tuple(
        Weighed(entry, influence) for entry, influence in zip(waiting, said, strict=True)
    )
    return SiteLimits(key, site, posterior, weighed)


@lru_cache(maxsize=_REMEMBERED)
def _learned(
    observations: tuple[Observation, ...], before: SitePrior
) -> tuple[SitePosterior, tuple[Influence, ...]]:
    """Learn from the same observations once: most records say nothing new of most sites."""
    return kept(
        digest("learned", program(), repr(observations), repr(before)),
        lambda: _learned_anew(observations, before),
    )


def forget() -> None:
    """Let go of what was learned and kept in memory; what lies in the cache stays."""
    _learned.cache_clear()


def _learned_anew(
    observations: tuple[Observation, ...], before: SitePrior
) -> tuple[SitePosterior, tuple[Influence, ...]]:
    learned = learn(observations, before)
    said = influences(learned)
    return limits_of(learned, said), said


def learn_library(
    library: Library, assessments: Mapping[str, Assessment]
) -> dict[str, ChassisEvidence]:
    """Learn the limits of every chassis of a library."""
    return {
        name: learn_chassis(
            chassis,
            {
                setup.id: (setup, assessments[setup.id])
                for setup in library.of_chassis(name)
                if setup.id in assessments
            },
        )
        for name, chassis in library.chassis.items()
    }


def conditions(evidence: ChassisEvidence, key: SiteKey) -> tuple[Condition, ...]:
    """Give the conditions of a site for which there are records, in order of name."""
    return tuple(
        other.condition
        for other in evidence.limits
        if (other.axle, other.site, other.side) == (key.axle, key.site, key.side)
    )
