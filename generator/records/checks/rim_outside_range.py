"""A tyre is mounted on a rim outside its approved range of widths."""

from collections.abc import Iterator

from generator.frozen import dataclass
from generator.published import tables
from generator.quantities.units import Inch
from generator.reading.fault import Fault, Severity
from generator.records.fitted import TyreFitted
from generator.records.library import Case
from generator.records.rule import Rule, marked

MM_PER_INCH = 25.4
FAR: Inch = 1.5
"""Beyond the range by more than this a tyre is not asked about but refused: common practice."""
TABLE_SPREAD: Inch = 0.5
"""Makers approve half an inch more or less than the tables known to the guide: common practice."""
_DUST: Inch = 0.01
"""Below any step in which rims are made; takes up the rounding of millimetres."""

RULE = Rule(
    code="R27",
    title="a rim outside the tyre's range",
    severity=Severity.ERROR,
    why="On too narrow a rim the tyre bulges and steers vaguely, on too wide a rim its bead may "
    "come off the seat. The tyre maker's range governs, and many inspectors hold to it.",
    mend="Look the range up with the tyre's maker and write it as `approved_rims`; outside it, "
    "choose another tyre or wheel.",
    source="ISO 4000-1; ranges of ETRTO from memory",
    bad="setup: {front: {wheel: {size: 9 x 15}}}",
    good="setup: {front: {tyre: {approved_rims: 5.5 to 7.5 in}}}",
)


@dataclass(frozen=True)
class _Range:
    least: Inch
    most: Inch
    is_of_maker: bool


def check(case: Case) -> Iterator[Fault]:
    """Hold the stamped rim width against the range, at both ends."""
    for axle, fitted, _ in case.axles():
        allowed = _range(fitted.tyre)
        if allowed is None:
            continue
        width = fitted.wheel.size.width_code
        beyond = max(allowed.least - width, width - allowed.most)
        if beyond <= (_DUST if allowed.is_of_maker else TABLE_SPREAD + _DUST):
            continue
        wide = "wide" if width > allowed.most else "narrow"
        whose = "the tyre maker's range" if allowed.is_of_maker else "the range of the tables"
        field = "approved_rims" if allowed.is_of_maker else "size"
        fault = RULE.fault(
            case.setup.place(axle.value, "wheel", "size"),
            f"a rim of {width:g} in is {beyond:.2g} in too {wide} for {fitted.tyre.size.typed}",
            expected=f"{allowed.least:.3g} to {allowed.most:.3g} in, {whose}",
            fix="use another tyre or wheel, or write the maker's range as `approved_rims`",
            also=(marked(case.setup, whose, axle.value, "tyre", field),),
        )
        yield fault if beyond > FAR + _DUST else RULE.warning(fault)


def _range(tyre: TyreFitted) -> _Range | None:
    own = tyre.approved_rims
    if own is not None:
        return _Range(own.low / MM_PER_INCH, own.high / MM_PER_INCH, is_of_maker=True)
    known = tables.approved_rims(tyre.size)
    return None if known is None else _Range(known.least, known.most, is_of_maker=False)
