"""A setup nobody has tried: the stock car, a record, or nothing, with what somebody wants changed.

A candidate is a record like any other, without measurements of gaps, and goes through the same
computation. What was measured on a wheel or tyre goes with it when another one is put on.
"""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from math import sqrt
from typing import TypeVar

from generator.assessment.assess import Assessment, assess
from generator.frozen import dataclass
from generator.quantities.quantity import Quantity
from generator.quantities.rim_size import RimSize
from generator.quantities.span import GapReading
from generator.quantities.tyre_marks import TyreSize
from generator.quantities.units import CANONICAL, Deg, Dimension, Mm
from generator.reading.fields import Model
from generator.records.axle_sheet import AxleSheet
from generator.records.chassis import Chassis
from generator.records.dimensions import RULE_U, SHEET_TYRE_U
from generator.records.fitted import (
    AxleSetup,
    Bodywork,
    BumpStopFitted,
    RideHeight,
    SideValues,
    Spacer,
    TyreFitted,
    WheelFitted,
)
from generator.records.library import Case, Filed
from generator.records.setup import Method, Setup
from generator.records.words import Axle, CamberBy, InOut, Lips, SpacerKind, StopState

Kind = TypeVar("Kind", bound=Model)

_SHEET_STEP: Mm = sqrt(12.0 * (SHEET_TYRE_U**2 - RULE_U**2))
"""A rectangular step that gives a sheet's tyre its own spread beside that of a rule."""


@dataclass(frozen=True)
class AxleChange:
    """What somebody wants changed at one end of the car; None leaves it as it is.

    An offset or a size means other wheels, a tyre other tyres: what was measured on the old ones
    is forgotten. `ride_height` is against the sheet, up positive. A spacer of 0 means none.
    """

    size: RimSize | None = None
    offset: Quantity | None = None
    spacer: Quantity | None = None
    tyre: TyreSize | None = None
    section_width: Quantity | None = None
    tread_width: Quantity | None = None
    diameter: Quantity | None = None
    camber: Quantity | None = None
    camber_by: CamberBy | None = None
    ride_height: Quantity | None = None
    stop: StopState | None = None
    trimmed: Quantity | None = None
    spaced: Quantity | None = None
    shim: Quantity | None = None
    lips: Lips | None = None
    lips_gained: Quantity | None = None


@dataclass(frozen=True)
class Candidate:
    """A setup to be judged, on its chassis. `start` says in words what it was made from."""

    chassis: Filed[Chassis]
    setup: Filed[Setup]
    start: str

    @property
    def case(self) -> Case:
        """Give the candidate as the computation takes it."""
        return Case(self.setup, self.chassis)

    def axle(self, axle: Axle) -> AxleSetup:
        """Give what is fitted at one end."""
        return self.setup.value.front if axle is Axle.FRONT else self.setup.value.rear

    def with_axle(self, axle: Axle, fitted: AxleSetup) -> "Candidate":
        """Give the candidate with something else fitted at one end."""
        setup = self.setup.value.model_copy(update={axle.value: fitted})
        return replace(self, setup=replace(self.setup, value=setup))

    def changed(self, axle: Axle, change: AxleChange) -> "Candidate":
        """Give the candidate with something changed at one end. Raises ValueError; see `changed`.

        A candidate that nothing is changed on stays what it is.
        """
        if change == AxleChange():
            return self
        return self.with_axle(axle, changed(self.axle(axle), change))


def assess_candidate(candidate: Candidate) -> Assessment:
    """Compute everything that follows from a candidate."""
    return assess(candidate.case)


def like_stock(chassis: Filed[Chassis], *, day: date) -> Candidate:
    """Start from the wheels and tyres the car came with. `day` is when somebody asks."""
    sheet = chassis.value
    return _candidate(chassis, stock_axle(sheet.front), stock_axle(sheet.rear), day=day)


def like_record(chassis: Filed[Chassis], record: Filed[Setup]) -> Candidate:
    """Start from what a record has fitted, without what was found on its car."""
    bare: dict[str, object] = {"gaps": (), "rubs": (), "remedies": (), "road": None}
    value = record.value.model_copy(update=bare)
    return Candidate(chassis, replace(record, value=value), record.id)


def from_nothing(
    chassis: Filed[Chassis], front: AxleChange, rear: AxleChange, *, day: date
) -> Candidate:
    """Start from nothing but what is given. Raises ValueError without a wheel size and a tyre."""
    ends = []
    for axle, change in ((Axle.FRONT, front), (Axle.REAR, rear)):
        if change.size is None or change.tyre is None:
            missing = "wheel size" if change.size is None else "tyre"
            raise ValueError(f"the {axle.value} has no {missing}")
        wheel = WheelFitted.model_construct(size=change.size, offset=change.offset)
        tyre = TyreFitted.model_construct(size=change.tyre)
        bare = AxleSetup.model_construct(wheel=wheel, tyre=tyre)
        ends.append(changed(bare, replace(change, size=None, offset=None, tyre=None)))
    return replace(_candidate(chassis, ends[0], ends[1], day=day), start="nothing")


