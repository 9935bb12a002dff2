"""A tyre's speed symbol is below the car's top speed or the stock tyre's symbol."""

from collections.abc import Iterator

from generator.geometry.loads import speed_symbol_check
from generator.published import tables
from generator.quantities.tyre_marks import TyreSize
from generator.quantities.units import KmPerHour
from generator.reading.fault import Fault, Mark, Severity
from generator.records.axle_sheet import AxleSheet
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.words import Axle

RULE = Rule(
    code="R33",
    title="a speed symbol too low",
    severity=Severity.WARNING,
    why="A tyre must stand the car's top speed, and the law of many places asks for the symbol on "
    "the car's list. Winter tyres may be excepted, with a sign in view of the driver.",
    mend="Fit a tyre with the symbol of the stock tyre or a faster one, and ask the authority what "
    "holds where you drive.",
    source="UN R30, speed symbols",
    bad="setup: {front: {tyre: {size: 195/60 R15 88R}}}",
    good="setup: {front: {tyre: {size: 195/60 R15 88S}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Hold both ends' symbols against the sheet."""
    for axle, fitted, sheet in case.axles():
        size = fitted.tyre.size
        reach, needed = _reach(size), _needed(case, axle, sheet)
        if reach is None or needed is None:
            continue
        wanted, mark = needed
        if speed_symbol_check(reach, wanted).margin >= 0.0:
            continue
        enough = next((s for s in tables.speed_symbols() if tables.top_speed(s) >= wanted), "Y")
        yield RULE.fault(
            case.setup.place(axle.value, "tyre", "size"),
            f"the symbol {size.speed_symbol} is for {reach:g} km/h, {wanted - reach:g} km/h too "
            "low",
            expected=f"`{enough}` or faster, for {wanted:g} km/h",
            fix="read the sidewall again; else fit a tyre with a faster symbol",
            also=(mark,),
        )


def _reach(size: TyreSize) -> KmPerHour | None:
    if size.speed_symbol is None or size.speed_above_300:
        return None
    try:
        return tables.top_speed(size.speed_symbol)
    except LookupError:
        return None


def _needed(case: Case, axle: Axle, sheet: AxleSheet | None) -> tuple[KmPerHour, Mark] | None:
    """Give the car's top speed, else that of the stock tyre's symbol."""
    if sheet is None or case.chassis is None:
        return None
    top = case.chassis.value.top_speed
    if top is not None:
        return top.value, marked(case.chassis, "top speed of the car", "top_speed")
    stock = _reach(sheet.stock_tyre.size)
    route = (axle.value, "stock_tyre", "size")
    return None if stock is None else (stock, marked(case.chassis, "the stock tyre", *route))
