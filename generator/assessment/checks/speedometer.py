"""The speedometer reads low, or too high for the law."""

from collections.abc import Iterator

from generator.assessment.car import Car
from generator.assessment.finding import Caution, Finding, Follows, Gravity, Hazard, Where
from generator.geometry.gearing import indicated_speed, speedometer_checks
from generator.quantities.units import KmPerHour, Percent
from generator.records.words import Drive

AT: KmPerHour = 100.0
STOCK_ERROR: tuple[Percent, Percent] = (3.0, 6.0)
"""How much instruments read high on the stock tyre: common practice."""

HAZARD = Hazard(
    "H23",
    "speedometer",
    "A larger tyre makes a speedometer read low; by law it may read high up to a tenth and 4 km/h, "
    "and never low.",
    "UNR39",
    Gravity.CARE,
    Caution.LAW,
)


def findings_of_car(car: Car) -> Iterator[Finding]:
    """Hold the speed shown at a true 100 km/h against the law, on the driven axle's tyres.

    Model: the instrument read 3 to 6 % high on the stock tyre, the usual range; its own error is
    not in the record.
    Source: [UNR39] 5.3; stock error [PRACTICE].
    """
    end = car.front if car.chassis.drive is Drive.FRONT else car.rear
    stock, fitted = end.fit.stock.tyre, end.fit.fitted.tyre
    if stock is None or fitted is None:
        yield HAZARD.not_known(
            Where(),
            "What the speedometer shows is not known, as a tyre diameter is not.",
            measure="Drive a measured kilometre at a steady reading and take the time.",
        )
        return
    shown = [
        indicated_speed(AT, error, stock=stock.diameter, fitted=fitted.diameter)
        for error in STOCK_ERROR
    ]
    low, high = speedometer_checks(shown[0], AT)[0], speedometer_checks(shown[1], AT)[1]
    worst = min((low, high), key=lambda check: check.margin)
    yield HAZARD.checked(
        Where(),
        worst,
        "km/h",
        sentence=f"At a true {AT:.3g} km/h the speedometer shows about {shown[0].value:.0f} to "
        f"{shown[1].value:.0f} km/h, if it read {STOCK_ERROR[0]:g} to {STOCK_ERROR[1]:g} % high "
        f"on the stock tyre; UN R39 asks for {low.bound:.3g} to {high.bound:.3g} km/h.",
        follows=Follows(
            holds="Check it against a measured kilometre: its own error is not known.",
            fails="Measure it over a known kilometre, and have it corrected where it reads low.",
        ),
    )
