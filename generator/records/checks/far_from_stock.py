"""Both faces of the tyre stand within a hand's breadth of where the stock tyre's stand."""

from collections.abc import Iterator

from generator.quantities.units import Mm
from generator.reading.fault import Fault, Mark, Severity
from generator.records.fitted import AxleSetup
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.stance import fitted_stance, moved, stock_stance
from generator.records.told import apart, mm
from generator.records.wheel_sum import offset_field
from generator.records.words import Axle

ODD: Mm = 80.0
GRAVE: Mm = 130.0
MOST_OFFSET: Mm = 75.0
"""No car's wheel has more, and any backspacing may: common practice."""

RULE = Rule(
    "R09",
    "the tyre stands far from the stock tyre's place",
    Severity.ERROR,
    "Hardly any car takes a tyre whose face lies more than 80 mm from the stock tyre's. A sign "
    "turned round, inches for millimetres or the values of another wheel do that. More than 130 mm "
    "is an error.",
    "Check the sign of the offset, the spacer, the moved hub face and the section width.",
    "common practice",
    "setup: {rear: {wheel: {offset: -70 mm, backspacing: left out}}}",
    "setup: {rear: {wheel: {offset: 5 mm, backspacing: left out}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Check one setup."""
    for axle, fitted, sheet in case.axles():
        new = fitted_stance(fitted)
        old = stock_stance(sheet) if sheet else None
        if new is None or old is None:
            continue
        change = moved(new, old)
        inner, outer = change.inner.value, change.outer.value
        worst = max(abs(inner), abs(outer))
        if worst <= ODD:
            continue
        face, by = ("inboard", inner) if abs(inner) == worst else ("outboard", outer)
        # Both changes are positive away from the tyre's middle plane.
        way = face if by > 0.0 else {"inboard": "outboard", "outboard": "inboard"}[face]
        stock = old.faces.inboard if face == "inboard" else old.faces.outboard
        now = new.faces.inboard if face == "inboard" else new.faces.outboard
        fault = RULE.fault(
            case.setup.place(axle.value, "wheel", _field(fitted)),
            f"the tyre's {face} face stands {apart(by)} further {way} than the stock tyre's",
            expected=f"within {mm(ODD)}: stock at {mm(stock.value)} from the hub face, outboard "
            f"positive, here at {mm(now.value)}",
            fix=_fix(fitted),
            also=_marks(case, axle, fitted),
        )
        yield fault if worst > GRAVE else RULE.warning(fault)


def _field(fitted: AxleSetup) -> str:
    field = offset_field(fitted.wheel)
    return field if getattr(fitted.wheel, field) is not None else "backspacing"


def _fix(fitted: AxleSetup) -> str:
    offset = fitted.wheel.offset
    if offset is not None and fitted.wheel.backspacing is None and offset.value > MOST_OFFSET:
        return f"write `backspacing: {offset.typed}` if it was measured to the inboard lip"
    checked = ["offset with its sign", "section width"]
    if fitted.spacer is not None:
        checked.append("spacer")
    if fitted.face_moved is not None:
        checked.append("moved hub face")
    return f"check {', '.join(checked[:-1])} and {checked[-1]}"


def _marks(case: Case, axle: Axle, fitted: AxleSetup) -> tuple[Mark, ...]:
    marks = []
    if fitted.spacer is not None:
        marks.append(marked(case.setup, "with this spacer", axle.value, "spacer", "thickness"))
    if fitted.face_moved is not None:
        marks.append(marked(case.setup, "with the hub face moved", axle.value, "face_moved"))
    return tuple(marks)
