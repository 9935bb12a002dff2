"""A spacer leaves too little of the hub's pilot to centre the wheel."""

from collections.abc import Iterator

from generator.quantities.seat import SeatForm
from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import apart, mm
from generator.records.words import SpacerKind

LEAST_PILOT: Mm = 3.0
"""A shorter pilot is none: common practice."""
_DIGITS = 6
"""A millionth of a millimetre: takes off the rounding of a difference, no more."""
FLAT = frozenset({SpacerKind.SHIM, SpacerKind.SLIP_ON})
CENTRING = frozenset({SeatForm.CONE, SeatForm.BALL})

RULE = Rule(
    code="R24",
    title="a spacer that takes the pilot away",
    severity=Severity.WARNING,
    why="The hub's pilot centres the wheel while the nuts are run up. Under about 3 mm past a flat "
    "spacer it no longer does, and then conical or ball seats must.",
    mend="Use a spacer with a pilot of its own, or a thinner one; run the nuts up in the air, in a "
    "star.",
    source="common practice",
    bad="setup: {front: {spacer: {thickness: 7 mm, kind: slip-on},"
    " wheel: {seat: flat}, hardware: {seat: flat, engagement: 14 mm, turns: 9}}}",
    good="setup: {front: {spacer: {thickness: 5 mm, kind: slip-on},"
    " wheel: {seat: flat}, hardware: {seat: flat, engagement: 14 mm, turns: 9}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Hold flat spacers against the height of the pilot."""
    for axle, fitted, sheet in case.axles():
        spacer, seat = fitted.spacer, fitted.wheel.seat
        if sheet is None or spacer is None or spacer.kind not in FLAT:
            continue
        left = round(sheet.pilot_height.value - spacer.thickness.value, _DIGITS)
        if spacer.thickness.value <= 0.0 or left >= LEAST_PILOT:
            continue
        if seat is not None and seat.form in CENTRING:
            continue
        assert case.chassis is not None
        what = f"{apart(left)} of pilot" if left > 0.0 else "no pilot"
        seats = f"`{seat}` seats do not centre" if seat else "the wheel's seat is not given"
        yield RULE.fault(
            case.setup.place(axle.value, "spacer", "thickness"),
            f"a flat spacer of {spacer.thickness.typed} leaves {what}, and {seats}",
            expected=f"{mm(LEAST_PILOT)} or more of {sheet.pilot_height.typed}, a piloted spacer, "
            "or conical or ball seats",
            fix="write `kind: piloted` if the spacer has a lip, and `seat: …` of the wheel",
            also=(marked(case.chassis, "height of the pilot", axle.value, "pilot_height"),),
        )
