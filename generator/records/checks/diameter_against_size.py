"""A measured diameter is far from what the size makes."""

from collections.abc import Iterator

from generator.geometry.tyre import Limits, diameter_limits
from generator.published import tables
from generator.quantities.tyre_marks import TyreSize
from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.dimensions import NominalTyre, nominal_tyre, rim_width
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import apart, mm

WEAR: Mm = 14.0
"""A tyre loses this much in diameter from new to its wear limit: common practice."""
READING: Mm = 2.0
"""Circumference by a thin tape, twice its spread of 1 mm in diameter: common practice."""

RULE = Rule(
    code="R31",
    title="a diameter far from its size",
    severity=Severity.WARNING,
    why="A new tyre's section height keeps within three per cent below and four above its size, "
    "and wear takes some 14 mm. A number further off is another tyre, a radius or a slip.",
    mend="Put a thin tape around the middle of the tread, off the ground, and divide by π.",
    source="UN R30 6.1.5, from memory, and common practice",
    bad="setup: {front: {tyre: {diameter: 640 mm}}}",
    good="setup: {front: {tyre: {diameter: 609 mm}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Compare both ends' measured diameters with the size."""
    for axle, fitted, _ in case.axles():
        given, size = fitted.tyre.diameter, fitted.tyre.size
        nominal = nominal_tyre(size, rim_width(fitted.wheel.size))
        limits = None if nominal is None else limits_of(size, nominal)
        if size.rim_number != fitted.wheel.size.diameter_code:
            continue
        if given is None or nominal is None or limits is None:
            continue
        if limits.least <= given.value <= limits.greatest:
            continue
        off = given.value - nominal.diameter
        yield RULE.fault(
            case.setup.place(axle.value, "tyre", "diameter"),
            f"{given.typed} measured is {apart(off)} {'more' if off > 0.0 else 'less'} than "
            f"{size.typed} makes",
            expected=f"{mm(limits.least)} worn to {mm(limits.greatest)}; new about "
            f"{mm(nominal.diameter)}",
            fix="measure again, or write the size of the tyre that was measured",
            also=(marked(case.setup, "the size", axle.value, "tyre", "size"),),
        )


def limits_of(size: TyreSize, nominal: NominalTyre) -> Limits | None:
    """Give the least diameter of a worn tyre and the greatest of a new one."""
    try:
        rim = tables.rim_diameter(size.rim_number)
        shares = tables.size_tolerance(size.construction)
    except LookupError:
        return None
    height = (nominal.diameter - rim) / 2.0
    new = diameter_limits(
        rim,
        height,
        least_factor=shares.section_height_least,
        greatest_factor=shares.section_height_greatest,
    )
    return Limits(new.least - WEAR - READING, new.greatest + READING)
