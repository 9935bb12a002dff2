"""A sheet's brake outline is too short, smaller than the disc, or larger than the wheel."""

from collections.abc import Iterator

from generator.published.tables import rim_diameter
from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.axle_sheet import AxleSheet
from generator.records.chassis import Chassis
from generator.records.library import Filed, Library
from generator.records.rule import Rule, marked
from generator.records.told import apart, mm
from generator.records.words import Axle

FEWEST_CORNERS = 2
"""One corner makes no outline."""
TOLERANCE: Mm = 3.0
"""Disc or drum against its outline as measured: common practice."""

RULE = Rule(
    code="L18",
    title="a brake outline that cannot be",
    severity=Severity.ERROR,
    why="Whether a wheel clears the brake is computed from this outline. It must hold the disc or "
    "drum, and the stock wheel must go over it.",
    mend="Measure each corner's distance from the spin axis and from the hub face, from the hub "
    "outward, caliper and rotor together.",
    source="common practice",
    bad="chassis: {front: {brake: {outline: [{r: 66 mm, y: 2 mm}, {r: 182 mm, y: -12 mm}]}}}",
    good="chassis: {front: {brake: {outline: [{r: 66 mm, y: 2 mm}, {r: 152 mm, y: -12 mm}]}}}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Hold the outline of each brake against its disc and against the stock wheel."""
    for sheet in library.chassis.values():
        for axle in Axle:
            yield from _of_axle(sheet, axle, getattr(sheet.value, axle.value))


def _of_axle(sheet: Filed[Chassis], axle: Axle, end: AxleSheet) -> Iterator[Fault]:
    outline = end.brake.outline
    if len(outline) < FEWEST_CORNERS:
        if sheet.is_complete:
            yield RULE.fault(
                sheet.key_place(axle.value, "brake", "outline"),
                f"the outline has {len(outline)} corner{'' if len(outline) == 1 else 's'}",
                expected=f"at least {FEWEST_CORNERS}",
                fix="add the corners from the hub outward, such as `{r: 151 mm, y: -12 mm}`",
            )
        return
    radii = [point.r.value for point in outline]
    largest = radii.index(max(radii))
    needed = end.brake.diameter.value / 2.0
    if radii[largest] < needed - TOLERANCE and sheet.is_complete:
        yield RULE.warning(
            RULE.fault(
                sheet.place(axle.value, "brake", "outline", largest, "r"),
                f"the outline ends {apart(needed - radii[largest])} inside the rim of the disc or "
                "drum",
                expected=f"a corner at {mm(needed)} or more, half the diameter",
                fix="add the corner at the edge of the disc or drum",
                also=(marked(sheet, "its diameter", axle.value, "brake", "diameter"),),
            )
        )
    barrel, route = _barrel(end)
    if barrel is not None and radii[largest] >= barrel:
        yield RULE.fault(
            sheet.place(axle.value, "brake", "outline", largest, "r"),
            f"the outline reaches {outline[largest].r.typed}, and the stock wheel ends at "
            f"{mm(barrel)}",
            expected=f"less than {mm(barrel)}, since the stock wheel goes over it",
            fix="measure the radius from the spin axis; a diameter is twice as much",
            also=(marked(sheet, "the stock wheel", axle.value, "stock_wheel", route),),
        )


def _barrel(end: AxleSheet) -> tuple[Mm | None, str]:
    """Give the radius that the stock wheel leaves free, and the field it is from."""
    if end.stock_wheel.barrel_radius is not None:
        return end.stock_wheel.barrel_radius.value, "barrel_radius"
    try:
        return rim_diameter(end.stock_wheel.size.diameter_code) / 2.0, "size"
    except LookupError:
        return None, "size"
