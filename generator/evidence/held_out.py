"""Forecasts of each member's measured gaps from all other members' records, held to what came.

For each site on each side the limits are learned once more without all that one member wrote. What
they say of the next car, blurred as the member's own measurement is, is then compared with what
that member measured. Only measured gaps count, and only where another member spoke of the site: a
forecast from the sheet alone says nothing of the records.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from generator.evidence.calibration import ReliabilityBin, brier_score, reliability
from generator.evidence.club import ChassisEvidence, SiteLimits, prior
from generator.evidence.entries import Entry
from generator.evidence.limits import SitePosterior, site_posterior
from generator.evidence.observation import Kind
from generator.quantities.units import Probability, Ratio

MOST = 250
"""Sites learned anew, at 5 to 15 ms each."""
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


def held_out(evidence: Iterable[ChassisEvidence], *, most: int = MOST) -> HeldOut | None:
    """Forecast measured gaps without their members' records; None where there is nothing to.

    most: pairs of a site and a member that are learned anew; of more, one in so many is taken.

    Source: own derivation: leave-one-out by member; scores as `calibration`.
    """
    pairs = [
        (limit, member)
        for chassis in evidence
        for limit in chassis.limits.values()
        for member in _foretold(limit)
    ]
    if not pairs:
        return None
    every = -(-len(pairs) // most)
    found, members = [], set()
    for limit, member in pairs[::every]:
        found += list(_forecasts(limit, member))
        members.add(member)
    chances, came = [each.chance for each in found], [each.came for each in found]
    within = sum(each.within for each in found)
    bins = reliability(chances, came, bins=BINS)
    return HeldOut(tuple(found), len(members), within, brier_score(chances, came), bins, every)


def _foretold(limit: SiteLimits) -> list[str]:
    """Give the members who measured a gap here, if another one spoke of the site too."""
    said = [each.entry.observation for each in limit.weighed]
    if len({each.origin.member for each in said}) < _TWO:
        return []
    return sorted({each.origin.member for each in said if each.kind is Kind.EXACT})


def _forecasts(limit: SiteLimits, member: str) -> Iterator[Forecast]:
    entries = [each.entry for each in limit.weighed]
    others = [each.observation for each in entries if each.observation.origin.member != member]
    posterior = site_posterior(others, prior(limit.site))
    for entry in entries:
        said = entry.observation
        if said.origin.member == member and said.kind is Kind.EXACT:
            yield _forecast(entry, limit, posterior)


def _forecast(entry: Entry, limit: SiteLimits, posterior: SitePosterior) -> Forecast:
    said = entry.observation
    needed = limit.site.wanted.value - entry.computed.gap.value
    span = posterior.next_car.range(said.u)
    return Forecast(
        record=entry.record,
        chance=posterior.probability_above(needed, said.u),
        came=said.low >= needed,
        within=span.low <= said.low <= span.high,
    )
