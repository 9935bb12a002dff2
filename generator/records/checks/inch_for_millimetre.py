"""A length that agrees with the rest of the record only in the other unit was mistyped."""

from collections.abc import Iterator
from typing import NamedTuple

from generator.quantities.quantity import Quantity
from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.reading.fields import Model
from generator.reading.source import Route
from generator.records.axle_sheet import AxleSheet
from generator.records.fitted import AxleSetup, BumpStopFitted, RideHeight, Spacer, WheelFitted
from generator.records.library import Case
from generator.records.rule import Rule
from generator.records.told import as_typed, is_usual, mm
from generator.records.wheel_sum import MM_PER_INCH, Slip, explained, wheel_sum
from generator.records.words import SpacerKind

SPACER_BANDS: dict[SpacerKind, tuple[Mm, Mm]] = {
    SpacerKind.SHIM: (0.5, 4.0),
    SpacerKind.SLIP_ON: (1.0, 25.0),
    SpacerKind.PILOTED: (3.0, 45.0),
    SpacerKind.BOLT_ON: (15.0, 60.0),
}
"""Thicknesses in which spacers are made, somewhat widened: common practice."""
HEIGHT_WITHIN: Mm = 10.0
STOP_WITHIN: Mm = 5.0

RULE = Rule(
    "R03",
    "an inch number written as millimetres, or the reverse",
    Severity.ERROR,
    "Inch and millimetre differ by a factor of 25.4, and a small number in the wrong unit can look "
    "like a length that was meant. The rest of the record tells: it agrees only after the factor. "
    "Numbers outside the usual range of their own field are reported as such.",
    "Write the number with the unit it was measured in; `0.2 in` is read as well as `5.1 mm`.",
    "common practice",
    "setup: {front: {spacer: {thickness: 0.2 mm, kind: slip-on}}}",
    "setup: {front: {spacer: {thickness: 0.2 in, kind: slip-on}}}",
)


class _Told(NamedTuple):
    """A length of a model, where it stands, and the band that the rest of the record wants."""

    model: type[Model]
    quantity: Quantity
    route: Route
    least: Mm
    most: Mm
    by: str


def check(case: Case) -> Iterator[Fault]:
    """Check one setup."""
    for axle, fitted, sheet in case.axles():
        for told in (*_of_wheel(fitted), *_of_heights(fitted, sheet)):
            other = _other_unit(told.quantity)
            value = told.quantity.value
            name = str(told.route[-1])
            if told.least <= value <= told.most or not told.least <= other <= told.most:
                continue
            if not is_usual(told.model, name, value):
                continue
            number = told.quantity.typed.split(" ")[0]
            unit = "mm" if told.quantity.unit.symbol == "in" else "in"
            yield RULE.fault(
                case.setup.place(axle.value, *told.route),
                f"{name.replace('_', ' ')} {as_typed(told.quantity)} agrees with {told.by} only "
                f"as {mm(other)}",
                expected=f"{mm(told.least)} to {mm(told.most)} by {told.by}",
                fix=f"write `{name}: {number} {unit}` if that was meant",
            )


def _other_unit(quantity: Quantity) -> Mm:
    """Give the length that the typed number means in the other unit."""
    if quantity.unit.symbol == "in":
        return quantity.value / MM_PER_INCH
    return quantity.value * MM_PER_INCH


def _of_wheel(fitted: AxleSetup) -> Iterator[_Told]:
    if fitted.spacer is not None and fitted.spacer.thickness.value > 0.0:
        yield _of_spacer(fitted.spacer)
    total = wheel_sum(fitted.wheel)
    if total and explained(total, fitted) is Slip.INCH:
        offset = fitted.wheel.offset_measured or fitted.wheel.offset
        if offset is not None:
            by, off = total.offset_by_sum, total.tolerance
            route = ("wheel", total.offset_field)
            yield _Told(WheelFitted, offset, route, by - off, by + off, "the backspacing")


def _of_spacer(spacer: Spacer) -> _Told:
    least, most = SPACER_BANDS[spacer.kind]
    by = f"its kind, {spacer.kind.value}"
    return _Told(Spacer, spacer.thickness, ("spacer", "thickness"), least, most, by)


def _of_heights(fitted: AxleSetup, sheet: AxleSheet | None) -> Iterator[_Told]:
    if sheet is None:
        return
    height, stop = fitted.ride_height, fitted.bump_stop
    if height and height.change:
        for name in ("hub_to_lip", "hub_to_rail"):
            now, then = getattr(height, name), getattr(sheet.ride_height, name)
            if now and then:
                by = now.value - then.value
                least, most = by - HEIGHT_WITHIN, by + HEIGHT_WITHIN
                route = ("ride_height", "change")
                told = f"the height of {name.replace('_', ' ')}"
                yield _Told(RideHeight, height.change, route, least, most, told)
                break
    if stop and stop.trimmed and stop.free_height and sheet.suspension.stop:
        by = sheet.suspension.stop.free_height.value - stop.free_height.value
        route = ("bump_stop", "trimmed")
        least, most = by - STOP_WITHIN, by + STOP_WITHIN
        yield _Told(BumpStopFitted, stop.trimmed, route, least, most, "the height that is left")
