"""What pages say beyond the assessment: what trims did, remedies, windows, what to measure.

These take longer than all else on a page, so each is kept by what it follows from: for as long as
the program lives, and in the cache where there is one. A record that tells nothing new of any gap
leaves all of them as they were. What is kept decides nothing; it is what would be computed.
"""

from collections.abc import Callable
from datetime import date
from typing import Generic, TypeVar

from generator.assessment.assess import AxleAssessment
from generator.assessment.effects import Effect, effects_of
from generator.cache.digests import digest
from generator.cache.once import keep, kept, recalled
from generator.cache.program import program
from generator.evidence.candidate import assess_candidate, like_record, like_stock
from generator.evidence.held_out import PartHeldOut, of_chassis, one_in
from generator.evidence.remedies import SiteRemedies, remedies
from generator.evidence.tried import Tried
from generator.evidence.tyres import usual_tyres
from generator.evidence.verdict import Verdict, verdict
from generator.evidence.window import (
    AROUND_STOCK,
    WIDTHS,
    OffsetWindow,
    Reach,
    chosen,
    reach_of,
    window_of,
)
from generator.evidence.worth import Measurement, worth_measuring
from generator.quantities.units import Inch
from generator.records.chassis import Chassis
from generator.records.library import Case, Filed
from generator.records.words import Axle
from generator.site.guide import Guide
from generator.site.lifecycle import has_lapsed, replaced_by
from generator.site.mock_up import EndSteps, mock_up
from generator.site.motion_shown import Motion, motion_of

_Kind = TypeVar("_Kind")
_Texts = tuple[str, ...]
_MOST = 4096
_BESIDE: Inch = 0.5
"""How much wider than all known wheels of an end its window looks."""


class _Kept(Generic[_Kind]):
    """Values by the texts they follow from; the oldest go first from memory."""

    def __init__(self, name: str) -> None:
        self._name = name
        self._values: dict[_Texts, _Kind] = {}

    def get(self, key: _Texts, make: Callable[[], _Kind]) -> _Kind:
        """Give what is kept, or make it."""
        if key not in self._values:
            while len(self._values) >= _MOST:
                del self._values[next(iter(self._values))]
            self._values[key] = kept(digest("advice", program(), self._name, *key), make)
        return self._values[key]

    def forget(self) -> None:
        """Let go of everything in memory."""
        self._values.clear()


_effects: _Kept[tuple[Effect, ...]] = _Kept("effects")
_remedies: _Kept[tuple[SiteRemedies, ...]] = _Kept("remedies")
_motions: _Kept[Motion] = _Kept("motion")
_mock_ups: _Kept[tuple[EndSteps, ...]] = _Kept("mock-up")
_reaches: _Kept[Reach] = _Kept("reach")
_windows: _Kept[OffsetWindow] = _Kept("window")
_worth: _Kept[tuple[Measurement, ...]] = _Kept("worth")
_held_out: _Kept[PartHeldOut] = _Kept("held out")
_stock: _Kept[Verdict] = _Kept("stock")
_ANY_DAY = date(2000, 1, 1)


def forget() -> None:
    """Let go of what was kept in memory; what lies in the cache stays."""
    for each in (
        _effects, _remedies, _motions, _mock_ups, _reaches, _windows, _worth, _held_out, _stock,
    ):  # fmt: skip
        each.forget()


def effects(guide: Guide, case: Case) -> tuple[Effect, ...]:
    """Give what each change of a setup did; none without a chassis sheet."""
    computed = guide.assessments.get(case.setup.id)
    if case.chassis is None or computed is None:
        return ()
    key = (case.setup.bearing, case.chassis.bearing)
    return _effects.get(key, lambda: effects_of(case, computed))


def motion(case: Case, end: AxleAssessment) -> Motion | None:
    """Give what is drawn of one end in motion; None without a chassis sheet."""
    chassis = case.chassis
    if chassis is None:
        return None
    fitted = case.setup.value.front if end.axle is Axle.FRONT else case.setup.value.rear
    key = (case.setup.bearing, chassis.bearing, end.axle.value)
    return _motions.get(key, lambda: motion_of(chassis.value, fitted, end))


def mock_up_steps(chassis: Filed[Chassis]) -> tuple[EndSteps, ...]:
    """Give the states of a mock-up of both ends of a car."""
    return _mock_ups.get((chassis.bearing,), lambda: mock_up(chassis.value))