def _candidate(
    chassis: Filed[Chassis], front: AxleSetup, rear: AxleSetup, *, day: date
) -> Candidate:
    setup = Setup.model_construct(
        title="a setup to be judged",
        chassis=chassis.id,
        car="a-car",
        member="Nobody",
        date=day,
        method=Method.model_construct(springs=InOut.IN),
        front=front,
        rear=rear,
    )
    return Candidate(chassis, Filed(f"{chassis.id}/candidate", setup, chassis.source), "stock")


def stock_axle(sheet: AxleSheet) -> AxleSetup:
    """Give the stock wheel and tyre of a sheet as a record would.

    The sheet's tyre stands for any tyre of its design, so its dimensions are written as coarsely.
    """
    wheel, tyre = sheet.stock_wheel, sheet.stock_tyre
    return AxleSetup.model_construct(
        wheel=WheelFitted.model_construct(
            size=wheel.size,
            offset=wheel.offset,
            backspacing=wheel.backspacing,
            barrel_radius=wheel.barrel_radius,
            spoke_back=wheel.spoke_back,
            spoke_back_radius=wheel.spoke_back_radius,
        ),
        tyre=TyreFitted.model_construct(
            size=tyre.size,
            approved_rims=tyre.approved_rims,
            section_width=_coarse(tyre.section_width),
            diameter=_coarse(tyre.diameter),
        ),
    )


def _coarse(length: Quantity | None) -> Quantity | None:
    if length is None:
        return None
    step = sqrt(_SHEET_STEP**2 + length.resolution**2)
    return replace(length, resolution=step)


def changed(fitted: AxleSetup, change: AxleChange) -> AxleSetup:
    """Give what is fitted with something changed.

    Raises ValueError where wheel and tyre are then of different diameters, or where a change has
    nothing to be made on.
    """
    update: dict[str, object] = {}
    if change.size is not None or change.offset is not None:
        update["wheel"] = _other_wheel(fitted.wheel, change)
        update |= {"caliper_to_spoke": None, "caliper_to_barrel": None}
        if fitted.hardware is not None and not _is_same(fitted.wheel, change):
            update["hardware"] = _bare(fitted.hardware, "turns", "engagement")
    if change.spacer is not None:
        update |= _other_spacer(fitted, change.spacer)
    tyre = fitted.tyre
    if change.size is not None and change.size.width_code != fitted.wheel.size.width_code:
        # On another rim the same tyre is another width; its height stays.
        tyre = _bare(tyre, "section_width", "tread_width")
    update["tyre"] = _other_tyre(tyre, change)
    for name, value in (
        ("camber", change.camber),
        ("camber_by", change.camber_by),
        ("stop_shim", change.shim),
    ):
        if value is not None:
            update[name] = value
    if change.shim is not None:
        update |= {"toe_out_lock": None, "toe_in_lock": None}
    if change.ride_height is not None:
        update["ride_height"] = RideHeight.model_construct(change=change.ride_height)
    if change.stop or change.trimmed is not None or change.spaced is not None:
        update["bump_stop"] = _other_stop(fitted.bump_stop, change)
    if change.lips is not None or change.lips_gained is not None:
        update["bodywork"] = _other_bodywork(fitted.bodywork, change)
    update |= _alike(fitted, change)
    result = fitted.model_copy(update=update)
    _check_diameters(result)
    return result


def _changes_tyre(change: AxleChange) -> bool:
    said = (change.tyre, change.section_width, change.tread_width, change.diameter)
    return any(each is not None for each in said)


def _bare(model: Kind, *names: str) -> Kind:
    """Forget some fields."""
    return model.model_copy(update=dict.fromkeys(names))


def _other_wheel(wheel: WheelFitted, change: AxleChange) -> WheelFitted:
    size = change.size or wheel.size
    offset = change.offset
    if offset is None:
        raise ValueError("another wheel needs its offset")
    other = WheelFitted.model_construct(size=size, offset=offset, bolt_circle=wheel.bolt_circle)
    if not _is_same(wheel, change):
        # Another wheel may be bored, seated and padded in another way: it is not known.
        return other
    kept = {name: getattr(wheel, name) for name in ("bore", "seat", "pad_thickness")}
    return other.model_copy(update=kept)


