"""The caliper, or the drum, comes too near to the wheel's barrel."""

from collections.abc import Iterator
from dataclasses import replace

from generator.assessment.brakes import LEAST_GAP, CaliperGap, Part, caliper_gap, of_brake
from generator.assessment.car import End
from generator.assessment.finding import Caution, Finding, Follows, Gravity, Hazard
from generator.assessment.written import apart
from generator.geometry.bound import PRACTICE, at_least

HAZARD = Hazard(
    "H25",
    "caliper to barrel",
    "A caliper that touches the barrel, a balance weight or a sensor cuts it loose. A spacer may "
    "bring the drop centre over the caliper and make the gap smaller.",
    "PRACTICE",
    Gravity.DANGER,
    Caution.CONTACT,
)
AT_DRUM = replace(
    HAZARD,
    title="drum to barrel",
    why="A drum's fins or the edge of its backing plate that touch the barrel, a balance weight or "
    "a sensor cut it loose.",
)
"""The same at an end with drum brakes, which has no caliper to ask for."""
MEASURE = {
    "caliper": "Lay clay on the caliper, mount the wheel with its weights, turn it once, and "
    "measure; or measure the barrel's inner radius over the caliper.",
    "drum": "Lay clay on the drum's fins and the edge of its backing plate, mount the wheel with "
    "its weights, turn it once, and measure; or measure the barrel's inner radius over the drum. "
    "The brake's adjuster must stay within reach.",
}


def findings(end: End) -> Iterator[Finding]:
    """Hold the gap of caliper and barrel against 3 mm; a measured gap goes before a computed one.

    Source: [PRACTICE] 3 mm, 5 where weights may sit, 8 to a sensor.
    """
    hazard, part = of_brake(end, HAZARD, AT_DRUM), end.sheet.brake.part
    found = caliper_gap(end, Part.BARREL)
    if found.gap is None:
        yield _unmeasured(end, found)
        return
    how = "Computed" if found.is_computed else "Measured"
    yield hazard.checked(
        end.where,
        at_least(found.gap, LEAST_GAP, source=PRACTICE),
        "mm",
        sentence=f"{how}, {part} and barrel are {apart(found.gap.value, LEAST_GAP)[0]} mm "
        f"apart; {LEAST_GAP:g} mm "
        "is wanted, 5 where weights sit.",
        follows=Follows(
            holds=f"Keep weights and sensors away from the {part}; turn the wheel by hand.",
            fails="Do not drive on contact. Another wheel, or a smaller brake; a spacer seldom "
            "helps here.",
        ),
    )


def _unmeasured(end: End, found: CaliperGap) -> Finding:
    hazard, part = of_brake(end, HAZARD, AT_DRUM), end.sheet.brake.part
    if found.more_than is not None and found.more_than >= LEAST_GAP:
        return hazard.checked(
            end.where,
            at_least(found.more_than, LEAST_GAP, source=PRACTICE),
            "mm",
            sentence=f"{part.capitalize()} and barrel are more than "
            f"{found.more_than:.3g} mm apart.",
            follows=Follows(holds="Turn the wheel all the way round by hand.", fails=""),
        )
    return hazard.not_known(
        end.where,
        f"The gap of {part} and barrel is not known: {found.unknown}.",
        measure=MEASURE[part],
    )
