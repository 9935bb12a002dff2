"""The caliper comes too near to the back of the spokes."""

from collections.abc import Iterator

from generator.assessment.brakes import LEAST_GAP, CaliperGap, Part, caliper_gap, with_other_spacers
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
MEASURE = "With new pads, lay clay on the caliper, mount the wheel, turn it once, and measure."
THICKER: tuple[Mm, ...] = (3.0, 5.0, 10.0)
"""Spacers more than the fitted one for which a measured gap is carried on."""


def findings(end: End) -> Iterator[Finding]:
    """Hold the gap of caliper and spokes against 3 mm; a measured gap goes before a computed one.

    Source: [PRACTICE] 3 mm, 5 with flexible wheels or in competition.
    """
    found = caliper_gap(end, Part.SPOKES)
    if found.gap is None:
        yield _unmeasured(end, found)
        return
    how = "Computed" if found.is_computed else "Measured"
    yield HAZARD.checked(
        end.where,
        at_least(found.gap, LEAST_GAP, source=PRACTICE),
        "mm",
        sentence=f"{how}, caliper and spokes are {apart(found.gap.value, LEAST_GAP)[0]} mm apart "
        f"with a spacer of {end.spacer().value:.3g} mm; {LEAST_GAP:.3g} mm is wanted.",
        follows=Follows(
            holds=f"Turn the wheel all the way round by hand before driving.{_others(end)}",
            fails="Do not drive on contact. The gap grows with the spacer, one to one; look at "
            f"thread engagement and law first.{_others(end)}",
        ),
    )


def _unmeasured(end: End, found: CaliperGap) -> Finding:
    if found.more_than is not None and found.more_than >= LEAST_GAP:
        return HAZARD.checked(
            end.where,
            at_least(found.more_than, LEAST_GAP, source=PRACTICE),
            "mm",
            sentence=f"Caliper and spokes are more than {found.more_than:.3g} mm apart.",
            follows=Follows(holds="Turn the wheel all the way round by hand.", fails=""),
        )
    return HAZARD.not_known(
        end.where,
        f"The gap of caliper and spokes is not known: {found.unknown}.",
        measure=MEASURE,
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
