"""Front and rear diameters no longer have the ratio the car was built for."""

from collections.abc import Iterator

from generator.geometry.gearing import DiameterPair, diameter_mismatch, percent_check
from generator.quantities.units import Percent
from generator.reading.fault import Fault, Severity
from generator.records.dimensions import (
    rim_width,
    stock_tyre_dimensions,
    tyre_dimensions,
)
from generator.records.fitted import AxleSetup
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import mm
from generator.records.words import Axle

GOOD: Percent = 1.5
MOST: Percent = 3.0
"""Change of the ratio of front to rear diameter: common practice."""

RULE = Rule(
    code="R34",
    title="front and rear diameters that do not go together",
    severity=Severity.WARNING,
    why="Anti-lock brakes and driven front and rear axles count the turns of both ends. Beyond "
    "three per cent early systems report a fault or brake one end too soon.",
    mend="Choose sizes whose diameters keep the stock ratio within one and a half per cent; ask "
    "the vehicle maker where anything counts the wheels' turns.",
    source="common practice",
    bad="setup: {rear: {tyre: {size: 195/65 R15 91V, approved_rims: left out, diameter: 634 mm}}}",
    good="setup: {rear: {tyre: {diameter: 617 mm}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Compare the ratio of what is fitted with that of the sheet."""
    if case.chassis is None:
        return
    try:
        sheet = [getattr(case.chassis.value, axle.value) for axle in Axle]
        stock = [stock_tyre_dimensions(end.stock_tyre, end.stock_wheel) for end in sheet]
        ends = [getattr(case.setup.value, axle.value) for axle in Axle]
        fitted = [tyre_dimensions(end.tyre, rim_width(end.wheel.size)) for end in ends]
        known = [tyre.diameter for tyre in (*stock, *fitted) if tyre is not None]
        if len(known) < len(stock) + len(fitted):
            return
        mismatch = diameter_mismatch(DiameterPair(*known[:2]), DiameterPair(*known[2:]))
    except ValueError:
        # A diameter of nothing has been reported where it stands.
        return
    if percent_check(mismatch, GOOD).margin >= 0.0:
        return
    front, rear = known[2:]
    change = f"{abs(mismatch.value):.1f} % {'more' if mismatch.value > 0.0 else 'less'}"
    fault = RULE.fault(
        case.setup.place(Axle.REAR.value, "tyre", _field(ends[1])),
        f"front over rear diameter, {mm(front.value)} over {mm(rear.value)}, is {change} than "
        "stock",
        expected=f"within {GOOD:g} % of stock, and {MOST:g} % at most",
        fix="check the sizes of both ends; ask the vehicle maker what counts the wheels' turns",
        also=(marked(case.setup, "the front", Axle.FRONT.value, "tyre", _field(ends[0])),),
    )
    is_far = percent_check(mismatch, MOST).margin < 0.0
    yield fault if is_far else RULE.note(fault)


def _field(end: AxleSetup) -> str:
    return "size" if end.tyre.diameter is None else "diameter"
