"""Where wheel and tyre of one end of a car stand, and what moved against stock."""

from functools import lru_cache

from generator.assessment.same import Same
from generator.frozen import dataclass
from generator.geometry.tyre import (
    TyreDimensions,
    engine_speed_change,
    loaded_radius,
    rolling_circumference,
    true_speed_change,
)
from generator.geometry.wheel import (
    PositionChange,
    TyreFaces,
    WheelPosition,
    position_change,
    tyre_faces,
    wheel_position,
)
from generator.published import tables
from generator.quantities.estimate import Basis, Estimate
from generator.quantities.tyre_marks import TyreSize
from generator.records.axle_sheet import AxleSheet
from generator.records.dimensions import (
    NominalTyre,
    hub_face_moved,
    nominal_tyre,
    rim_width,
    spacer_thickness,
    stock_of,
    tyre_dimensions,
    wheel_dimensions,
)
from generator.records.fitted import AxleSetup
from generator.records.words import Axle

_KEPT = 64
"""Ends of cars whose stock wheels are kept in place."""
_NO_SPACER = Estimate(0.0, 0.0, Basis.PUBLISHED, ("chassis sheet",))


@dataclass(frozen=True)
class Fit:
    """A wheel and tyre on a hub, from the hub's mounting face; None is not known.

    `skin` is how far the tyre's outboard face stands outboard of the body's widest skin, positive
    where it pokes out.
    """

    wheel: WheelPosition | None
    tyre: TyreDimensions | None
    faces: TyreFaces | None
    nominal: NominalTyre | None
    skin: Estimate | None


@dataclass(frozen=True)
class Rolling:
    """What another diameter does to gearing and instruments, against stock."""

    loaded_radius: Estimate
    circumference: Estimate
    true_speed_change: Estimate | None
    engine_speed_change: Estimate | None


@dataclass(frozen=True)
class AxleFit:
    """One end of the car: as fitted, as stock, and the difference."""

    axle: Axle
    fitted: Fit
    stock: Fit
    change: PositionChange | None
    rolling: Rolling | None


def axle_fit(axle: Axle, setup: AxleSetup, sheet: AxleSheet) -> AxleFit:
    """Place the wheels and tyres of one end of a car, fitted and stock."""
    fitted = _fitted(setup, sheet)
    stock = stock_fit(sheet)
    change = None
    if fitted.faces is not None and stock.faces is not None:
        change = position_change(fitted.faces, stock.faces, hub_face_moved=hub_face_moved(setup))
    return AxleFit(axle, fitted, stock, change, _rolling(fitted, stock, setup.tyre.size))


def _fitted(setup: AxleSetup, sheet: AxleSheet) -> Fit:
    dimensions = wheel_dimensions(setup.wheel)
    wheel = None
    if dimensions is not None:
        wheel = wheel_position(dimensions, spacer_thickness(setup))
    tyre = tyre_dimensions(setup.tyre, rim_width(setup.wheel.size))
    nominal = nominal_tyre(setup.tyre.size, rim_width(setup.wheel.size))
    return _fit(wheel, tyre, nominal, sheet, hub_face_moved(setup))


def stock_fit(sheet: AxleSheet) -> Fit:
    """Place the stock wheel and tyre. What was placed before is given again."""
    return _stock_fit(Same(sheet))


@lru_cache(maxsize=_KEPT)
def _stock_fit(kept: Same[AxleSheet]) -> Fit:
    sheet = kept.it
    dimensions, tyre = stock_of(sheet)
    nominal = nominal_tyre(sheet.stock_tyre.size, rim_width(sheet.stock_wheel.size))
    return _fit(wheel_position(dimensions, _NO_SPACER), tyre, nominal, sheet, _NO_SPACER)


def _fit(
    wheel: WheelPosition | None,
    tyre: TyreDimensions | None,
    nominal: NominalTyre | None,
    sheet: AxleSheet,
    moved: Estimate,
) -> Fit:
    faces = tyre_faces(wheel, tyre.section_width) if wheel and tyre else None
    skin = None
    if faces is not None and sheet.body_width is not None:
        edge = (sheet.body_width.value - sheet.face_distance.value) / 2.0
        skin = faces.outboard.plus(moved).shifted(-edge)
    return Fit(wheel, tyre, faces, nominal, skin)


def _rolling(fitted: Fit, stock: Fit, size: TyreSize) -> Rolling | None:
    if fitted.tyre is None:
        return None
    diameter = fitted.tyre.diameter
    before = stock.tyre.diameter if stock.tyre else None
    return Rolling(
        loaded_radius(diameter),
        rolling_circumference(diameter, factor=tables.rolling_factor(size.construction)),
        true_speed_change(diameter, before) if before else None,
        engine_speed_change(diameter, before) if before else None,
    )
