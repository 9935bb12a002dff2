"""An offset that fits the car or the backspacing only with the other sign was turned round."""

from collections.abc import Iterator

from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.axle_sheet import AxleSheet
from generator.records.fitted import AxleSetup
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import as_typed, mm
from generator.records.wheel_sum import Slip, explained, offset_field, wheel_sum

NEAR_STOCK: Mm = 25.0

RULE = Rule(
    "R04",
    "offset with the sign turned round",
    Severity.WARNING,
    "Offset is positive when the mounting face lies outboard of the rim's centre plane. With the "
    "sign turned round the wheel is placed wrong by twice the offset.",
    "Lay the wheel on its face: offset is backspacing less half the overall width. `Less offset` "
    "than stock is a smaller number, and not a negative one.",
    "UN R124 2.6",
    "setup: {front: {wheel: {offset: -22 mm}}}",
    "setup: {front: {wheel: {offset: 22 mm}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Check one setup."""
    for axle, fitted, sheet in case.axles():
        field = offset_field(fitted.wheel)
        offset = fitted.wheel.offset_measured or fitted.wheel.offset
        if offset is None:
            continue
        expected, label, where = _other_sign(fitted, sheet, offset.value)
        if not expected:
            continue
        route = (axle.value, "wheel")
        also = (marked(case.setup, label, *route, "backspacing"),) if label else ()
        if where is not None and case.chassis is not None:
            at = (axle.value, "stock_wheel", "offset")
            also = (*also, marked(case.chassis, "the stock wheel", *at))
        yield RULE.fault(
            case.setup.place(*route, field),
            f"offset {as_typed(offset)} would fit with the other sign, "
            f"{mm(2.0 * abs(offset.value))} away",
            expected=expected,
            fix=f"write `{field}: {mm(-offset.value)}` if the sign was turned round",
            also=also,
        )


def _other_sign(
    fitted: AxleSetup, sheet: AxleSheet | None, offset: Mm
) -> tuple[str, str, Mm | None]:
    """Give what was expected, a word on the backspacing, and the stock offset if that tells."""
    total = wheel_sum(fitted.wheel)
    if total is not None:
        if explained(total, fitted) is Slip.SIGN:
            by = mm(total.offset_by_sum)
            return f"{by} by backspacing and width", f"this asks for an offset of {by}", None
        if total.closes:
            return "", "", None
    if sheet is None:
        return "", "", None
    stock = sheet.stock_wheel.offset.value
    if abs(-offset - stock) <= NEAR_STOCK < abs(offset - stock):
        near = f"within {mm(NEAR_STOCK)} of the stock offset, {mm(stock)}"
        return near, "", stock
    return "", "", None