def _is_same(wheel: WheelFitted, change: AxleChange) -> bool:
    """Tell whether the wheel asked for has the size and offset of the one that is on."""
    size, offset = change.size or wheel.size, change.offset
    if wheel.offset is None or offset is None or offset.value != wheel.offset.value:
        return False
    old = (wheel.size.width_code, wheel.size.diameter_code)
    return old == (size.width_code, size.diameter_code)


def _other_spacer(fitted: AxleSetup, thickness: Quantity) -> dict[str, object]:
    """Give spacer, hardware and caliper gap with another spacer on the same wheel."""
    update: dict[str, object] = {"spacer": None}
    before = fitted.spacer.thickness.value if fitted.spacer else 0.0
    if thickness.value:
        kind = fitted.spacer.kind if fitted.spacer else SpacerKind.SLIP_ON
        update["spacer"] = Spacer.model_construct(thickness=thickness, kind=kind)
    if fitted.hardware is not None and thickness.value != before:
        update["hardware"] = _bare(fitted.hardware, "turns", "engagement")
    said = fitted.caliper_to_spoke
    if said is not None:
        # The spokes' back goes outboard with the spacer, and the caliper stays.
        update["caliper_to_spoke"] = _wider(said, thickness.value - before)
    return update


def _wider(said: GapReading, by: Mm) -> GapReading | None:
    if said.low is None or said.high is None:
        return said if by == 0.0 else None
    return replace(said, low=said.low + by, high=said.high + by)


def _other_tyre(tyre: TyreFitted, change: AxleChange) -> TyreFitted:
    known = tyre
    if change.tyre is not None and change.tyre != tyre.size:
        known = TyreFitted.model_construct(size=change.tyre, pressure=tyre.pressure)
    said = {
        name: getattr(change, name)
        for name in ("section_width", "tread_width", "diameter")
        if getattr(change, name) is not None
    }
    return known.model_copy(update=said)


def _other_stop(stop: BumpStopFitted | None, change: AxleChange) -> BumpStopFitted:
    trimmed = change.trimmed or (stop.trimmed if stop else None)
    spaced = change.spaced or (stop.spaced if stop else None)
    state = change.stop
    if state is None:
        kept = (trimmed is None or not trimmed.value) and (spaced is None or not spaced.value)
        by_what = StopState.TRIMMED if trimmed is not None and trimmed.value else StopState.SPACED
        state = StopState.ORIGINAL if kept else by_what
    return BumpStopFitted.model_construct(state=state, trimmed=trimmed, spaced=spaced)


def _other_bodywork(bodywork: Bodywork | None, change: AxleChange) -> Bodywork:
    lips = change.lips or (bodywork.lips if bodywork else None)
    if lips in (None, Lips.STOCK) and change.lips_gained is not None:
        raise ValueError("a lip that gained room is rolled, pulled or cut")
    update: dict[str, object] = {"lips": lips, "lips_gained": change.lips_gained}
    return (bodywork or Bodywork.model_construct()).model_copy(update=update)


def _alike(fitted: AxleSetup, change: AxleChange) -> dict[str, object]:
    """Give both sides what was changed for both: their own values of it no longer hold."""
    of_wheel = change.size is not None
    of_tyre = _changes_tyre(change) or of_wheel
    dropped = [
        name
        for name, drop in (
            ("spacer", change.spacer is not None),
            ("section_width", of_tyre),
            ("diameter", of_tyre),
            ("camber", change.camber is not None),
            ("ride_height_change", change.ride_height is not None),
            ("lips", change.lips is not None),
            ("lips_gained", change.lips is not None or change.lips_gained is not None),
        )
        if drop
    ]
    sides = {"left": fitted.left, "right": fitted.right}
    return {name: _side(values, dropped) for name, values in sides.items() if values is not None}


def _side(values: SideValues, dropped: Iterable[str]) -> SideValues | None:
    left_over = _bare(values, *dropped)
    return None if left_over == SideValues.model_construct() else left_over


def _check_diameters(fitted: AxleSetup) -> None:
    rim, tyre = fitted.wheel.size, fitted.tyre.size
    if rim.diameter_code != tyre.rim_number:
        raise ValueError(
            f"the tyre {tyre.typed or tyre.size} is for a rim of {tyre.rim_number:g}, and the "
            f"wheel is {rim.diameter_code:g} in diameter"
        )


def millimetres(value: Mm) -> Quantity:
    """Give an exact length as a quantity.

    >>> millimetres(12.5).typed
    '12.5 mm'
    """
    return _quantity(value, Dimension.LENGTH)


def degrees(value: Deg) -> Quantity:
    """Give an exact angle as a quantity."""
    return _quantity(value, Dimension.ANGLE)


def _quantity(value: float, dimension: Dimension) -> Quantity:
    unit = CANONICAL[dimension]
    typed = f"{round(value, 3) + 0.0:g} {unit.symbol}"
    return Quantity(value, typed, unit, 0.0, typed)
