"""The tyres are not made for the speed the car reaches."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Caution, Finding, Follows, Gravity, Hazard
from generator.geometry.loads import speed_symbol_check
from generator.published import tables
from generator.quantities.tyre_marks import TyreSize
from generator.quantities.units import KmPerHour

HAZARD = Hazard(
    "H16",
    "speed symbol",
    "A tyre run above the speed of its symbol overheats. The law of many places asks for the "
    "symbol on the car's list.",
    "UNR30",
    Gravity.CARE,
    Caution.LOADS,
)


def findings(end: End) -> Iterator[Finding]:
    """Hold the speed of the symbol against the car's top speed.

    Source: [UNR30] speed symbols.
    """
    reach, top = _reach(end.fitted.tyre.size), end.chassis.top_speed
    if reach is None or top is None:
        missing = "the tyre's speed symbol" if reach is None else "the car's top speed"
        yield HAZARD.not_known(
            end.where,
            f"Whether the tyres are made for the car's speed is not known: {missing} is missing.",
            measure="Read the symbol from the sidewall and the top speed from the car's papers.",
        )
        return
    yield HAZARD.checked(
        end.where,
        speed_symbol_check(reach, top.value),
        "km/h",
        sentence=f"The tyre's symbol {end.fitted.tyre.size.speed_symbol} is for {reach:.3g} km/h; "
        f"the car reaches {top.value:.3g} km/h.",
        follows=Follows(
            holds="",
            fails="Keep below the symbol's speed and fit faster tyres; ask the authority.",
        ),
    )


def _reach(size: TyreSize) -> KmPerHour | None:
    try:
        return tables.top_speed(size.speed_symbol) if size.speed_symbol else None
    except LookupError:
        return None
