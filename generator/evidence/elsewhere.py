"""Where a site comes closer than in the position that its gap was taken in.

A gap at the lock of a standing car clears there; through travel the site may come closer. How much
is computed, as a difference of two gaps of one wheel, in which most of what is not known cancels.
"""

from collections.abc import Iterator

from generator.assessment.assess import Assessment
from generator.evidence.entries import computed_in, tool_u
from generator.records.library import Case, Closer
from generator.records.setup import Gap


def closer_elsewhere(case: Case, computed: Assessment) -> tuple[Closer, ...]:
    """Give the gaps of a record whose site comes closer in another position, by how much and where.

    Model: rigid wheel and car, as for every computed gap. A difference that the tool of the gap
    cannot tell (one standard uncertainty) is none. A gap whose site or position cannot be computed
    is left out: of it nothing is known here.

    Returns differences in mm, positive, in the order of the record's gaps. Raises nothing.

    Example: a rail 9 mm away at toe-out lock, computed 7.6 mm there and 2.5 mm with the wheel up,
    gives 5.1 mm at that position.
    """
    return tuple(_closer(case, computed))


def _closer(case: Case, computed: Assessment) -> Iterator[Closer]:
    for gap in case.setup.value.gaps:
        found = _found(case, computed, gap)
        if found is not None:
            yield found


def _found(case: Case, computed: Assessment, gap: Gap) -> Closer | None:
    site = case.site(gap.site, gap.axle)
    end = getattr(computed, site.axle.value) if site else None
    clearance = end.clearance(gap.site, gap.side) if end else None
    at = computed_in(clearance, gap.state) if clearance else None
    if clearance is None or at is None or clearance.least is None:
        return None
    by = at.gap.value - clearance.least.gap.value
    return Closer(gap, by, clearance.least.words) if by > tool_u(gap.tool) else None
