"""From what a record says to the numbers the geometry needs, each with its uncertainty and basis.

One place decides which of several statements about a wheel or tyre counts: what was measured goes
before what was stamped, and what was stamped before what a size alone implies.
"""

from math import hypot, sqrt

from generator.frozen import dataclass
from generator.geometry.tyre import (
    TyreDimensions,
    measured_over,
    nominal_dimensions,
    overall_diameter,
    section_height,
    section_width_exact,
    theoretical_rim_width,
)
from generator.geometry.wheel import WheelDimensions
from generator.published import tables
from generator.quantities.estimate import Basis, Estimate
from generator.quantities.quantity import Quantity
from generator.quantities.rim_size import RimSize
from generator.quantities.tyre_marks import TyreForm, TyreSize
from generator.quantities.units import Mm
from generator.records.axle_sheet import AxleSheet, StockTyre, StockWheel
from generator.records.fitted import AxleSetup, TyreFitted, WheelFitted

MM_PER_INCH: Mm = 25.4
STAMPED_WIDTH_U: Mm = 1.0 / sqrt(3.0)
"""Width made to ±1 mm of the stamp, rectangular: common practice."""
STAMPED_OFFSET_U: Mm = 1.0
"""Offset against its stamp: common practice, ±1 typical."""
RULE_U: Mm = 1.0
"""Straightedge and rule on a wheel, calipers on a tyre: common practice, repeatable to ±1 mm."""
FINE_U: Mm = 0.3
"""Calipers on metal, such as a flange or a bore: common practice."""
SHEET_TYRE_U: Mm = 3.0
"""A stock tyre's dimensions on a chassis sheet, for another tyre of the same design."""
SPACER_U: Mm = 0.1


@dataclass(frozen=True)
class NominalTyre:
    """What a size alone gives on a rim: design section and diameter, and where they come from."""

    section_width: Mm
    diameter: Mm
    source: str


def measured(quantity: Quantity, u: Mm, source: str) -> Estimate:
    """Make an estimate of a measurement: the tool's spread and the last digit typed.

    The last digit counts as a rectangular distribution of its step [GUM] 4.3.7.
    """
    return Estimate(
        quantity.value, hypot(u, quantity.resolution / sqrt(12.0)), Basis.MEASURED, (source,)
    )


def rim_width(size: RimSize) -> Mm:
    """Give the nominal width between the flanges, unrounded."""
    return size.width_code * MM_PER_INCH


def wheel_dimensions(wheel: WheelFitted) -> WheelDimensions | None:
    """Give what is known of a wheel; None if neither offset nor backspacing is."""
    offset = None
    if wheel.offset_measured is not None:
        offset = measured(wheel.offset_measured, RULE_U, "offset measured")
    elif wheel.offset is not None:
        offset = Estimate(wheel.offset.value, STAMPED_OFFSET_U, Basis.STAMPED, ("offset stamped",))
    back = _maybe(wheel.backspacing, RULE_U, "backspacing measured")
    if offset is None and back is None:
        return None
    width = _maybe(wheel.width_measured, RULE_U, "width measured") or Estimate(
        rim_width(wheel.size), STAMPED_WIDTH_U, Basis.STAMPED, ("width stamped",)
    )
    return WheelDimensions(
        width,
        offset,
        back,
        _maybe(wheel.overall_width, RULE_U, "overall width measured"),
        _maybe(wheel.flange_inboard, FINE_U, "inboard flange measured"),
        _maybe(wheel.flange_outboard, FINE_U, "outboard flange measured"),
    )


def stock_wheel_dimensions(wheel: StockWheel) -> WheelDimensions:
    """Give what the sheet says of the stock wheel."""
    return WheelDimensions(
        Estimate(rim_width(wheel.size), STAMPED_WIDTH_U, Basis.STAMPED, ("chassis sheet",)),
        Estimate(wheel.offset.value, STAMPED_OFFSET_U, Basis.STAMPED, ("chassis sheet",)),
        _maybe(wheel.backspacing, RULE_U, "chassis sheet"),
    )


