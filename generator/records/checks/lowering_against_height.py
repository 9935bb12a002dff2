"""A lowered car has its lips lower over the hubs by as much as it was lowered."""

from collections.abc import Iterator
from typing import NamedTuple

from generator.quantities.quantity import Quantity
from generator.quantities.units import Mm
from generator.reading.fault import Fault, Mark, Severity
from generator.records.axle_sheet import AxleSheet
from generator.records.fitted import AxleSetup, RideHeight
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import apart, as_typed, mm
from generator.records.wheel_sum import MM_PER_INCH
from generator.records.words import Axle

TOLERANCE: Mm = 10.0

RULE = Rule(
    "R14",
    "change of ride height and measured heights disagree",
    Severity.WARNING,
    "Hub centre to lip, and to the fixed point, fall by as much as the car was lowered. The number "
    "on a spring's packet, or a height taken on a repaired arch, does not tell how the car stands.",
    "Measure hub centre to lip and to the sheet's fixed point with the wheels on the ground, and "
    "write the change against the sheet's reference; lowered is negative.",
    "common practice",
    "setup: {front: {ride_height: {change: -50 mm, hub_to_lip: 352 mm}}}",
    "setup: {front: {ride_height: {change: -25 mm, hub_to_lip: 352 mm}}}",
)


class _Height(NamedTuple):
    """One measured height: its field, what was measured, the sheet's, and what a lip gained."""

    field: str
    measured: Quantity
    reference: Quantity
    gained: Mm

    @property
    def change(self) -> Mm:
        return self.measured.value - self.reference.value

    def off(self, change: Mm) -> Mm:
        """Give how far the height lies from what a change asks for; a worked lip sits higher."""
        over = self.change - change
        return over if over <= 0.0 else max(0.0, over - self.gained)


def check(case: Case) -> Iterator[Fault]:
    """Check one setup."""
    for axle, fitted, sheet in case.axles():
        if fitted.ride_height is None or sheet is None:
            continue
        heights = list(_heights(fitted, fitted.ride_height, sheet))
        told = fitted.ride_height.change
        if told is None:
            yield from _of_two(case, axle, heights)
            continue
        for height in heights:
            off = height.off(told.value)
            if abs(off) > TOLERANCE and not _is_inch_slip(told, height):
                yield _of_change(case, axle, told, height)


def _heights(fitted: AxleSetup, said: RideHeight, sheet: AxleSheet) -> Iterator[_Height]:
    gained = fitted.bodywork.lips_gained if fitted.bodywork else None
    extra = max(gained.value, 0.0) if gained else 0.0
    reference = sheet.ride_height
    if said.hub_to_lip is not None:
        yield _Height("hub_to_lip", said.hub_to_lip, reference.hub_to_lip, extra)
    if said.hub_to_rail is not None and reference.hub_to_rail is not None:
        yield _Height("hub_to_rail", said.hub_to_rail, reference.hub_to_rail, 0.0)


def _is_inch_slip(told: Quantity, height: _Height) -> bool:
    """Tell whether the change fits in the other unit, of which another rule speaks."""
    scale = 1.0 / MM_PER_INCH if told.unit.symbol == "in" else MM_PER_INCH
    return abs(height.off(told.value * scale)) <= TOLERANCE


def _of_change(case: Case, axle: Axle, told: Quantity, height: _Height) -> Fault:
    name = height.field.replace("_", " ")
    lower = "lower" if height.change < 0.0 else "higher"
    turned = abs(height.off(-told.value)) <= TOLERANCE
    fix = (
        f"write `change: {mm(-told.value)}` if the sign was turned round"
        if turned
        else (
            f"write `change: {mm(height.change)}` if the height was measured, or measure it again"
        )
    )
    return RULE.fault(
        case.setup.place(axle.value, "ride_height", "change"),
        f"change {as_typed(told)} and {name} {as_typed(height.measured)} disagree by "
        f"{apart(height.off(told.value))}",
        expected=f"{mm(height.change)}, within {mm(TOLERANCE)}: {name} is {apart(height.change)} "
        f"{lower} than on the sheet",
        fix=fix,
        also=(
            marked(case.setup, "measured", axle.value, "ride_height", height.field),
            *_reference(case, axle, height),
        ),
    )


def _reference(case: Case, axle: Axle, height: _Height) -> Iterator[Mark]:
    if case.chassis is not None:
        yield marked(case.chassis, "the sheet's", axle.value, "ride_height", height.field)


def _of_two(case: Case, axle: Axle, heights: list[_Height]) -> Iterator[Fault]:
    """Compare the two heights with each other where no change is written."""
    if len(heights) < 2:
        return
    lip, rail = heights
    off = lip.off(rail.change)
    if abs(off) > TOLERANCE:
        yield RULE.fault(
            case.setup.place(axle.value, "ride_height", lip.field),
            f"hub to lip changed by {mm(lip.change)} and hub to rail by {mm(rail.change)} against "
            f"the sheet, {apart(off)} apart",
            expected=f"{mm(lip.reference.value + rail.change)}, within {mm(TOLERANCE)}",
            fix="measure both again with the wheels on the ground",
            also=(marked(case.setup, "measured", axle.value, "ride_height", rail.field),),
        )
