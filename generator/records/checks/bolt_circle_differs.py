"""A wheel's bolt circle is not the hub's."""

from collections.abc import Iterator

from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.joint import has_bolt_on_spacer
from generator.records.library import Case
from generator.records.rule import Rule, marked

SAME_WITHIN: Mm = 0.2
"""Circles are stated and measured to about this: common practice."""
_DIGITS = 3
"""As many as a circle is kept with; takes off the rounding of a difference."""
NEAR_MISS: Mm = 4.0
"""Up to this difference in diameter a wheel can be forced on: common practice."""

RULE = Rule(
    code="R26",
    title="a bolt circle that is not the hub's",
    severity=Severity.ERROR,
    why="A wheel of a nearly equal circle can be forced on: the seats bear on one flank, the studs "
    "bend, and the nuts come loose. Only an adapter with studs of its own changes the circle.",
    mend="Measure the circle; with an odd number of holes, from one hole's centre to the next but "
    "one, divided by 0.951 for five holes.",
    source="UN R124, from memory, and common practice",
    bad="setup: {front: {wheel: {bolt_circle: 4x120}}}",
    good="setup: {front: {wheel: {bolt_circle: 4x118.1}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Compare the circles at both ends."""
    for axle, fitted, sheet in case.axles():
        wheel = fitted.wheel.bolt_circle
        if sheet is None or wheel is None or has_bolt_on_spacer(fitted):
            continue
        hub = sheet.bolt_circle
        off = round(wheel.diameter - hub.diameter, _DIGITS)
        if wheel.count == hub.count and abs(off) <= SAME_WITHIN:
            continue
        assert case.chassis is not None
        if wheel.count != hub.count:
            headline = f"the wheel has {wheel.count} holes, the hub {hub.count}"
        else:
            headline = f"the wheel's circle is {abs(off):.1f} mm {_larger(off)} than the hub's"
            if abs(off) <= NEAR_MISS:
                headline += ": it can be forced on and must not be"
        yield RULE.fault(
            case.setup.place(axle.value, "wheel", "bolt_circle"),
            headline,
            expected=f"`{hub}`",
            fix=f"write `bolt_circle: {hub}` if it was measured so; else this wheel does not fit",
            also=(marked(case.chassis, "the hub's", axle.value, "bolt_circle"),),
        )


def _larger(off: Mm) -> str:
    return "larger" if off > 0.0 else "smaller"
