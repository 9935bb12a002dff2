"""The wheel's bore, or its ring, does not sit on the hub's pilot."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Finding, Follows, Gravity, Hazard
from generator.geometry.bound import PRACTICE, at_least, at_most
from generator.geometry.inspection import BoreFit, bore_clearance
from generator.quantities.units import Mm
from generator.records.checks.bore_on_pilot import CENTRING, OWN_PILOT
from generator.records.dimensions import measured

BORE_U: Mm = 0.02
"""Calipers on a turned bore or pilot, two directions: common practice."""
MOST_PLAY: Mm = 0.20
"""On diameter: common practice."""

HAZARD = Hazard(
    "H07",
    "bore on the hub",
    "A bore smaller than the pilot holds the wheel off its face, and it is not clamped. One larger "
    "by more than 0.2 mm does not centre it without a ring.",
    "PRACTICE",
    Gravity.CARE,
)


def findings(end: End) -> Iterator[Finding]:
    """Hold the play of bore or ring on the pilot against what centres.

    Source: [PRACTICE] 0.05 to 0.20 mm in diameter centres a wheel.
    """
    wheel = end.fitted.wheel
    if end.spacer().value >= end.sheet.pilot_height.value and not _has_own_lip(end):
        # The pilot does not reach the wheel: that is for the check of the pilot to tell.
        return
    given = wheel.ring or wheel.bore
    own_lip = _has_own_lip(end)
    if given is None or own_lip:
        yield HAZARD.not_known(
            end.where,
            "How the wheel's bore sits on the spacer's lip is not known."
            if own_lip
            else "How the wheel's bore sits on the hub is not known.",
            measure="Measure bore and pilot (or the spacer's lip) with calipers in two directions.",
        )
        return
    on_pilot = bore_clearance(
        measured(given, BORE_U, "bore measured"),
        measured(end.sheet.pilot_diameter, BORE_U, "chassis sheet"),
    )
    play, seat = on_pilot.clearance, wheel.seat
    name = "ring" if wheel.ring else "bore"
    too_small = on_pilot.fit is BoreFit.WILL_NOT_GO_ON
    bound = (
        at_least(play, 0.0, source=PRACTICE)
        if too_small
        else at_most(play, MOST_PLAY, source=PRACTICE)
    )
    by_seat = seat is not None and seat.form in CENTRING
    fails = (
        "The wheel does not go on; opening a bore is work for a machine shop."
        if too_small
        else f"The {seat} seats must centre the wheel; a ring helps while the nuts are run up."
        if by_seat
        else "Nothing sure centres the wheel: a ring of the right size."
    )
    yield HAZARD.checked(
        end.where,
        bound,
        "mm",
        sentence=f"The {name} has {play.value:.2f} mm of play on the pilot's diameter"
        + (": it will not go on." if too_small else f"; up to {MOST_PLAY:.2f} mm centres."),
        follows=Follows(holds="", fails=fails),
    )


def _has_own_lip(end: End) -> bool:
    return end.fitted.spacer is not None and end.fitted.spacer.kind in OWN_PILOT
