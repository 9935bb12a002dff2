"""A spacer leaves too little of the hub's pilot to centre the wheel."""

from collections.abc import Iterator

from generator.assessment.car import End, fine
from generator.assessment.finding import Caution, Finding, Follows, Gravity, Hazard
from generator.geometry.bound import PRACTICE, Outcome, at_least
from generator.geometry.brake import remaining_pilot
from generator.records.checks.bore_on_pilot import OWN_PILOT
from generator.records.checks.pilot_lost import CENTRING, LEAST_PILOT
from generator.records.joint import exact

HAZARD = Hazard(
    "H06",
    "pilot under the wheel",
    "The hub's pilot centres the wheel while the nuts are run up. A flat spacer takes its "
    "thickness off it; then conical or ball seats must centre the wheel.",
    "PRACTICE",
    Gravity.CARE,
    Caution.SPACERS,
)


def findings(end: End) -> Iterator[Finding]:
    """Hold the pilot left past the spacers against the least that still centres.

    Conical and ball seats centre the wheel without it, as rule R24 has it too.
    Source: [PRACTICE] under about 3 mm treat as no pilot; then cone or ball seats have to centre.
    """
    spacer = end.fitted.spacer
    if spacer is not None and spacer.kind in OWN_PILOT:
        yield HAZARD.not_known(
            end.where,
            f"The {spacer.kind.value} spacer carries the wheel on a lip of its own, whose size the "
            "record does not give.",
            measure="Measure the lip's diameter against the wheel's bore and its height: 3 mm or "
            "more must stand in the bore.",
        )
        return
    pilot = fine(exact(end.sheet.pilot_height, "chassis sheet"))
    remaining = remaining_pilot(pilot, end.spacer())
    check = at_least(remaining, LEAST_PILOT, source=PRACTICE)
    left = f"{check.value:.1f} mm" if check.value > 0.0 else "nothing"
    seat = end.fitted.wheel.seat
    centred = seat is not None and seat.form in CENTRING
    fails = "Nothing sure centres the wheel: a piloted spacer, or none."
    if centred and check.outcome is not Outcome.HOLDS:
        yield HAZARD.stated(
            end.where,
            remaining,
            "mm",
            sentence=f"The hub's pilot of {pilot.value:.3g} mm leaves {left}, and under "
            f"{LEAST_PILOT:.3g} mm is no pilot: the {seat} seats alone centre the wheel.",
            follows="Run the nuts up by hand in the air, in a star, before any weight is on it.",
        )
        return
    yield HAZARD.checked(
        end.where,
        check,
        "mm",
        sentence=f"The hub's pilot of {pilot.value:.3g} mm leaves {left} to centre the wheel; "
        f"{LEAST_PILOT:.3g} mm is wanted.",
        follows=Follows(holds="", fails=fails),
    )
