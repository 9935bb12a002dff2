"""What clamp loads the torque used may have given."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Caution, Finding, Gravity, Hazard
from generator.geometry.preload import (
    ClampRange,
    FrictionRange,
    clamp_from_torque,
    clamp_range,
)
from generator.geometry.threads import load_at_stress
from generator.published import fastening
from generator.quantities.estimate import Basis, Estimate
from generator.quantities.thread import Thread
from generator.quantities.units import Newton
from generator.records.fitted import Hardware

ASSUMED_CLASS = "10.9"
"""Property class of wheel studs where a sheet names none: assumed, the usual one."""
_KILO: Newton = 1000.0
_WHOLE = 100.0

HAZARD = Hazard(
    "H11",
    "clamp load",
    "A wrench sets a torque; friction decides what clamp load comes of it. The range is wide, and "
    "grease on thread or seat moves it up by a third or more.",
    "FASTENERDATA",
    Gravity.NOTE,
    Caution.FASTENERS,
)


def findings(end: End) -> Iterator[Finding]:
    """State the clamp loads that the record's torque may give: information, never a torque to use.

    Model: F = T/(K d) over the range of K, with ±30 % of the tool; the best value takes the K of
    the condition. Conical seats lie at the low end or below.
    Source: [FASTENERDATA] K ranges and ±30 %, second hand; [ISO898-1] proof load.
    """
    hardware = end.fitted.hardware
    if hardware is None or hardware.torque is None:
        yield HAZARD.not_known(
            end.where,
            "The torque that was used is not known, so nothing can be said of the clamp load.",
            measure="Tighten to the vehicle maker's figure with a calibrated wrench, and write the "
            "figure down.",
        )
        return
    torque, thread = hardware.torque.value, hardware.thread
    condition = "lubricated" if hardware.lubricated else "dry"
    factor = fastening.torque_factor(condition)
    friction = FrictionRange(factor.least, factor.greatest)
    reach = clamp_range(torque, thread.diameter, factors=friction)
    middle = clamp_from_torque(torque, thread.diameter, nut_factor=factor.value)
    u = (reach.greatest - reach.least) / _KILO / (2.0 * 3.0**0.5)
    sources = ("FASTENERDATA",)
    yield HAZARD.stated(
        end.where,
        Estimate(middle / _KILO, u, Basis.ASSUMED, sources),
        "kN",
        sentence=f"{torque:.3g} N·m on {thread}, {_words(hardware)}, gives about "
        f"{middle / _KILO:.0f} kN a stud, and anything from {reach.least / _KILO:.0f} to "
        f"{reach.greatest / _KILO:.0f} kN{_of_proof(thread, reach)}.",
        follows="Information, not a figure to tighten to: the vehicle maker's torque, for dry and "
        "clean threads and seats, governs.",
    )


def _words(hardware: Hardware) -> str:
    if hardware.lubricated is None:
        return "taken as dry"
    return "lubricated" if hardware.lubricated else "dry"


def _of_proof(thread: Thread, reach: ClampRange) -> str:
    try:
        area = fastening.stress_area(thread)
    except LookupError:
        return ""
    proof = load_at_stress(area, fastening.property_class(ASSUMED_CLASS).proof_stress)
    share = _WHOLE * reach.greatest / proof
    return f", at most {share:.0f} % of the proof load of class {ASSUMED_CLASS} (assumed)"
