"""Backspacing is half the width, the inboard lip and the offset; the three must agree."""

from collections.abc import Iterator

from generator.quantities.units import Mm
from generator.reading.fault import Fault, Mark, Severity
from generator.records.chassis import Chassis
from generator.records.library import Case, Filed, Library
from generator.records.rule import Rule
from generator.records.setup import Setup
from generator.records.told import apart, as_typed, mm
from generator.records.wheel_sum import (
    FLANGE_THICKNESS,
    WheelSum,
    explained,
    stock_sum,
    wheel_sum,
)
from generator.records.words import Axle

GRAVE: Mm = 10.0
LIP_TWICE_WITHIN: Mm = 2.0

RULE = Rule(
    "R01",
    "offset and backspacing disagree",
    Severity.ERROR,
    "Offset and backspacing say the same thing twice: backspacing is half the width, the inboard "
    "lip and the offset. Where they differ, one of them puts the wheel in the wrong place. Up to "
    "10 mm is a warning, more is an error.",
    "Measure the backspacing again with a straightedge across the inboard lip, and the overall "
    "width lip to lip; half the overall width less the backspacing is the offset, sign turned.",
    "UN R124 2.6; common practice for the tolerance",
    "setup: {front: {wheel: {backspacing: 128 mm}}}",
    "setup: {front: {wheel: {backspacing: 125 mm}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Check one setup."""
    for axle, fitted, _ in case.axles():
        total = wheel_sum(fitted.wheel)
        if total and not total.closes and explained(total, fitted) is None:
            yield _fault(case.setup, (axle.value, "wheel"), total)


def check_library(library: Library) -> Iterator[Fault]:
    """Check the stock wheels of all sheets."""
    for chassis in library.chassis.values():
        for axle in Axle:
            total = stock_sum(getattr(chassis.value, axle.value).stock_wheel)
            if total and not total.closes:
                yield _fault(chassis, (axle.value, "stock_wheel"), total)


def _fault(filed: Filed[Setup] | Filed[Chassis], route: tuple[str, ...], total: WheelSum) -> Fault:
    wanted = mm(total.backspacing_by_sum)
    lip = f"lip {mm(total.lip)}" if total.lip_is_measured else f"a lip of {mm(total.lip)}, assumed,"
    other = filed.place(*route, total.offset_field)
    fault = RULE.fault(
        filed.place(*route, "backspacing"),
        f"backspacing {as_typed(total.backspacing_typed)} and offset "
        f"{as_typed(total.offset_typed)} disagree by "
        f"{apart(total.closure)}",
        expected=f"{wanted}: half the width {mm(total.half_width)}, {lip} and the offset",
        fix=_fix(total),
        also=(Mark(other, f"{mm(total.offset_by_sum)} would agree"),),
    )
    return fault if abs(total.closure) > GRAVE else RULE.warning(fault)


def _fix(total: WheelSum) -> str:
    if abs(total.backspacing - total.offset) < LIP_TWICE_WITHIN:
        return "the two fields hold the same number: write each in its own field"
    if abs(total.closure - FLANGE_THICKNESS) < LIP_TWICE_WITHIN:
        return "take the half inch of the lip off the backspacing if it was counted twice"
    return "measure the backspacing again, and correct the value that was wrong"
