"""The caliper comes too near to the wheel's barrel."""

from collections.abc import Iterator

from generator.assessment.brakes import LEAST_GAP, CaliperGap, Part, caliper_gap
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
MEASURE = (
    "Lay clay on the caliper, mount the wheel with its weights, turn it once, and measure; or "
    "measure the barrel's inner radius over the caliper."
)


def findings(end: End) -> Iterator[Finding]:
    """Hold the gap of caliper and barrel against 3 mm; a measured gap goes before a computed one.

    Source: [PRACTICE] 3 mm, 5 where weights may sit, 8 to a sensor.
    """
    found = caliper_gap(end, Part.BARREL)
    if found.gap is None:
        yield _unmeasured(end, found)
        return
    how = "Computed" if found.is_computed else "Measured"
    yield HAZARD.checked(
        end.where,
        at_least(found.gap, LEAST_GAP, source=PRACTICE),
        "mm",
        sentence=f"{how}, caliper and barrel are {apart(found.gap.value, LEAST_GAP)[0]} mm "
        f"apart; {LEAST_GAP:g} mm "
        "is wanted, 5 where weights sit.",
        follows=Follows(
            holds="Keep weights and sensors away from the caliper; turn the wheel by hand.",
            fails="Do not drive on contact. Another wheel, or a smaller brake; a spacer seldom "
            "helps here.",
        ),
    )


def _unmeasured(end: End, found: CaliperGap) -> Finding:
    if found.more_than is not None and found.more_than >= LEAST_GAP:
        return HAZARD.checked(
            end.where,
            at_least(found.more_than, LEAST_GAP, source=PRACTICE),
            "mm",
            sentence=f"Caliper and barrel are more than {found.more_than:.3g} mm apart.",
            follows=Follows(holds="Turn the wheel all the way round by hand.", fails=""),
        )
    return HAZARD.not_known(
        end.where,
        f"The gap of caliper and barrel is not known: {found.unknown}.",
        measure=MEASURE,
    )
