"""Gaps through travel and steer for pages: what is drawn, and the same numbers in rows."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from generator.assessment.assess import AxleAssessment
from generator.assessment.clearances import Clearance
from generator.assessment.plan_view import PlanView, plan_view, tightest
from generator.frozen import dataclass
from generator.geometry.travel import State
from generator.records.chassis import Chassis
from generator.records.fitted import AxleSetup
from generator.records.names import named_list
from generator.records.words import Axle
from generator.site.drawings import CurvesSubject, PlanSubject
from generator.site.facts import Shown, estimated, given

MOST_CURVES = 3
_TRAVEL = ((State.FULL_DROOP, "Full droop"), (State.STATIC, "Standing"),
           (State.FULL_BUMP, "Full bump"))  # fmt: skip
_STEER = ((State.TOE_IN_AT_STATIC, "Toe-in lock"), (State.TOE_OUT_AT_STATIC, "Toe-out lock"))


@dataclass(frozen=True)
class MotionRow:
    """One site: its gap in the named states of the table's columns, the least, and the wanted."""

    label: str
    gaps: tuple[Shown, ...]
    least: Shown
    where: str
    wanted: Shown


@dataclass(frozen=True)
class MotionTable:
    """The numbers of a drawing; `states` are the columns."""

    states: tuple[str, ...]
    rows: tuple[MotionRow, ...]

    @property
    def columns(self) -> tuple[tuple[str, str], ...]:
        """Give the columns after the site's name, each with its kind."""
        return tuple((words, "figure") for words in (*self.states, "Least of all", "Wanted"))


@dataclass(frozen=True)
class Motion:
    """What is drawn of one end in motion. None where nothing is known, and `unknown` says why."""

    plan: PlanSubject | None
    plan_table: MotionTable
    curves: CurvesSubject | None
    curves_table: MotionTable
    unknown: tuple[str, ...]


def motion_of(chassis: Chassis, setup: AxleSetup, end: AxleAssessment) -> Motion:
    """Give what is drawn of one end in motion, with its numbers."""
    view = plan_view(chassis, setup, end) if end.axle is Axle.FRONT else None
    sites = tightest(end, MOST_CURVES)
    name = end.axle.value
    steers = any(each.by_steer is not None for each in sites)
    return Motion(
        plan=PlanSubject(f"plan-{name}", name, view) if view else None,
        plan_table=_table(_sites(view), _STEER),
        curves=CurvesSubject(f"curves-{name}", name, sites) if sites else None,
        curves_table=_table(sites, (*_TRAVEL, *_STEER) if steers else _TRAVEL),
        unknown=tuple(_unknown(end.clearances)),
    )


def unjudged(motion: Motion) -> Motion:
    """Give the same drawings without a judgement of any gap, for a record that no longer counts."""
    return replace(
        motion,
        plan=replace(motion.plan, is_judged=False) if motion.plan else None,
        curves=replace(motion.curves, is_judged=False) if motion.curves else None,
    )


def _unknown(clearances: Iterable[Clearance]) -> Iterator[str]:
    """Say of which sites nothing is known, all of one reason together."""
    sites: dict[str, dict[str, None]] = {}
    for each in clearances:
        if each.unknown:
            sites.setdefault(each.unknown, {})[each.site.label] = None
    for why, labels in sites.items():
        yield f"{why}: {named_list(labels)}"


def _sites(view: PlanView | None) -> tuple[Clearance, ...]:
    """Give the sites of a plan view, and the tightest of all if it is not at hub height."""
    if view is None:
        return ()
    found = [each.clearance for each in view.sites]
    if view.worst is not None and view.worst.clearance not in found:
        found.append(view.worst.clearance)
    return tuple(found)


def _table(sites: tuple[Clearance, ...], states: tuple[tuple[State, str], ...]) -> MotionTable:
    rows = tuple(_row(each, tuple(state for state, _ in states)) for each in sites)
    return MotionTable(tuple(words for _, words in states), rows)


def _row(clearance: Clearance, states: tuple[State, ...]) -> MotionRow:
    at = {each.words: each.gap for each in clearance.states}
    side = clearance.side.value
    least = clearance.least
    return MotionRow(
        label=clearance.site.label + ("" if side == "both" else f", {side}"),
        gaps=tuple(estimated(at.get(state.value)) for state in states),
        least=estimated(least.gap if least else None),
        where=least.words if least else "",
        wanted=given(clearance.site.wanted),
    )
