"""The tyre is mounted on a rim its maker does not approve."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Caution, Finding, Follows, Gravity, Hazard
from generator.geometry.bound import at_least, at_most
from generator.published import tables
from generator.quantities.units import Inch
from generator.records.dimensions import MM_PER_INCH

HAZARD = Hazard(
    "H17",
    "rim width for the tyre",
    "On too narrow a rim a tyre bulges and steers vaguely; on too wide a rim its bead may come off "
    "its seat. The tyre maker's range for that very tyre decides.",
    "ETRTO",
    Gravity.DANGER,
    Caution.LOADS,
)


def findings(end: End) -> Iterator[Finding]:
    """Hold the rim's width against the approved range: the maker's, else the tables'.

    Source: the tyre's maker as the record gives it; [ETRTO] rim tables, from memory.
    """
    tyre, width = end.fitted.tyre, end.fitted.wheel.size.width_code
    allowed, source = _range(end)
    if allowed is None:
        yield HAZARD.not_known(
            end.where,
            f"Which rims {tyre.size.designation} is approved for is not known.",
            measure="Look the range up with the tyre's maker, for that very tyre.",
        )
        return
    least, most = allowed
    worst = min(
        (at_least(width, least, source=source), at_most(width, most, source=source)),
        key=lambda check: check.margin,
    )
    whose = "its maker approves" if tyre.approved_rims else "the tables known to the guide give"
    yield HAZARD.checked(
        end.where,
        worst,
        "in",
        sentence=f"{tyre.size.designation} stands on a rim of {width:g} in; {whose} {least:g} to "
        f"{most:.3g} in.",
        follows=Follows(
            holds=""
            if tyre.approved_rims
            else "By the tables the rim suits; the tyre maker's own range decides.",
            fails="Do not use this pair unless the tyre's maker approves it.",
        ),
    )


def _range(end: End) -> tuple[tuple[Inch, Inch] | None, str]:
    own = end.fitted.tyre.approved_rims
    if own is not None:
        # Makers' ranges are in half inches; millimetres are typed rounded.
        return (round(own.low / MM_PER_INCH, 2), round(own.high / MM_PER_INCH, 2)), "tyre maker"
    known = tables.approved_rims(end.fitted.tyre.size)
    return (None if known is None else (known.least, known.most)), "ETRTO"
