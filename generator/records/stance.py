"""Where a record or a sheet puts wheel and tyre, for the rules that compare positions.

Signs as in geometry/wheel.py: outboard positive from the hub's mounting face.
"""

from dataclasses import replace

from generator.frozen import dataclass
from generator.geometry.tyre import TyreDimensions
from generator.geometry.wheel import (
    PositionChange,
    TyreFaces,
    position_change,
    tyre_faces,
    wheel_position,
)
from generator.quantities.estimate import Basis, Estimate
from generator.quantities.units import Mm
from generator.records.axle_sheet import AxleSheet
from generator.records.dimensions import (
    RULE_U,
    SPACER_U,
    hub_face_moved,
    measured,
    rim_width,
    spacer_thickness,
    stock_of,
    tyre_dimensions,
    wheel_dimensions,
)
from generator.records.fitted import AxleSetup, SideValues
from generator.records.words import Facing, Side

_NOTHING = Estimate(0.0, 0.0, Basis.MEASURED)


@dataclass(frozen=True)
class Stance:
    """A tyre on its hub: both faces, the diameter, and how far the hub's face was moved."""

    faces: TyreFaces
    diameter: Mm
    face_moved: Estimate = _NOTHING


def fitted_stance(fitted: AxleSetup, side: Side = Side.BOTH) -> Stance | None:
    """Place what is fitted, with what is different on one side; None where too little is known."""
    own = getattr(fitted, side.value) if side is not Side.BOTH else None
    try:
        wheel = wheel_dimensions(fitted.wheel)
        tyre = tyre_dimensions(fitted.tyre, rim_width(fitted.wheel.size))
        if wheel is None or tyre is None:
            return None
        spacer, tyre = _of_side(own, spacer_thickness(fitted), tyre)
        faces = tyre_faces(wheel_position(wheel, spacer), tyre.section_width)
    except ValueError:
        # A length below zero has been reported where it stands.
        return None
    return Stance(faces, tyre.diameter.value, hub_face_moved(fitted))


def _of_side(
    own: SideValues | None, spacer: Estimate, tyre: TyreDimensions
) -> tuple[Estimate, TyreDimensions]:
    if own is None:
        return spacer, tyre
    if own.spacer is not None:
        spacer = measured(own.spacer, SPACER_U, "spacer thickness")
    if own.section_width is not None:
        section = measured(own.section_width, RULE_U, "section width measured")
        tyre = replace(tyre, section_width=section)
    if own.diameter is not None:
        tyre = replace(tyre, diameter=measured(own.diameter, RULE_U, "diameter measured"))
    return spacer, tyre


def stock_stance(sheet: AxleSheet) -> Stance | None:
    """Place the stock wheel and tyre of a sheet; None where too little is known."""
    try:
        wheel, tyre = stock_of(sheet)
        if tyre is None:
            return None
        faces = tyre_faces(wheel_position(wheel, _NOTHING), tyre.section_width)
    except ValueError:
        return None
    return Stance(faces, tyre.diameter.value)


def moved(new: Stance, old: Stance) -> PositionChange:
    """Give how far the tyre's faces moved from one stance to another."""
    face = new.face_moved.minus(old.face_moved)
    return position_change(new.faces, old.faces, hub_face_moved=face)


def gap_change(new: Stance, old: Stance, facing: Facing) -> Mm:
    """Give how much wider the gap to a part becomes that keeps its place against the hub."""
    change = moved(new, old)
    if facing is Facing.INBOARD:
        return -change.inner.value
    if facing is Facing.OUTBOARD:
        return -change.outer.value
    return (old.diameter - new.diameter) / 2.0
