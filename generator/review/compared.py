"""A record's gaps beside what the other records let expect: whether it is borne out by them."""

from collections.abc import Callable
from math import isfinite

from generator.evidence.club import SiteLimits, Weighed
from generator.evidence.observation import Kind
from generator.frozen import dataclass
from generator.quantities.units import Mm
from generator.review.edition import Edition


@dataclass(frozen=True)
class Compared:
    """One gap of a record, and the gap that the others let expect there, as computed for its wheel.

    `least` and `most` are what the record says of the gap: equal where it was measured, None where
    it says nothing. Nine cars in ten lie between `expected_low` and `expected_high`.
    """

    axle: str
    label: str
    side: str
    pose: str
    least: Mm | None
    most: Mm | None
    expected_low: Mm
    expected_high: Mm
    is_doubtful: bool

    @property
    def beyond(self) -> Mm:
        """How far it lies outside of what is expected; 0 or less within, by the room to an end."""
        under = self.expected_low - self.most if self.most is not None else float("-inf")
        over = self.least - self.expected_high if self.least is not None else float("-inf")
        return max(under, over)

    @property
    def is_expected(self) -> bool:
        """Whether what the record says can be true of a car of which the others expect that."""
        return not self.is_doubtful and self.beyond <= 0.0


def compared(setup: str, edition: Edition) -> tuple[Compared, ...]:
    """Give the gaps of a setup that other records speak of too, those that fit least first."""
    filed = edition.setups().get(setup)
    if filed is None or edition.guide is None:
        return ()
    evidence = edition.guide.evidence[filed.value.chassis]
    found = [
        _compared(limit, weighed)
        for limit in evidence.limits.values()
        if any(each.entry.record != setup for each in limit.weighed)
        for weighed in limit.weighed
        if weighed.entry.record == setup
    ]
    order = sorted(found, key=lambda each: (each.axle, each.label, each.side, each.pose))
    return tuple(sorted(order, key=lambda each: (not each.is_doubtful, -each.beyond)))


def _compared(limit: SiteLimits, weighed: Weighed) -> Compared:
    seen, computed = weighed.influence.observation, weighed.entry.computed
    gap, without = computed.gap.value, weighed.influence.without
    return Compared(
        axle=limit.key.axle.value,
        label=limit.site.label,
        side=limit.key.side.value,
        pose=computed.words,
        least=gap + seen.low if isfinite(seen.low) else None,
        most=gap + seen.high if isfinite(seen.high) else None,
        expected_low=gap + without.low,
        expected_high=gap + without.high,
        is_doubtful=weighed.influence.doubtful,
    )


def said(gap: Compared, write: Callable[[Mm], str]) -> str:
    """Write what a record says of a gap; `write` writes a length."""
    if gap.least is None or gap.most is None:
        word = Kind.UPPER if gap.least is None else Kind.LOWER
        end = gap.most if gap.least is None else gap.least
        return f"{word.value} {write(end or 0.0)}"
    if gap.least == gap.most:
        return write(gap.least)
    return f"{write(gap.least)} to {write(gap.most)}"
