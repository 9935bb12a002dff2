"""A tightening torque is far from what is usual for the thread, or is a number in lb ft."""

from collections.abc import Iterator

from generator.published import fastening
from generator.published.values import TorqueBand
from generator.quantities.thread import Thread
from generator.quantities.units import NewtonMetre, Ratio
from generator.reading.fault import Fault, Severity
from generator.records.axle_sheet import AxleSheet
from generator.records.fitted import AxleSetup
from generator.records.joint import is_bolted
from generator.records.library import Case
from generator.records.rule import Rule, marked

LEAST_SHARE: Ratio = 0.7
MOST_SHARE: Ratio = 1.5
"""Beyond these shares of the usual band a torque is asked about: common practice."""
NEWTON_METRE_PER_POUND_FOOT: Ratio = 1.3558179483
"""Exact to the digits given: the pound, the foot and standard gravity [ISO 80000-4]."""
SLIP_WITHIN: Ratio = 0.025
"""How near a number in the other unit must come to the maker's torque: judgement of the guide."""

RULE = Rule(
    code="R22",
    title="an unusual tightening torque",
    severity=Severity.WARNING,
    why="Too little torque lets a wheel work loose, too much stretches the studs. A number in "
    "lb ft taken for N·m is a quarter short. The vehicle maker's figure governs.",
    mend="Look up the vehicle maker's torque, and write the unit of the wrench that was used.",
    source="common practice",
    bad="setup: {front: {hardware: {torque: 70 N·m}}}",
    good="setup: {front: {hardware: {torque: 70 lb ft}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Hold the torque of both ends against the sheet and against the band of the thread."""
    for axle, fitted, sheet in case.axles():
        hardware = fitted.hardware
        if hardware is None or hardware.torque is None:
            continue
        torque = hardware.torque
        place = case.setup.place(axle.value, "hardware", "torque")
        maker = _maker_torque(hardware.thread, sheet)
        slip = _slip(torque.value, torque.unit.symbol, maker)
        if maker is not None and slip and case.chassis is not None:
            route = (axle.value, "fastening", "torque")
            number = torque.typed.split(" ")[0]
            yield RULE.fault(
                place,
                f"{torque.typed} would be the maker's torque if the unit were {slip}",
                expected=f"about {maker:g} N·m, the maker's torque",
                fix=f"write `torque: {number} {slip}` if the wrench showed {slip}",
                also=(marked(case.chassis, "the maker's torque", *route),),
            )
            continue
        band = _band(fitted, sheet)
        if band is None or LEAST_SHARE * band.least <= torque.value <= MOST_SHARE * band.greatest:
            continue
        yield RULE.fault(
            place,
            f"{torque.typed} is far {'below' if torque.value < band.least else 'above'} what is "
            f"usual for {hardware.thread}",
            expected=f"usually {band.least:g} to {band.greatest:g} N·m; the vehicle maker's figure "
            "governs",
            fix="write the torque that was used, with the wrench's unit",
        )


def _maker_torque(thread: Thread, sheet: AxleSheet | None) -> NewtonMetre | None:
    """Give the maker's torque where the record has the maker's thread."""
    if sheet is None or sheet.fastening.thread != thread:
        return None
    return sheet.fastening.torque.value


def _slip(torque: NewtonMetre, unit: str, maker: NewtonMetre | None) -> str:
    """Name the other unit if the number in it would be the maker's torque."""
    if maker is None:
        return ""
    factor = NEWTON_METRE_PER_POUND_FOOT
    for typed, other, times in (("N·m", "lb ft", factor), ("lb ft", "N·m", 1.0 / factor)):
        if unit == typed and abs(torque * times - maker) <= SLIP_WITHIN * maker:
            return other
    return ""


def _band(fitted: AxleSetup, sheet: AxleSheet | None) -> TorqueBand | None:
    assert fitted.hardware is not None
    thread = fitted.hardware.thread
    try:
        if is_bolted(fitted, sheet):
            return fastening.bolt_torque_band(thread)
        return fastening.torque_band(thread)
    except LookupError:
        return None
