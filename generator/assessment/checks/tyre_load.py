"""A tyre carries less than the axle may weigh."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Caution, Finding, Follows, Gravity, Hazard
from generator.geometry.bound import at_least
from generator.geometry.loads import axle_load_check
from generator.geometry.tyre import load_at_pressure
from generator.published import tables
from generator.quantities.estimate import Basis, Estimate
from generator.quantities.tyre_marks import Service
from generator.quantities.units import Bar, Kg, Ratio

GAUGE_U: Bar = 0.05
"""Spread of a tyre gauge: assumed."""

HAZARD = Hazard(
    "H14",
    "load capacity of the tyres",
    "Two tyres must carry the axle at its permitted load, at the pressure they run at and the "
    "speed the car can reach. An overloaded tyre fails at speed.",
    "UNR30",
    Gravity.DANGER,
    Caution.LOADS,
)


def findings(end: End) -> Iterator[Finding]:
    """Hold twice the tyre's capacity against the permitted axle load: rated, and as it is run.

    Source: [UNR30] annex 4, load index; [FMVSS120] sum over an axle; [ETRTO] law of load against
    pressure; [HANDBOOK] reductions for speed and camber.
    """
    permitted = end.sheet.permitted_load.value
    rated = _rated(end)
    if rated is None:
        yield HAZARD.not_known(
            end.where,
            f"The tyre's load index is not given; each must carry {permitted / 2.0:.0f} kg.",
            measure="Read the load index from the sidewall.",
        )
        return
    check = axle_load_check(rated, rated, axle_load=permitted)
    yield HAZARD.checked(
        end.where,
        check,
        "kg",
        sentence=f"Two tyres of load index {end.fitted.tyre.size.load_indices[0]} carry "
        f"{check.value:.0f} kg; the permitted axle load is {permitted:.0f} kg.",
        follows=Follows(
            holds="The vehicle maker's list and local law may ask for more.",
            fails="Do not drive on these: a higher load index is needed.",
        ),
    )
    yield _as_run(end, rated, permitted)


def _rated(end: End) -> Kg | None:
    indices = end.fitted.tyre.size.load_indices
    try:
        return tables.load_capacity(indices[0]) if indices else None
    except LookupError:
        return None


def _as_run(end: End, rated: Kg, permitted: Kg) -> Finding:
    size, pressure = end.fitted.tyre.size, end.fitted.tyre.pressure
    if pressure is None or size.service is not Service.PASSENGER:
        return HAZARD.not_known(
            end.where,
            "What the tyres carry at the pressure they are run at is not known.",
            measure="Read the cold pressure, and look up the load at that pressure in the tyre "
            "maker's table.",
        )
    try:
        share, words = _share_of_speed(end)
        rise = tables.pressure_rise_for_camber(end.fitted.camber.value if end.fitted.camber else 0)
    except LookupError as beyond:
        return HAZARD.not_known(
            end.where,
            f"What the tyres carry as they are run is not known: {beyond}.",
            measure="Ask the tyre's maker for the load at this speed and camber.",
        )
    bar = Estimate(pressure.value, GAUGE_U, Basis.MEASURED, ("pressure measured",))
    carried = _at_pressure(end, rated * share, bar.scaled(1.0 / (1.0 + rise)))
    check = at_least(carried.scaled(2.0), permitted, source="ETRTO")
    camber = f" and {rise * 100.0:.1f} % of pressure lost to camber" if rise else ""
    return HAZARD.checked(
        end.where,
        check,
        "kg",
        sentence=f"At {pressure.value:.3g} bar cold{words}{camber} the two tyres carry about "
        f"{check.value:.0f} kg; the axle may weigh {permitted:.0f} kg.",
        follows=Follows(
            holds="",
            fails="More pressure, or a higher load index, before the car is loaded or driven "
            "fast; the tyre maker's table governs.",
        ),
    )


def _share_of_speed(end: End) -> tuple[Ratio, str]:
    """Give the share of load at the car's top speed; all of it where that is not given."""
    top, symbol = end.chassis.top_speed, end.fitted.tyre.size.speed_symbol
    if top is None or symbol is None:
        return 1.0, " (top speed or speed symbol not known, no reduction for speed)"
    return tables.load_share_at_speed(symbol, top.value), f" and {top.value:.3g} km/h"


def _at_pressure(end: End, load: Kg, bar: Estimate) -> Estimate:
    law = tables.load_pressure_law()
    extra = end.fitted.tyre.size.is_extra_load
    reference = law.reference_extra if extra else law.reference_standard

    def carried(pressure: Bar) -> Kg:
        return load_at_pressure(load, pressure, rated_pressure=reference, exponent=law.exponent)

    # First order in the pressure [GUM] 5.1, by the difference over one u below.
    value = carried(bar.value)
    return Estimate(value, value - carried(bar.value - bar.u), Basis.INFERRED, bar.sources)