def spacer_thickness(fitted: AxleSetup) -> Estimate:
    """Give the thickness of all spacers; none written means none fitted."""
    if fitted.spacer is None:
        return Estimate(0.0, 0.0, Basis.MEASURED, ("no spacer",))
    return measured(fitted.spacer.thickness, SPACER_U, "spacer thickness")


def hub_face_moved(fitted: AxleSetup) -> Estimate:
    """Give how far another hub or disc moved the mounting face outboard; nothing if not said."""
    if fitted.face_moved is None:
        return Estimate(0.0, 0.0, Basis.MEASURED, ("hub face as on the sheet",))
    return measured(fitted.face_moved, RULE_U, "hub face moved")


def nominal_tyre(size: TyreSize, width: Mm) -> NominalTyre | None:
    """Give what a size alone says on a rim of a width; None where no published rule covers it."""
    try:
        return _nominal(size, width)
    except LookupError:
        return None


def _nominal(size: TyreSize, width: Mm) -> NominalTyre | None:
    if size.form in (TyreForm.METRIC, TyreForm.METRIC_RIM):
        if size.nominal_section_width is None or size.aspect_ratio is None:
            return None
        nominal, aspect = size.nominal_section_width, size.aspect_ratio
        reference = theoretical_rim_width(nominal, tables.theoretical_rim_factor(aspect))
        section = section_width_exact(nominal, reference, rim_width=width)
        height = section_height(nominal, aspect)
        diameter = overall_diameter(tables.rim_diameter(size.rim_number), height)
        return NominalTyre(section, diameter, "UNR30")
    if size.form is TyreForm.FULL_PROFILE:
        full = tables.full_profile_size(size.size)
        reference = full.rim * MM_PER_INCH
        section = section_width_exact(full.section_width, reference, rim_width=width)
        return NominalTyre(section, full.diameter, "UNR30")
    if size.form is TyreForm.FLOTATION:
        wide = tables.flotation_size(size.designation)
        reference = wide.rim * MM_PER_INCH
        section = section_width_exact(wide.section_width, reference, rim_width=width)
        return NominalTyre(section, wide.diameter, "UNR54")
    return None


def tyre_dimensions(tyre: TyreFitted, width: Mm) -> TyreDimensions | None:
    """Give a mounted tyre: what was measured, else what its size says on this rim.

    None if neither gives a section width and a diameter.
    """
    return _dimensions(
        nominal_tyre(tyre.size, width),
        _maybe(tyre.section_width, RULE_U, "section width measured"),
        _maybe(tyre.diameter, RULE_U, "diameter measured"),
        _maybe(tyre.tread_width, RULE_U, "tread width measured"),
    )


def stock_tyre_dimensions(tyre: StockTyre, wheel: StockWheel) -> TyreDimensions | None:
    """Give the stock tyre: what the sheet says, else what its size says on the stock rim."""
    return _dimensions(
        nominal_tyre(tyre.size, rim_width(wheel.size)),
        _maybe(tyre.section_width, SHEET_TYRE_U, "chassis sheet"),
        _maybe(tyre.diameter, SHEET_TYRE_U, "chassis sheet"),
        None,
    )


def _dimensions(
    nominal: NominalTyre | None,
    section: Estimate | None,
    diameter: Estimate | None,
    tread: Estimate | None,
) -> TyreDimensions | None:
    if nominal is not None:
        by_size = nominal_dimensions(nominal.section_width, nominal.diameter)
        return measured_over(by_size, section_width=section, tread_width=tread, diameter=diameter)
    if section is None or diameter is None:
        return None
    return TyreDimensions(section, tread, diameter)


def stock_of(sheet: AxleSheet) -> tuple[WheelDimensions, TyreDimensions | None]:
    """Give the stock wheel and tyre of one end of a car."""
    wheel = stock_wheel_dimensions(sheet.stock_wheel)
    return wheel, stock_tyre_dimensions(sheet.stock_tyre, sheet.stock_wheel)


def _maybe(quantity: Quantity | None, u: Mm, source: str) -> Estimate | None:
    return None if quantity is None else measured(quantity, u, source)
