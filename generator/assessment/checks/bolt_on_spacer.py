"""The car's own nuts or studs stand out of a bolt-on spacer."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Caution, Finding, Follows, Gravity, Hazard
from generator.geometry.fastening import bolt_on_spacer_checks
from generator.records.fitted import Spacer
from generator.records.joint import has_bolt_on_spacer, is_bolted

HAZARD = Hazard(
    "H10",
    "bolt-on spacer",
    "The nuts of the first joint must end inside a bolt-on spacer, and the car's studs inside it "
    "or in pockets of the wheel's pad; otherwise the wheel is clamped on them and not on its face.",
    "PRACTICE",
    Gravity.DANGER,
    Caution.SPACERS,
)
_HOLDS = "It ends inside. Two joints to torque and to check again, each with its own figure."
_FAILS = "Do not drive: a thicker spacer, or nuts and pockets that were made for it."


def findings(end: End) -> Iterator[Finding]:
    """Hold a bolt-on spacer against the inner nuts and the car's studs.

    Source: [PRACTICE] least thickness of a bolt-on spacer.
    """
    spacer = end.fitted.spacer
    if spacer is None or not has_bolt_on_spacer(end.fitted):
        return
    yield _nuts(end, spacer)
    if not is_bolted(end.fitted, end.sheet):
        yield _studs(end, spacer)


def _nuts(end: End, spacer: Spacer) -> Finding:
    if spacer.nut_height is None:
        return HAZARD.not_known(
            end.where,
            "Whether the inner nuts end inside the spacer is not known.",
            measure="With the spacer bolted on, lay a straightedge across its face over each nut.",
        )
    height = spacer.nut_height.value
    _, check = bolt_on_spacer_checks(end.spacer(), 0.0, wheel_pocket=0.0, nut_height=height)
    sentence = f"The inner nuts are {height:.3g} mm high, the spacer {check.value:.3g} mm thick."
    return HAZARD.checked(
        end.where, check, "mm", sentence=sentence, follows=Follows(_HOLDS, _FAILS)
    )


def _studs(end: End, spacer: Spacer) -> Finding:
    hardware = end.fitted.hardware
    own = hardware.length if hardware else None
    length = (own or end.sheet.fastening.length).value
    pocket = 0.0 if spacer.pockets is None else spacer.pockets.value
    check, _ = bolt_on_spacer_checks(end.spacer(), length, wheel_pocket=pocket, nut_height=0.0)
    if spacer.pockets is None and check.outcome.value != "holds":
        return HAZARD.not_known(
            end.where,
            f"The car's studs end {-check.margin:.1f} mm past the spacer; how deep the wheel's "
            "pockets over them are is not known.",
            measure="Measure the pockets in the wheel's pad; the wheel must sit flat on the "
            "spacer before a nut is run up.",
        )
    where = " and pockets" if pocket else ""
    return HAZARD.checked(
        end.where,
        check,
        "mm",
        sentence=f"The car's studs stand {length:.3g} mm out of the hub; spacer{where} "
        f"take {check.value + pocket:.3g} mm.",
        follows=Follows(_HOLDS, _FAILS),
    )
