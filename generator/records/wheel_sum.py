"""Whether what is written of one wheel adds up: backspacing = width / 2 + inboard lip + offset."""

from dataclasses import replace
from enum import Enum

from generator.frozen import dataclass
from generator.geometry.wheel import FLANGE_THICKNESS, WheelDimensions, wheel_position
from generator.quantities.estimate import Basis, Estimate
from generator.quantities.quantity import Quantity
from generator.quantities.units import Mm, Ratio
from generator.reading.fields import declared
from generator.records.axle_sheet import StockWheel
from generator.records.dimensions import stock_wheel_dimensions, wheel_dimensions
from generator.records.fitted import AxleSetup, WheelFitted

MM_PER_INCH: Ratio = 25.4
LIP_MEASURED_TOLERANCE: Mm = 3.0
LIP_ASSUMED_TOLERANCE: Mm = 6.0
"""How far the sum may be off with the lips measured or taken as half an inch: common practice."""
LEAST_LIPS: Mm = 10.0
MOST_LIPS: Mm = 36.0
"""Both lips together, so overall less nominal width: common practice."""
NOMINAL_USED_WITHIN: Mm = 2.0
THINNEST_COUNTED: Mm = 4.0
"""A thinner spacer cannot be told from the spread of a wheel's measurements: common practice."""


class Slip(Enum):
    """What explains a sum that does not close."""

    BACK_BEYOND_WIDTH = "backspacing beyond the overall width"
    INCH = "inch and millimetre"
    NOMINAL_WIDTH = "nominal width taken for overall width"
    SPACER = "spacer counted in one value only"
    SIGN = "sign of the offset"


@dataclass(frozen=True)
class WheelSum:
    """The sum of one wheel. `closure` is backspacing less what width, lip and offset make."""

    offset_field: str
    offset_typed: Quantity
    backspacing_typed: Quantity
    offset: Mm
    backspacing: Mm
    half_width: Mm
    lip: Mm
    lip_is_measured: bool
    overall_width: Mm
    closure: Mm

    @property
    def tolerance(self) -> Mm:
        """How far the sum may be off."""
        return LIP_MEASURED_TOLERANCE if self.lip_is_measured else LIP_ASSUMED_TOLERANCE

    @property
    def closes(self) -> bool:
        """Whether the values agree."""
        return abs(self.closure) <= self.tolerance

    @property
    def offset_by_sum(self) -> Mm:
        """The offset that would agree with the backspacing."""
        return self.offset + self.closure

    @property
    def backspacing_by_sum(self) -> Mm:
        """The backspacing that would agree with the offset."""
        return self.backspacing - self.closure

    def closes_with_offset(self, offset: Mm) -> bool:
        """Tell whether the values would agree with another offset."""
        return abs(self.offset_by_sum - offset) <= self.tolerance


def offset_field(wheel: WheelFitted) -> str:
    """Name the field that the wheel's offset is taken from."""
    return "offset" if wheel.offset_measured is None else "offset_measured"


def lips_together(wheel: WheelFitted) -> Mm | None:
    """Give overall width less width between the flanges; None if no overall width is given."""
    if wheel.overall_width is None:
        return None
    width = wheel.width_measured.value if wheel.width_measured else wheel.size.width
    return wheel.overall_width.value - width


def wheel_sum(wheel: WheelFitted) -> WheelSum | None:
    """Add up one axle's wheels.

    None if offset or backspacing is missing, or so far outside its own range that the reader has
    reported it as an error.
    """
    offset = wheel.offset_measured or wheel.offset
    lips = lips_together(wheel)
    try:
        known = wheel_dimensions(wheel)
    except ValueError:
        # A length below zero has been reported where it stands.
        return None
    if offset is None or wheel.backspacing is None or known is None:
        return None
    pair = ((offset_field(wheel), offset), ("backspacing", wheel.backspacing))
    if not all(_is_within_limit(name, typed) for name, typed in pair):
        return None
    if lips is not None and not LEAST_LIPS <= lips <= MOST_LIPS:
        # One of the two widths is another width, and only the stamp is sure to be this one.
        stamped = Estimate(wheel.size.width, 0.0, Basis.STAMPED, ("width stamped",))
        known = replace(known, width=stamped, overall_width=None)
    return _sum(known, offset_field(wheel), offset, wheel.backspacing)


