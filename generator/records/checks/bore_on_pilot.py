"""A wheel's bore does not go over the hub's pilot, or does not centre on it."""

from collections.abc import Iterator

from generator.geometry.inspection import BoreFit, bore_clearance
from generator.quantities.quantity import Quantity
from generator.quantities.seat import SeatForm
from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.fitted import WheelFitted
from generator.records.joint import exact, spacer_of
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import apart
from generator.records.words import Axle, SpacerKind

READING: Mm = 0.02
"""A bore and a pilot of one size may be read this much apart: common practice."""
CENTRING = frozenset({SeatForm.CONE, SeatForm.BALL})
OWN_PILOT = frozenset({SpacerKind.PILOTED, SpacerKind.BOLT_ON})
"""Spacers that carry the wheel on a lip of their own."""

RULE = Rule(
    code="R23",
    title="a bore that does not suit the pilot",
    severity=Severity.ERROR,
    why="A bore smaller than the hub's pilot holds the wheel off its face, and it is not clamped. "
    "One that is larger by more than 0.2 mm does not centre the wheel; a ring or conical or ball "
    "seats must.",
    mend="Measure bore and pilot in two directions. Opening a bore is work for a machine shop.",
    source="common practice",
    bad="setup: {front: {wheel: {bore: 60.1 mm}}}",
    good="setup: {front: {wheel: {bore: 66.1 mm, ring: 61.6 mm}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Compare bore, ring and pilot at both ends."""
    for axle, fitted, sheet in case.axles():
        spacer = fitted.spacer
        if sheet is None or (spacer is not None and spacer.kind in OWN_PILOT):
            continue
        if spacer_of(fitted) >= sheet.pilot_height.value:
            continue
        ring, bore = fitted.wheel.ring, fitted.wheel.bore
        yield from _on_pilot(case, axle, fitted.wheel, pilot=sheet.pilot_diameter)
        if ring is not None and bore is not None and ring.value >= bore.value:
            yield RULE.fault(
                case.setup.place(axle.value, "wheel", "ring"),
                f"the ring's inner diameter of {ring.typed} is not smaller than the bore of "
                f"{bore.typed}",
                expected=f"the pilot's diameter, {sheet.pilot_diameter.typed}, and a little",
                fix="write the inner diameter of the ring",
                also=(marked(case.setup, "the bore", axle.value, "wheel", "bore"),),
            )


def _on_pilot(case: Case, axle: Axle, wheel: WheelFitted, *, pilot: Quantity) -> Iterator[Fault]:
    field, given = ("bore", wheel.bore) if wheel.ring is None else ("ring", wheel.ring)
    if given is None:
        return
    found = bore_clearance(exact(given, field), exact(pilot, "pilot"))
    free = found.clearance.value
    seat = wheel.seat
    assert case.chassis is not None
    also = (marked(case.chassis, "the hub's pilot", axle.value, "pilot_diameter"),)
    place = case.setup.place(axle.value, "wheel", field)
    if found.fit is BoreFit.WILL_NOT_GO_ON and free < -READING:
        yield RULE.fault(
            place,
            f"the {field} of {given.typed} is {_fine(free)} smaller than the pilot of "
            f"{pilot.typed}",
            expected=f"{pilot.typed} or up to 0.2 mm more",
            fix="measure both again; this wheel does not go on",
            also=also,
        )
    elif found.fit is BoreFit.DOES_NOT_CENTRE and (seat is None or seat.form not in CENTRING):
        form = f"`{seat}` seats do" if seat else "seats of unknown form may"
        yield RULE.warning(
            RULE.fault(
                place,
                f"the {field} of {given.typed} is {_fine(free)} larger than the pilot, and {form} "
                "not centre the wheel",
                expected="at most 0.2 mm more, or a ring, or conical or ball seats",
                fix="add `ring: …` if one is fitted, and `seat: …` of the wheel",
                also=also,
            )
        )


def _fine(length: Mm) -> str:
    return f"{abs(length):.2f} mm" if abs(length) < 1.0 else apart(length)
