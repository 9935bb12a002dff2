"""What pages say beyond the assessment: what trims did, remedies, windows, what to measure.

These take longer than all else on a page, so each is kept by the texts it follows from for as long
as the program lives: while a guide is served, only what a change concerns is computed again. What
is kept decides nothing; it is what would be computed.
"""

from collections.abc import Callable
from typing import Generic, TypeVar

from generator.assessment.effects import Effect, effects_of
from generator.evidence.candidate import like_record
from generator.evidence.held_out import PartHeldOut, of_chassis, one_in
from generator.evidence.remedies import SiteRemedies, remedies
from generator.evidence.tyres import usual_tyres
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

_Kind = TypeVar("_Kind")
_Texts = tuple[str, ...]
_MOST = 4096
_BESIDE: Inch = 0.5
"""How much wider than all known wheels of an end its window looks."""


class _Kept(Generic[_Kind]):
    """Values by the texts they follow from; the oldest go first."""

    def __init__(self) -> None:
        self._values: dict[_Texts, _Kind] = {}

    def get(self, key: _Texts, make: Callable[[], _Kind]) -> _Kind:
        """Give what is kept, or make it."""
        if key not in self._values:
            while len(self._values) >= _MOST:
                del self._values[next(iter(self._values))]
            self._values[key] = make()
        return self._values[key]


_effects: _Kept[tuple[Effect, ...]] = _Kept()
_remedies: _Kept[tuple[SiteRemedies, ...]] = _Kept()
_reaches: _Kept[Reach] = _Kept()
_windows: _Kept[OffsetWindow] = _Kept()
_worth: _Kept[tuple[Measurement, ...]] = _Kept()
_held_out: _Kept[PartHeldOut] = _Kept()


def effects(guide: Guide, case: Case) -> tuple[Effect, ...]:
    """Give what each change of a setup did; none without a chassis sheet."""
    computed = guide.assessments.get(case.setup.id)
    if case.chassis is None or computed is None:
        return ()
    key = (case.setup.source.text, case.chassis.source.text)
    return _effects.get(key, lambda: effects_of(case, computed))


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
    key = (case.setup.id, *_texts(guide, chassis))
    return _remedies.get(key, lambda: remedies(candidate, axle, evidence, only=name))


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
    text = chassis.source.text

    def made() -> OffsetWindow:
        of_sheet = (axle.value, str(AROUND_STOCK), text, repr(tyres))
        reach = _reaches.get(of_sheet, lambda: reach_of(chassis.value, axle, tyres))
        return window_of(chassis, reach, evidence)

    return _windows.get((axle.value, str(AROUND_STOCK), *_texts(guide, chassis)), made)


def measurements(guide: Guide, chassis: Filed[Chassis]) -> tuple[Measurement, ...]:
    """Give what is most worth measuring on one chassis, by the setups that still count."""
    computed = {
        filed.id: guide.assessments[filed.id]
        for filed in guide.setups_of(chassis.id)
        if filed.id in guide.assessments and filed.value.withdrawn is None
    }
    key = (chassis.id, *_texts(guide, chassis))
    evidence = guide.evidence[chassis.id]
    return _worth.get(key, lambda: worth_measuring(evidence, computed))


def forecasts(guide: Guide, chassis: Filed[Chassis]) -> PartHeldOut:
    """Give how forecasts of one chassis' gaps from the others' records did: `evidence.held_out`."""
    evidence, every = guide.evidence[chassis.id], one_in(guide.records)
    key = (chassis.id, str(every), *_texts(guide, chassis))
    return _held_out.get(key, lambda: of_chassis(evidence, every=every))


def _texts(guide: Guide, chassis: Filed[Chassis]) -> _Texts:
    """Give all that the evidence of a chassis follows from."""
    setups = sorted(guide.setups_of(chassis.id), key=lambda each: each.id)
    own = (text for filed in setups for text in (filed.id, filed.source.text))
    return (chassis.source.text, *own)
