"""The hub's cap or nut holds the wheel off its face."""

from collections.abc import Iterator

from generator.assessment.car import End, fine
from generator.assessment.finding import Finding, Follows, Gravity, Hazard
from generator.geometry.bound import PRACTICE, at_least
from generator.geometry.brake import bore_clearance, cap_gap
from generator.records.axle_sheet import Cap
from generator.records.dimensions import FINE_U, measured
from generator.records.joint import exact

HAZARD = Hazard(
    "H08",
    "hub cap inside the wheel",
    "A grease cap or hub nut stands out of the hub. The wheel's bore must pass it and the pocket "
    "above it must be deep enough, or the wheel is clamped on the cap instead of its face.",
    "PRACTICE",
    Gravity.DANGER,
)
DEPTH = (
    "Measure from the pad's face to what closes the pocket (cap or spokes), and see that the wheel "
    "sits on its face before any nut is run up."
)


def findings(end: End) -> Iterator[Finding]:
    """Hold the wheel's bore and pocket against the cap on the sheet; no cap, nothing to find.

    Source: [PRACTICE] the wheel must pass the cap freely.
    """
    cap = end.sheet.cap
    if cap is None:
        return
    yield from _through_bore(end, cap)
    height = fine(exact(cap.projection, "chassis sheet"))
    pad = end.fitted.wheel.pad_thickness
    if pad is not None:
        thickness = measured(pad, FINE_U, "pad measured")
        check = at_least(
            cap_gap(height, pocket_depth=thickness, spacer=end.spacer()), 0.0, source=PRACTICE
        )
        if check.outcome.value == "holds":
            yield HAZARD.checked(
                end.where,
                check,
                "mm",
                sentence=f"The hub's cap, {height.value:.3g} mm high, ends inside the wheel's pad.",
                follows=Follows(holds="", fails=""),
            )
            return
    yield HAZARD.not_known(
        end.where,
        f"The hub's cap stands {height.value:.3g} mm past the face; how deep the wheel's pocket "
        "is, the record does not say.",
        measure=DEPTH,
    )


def _through_bore(end: End, cap: Cap) -> Iterator[Finding]:
    bore, diameter = end.fitted.wheel.bore, cap.diameter
    if bore is None or diameter is None:
        yield HAZARD.not_known(
            end.where,
            "Whether the wheel's bore passes the hub's cap is not known.",
            measure="Measure bore and cap with calipers.",
        )
        return
    play = bore_clearance(
        measured(bore, FINE_U, "bore measured"), measured(diameter, FINE_U, "chassis sheet")
    )
    check = at_least(play, 0.0, source=PRACTICE)
    yield HAZARD.checked(
        end.where,
        check,
        "mm",
        sentence=f"The wheel's bore is {check.value:.1f} mm wider than the hub's cap."
        if check.value > 0.0
        else f"The hub's cap is {-check.value:.1f} mm wider than the wheel's bore.",
        follows=Follows(
            holds="",
            fails="The wheel would bear on the cap: do not run up the nuts before this is settled.",
        ),
    )
