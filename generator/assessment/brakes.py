"""The gaps of caliper or drum and wheel: as a record measured them, else as sheet and wheel tell.

u outboard positive from the hub's mounting face; gaps positive free. Another hub or disc makes the
sheet's outline another car's: then only a measured gap counts.
"""

from collections.abc import Callable
from enum import Enum
from math import hypot, sqrt
from typing import TypeVar

from generator.assessment.car import End
from generator.frozen import dataclass
from generator.geometry.brake import (
    BrakeGap,
    SectionLine,
    barrel_gap,
    barrel_gap_with_spacer,
    level_barrel,
    level_spokes,
    spoke_gap,
    spoke_gap_with_spacer,
)
from generator.quantities.estimate import Basis, Estimate
from generator.quantities.quantity import Quantity
from generator.quantities.span import GapReading, Said
from generator.quantities.units import Mm
from generator.records.dimensions import FINE_U, RULE_U

LEAST_GAP: Mm = 3.0
"""Wanted between caliper and wheel, 5 for competition or with weights: common practice."""
FEELER_U: Mm = 0.5
"""Repeatability of a feeler or clay on a brake: common practice."""


_Words = TypeVar("_Words")


class Part(Enum):
    """Which part of the wheel the caliper comes near to."""

    SPOKES = "spokes"
    BARREL = "barrel"


@dataclass(frozen=True)
class CaliperGap:
    """A gap: its value, or the least it is known to exceed, or why neither is known.

    `is_computed` is True where nobody measured it.
    """

    part: Part
    gap: Estimate | None
    more_than: Mm | None = None
    is_computed: bool = False
    unknown: str = ""


@dataclass(frozen=True)
class WithSpacer:
    """A measured gap carried to another spacer."""

    spacer: Mm
    gap: Estimate


def caliper_gap(end: End, part: Part) -> CaliperGap:
    """Give the gap of caliper and spokes or barrel with the spacer that is fitted."""
    said = _reading(end, part)
    if said is None or said.said is Said.NOT_CHECKED:
        return _computed(end, part)
    if said.said is Said.TOUCHES:
        return CaliperGap(part, Estimate(0.0, 0.0, Basis.MEASURED, ("touches",)))
    if said.low is None or said.high is None:
        return CaliperGap(part, None, more_than=said.low, unknown="how much it clears is not said")
    return CaliperGap(part, _measured(said, said.low, said.high))


def of_brake(end: End, at_caliper: _Words, at_drum: _Words) -> _Words:
    """Choose by what the brake on that end has: drum brakes have no caliper to ask for."""
    return at_drum if end.sheet.brake.part == "drum" else at_caliper


def with_other_spacers(end: End, part: Part, thicknesses: tuple[Mm, ...]) -> tuple[WithSpacer, ...]:
    """Give what a record's measured gap leaves with other spacers; nothing where none is measured.

    Source: see `geometry.brake.spoke_gap_with_spacer` and `barrel_gap_with_spacer`.
    """
    found = caliper_gap(end, part)
    if found.gap is None or found.is_computed:
        return ()
    carry = spoke_gap_with_spacer if part is Part.SPOKES else barrel_gap_with_spacer
    here = end.spacer().value
    return tuple(
        WithSpacer(each, carry(found.gap, measured_with=here, spacer=each)) for each in thicknesses
    )


def _reading(end: End, part: Part) -> GapReading | None:
    fitted = end.fitted
    return fitted.caliper_to_spoke if part is Part.SPOKES else fitted.caliper_to_barrel


def _measured(said: GapReading, low: Mm, high: Mm) -> Estimate:
    """Give a measured gap; a range counts as rectangular [GUM] 4.3.7."""
    half = (high - low) / 2.0
    u = hypot(FEELER_U, half / sqrt(3.0), said.resolution / sqrt(12.0))
    return Estimate((low + high) / 2.0, u, Basis.MEASURED, ("gap measured",))


_Gap = Callable[[SectionLine, SectionLine, Mm], BrakeGap]


def _spokes(brake: SectionLine, wheel: SectionLine, spacer: Mm) -> BrakeGap:
    return spoke_gap(brake, wheel, spacer=spacer)


def _barrel(brake: SectionLine, wheel: SectionLine, spacer: Mm) -> BrakeGap:
    return barrel_gap(brake, wheel, spacer=spacer)


def _computed(end: End, part: Part) -> CaliperGap:
    line, gap_of = _wheel_line(end, part)
    if line is None:
        return CaliperGap(part, None, unknown="neither the gap nor the wheel's inside was measured")
    if end.fitted.face_moved is not None:
        return CaliperGap(
            part,
            None,
            unknown="another hub or disc is fitted, and the sheet describes the stock one",
        )
    outline = end.sheet.brake.outline
    brake = SectionLine(tuple((point.y.value, point.r.value) for point in outline))
    gap = gap_of(brake, line, end.spacer().value).gap
    u = hypot(RULE_U, FINE_U)
    return CaliperGap(
        part,
        Estimate(gap, u, Basis.INFERRED, ("chassis sheet", "wheel measured")),
        is_computed=True,
    )


def _wheel_line(end: End, part: Part) -> tuple[SectionLine | None, _Gap]:
    wheel = end.fitted.wheel
    if part is Part.SPOKES:
        return _moved(wheel.spoke_back, lambda by: level_spokes().moved(by)), _spokes
    return _moved(wheel.barrel_radius, lambda by: level_barrel().moved(0.0, by)), _barrel


def _moved(by: Quantity | None, line: Callable[[Mm], SectionLine]) -> SectionLine | None:
    return None if by is None else line(by.value)
