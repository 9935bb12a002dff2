"""A spacer of a thickness its kind does not suit, or of several pieces."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Caution, Finding, Follows, Gravity, Hazard
from generator.geometry.bound import PRACTICE, Check, at_most
from generator.geometry.fastening import ThicknessBand, spacer_band_checks
from generator.records.words import SpacerKind

BANDS: dict[SpacerKind, ThicknessBand] = {
    SpacerKind.SHIM: ThicknessBand(1.0, 3.0),
    SpacerKind.SLIP_ON: ThicknessBand(3.0, 6.0),
    SpacerKind.PILOTED: ThicknessBand(8.0, 20.0),
    SpacerKind.BOLT_ON: ThicknessBand(20.0, 50.0),
}
"""Thicknesses in which each kind suits: common practice."""

HAZARD = Hazard(
    "H09",
    "kind of spacer",
    "Thin spacers leave the hub's pilot to centre the wheel, thick ones need a lip of their own, "
    "thicker ones studs of their own. From about 5 to 10 mm the pilot is used up and the spacer "
    "too thin for a lip. Several loose pieces creep and do not stay flat.",
    "PRACTICE",
    Gravity.CARE,
    Caution.SPACERS,
)


def findings(end: End) -> Iterator[Finding]:
    """Hold a spacer against the thicknesses of its kind, and count its pieces.

    Source: [PRACTICE] kinds of spacer by thickness; one spacer a corner.
    """
    spacer = end.fitted.spacer
    if spacer is None or not spacer.thickness.value > 0.0:
        return
    band = BANDS[spacer.kind]
    worst: Check = min(spacer_band_checks(end.spacer(), band), key=lambda check: check.margin)
    yield HAZARD.checked(
        end.where,
        worst,
        "mm",
        sentence=f"A {spacer.kind.value} spacer of {worst.value:.3g} mm; this kind suits from "
        f"{band.least:.3g} to {band.greatest:.3g} mm.",
        follows=Follows(
            holds="Full face, machined flat, clean on both sides; look at engagement and pilot.",
            fails="Another kind suits this thickness better; look at engagement and pilot first. "
            "Spacers are unlawful in some places.",
        ),
    )
    if spacer.count is None:
        yield HAZARD.not_known(
            end.where,
            "How many pieces make up the spacer is not known.",
            measure="Count them: one piece a wheel is wanted.",
        )
        return
    pieces = at_most(float(spacer.count), 1.0, source=PRACTICE)
    yield HAZARD.checked(
        end.where,
        pieces,
        "pieces",
        sentence=f"The spacer is made up of {spacer.count} "
        f"{'piece' if spacer.count == 1 else 'pieces'}; one is wanted.",
        follows=Follows(holds="", fails="One spacer of the whole thickness instead."),
    )
