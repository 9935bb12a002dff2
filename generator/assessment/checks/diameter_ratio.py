"""Front and rear tyres no longer turn in the ratio the car was built for."""

from collections.abc import Iterator

from generator.assessment.car import Car, End
from generator.assessment.finding import Finding, Follows, Gravity, Hazard, Where
from generator.geometry.gearing import DiameterPair, diameter_mismatch, percent_check
from generator.quantities.estimate import Estimate
from generator.records.checks.diameters_front_to_rear import GOOD, MOST

HAZARD = Hazard(
    "H22",
    "front and rear diameters",
    "Anti-lock brakes and driven front and rear axles count the turns of both ends. A changed "
    "ratio makes them err, or wears what joins the axles.",
    "PRACTICE",
    Gravity.CARE,
)


def findings_of_car(car: Car) -> Iterator[Finding]:
    """Hold the change of the ratio of diameters against the limit of common practice.

    Source: [PRACTICE] 1.5 % good, 3 % the limit.
    """
    known = [each for end in (car.front, car.rear) if (each := _diameters(end)) is not None]
    if len(known) != 2:
        yield HAZARD.not_known(
            Where(),
            "The ratio of front to rear diameter is not known.",
            measure="Measure each tyre's circumference with a thin tape.",
        )
        return
    (front_stock, front), (rear_stock, rear) = known
    change = diameter_mismatch(DiameterPair(front_stock, rear_stock), DiameterPair(front, rear))
    check = percent_check(change, MOST)
    yield HAZARD.checked(
        Where(),
        check,
        "%",
        sentence=f"The ratio of front to rear diameter differs from stock by "
        f"{change.value:+.1f} %; {GOOD:.3g} % is good, {MOST:.3g} % the limit.",
        follows=Follows(
            holds="",
            fails="Ask the vehicle maker what counts the wheels' turns; choose sizes nearer the "
            "stock ratio.",
        ),
    )


def _diameters(end: End) -> tuple[Estimate, Estimate] | None:
    stock, fitted = end.fit.stock.tyre, end.fit.fitted.tyre
    return None if stock is None or fitted is None else (stock.diameter, fitted.diameter)
