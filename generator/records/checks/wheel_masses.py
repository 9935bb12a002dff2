"""One wheel of a set weighs more or less than the others."""

from collections.abc import Iterator

from generator.geometry.inspection import WeightSpread, weight_spread
from generator.quantities.units import Kg, Percent
from generator.reading.fault import Fault, Severity
from generator.records.library import Case
from generator.records.rule import Rule
from generator.records.words import Axle

LARGEST_SPREAD: Percent = 3.0
"""Wheels of one set, heaviest less lightest over the mean: common practice."""
SCALE_U: Kg = 0.05
"""Standard uncertainty of one reading of a hook scale: common practice."""

RULE = Rule(
    code="R42",
    title="wheels of a set that differ in weight",
    severity=Severity.WARNING,
    why="Wheels of one size and offset come out of one mould. One that weighs several per cent "
    "more or less is another part, or its casting is not sound.",
    mend="Weigh all four on one scale, bare, and compare the stamps.",
    source="common practice",
    bad="setup: {front: {wheel: {masses: [7.4 kg, 7.9 kg]}}}",
    good="setup: {front: {wheel: {masses: [7.4 kg, 7.6 kg]}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Compare the weights of all wheels, or of each end where the ends differ."""
    ends = [(axle, fitted.wheel) for axle, fitted, _ in case.axles()]
    same = len({(wheel.size, wheel.offset.value if wheel.offset else None) for _, wheel in ends})
    sets = [ends] if same == 1 else [[end] for end in ends]
    for wheels in sets:
        routes = [(axle, index) for axle, wheel in wheels for index in range(len(wheel.masses))]
        masses = tuple(mass.value for _, wheel in wheels for mass in wheel.masses)
        if len(masses) < 3 or not all(mass > 0.0 for mass in masses):
            continue
        found = weight_spread(masses, u=SCALE_U)
        if found.check(LARGEST_SPREAD).margin >= 0.0:
            continue
        yield _fault(case, masses, found, routes)


def _fault(
    case: Case, masses: tuple[Kg, ...], found: WeightSpread, routes: list[tuple[Axle, int]]
) -> Fault:
    odd = found.odd
    if odd is None:
        odd = max(range(len(masses)), key=lambda index: abs(masses[index] - found.mean))
    axle, index = routes[odd]
    return RULE.fault(
        case.setup.place(axle.value, "wheel", "masses", index),
        f"the wheels' weights lie {found.spread:.2g} kg apart, {found.percent:.1f} % of their mean",
        expected=f"within {LARGEST_SPREAD:g} %, {LARGEST_SPREAD / 100.0 * found.mean:.2f} kg",
        fix="weigh this one again on the same scale, and compare its stamp with the others'",
    )
