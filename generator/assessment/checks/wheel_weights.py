"""One wheel of a set weighs otherwise than the rest."""

from collections.abc import Iterator
from math import hypot, sqrt

from generator.assessment.car import Car
from generator.assessment.finding import Finding, Follows, Gravity, Hazard, Where
from generator.geometry.inspection import weight_spread
from generator.quantities.quantity import Quantity
from generator.quantities.units import Kg, Percent
from generator.records.fitted import WheelFitted

FEWEST = 3
SCALE_U: Kg = 0.05
"""Spread of readings of one scale: assumed."""
LIMIT: Percent = 3.0
"""Spread of a set's weights: common practice."""

HAZARD = Hazard(
    "H26",
    "weights of the wheels",
    "Wheels of one size and make weigh alike. An odd one is another part, another casting, or has "
    "a core left in it.",
    "PRACTICE",
    Gravity.NOTE,
)


def findings_of_car(car: Car) -> Iterator[Finding]:
    """Hold the spread of the weights of equal wheels against 3 % of their mean.

    Source: [PRACTICE] pairs within 2 to 3 %.
    """
    for where, masses in _sets(car):
        if len(masses) < FEWEST:
            yield HAZARD.not_known(
                where,
                "Whether the wheels weigh alike is not known.",
                measure="Weigh all bare wheels on one scale, each twice, before a tyre goes on.",
            )
            continue
        kilograms = tuple(mass.value for mass in masses)
        coarsest = max(mass.resolution for mass in masses)
        found = weight_spread(kilograms, u=hypot(SCALE_U, coarsest / sqrt(12.0)))
        odd = "" if found.odd is None else f" The one of {kilograms[found.odd]:.2f} kg stands out."
        yield HAZARD.checked(
            where,
            found.check(LIMIT),
            "%",
            sentence=f"The {len(masses)} wheels weigh {found.mean:.2f} kg on average, the heaviest "
            f"{found.spread:.2f} kg ({found.percent:.1f} %) more than the lightest; "
            f"up to {LIMIT:g} % is alike.{odd}",
            follows=Follows(
                holds="",
                fails="Compare stamps, castings and sizes before a tyre is mounted: a wheel that "
                "has carried a tyre does not go back.",
            ),
        )


def _sets(car: Car) -> Iterator[tuple[Where, tuple[Quantity, ...]]]:
    """Give the wheels that should weigh alike: all of them, or those of each axle."""
    front, rear = car.setup.front.wheel, car.setup.rear.wheel
    if _kind(front) == _kind(rear):
        yield Where(), front.masses + rear.masses
        return
    yield car.front.where, front.masses
    yield car.rear.where, rear.masses


def _kind(wheel: WheelFitted) -> tuple[object, ...]:
    return wheel.size, wheel.offset.value if wheel.offset else None, wheel.material
