"""From a record to statements about corrections: what each gap and rub mark says of its site.

A correction is true gap less computed gap. The computed gap is that of the record's own wheel,
tyre and trims in the state that was looked at, so that records of different setups speak of the
same thing. Its uncertainty is that of wheel and tyre; how far the sheet is off is what is learned.
"""

from collections.abc import Iterator
from math import hypot, sqrt

from generator.assessment.assess import Assessment
from generator.assessment.clearances import Clearance, GapAt
from generator.assessment.sites import Condition
from generator.evidence.observation import (
    Observation,
    Origin,
    gap_above,
    gap_at_most,
    gap_between,
    measured_gap,
)
from generator.frozen import dataclass
from generator.geometry.travel import State as Pose
from generator.quantities.estimate import Basis, Estimate
from generator.quantities.span import GapReading, Said
from generator.quantities.units import Mm
from generator.records.library import Filed
from generator.records.setup import Gap, Rub, Setup
from generator.records.words import Axle, Side, State, Tool

TOOL_U: dict[Tool, Mm] = {
    Tool.FEELER: 0.5,
    Tool.DRILL_SHANK: 0.5,
    Tool.CALIPERS: 0.5,
    Tool.DEPTH_GAUGE: 0.5,
    Tool.CLAY: 1.0,
    Tool.FOAM: 1.0,
    Tool.WEDGE: 1.0,
    Tool.STRAIGHTEDGE: 1.5,
    Tool.STEEL_RULE: 2.0,
    Tool.TAPE: 3.0,
    Tool.EYE: 4.0,
    Tool.PHOTOGRAPH: 5.0,
    Tool.MEMORY: 6.0,
}
"""Spread of a gap read with a tool, one sigma: common practice."""
NO_TOOL_U: Mm = 3.0
"""The same where the record does not name a tool: assumed, between a rule and the eye."""
DRIVEN_U: Mm = 4.0
"""Bushes and tyre give way on the road; a rub mark says that much less of the computed gap."""
MARK_GRADE = 1
"""Grade from which a rub is a mark that something was touched."""

_POSES = {
    State.STATIC: Pose.STATIC,
    State.FULL_DROOP: Pose.FULL_DROOP,
    State.FULL_BUMP: Pose.FULL_BUMP,
    State.TOE_OUT_LOCK: Pose.TOE_OUT_AT_STATIC,
    State.TOE_IN_LOCK: Pose.TOE_IN_AT_STATIC,
    State.TOE_OUT_LOCK_AT_BUMP: Pose.TOE_OUT_AT_BUMP,
    State.TOE_IN_LOCK_AT_BUMP: Pose.TOE_IN_AT_BUMP,
    State.TOE_OUT_LOCK_AT_DROOP: Pose.TOE_OUT_AT_DROOP,
    State.TOE_IN_LOCK_AT_DROOP: Pose.TOE_IN_AT_DROOP,
    State.THIS_UP: Pose.THIS_SIDE_UP,
    State.THIS_DOWN: Pose.THIS_SIDE_DOWN,
}


@dataclass(frozen=True)
class SiteKey:
    """What a limit is about: a site, on one side, in one condition. Each is learned apart."""

    axle: Axle
    site: str
    side: Side
    condition: Condition

    @property
    def order(self) -> tuple[str, str, str, str]:
        """Sort key."""
        return (self.axle.value, self.site, self.side.value, self.condition.value)


@dataclass(frozen=True)
class Entry:
    """One statement of a record about one limit. `index` is its place in the record's gaps."""

    key: SiteKey
    observation: Observation
    record: str
    index: int
    computed: GapAt


def entries(filed: Filed[Setup], assessment: Assessment) -> tuple[Entry, ...]:
    """Give all that a record says of limits; nothing for a withdrawn one."""
    setup = filed.value
    if setup.withdrawn is not None:
        return ()
    origin = Origin(setup.car, setup.member, filed.id)
    found: list[Entry] = []
    for index, gap in enumerate(setup.gaps):
        found += _of_gap(gap, index, origin, assessment)
    for rub in setup.rubs:
        found += _of_rub(rub, origin, assessment)
    return tuple(found)


def _of_gap(gap: Gap, index: int, origin: Origin, assessment: Assessment) -> Iterator[Entry]:
    if gap.gap.said is Said.NOT_CHECKED:
        return
    for clearance in _clearances(assessment, gap.site, gap.axle):
        computed = computed_in(clearance, gap.state)
        if computed is None:
            continue
        observation = _observation(gap.gap, gap.tool, computed.of_setup, origin)
        for side in _sides(clearance, gap.side):
            yield Entry(_key(clearance, side), observation, origin.record, index, computed)


def _of_rub(rub: Rub, origin: Origin, assessment: Assessment) -> Iterator[Entry]:
    """Take a mark that nothing cured as a least gap of nothing; a cured one is of before."""
    if rub.grade < MARK_GRADE or rub.cured:
        return
    for clearance in _clearances(assessment, rub.site, rub.axle):
        if clearance.least is None:
            continue
        computed = clearance.least.of_setup
        driven = Estimate(computed.value, hypot(computed.u, DRIVEN_U), computed.basis)
        observation = gap_at_most(0.0, driven, origin)
        for side in _sides(clearance, rub.side):
            yield Entry(_key(clearance, side), observation, origin.record, -1, clearance.least)


def _observation(
    reading: GapReading, tool: Tool | None, computed: Estimate, origin: Origin
) -> Observation:
    u = hypot(tool_u(tool), reading.resolution / sqrt(12.0))
    blurred = Estimate(computed.value, hypot(computed.u, u), computed.basis)
    if reading.said is Said.MEASURED and reading.low is not None:
        return measured_gap(Estimate(reading.low, u, Basis.MEASURED), computed, origin)
    if reading.said is Said.BETWEEN and reading.low is not None and reading.high is not None:
        return gap_between(reading.low, reading.high, blurred, origin)
    if reading.said is Said.TOUCHES:
        return gap_at_most(0.0, blurred, origin)
    return gap_above(reading.low or 0.0, blurred, origin)


def _clearances(assessment: Assessment, site: str, axle: Axle | None) -> tuple[Clearance, ...]:
    found = [
        clearance
        for end in assessment.axles()
        if axle is None or end.axle is axle
        for clearance in end.clearances
        if clearance.site.name == site
    ]
    ends = {clearance.site.axle for clearance in found}
    return tuple(found) if len(ends) == 1 else ()


def tool_u(tool: Tool | None) -> Mm:
    """Give the spread of a gap read with a tool, one sigma; None is one that was not named."""
    return NO_TOOL_U if tool is None else TOOL_U[tool]


def computed_in(clearance: Clearance, state: State) -> GapAt | None:
    """Give the computed gap in the state a record speaks of; None where it is not known."""
    if not clearance.moves:
        return clearance.standing
    if state is State.SWEEP:
        return clearance.least
    words = _POSES[state].value
    return next((each for each in clearance.states if each.words == words), None)


def _sides(clearance: Clearance, said: Side) -> tuple[Side, ...]:
    wanted = (Side.LEFT, Side.RIGHT) if said is Side.BOTH else (said,)
    here = clearance.site.sides if clearance.side is Side.BOTH else (clearance.side,)
    return tuple(side for side in wanted if side in here and side in clearance.site.sides)


def _key(clearance: Clearance, side: Side) -> SiteKey:
    return SiteKey(clearance.site.axle, clearance.site.name, side, clearance.condition)
