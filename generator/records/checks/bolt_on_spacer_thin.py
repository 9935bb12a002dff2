"""A bolt-on spacer is thinner than its inner nuts, or than the studs that end in it."""

from collections.abc import Iterator

from generator.geometry.fastening import bolt_on_spacer_checks
from generator.quantities.quantity import Quantity
from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.axle_sheet import AxleSheet
from generator.records.fitted import AxleSetup, Spacer
from generator.records.joint import exact, has_bolt_on_spacer, is_bolted
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import apart, mm
from generator.records.words import Axle

RULE = Rule(
    code="R25",
    title="a bolt-on spacer that is too thin",
    severity=Severity.ERROR,
    why="Nuts or studs of the car that stand out of a bolt-on spacer hold the wheel off it, and "
    "the second joint is loose. Studs may end in pockets of the wheel's pad.",
    mend="Measure the studs past the hub face, the seated inner nut and the wheel's pockets. "
    "Cutting studs is work for those who are licensed to judge them.",
    source="common practice",
    bad="setup: {front: {spacer: {thickness: 25 mm, kind: bolt-on, pockets: 5 mm,"
    " nut_height: 16 mm}}}",
    good="setup: {front: {wheel: {offset: 46 mm, backspacing: 147.5 mm},"
    " spacer: {thickness: 25 mm, kind: bolt-on, pockets: 14 mm, nut_height: 16 mm}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Hold bolt-on spacers against what must end inside them."""
    for axle, fitted, sheet in case.axles():
        spacer = fitted.spacer
        if spacer is None or not has_bolt_on_spacer(fitted):
            continue
        if spacer.nut_height is not None:
            yield from _nuts(case, axle, spacer, spacer.nut_height)
        length = _stud(fitted, sheet)
        if length is not None and not is_bolted(fitted, sheet):
            yield from _studs(case, axle, spacer, length)


def _stud(fitted: AxleSetup, sheet: AxleSheet | None) -> Quantity | None:
    if fitted.hardware is not None and fitted.hardware.length is not None:
        return fitted.hardware.length
    return None if sheet is None else sheet.fastening.length


def _nuts(case: Case, axle: Axle, spacer: Spacer, nut: Quantity) -> Iterator[Fault]:
    thickness = exact(spacer.thickness, "spacer thickness")
    _, inside = bolt_on_spacer_checks(thickness, 0.0, wheel_pocket=0.0, nut_height=nut.value)
    if inside.outcome.value == "holds":
        return
    yield RULE.fault(
        case.setup.place(axle.value, "spacer", "nut_height"),
        f"the inner nuts of {nut.typed} stand {apart(inside.margin)} out of the spacer of "
        f"{spacer.thickness.typed}",
        expected=f"at most {spacer.thickness.typed}",
        fix="use a thicker spacer, or the nuts made for it; do not drive",
        also=(marked(case.setup, "the spacer", axle.value, "spacer", "thickness"),),
    )


def _studs(case: Case, axle: Axle, spacer: Spacer, length: Quantity) -> Iterator[Fault]:
    pocket: Mm = 0.0 if spacer.pockets is None else spacer.pockets.value
    ends, _ = bolt_on_spacer_checks(
        exact(spacer.thickness, "spacer thickness"),
        length.value,
        wheel_pocket=pocket,
        nut_height=0.0,
    )
    if ends.outcome.value == "holds":
        return
    fault = RULE.fault(
        case.setup.place(axle.value, "spacer", "thickness"),
        f"studs of {length.typed} end {apart(ends.margin)} past the spacer of "
        f"{spacer.thickness.typed}{' and the pockets' if pocket else ''}",
        expected=f"{mm(length.value - pocket)} or more with pockets of {mm(pocket)}",
        fix="use a thicker spacer; do not drive"
        if pocket
        else f"add `pockets: …`, at least {apart(ends.margin)} deep, if the wheel has them",
    )
    yield fault if spacer.pockets is not None else RULE.warning(fault)
