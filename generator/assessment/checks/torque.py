"""The wheel was tightened to another torque than the vehicle maker's."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Caution, Finding, Follows, Gravity, Hazard
from generator.geometry.bound import PRACTICE, at_least, at_most
from generator.quantities.units import Percent

NEAR: Percent = 10.0
"""How far from the maker's figure a torque may be said to be the maker's: assumed."""
_WHOLE: Percent = 100.0

HAZARD = Hazard(
    "H12",
    "tightening torque",
    "Too little torque lets a wheel work loose, too much stretches the studs. The vehicle maker's "
    "figure for the car's own thread and seat governs.",
    "PRACTICE",
    Gravity.CARE,
    Caution.FASTENERS,
)


def findings(end: End) -> Iterator[Finding]:
    """Hold the torque used against the figure on the sheet.

    Source: [PRACTICE] the vehicle maker's figure governs; the tolerance is assumed.
    """
    hardware, maker = end.fitted.hardware, end.sheet.fastening
    if hardware is None or hardware.torque is None:
        yield HAZARD.not_known(
            end.where,
            "The torque that was used is not known.",
            measure=f"The vehicle maker's figure on the sheet is {maker.torque.value:.3g} N·m.",
        )
        return
    used, figure = hardware.torque.value, maker.torque.value
    if hardware.thread != maker.thread:
        yield HAZARD.not_known(
            end.where,
            f"{used:.3g} N·m was used on {hardware.thread}; the maker's {figure:.3g} N·m is "
            f"for {maker.thread}.",
            measure="Ask the maker of the studs or bolts, and a workshop, what this joint needs.",
        )
        return
    margin = NEAR / _WHOLE * figure
    bound = (
        at_least(used, figure - margin, source=PRACTICE)
        if used < figure
        else at_most(used, figure + margin, source=PRACTICE)
    )
    seat = hardware.seat
    other_seat = seat is not None and seat != maker.seat
    note = f" The figure is for {maker.seat}; {seat} needs another clamp." if other_seat else ""
    yield HAZARD.checked(
        end.where,
        bound,
        "N·m",
        sentence=f"Tightened to {used:.3g} N·m; the vehicle maker's figure on the sheet is "
        f"{figure:.3g} N·m.",
        follows=Follows(
            holds=f"In a star, in stages, dry and clean, with a calibrated wrench.{note}",
            fails="Slacken and tighten again to the vehicle maker's figure, unless wheel or stud "
            f"maker gives another for this joint.{note}",
        ),
    )