def weakest_remedies(guide: Guide, case: Case) -> tuple[SiteRemedies, ...]:
    """Give remedies for the weakest site that is not expected to clear, front or rear.

    None for a withdrawn record. `gapbook try` seeks them for every site.
    """
    judged, chassis = guide.verdicts.get(case.setup.id), case.chassis
    if judged is None or chassis is None or case.setup.value.withdrawn is not None:
        return ()
    failing = [
        (site.chance, axle.axle.value, site.clearance.site.name)
        for axle in judged.axles()
        for site in axle.sites
        if site.chance is not None and site.word in ("touches", "tight")
    ]
    if not failing:
        return ()
    _, end, name = min(failing)
    axle = judged.front if end == Axle.FRONT.value else judged.rear
    candidate = like_record(chassis, case.setup)
    evidence = guide.evidence[chassis.id]
    own = (case.setup.bearing, chassis.bearing)
    key = (*own, axle.axle.value, name, evidence.known(axle.axle))

    def made() -> tuple[SiteRemedies, ...]:
        name_of_tried = digest("tried", program(), *own, axle.axle.value)
        tried = Tried(*(recalled(name_of_tried) or ()))
        found = remedies(candidate, axle, evidence, only=name, tried=tried)
        if tried.has_grown:
            keep(name_of_tried, (tried.gaps, tried.failing))
        return found

    return _remedies.get(key, made)


def stock_verdict(guide: Guide, chassis: Filed[Chassis]) -> Verdict | None:
    """Judge the car as it left the factory, as a trial from stock does; None without evidence.

    No gap follows from the day on which somebody asks: it stands for the age of tyres alone.
    """
    evidence = guide.evidence.get(chassis.id)
    if evidence is None:
        return None
    key = (chassis.bearing, *(evidence.known(axle) for axle in Axle))
    candidate = like_stock(chassis, day=_ANY_DAY)
    return _stock.get(key, lambda: verdict(assess_candidate(candidate), evidence))


def window(guide: Guide, chassis: Filed[Chassis], axle: Axle) -> OffsetWindow:
    """Give the offset window of one end: at the widths that members fitted and at the next wider.

    Each width takes its time, so that those nobody fits are left out.
    """
    sheet = chassis.value.front if axle is Axle.FRONT else chassis.value.rear
    setups = guide.setups_of(chassis.id)
    fitted = [sheet.stock_wheel.size.width_code]
    for filed in setups:
        end = filed.value.front if axle is Axle.FRONT else filed.value.rear
        fitted.append(end.wheel.size.width_code)
    wanted = {*fitted, max(fitted) + _BESIDE}
    widths = tuple(width for width in WIDTHS if width in wanted)
    tyres = chosen(usual_tyres(axle, sheet, setups), widths)
    evidence = guide.evidence[chassis.id]

    of_sheet = (axle.value, str(AROUND_STOCK), chassis.bearing, repr(tyres))

    def made() -> OffsetWindow:
        reach = _reaches.get(of_sheet, lambda: reach_of(chassis.value, axle, tyres))
        return window_of(chassis, reach, evidence)

    key = (*of_sheet, evidence.known(axle))
    return _windows.get(key, made)


def measurements(guide: Guide, chassis: Filed[Chassis]) -> tuple[Measurement, ...]:
    """Give what is most worth measuring on one chassis, by the setups that still count."""
    replaced = replaced_by(guide.library)
    judged = {
        filed.id: guide.verdicts[filed.id]
        for filed in guide.setups_of(chassis.id)
        if filed.id in guide.verdicts and not has_lapsed(filed, replaced)
    }
    evidence = guide.evidence[chassis.id]
    return _worth.get(_bearing(guide, chassis), lambda: worth_measuring(evidence, judged))


def forecasts(guide: Guide, chassis: Filed[Chassis]) -> PartHeldOut:
    """Give how forecasts of one chassis' gaps from the others' records did: `evidence.held_out`."""
    evidence, every = guide.evidence[chassis.id], one_in(guide.records)
    key = (str(every), *_bearing(guide, chassis))
    return _held_out.get(key, lambda: of_chassis(evidence, every=every))


def _bearing(guide: Guide, chassis: Filed[Chassis]) -> _Texts:
    """Give all that the evidence of a chassis follows from."""
    setups = sorted(guide.setups_of(chassis.id), key=lambda each: each.id)
    return (chassis.bearing, *(filed.bearing for filed in setups))
