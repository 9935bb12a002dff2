"""Two gaps of one site held against each other: what a member's words and tools allow between them.

A gap is positive where something is free. A word such as `clears` bounds a gap on one side only, so
two gaps disagree only by as much as their bounds force them to.
"""

from collections.abc import Iterator
from math import inf

from generator.frozen import dataclass
from generator.quantities.span import Said
from generator.quantities.units import Mm
from generator.reading.fault import Mark
from generator.records.library import Case
from generator.records.setup import Gap
from generator.records.site_sheet import SiteSheet
from generator.records.words import Attachment, Axle, Side, Tool

TOOL_SPREAD: dict[Tool, Mm] = {
    Tool.FEELER: 0.5,
    Tool.DRILL_SHANK: 0.5,
    Tool.CALIPERS: 0.5,
    Tool.WEDGE: 0.5,
    Tool.DEPTH_GAUGE: 0.5,
    Tool.CLAY: 1.0,
    Tool.FOAM: 1.0,
    Tool.TAPE: 1.0,
    Tool.STEEL_RULE: 2.0,
    Tool.STRAIGHTEDGE: 2.0,
    Tool.EYE: 4.0,
    Tool.PHOTOGRAPH: 5.0,
    Tool.MEMORY: 6.0,
}
"""How well a gap repeats with a tool, ±mm: common practice."""
UNNAMED_TOOL_SPREAD: Mm = 2.0
"""Taken where no tool is named: that of a rule in the wheelhouse."""
FLEXIBLE_SPREAD: Mm = 5.0
"""Hoses and wires bend, although their brackets move with the wheel: common practice."""
FLEXIBLE = frozenset({"hose", "wire", "cable"})

MOVES_WITH_WHEEL = frozenset(
    {Attachment.STRUT, Attachment.KNUCKLE, Attachment.UPRIGHT, Attachment.AXLE}
)
BOTH_SIDES = (Side.LEFT, Side.RIGHT)


@dataclass(frozen=True)
class SiteGap:
    """A gap of a record with the site it is about, and its place in the list."""

    case: Case
    index: int
    gap: Gap
    site: SiteSheet

    @property
    def low(self) -> Mm:
        """The least that the member's words allow."""
        return -inf if self.gap.gap.low is None else self.gap.gap.low

    @property
    def high(self) -> Mm:
        """The most that the member's words allow."""
        return inf if self.gap.gap.high is None else self.gap.gap.high

    @property
    def spread(self) -> Mm:
        """How well the gap repeats."""
        return spread(self.gap)

    @property
    def route(self) -> tuple[str | int, ...]:
        """Where the gap's value stands in the file."""
        return ("gaps", self.index, "gap")

    @property
    def words(self) -> str:
        """The gap as typed, with its state."""
        return f"`{self.gap.gap.typed}` at {self.gap.state.value}"

    @property
    def sides(self) -> tuple[Side, ...]:
        """The sides of the car it is said of."""
        return BOTH_SIDES if self.gap.side is Side.BOTH else (self.gap.side,)

    def mark(self, label: str) -> Mark:
        """Mark the value as the second place of a fault."""
        return Mark(self.case.setup.place(*self.route), label)


def spread(gap: Gap) -> Mm:
    """Give how well a gap repeats with the tool that took it."""
    return UNNAMED_TOOL_SPREAD if gap.tool is None else TOOL_SPREAD[gap.tool]


def site_gaps(case: Case) -> Iterator[SiteGap]:
    """Give the gaps of a record that were looked at, on sites that its sheet has."""
    for index, gap in enumerate(case.setup.value.gaps):
        site = case.site(gap.site, gap.axle)
        if site is not None and gap.gap.said is not Said.NOT_CHECKED:
            yield SiteGap(case, index, gap, site)


def beyond(second: SiteGap, first: SiteGap, change: Mm) -> Mm:
    """Give how far the second gap less the first must lie from an expected change, at least.

    Positive where the second gap is the larger one, 0 where the words allow the change.
    """
    least, most = second.low - first.high, second.high - first.low
    if least > change:
        return least - change
    return most - change if most < change else 0.0


def allowance(first: SiteGap, second: SiteGap) -> Mm:
    """Give what the two measurements may differ by, besides the spread that a rule names."""
    return first.spread + second.spread + (FLEXIBLE_SPREAD if bends(first.site) else 0.0)


def bends(site: SiteSheet) -> bool:
    """Tell whether a site gives way, as a hose does."""
    return not FLEXIBLE.isdisjoint(site.name.split("-"))


def was_reshaped(case: Case, axle: Axle, site: str) -> bool:
    """Tell whether a record says that the site itself was changed."""
    bodywork = getattr(case.setup.value, axle.value).bodywork
    return bodywork is not None and site in bodywork.changed
