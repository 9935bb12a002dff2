"""The caliper, or the drum, comes too near to the back of the spokes."""

from collections.abc import Iterator
from dataclasses import replace

from generator.assessment.brakes import (
    LEAST_GAP,
    CaliperGap,
    Part,
    caliper_gap,
    of_brake,
    with_other_spacers,
)
from generator.assessment.car import End
from generator.assessment.finding import Caution, Finding, Follows, Gravity, Hazard
from generator.assessment.written import apart
from generator.geometry.bound import PRACTICE, at_least
from generator.quantities.units import Mm

HAZARD = Hazard(
    "H24",
    "caliper to spokes",
    "A caliper that touches a spoke cuts the wheel or seizes it. New pads and heat bring the "
    "caliper outboard, and spokes are not alike all round.",
    "PRACTICE",
    Gravity.DANGER,
    Caution.CONTACT,
)
AT_DRUM = replace(
    HAZARD,
    title="drum to spokes",
    why="A drum, its balance weight, a clip or a screw that touches the wheel keeps it off "
    "its face by a millimetre or more, and the nuts then clamp nothing.",
)
"""The same at an end with drum brakes, which has no caliper to ask for."""
MEASURE = {
    "caliper": "With new pads, lay clay on the caliper, mount the wheel, turn it once, and "
    "measure.",
    "drum": "Take off the clips that hold the drum, see that its screws are flush, lay clay on its "
    "face, edge and balance weight, mount the wheel, turn it once, and measure.",
}
THICKER: tuple[Mm, ...] = (3.0, 5.0, 10.0)
"""Spacers more than the fitted one for which a measured gap is carried on."""


def findings(end: End) -> Iterator[Finding]:
    """Hold the gap of caliper and spokes against 3 mm; a measured gap goes before a computed one.

    Source: [PRACTICE] 3 mm, 5 with flexible wheels or in competition.
    """
    hazard, part = of_brake(end, HAZARD, AT_DRUM), end.sheet.brake.part
    found = caliper_gap(end, Part.SPOKES)
    if found.gap is None:
        yield _unmeasured(end, found)
        return
    how = "Computed" if found.is_computed else "Measured"
    yield hazard.checked(
        end.where,
        at_least(found.gap, LEAST_GAP, source=PRACTICE),
        "mm",
        sentence=f"{how}, {part} and spokes are {apart(found.gap.value, LEAST_GAP)[0]} mm apart "
        f"with a spacer of {end.spacer().value:.3g} mm; {LEAST_GAP:.3g} mm is wanted.",
        follows=Follows(
            holds=f"Turn the wheel all the way round by hand before driving.{_others(end)}",
            fails="Do not drive on contact. The gap grows with the spacer, one to one; look at "
            f"thread engagement and law first.{_others(end)}",
        ),
    )


def _unmeasured(end: End, found: CaliperGap) -> Finding:
    hazard, part = of_brake(end, HAZARD, AT_DRUM), end.sheet.brake.part
    if found.more_than is not None and found.more_than >= LEAST_GAP:
        return hazard.checked(
            end.where,
            at_least(found.more_than, LEAST_GAP, source=PRACTICE),
            "mm",
            sentence=f"{part.capitalize()} and spokes are more than "
            f"{found.more_than:.3g} mm apart.",
            follows=Follows(holds="Turn the wheel all the way round by hand.", fails=""),
        )
    return hazard.not_known(
        end.where,
        f"The gap of {part} and spokes is not known: {found.unknown}.",
        measure=MEASURE[part],
    )


def _others(end: End) -> str:
    here = end.spacer().value
    carried = with_other_spacers(end, Part.SPOKES, tuple(here + more for more in THICKER))
    if not carried:
        return ""
    told = ", ".join(
        f"{each.gap.value:.1f} ± {each.gap.u:.1f} mm with {each.spacer:.3g}" for each in carried
    )
    return f" With thicker spacers it would be {told}."
