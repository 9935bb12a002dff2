"""A wheel does not run true."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Finding, Follows, Gravity, Hazard
from generator.geometry.bound import PRACTICE, at_most
from generator.geometry.inspection import RunOutLimits, run_out
from generator.published import tables
from generator.quantities.estimate import Basis, Estimate
from generator.quantities.quantity import Quantity
from generator.quantities.units import Mm

HUB: Mm = 0.05
"""Run-out of a sound hub, which a reading on the car contains: common practice."""
GOOD: Mm = 0.5
ASK: Mm = 1.0
"""Bands of run-out on either side of the warning: common practice."""

HAZARD = Hazard(
    "H27",
    "run-out",
    "A wheel that does not run true shakes the steering at a narrow range of speed, and a bent one "
    "may crack. Dirt or rust on the hub shows the same reading.",
    "PRACTICE",
    Gravity.CARE,
)


MEASURE = (
    "Dial gauge at the bead seat and the flange, bare wheel on its own hub, all nuts at half "
    "torque."
)


def findings(end: End) -> Iterator[Finding]:
    """Hold radial and lateral run-out against the warning of common practice.

    Source: [PRACTICE] 0.5 good, 0.8 accepted, 1.0 ask; [MAKERSDATA] lies around it.
    """
    wheel = end.fitted.wheel
    if wheel.runout_radial is None and wheel.runout_lateral is None:
        yield HAZARD.not_known(end.where, "The run-out is not known.", measure=MEASURE)
        return
    for way, reading in (("radial", wheel.runout_radial), ("lateral", wheel.runout_lateral)):
        yield _one(end, way, reading)


def _one(end: End, way: str, reading: Quantity | None) -> Finding:
    if reading is None:
        return HAZARD.not_known(
            end.where,
            f"The {way} run-out is not known.",
            measure=MEASURE,
        )
    limits = RunOutLimits(GOOD, tables.run_out_warning().wheel, ASK)
    found = run_out(reading.value, HUB, limits=limits)
    u = (found.wheel_greatest - found.wheel_least) / (2.0 * 3.0**0.5)
    value = Estimate(reading.value, u, Basis.MEASURED, ("run-out measured",))
    return HAZARD.checked(
        end.where,
        at_most(value, limits.accepted, source=PRACTICE),
        "mm",
        sentence=f"The {way} run-out is {reading.value:.3g} mm, {found.band.value}; up to "
        f"{limits.accepted:.3g} mm is accepted.",
        follows=Follows(
            holds="",
            fails="Turn the wheel by one stud and read again: what moves with it is the wheel, "
            "what stays is hub, disc or rust. Ask the seller before a tyre goes on.",
        ),
    )
