"""Forecasts of each member's measured gaps from all other members' records, held to what came.

For each site on each side the limits are learned once more without all that one member wrote. What
they say of the next car, blurred as the member's own measurement is, is then compared with what
that member measured. Only measured gaps count, and only where another member spoke of the site: a
forecast from the sheet alone says nothing of the records.
"""

from collections.abc import Iterable, Iterator, Sequence
from hashlib import sha256
from itertools import groupby

from generator.cache.digests import digest
from generator.cache.once import kept
from generator.cache.program import program
from generator.evidence.calibration import ReliabilityBin, brier_score, reliability
from generator.evidence.club import ChassisEvidence, SiteLimits, prior
from generator.evidence.distribution import Distribution
from generator.evidence.entries import Entry
from generator.evidence.learning import learn
from generator.evidence.limits import next_car_of
from generator.evidence.observation import Kind
from generator.frozen import dataclass
from generator.quantities.units import Probability, Ratio

MOST = 500
"""Pairs of a site and a member that are learned anew, at 5 to 15 ms each; about so many."""
PAIRS_A_RECORD = 27
"""Of a club whose members often measured the same sites: the demo's 60 records have 1,646."""
_TWO = 2
BINS = 5
"""Of forecasts; a club has too few measured gaps for more."""


@dataclass(frozen=True)
class Forecast:
    """One measured gap that nobody's own records foretold.

    chance: that the gap reaches the wanted one; came: whether it did. within: whether it lay in the
    5 to 95 % range.
    """

    record: str
    chance: Probability
    came: bool
    within: bool


@dataclass(frozen=True)
class PartHeldOut:
    """How the forecasts of one chassis did, and whose gaps were looked at."""

    forecasts: tuple[Forecast, ...]
    members: tuple[str, ...]


@dataclass(frozen=True)
class HeldOut:
    """How the forecasts did. `brier` is 0 when perfect and 0.25 for the toss of a coin.

    every: of the pairs of a site and a member, one in so many was looked at.
    """

    forecasts: tuple[Forecast, ...]
    members: int
    within: int
    brier: Ratio
    bins: tuple[ReliabilityBin, ...]
    every: int

    @property
    def coverage(self) -> Ratio:
        """Give the share of gaps that lay in the 90 % range."""
        return self.within / len(self.forecasts)


def held_out(evidence: Iterable[ChassisEvidence], *, every: int = 1) -> HeldOut | None:
    """Forecast measured gaps without their members' records; None where there is nothing to.

    every: of the pairs of a site and a member, one in so many is looked at.

    Source: own derivation: leave-one-out by member; scores as `calibration`.
    """
    return together([of_chassis(each, every=every) for each in evidence], every=every)


def one_in(records: int) -> int:
    """Say of how many pairs one is looked at, by the number of the club's records.

    It is known before anything is learned, so that each chassis is looked at by itself.

    >>> one_in(60), one_in(10_000)
    (4, 540)
    """
    return max(1, -(-records * PAIRS_A_RECORD // MOST))


def of_chassis(evidence: ChassisEvidence, *, every: int) -> PartHeldOut:
    """Forecast the measured gaps of one chassis.

    every: at least 1; one in so many pairs, beginning at a place that the chassis' name gives.

    Source: own derivation: leave-one-out by member.
    """
    pairs = [(limit, member) for limit in evidence.limits.values() for member in _foretold(limit)]
    start = int.from_bytes(sha256(evidence.chassis.encode("utf-8")).digest()[:8], "big") % every
    looked_at = pairs[start::every]
    found = [each for limit, members in _by_limit(looked_at) for each in _kept(limit, members)]
    return PartHeldOut(tuple(found), tuple(sorted({member for _, member in looked_at})))


def together(parts: Sequence[PartHeldOut], *, every: int) -> HeldOut | None:
    """Score the forecasts of all chassis; None without any.

    Source: scores as `calibration`.
    """
    found = tuple(each for part in parts for each in part.forecasts)
    if not found:
        return None
    members = {member for part in parts for member in part.members}
    chances, came = [each.chance for each in found], [each.came for each in found]
    within = sum(each.within for each in found)
    bins = reliability(chances, came, bins=BINS)
    return HeldOut(found, len(members), within, brier_score(chances, came), bins, every)


def _foretold(limit: SiteLimits) -> list[str]:
    """Give the members who measured a gap here, if another one spoke of the site too."""
    said = [each.entry.observation for each in limit.weighed]
    if len({each.origin.member for each in said}) < _TWO:
        return []
    return sorted({each.origin.member for each in said if each.kind is Kind.EXACT})


def _by_limit(
    pairs: Sequence[tuple[SiteLimits, str]],
) -> Iterator[tuple[SiteLimits, tuple[str, ...]]]:
    for _, group in groupby(pairs, key=lambda pair: id(pair[0])):
        limits, members = zip(*group, strict=True)
        yield limits[0], members


def _kept(limit: SiteLimits, members: tuple[str, ...]) -> tuple[Forecast, ...]:
    """Forecast what members measured at a site; what was forecast of the same entries is kept."""
    entries = tuple(each.entry for each in limit.weighed)
    of_site = (repr(prior(limit.site)), repr(limit.site.wanted.value))
    return kept(
        digest("forecasts", program(), repr(entries), *of_site, *members),
        lambda: tuple(each for member in members for each in _forecasts(limit, member)),
    )


def _forecasts(limit: SiteLimits, member: str) -> Iterator[Forecast]:
    entries = [each.entry for each in limit.weighed]
    others = [each.observation for each in entries if each.observation.origin.member != member]
    next_car = next_car_of(learn(others, prior(limit.site)))
    for entry in entries:
        said = entry.observation
        if said.origin.member == member and said.kind is Kind.EXACT:
            yield _forecast(entry, limit, next_car)


def _forecast(entry: Entry, limit: SiteLimits, next_car: Distribution) -> Forecast:
    said = entry.observation
    needed = limit.site.wanted.value - entry.computed.gap.value
    span = next_car.range(said.u)
    return Forecast(
        record=entry.record,
        chance=next_car.probability_above(needed, said.u),
        came=said.low >= needed,
        within=span.low <= said.low <= span.high,
    )
