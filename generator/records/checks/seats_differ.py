"""Nut and wheel have seats of different form."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Case
from generator.records.rule import Rule, marked

RULE = Rule(
    code="R21",
    title="seats of different form",
    severity=Severity.ERROR,
    why="A ball in a cone, or a cone in another cone, touches along a line, works loose and can "
    "crack the wheel. Form, angle and radius must be those of the wheel.",
    mend="Fit nuts or bolts whose seat is that of the wheel; check with marking blue that the "
    "contact is a full ring.",
    source="common practice",
    bad="setup: {front: {hardware: {seat: ball R13}}}",
    good="setup: {front: {hardware: {seat: ball R13}, wheel: {seat: ball R13}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Compare both seats at both ends."""
    for axle, fitted, sheet in case.axles():
        wheel = fitted.wheel.seat
        nut = fitted.hardware.seat if fitted.hardware else None
        if wheel is None or nut is None or nut == wheel:
            continue
        stock = sheet.fastening.seat if sheet else None
        hint = ", as the car's own nuts are" if nut == stock else ""
        yield RULE.fault(
            case.setup.place(axle.value, "hardware", "seat"),
            f"the nuts' seat is `{nut}`{hint}, the wheel's is `{wheel}`",
            expected=f"`{wheel}` on both",
            fix=f"use nuts with `{wheel}`; do not drive with these",
            also=(marked(case.setup, "seat of the wheel", axle.value, "wheel", "seat"),),
        )