def _is_within_limit(name: str, typed: Quantity) -> bool:
    limit = declared(WheelFitted.model_fields[name]).limit
    return limit is None or limit[0] <= typed.value <= limit[1]


def stock_sum(wheel: StockWheel) -> WheelSum | None:
    """Add up a sheet's stock wheel; None if its backspacing is missing."""
    if wheel.backspacing is None:
        return None
    return _sum(stock_wheel_dimensions(wheel), "offset", wheel.offset, wheel.backspacing)


def _sum(
    known: WheelDimensions, field: str, offset: Quantity, backspacing: Quantity
) -> WheelSum | None:
    """Close the sum with every value taken as it is typed: the tolerance holds all their spread."""
    if known.offset is None or known.backspacing is None:
        return None
    has_lip = known.flange_inboard is not None or known.overall_width is not None
    wheel = WheelDimensions(
        _exact(known.width),
        _exact(known.offset),
        _exact(known.backspacing),
        _exact(known.overall_width) if known.overall_width else None,
        _exact(known.flange_inboard) if known.flange_inboard else None,
        _exact(known.flange_outboard) if known.flange_outboard else None,
    )
    position = wheel_position(wheel, Estimate(0.0, 0.0, Basis.MEASURED))
    if position.closure is None:
        return None
    half = known.width.value / 2.0
    closure = position.closure.value
    lip = known.backspacing.value - closure - half - known.offset.value
    other_lip = known.flange_outboard.value if known.flange_outboard else FLANGE_THICKNESS
    overall = known.overall_width.value if known.overall_width else 2.0 * half + lip + other_lip
    return WheelSum(
        offset_field=field,
        offset_typed=offset,
        backspacing_typed=backspacing,
        offset=known.offset.value,
        backspacing=known.backspacing.value,
        half_width=half,
        lip=lip,
        lip_is_measured=has_lip,
        overall_width=overall,
        closure=closure,
    )


def _exact(given: Estimate) -> Estimate:
    return Estimate(given.value, 0.0, given.basis, given.sources)


def explained(total: WheelSum, fitted: AxleSetup | None = None) -> Slip | None:
    """Name the slip that explains a sum that does not close; None if it closes, or none does.

    Each slip has a rule of its own, and only that rule speaks of it. Without what is fitted, as
    for the stock wheel of a sheet, the spacer's is not tried.
    """
    if is_beyond(total):
        return Slip.BACK_BEYOND_WIDTH
    if total.closes:
        return None
    by_nominal = total.backspacing - total.half_width - total.offset
    tries = (
        (Slip.INCH, _is_inch(total)),
        (Slip.NOMINAL_WIDTH, abs(by_nominal) < NOMINAL_USED_WITHIN),
        (Slip.SPACER, fitted is not None and _is_spacer(total, fitted)),
        (Slip.SIGN, total.closes_with_offset(-total.offset)),
    )
    return next((slip for slip, fits in tries if fits), None)


def _is_inch(total: WheelSum) -> bool:
    """Tell whether the offset or the backspacing would agree as a number of the other unit."""
    by_offset = total.closes_with_offset(total.offset * _to_other_unit(total.offset_typed))
    more = total.backspacing * (_to_other_unit(total.backspacing_typed) - 1.0)
    return by_offset or abs(total.closure + more) <= total.tolerance


def _to_other_unit(typed: Quantity) -> Ratio:
    return 1.0 / MM_PER_INCH if typed.unit.symbol == "in" else MM_PER_INCH


def _is_spacer(total: WheelSum, fitted: AxleSetup) -> bool:
    if fitted.spacer is None or fitted.spacer.thickness.value < THINNEST_COUNTED:
        return False
    spacer = fitted.spacer.thickness.value
    return abs(abs(total.closure) - spacer) <= min(total.tolerance, spacer / 2.0)


def is_beyond(total: WheelSum) -> bool:
    """Tell whether the backspacing is not between nothing and the wheel's overall width.

    An overall width that follows from half-inch lips may be short by the tolerance.
    """
    allowance = 0.0 if total.lip_is_measured else total.tolerance
    return not 0.0 < total.backspacing < total.overall_width + allowance


__all__ = [
    "FLANGE_THICKNESS", "Slip", "WheelSum", "explained", "is_beyond", "lips_together",
    "offset_field", "stock_sum", "wheel_sum",
]  # fmt: skip
