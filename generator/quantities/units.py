"""Units: the aliases that name them in signatures, and the closed table of spellings.

Inside the program every number is a plain float in one unit a dimension: mm, deg, kg, N·m, bar,
km, km/h. pint derives the factors of all other units from their published definitions. Members'
text never reaches pint: a spelling is looked up in the table below, or it is not a unit.
"""

from enum import Enum
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, TypeAlias

from generator.frozen import dataclass

if TYPE_CHECKING:
    from pint import UnitRegistry

Mm: TypeAlias = float
Mm2: TypeAlias = float
Deg: TypeAlias = float
DegPerMm: TypeAlias = float
Kg: TypeAlias = float
Newton: TypeAlias = float
NewtonMetre: TypeAlias = float
Mpa: TypeAlias = float
Bar: TypeAlias = float
Km: TypeAlias = float
KmPerHour: TypeAlias = float
Metre: TypeAlias = float
Inch: TypeAlias = float
Ratio: TypeAlias = float
"""A pure number, 1 for the whole."""
Percent: TypeAlias = float
Probability: TypeAlias = float
"""From 0 to 1."""
Turns: TypeAlias = float
Years: TypeAlias = float


class Dimension(Enum):
    """What a number measures; the value is the word used in messages."""

    LENGTH = "length"
    DISTANCE = "distance"
    ANGLE = "angle"
    MASS = "mass"
    TORQUE = "torque"
    PRESSURE = "pressure"
    SPEED = "speed"
    ANGLE_PER_LENGTH = "angle per length"


@dataclass(frozen=True)
class Unit:
    """One unit of the closed table: how it is shown, what it measures, what pint calls it."""

    symbol: str
    dimension: Dimension
    expression: str
    spellings: tuple[str, ...]


# International definitions, exact: yard-pound agreement of 1959 (inch, pound), ISO 80000-3 and -4,
# standard gravity of the 3rd CGPM (1901). pint composes the rest, and the tests hold every factor
# against pint's own full registry.
_DEFINITIONS = (
    "millimetre = [length]",
    "kilogram = [mass]",
    "second = [time]",
    "degree = [angle]",
    "metre = 1000 * millimetre",
    "centimetre = 10 * millimetre",
    "kilometre = 1000 * metre",
    "inch = 25.4 * millimetre",
    "thousandth = inch / 1000",
    "foot = 12 * inch",
    "mile = 5280 * foot",
    "hour = 3600 * second",
    "gram = kilogram / 1000",
    "pound = 0.45359237 * kilogram",
    "newton = kilogram * metre / second ** 2",
    "pound_force = pound * 9.80665 * metre / second ** 2",
    "pascal = newton / metre ** 2",
    "kilopascal = 1000 * pascal",
    "bar = 100000 * pascal",
    "psi = pound_force / inch ** 2",
    "minute_of_arc = degree / 60",
)

UNITS: tuple[Unit, ...] = (
    Unit("mm", Dimension.LENGTH, "millimetre", ("mm", "millimetre", "millimetres")),
    Unit("cm", Dimension.LENGTH, "centimetre", ("cm", "centimetre", "centimetres")),
    Unit("in", Dimension.LENGTH, "inch", ("in", "inch", "inches")),
    Unit("thou", Dimension.LENGTH, "thousandth", ("thou", "thousandth", "thousandths")),
    Unit("km", Dimension.DISTANCE, "kilometre", ("km", "kilometre", "kilometres")),
    Unit("mi", Dimension.DISTANCE, "mile", ("mi", "mile", "miles")),
    Unit("deg", Dimension.ANGLE, "degree", ("deg", "degree", "degrees", "°")),
    Unit("arcmin", Dimension.ANGLE, "minute_of_arc", ("arcmin", "arcminutes")),
    Unit("kg", Dimension.MASS, "kilogram", ("kg", "kilogram", "kilograms")),
    Unit("g", Dimension.MASS, "gram", ("g", "gram", "grams")),
    Unit("lb", Dimension.MASS, "pound", ("lb", "lbs", "pound", "pounds")),
    Unit("N·m", Dimension.TORQUE, "newton * metre", ("N·m", "N m", "Nm", "N*m", "N.m")),
    Unit(
        "lb ft",
        Dimension.TORQUE,
        "pound_force * foot",
        ("lb ft", "lb·ft", "lbf ft", "lbf·ft", "ft lb", "ft·lb", "ft lbf", "lb-ft", "ft-lb"),
    ),
    Unit("lb in", Dimension.TORQUE, "pound_force * inch", ("lb in", "lbf in", "in lb", "in-lb")),
    Unit("bar", Dimension.PRESSURE, "bar", ("bar",)),
    Unit("psi", Dimension.PRESSURE, "psi", ("psi",)),
    Unit("kPa", Dimension.PRESSURE, "kilopascal", ("kPa", "kpa")),
    Unit("km/h", Dimension.SPEED, "kilometre / hour", ("km/h", "kph")),
    Unit("mph", Dimension.SPEED, "mile / hour", ("mph",)),
    Unit("deg/mm", Dimension.ANGLE_PER_LENGTH, "degree / millimetre", ("deg/mm", "°/mm")),
    Unit("deg/in", Dimension.ANGLE_PER_LENGTH, "degree / inch", ("deg/in", "°/in")),
)


CANONICAL: dict[Dimension, Unit] = {unit.dimension: unit for unit in reversed(UNITS)}
"""The unit every number of a dimension is kept in: the first of its kind in the table."""

BY_SPELLING: dict[str, Unit] = {spelling: unit for unit in UNITS for spelling in unit.spellings}


_KEPT: dict[str, str] = {
    "mm": "1",
    "cm": "10",
    "in": "127/5",
    "thou": "127/5000",
    "km": "1",
    "mi": "25146/15625",
    "deg": "1",
    "arcmin": "1/60",
    "kg": "1",
    "g": "1/1000",
    "lb": "45359237/100000000",
    "N·m": "1",
    "lb ft": "3389544870828501/2500000000000000",
    "lb in": "1129848290276167/10000000000000000",
    "bar": "1",
    "psi": "8896443230521/129032000000000",
    "kPa": "1/100",
    "km/h": "1",
    "mph": "25146/15625",
    "deg/mm": "1",
    "deg/in": "5/127",
}
"""What pint gave for each unit, as exact fractions, so that reading a record does not have to load
pint. Every build and the tests compute them anew; `told_by_pint` does."""


@cache
def factor(unit: Unit) -> float:
    """Give what a number in `unit` is multiplied by to reach the canonical unit of its dimension.

    >>> factor(BY_SPELLING["in"])
    25.4
    """
    return float(Fraction(_KEPT[unit.symbol]))


def told_by_pint(unit: Unit) -> Fraction:
    """Let pint compute the factor of a unit, exactly."""
    registry = _registry()
    quantity = registry.Quantity(Fraction(1), registry.parse_units(unit.expression))
    canonical = registry.parse_units(CANONICAL[unit.dimension].expression)
    return Fraction(quantity.to(canonical).magnitude)


def disagreements() -> tuple[str, ...]:
    """Give the units whose kept factor is not the one that pint gives; none, or it is a bug."""
    kept = {unit.symbol: Fraction(_KEPT[unit.symbol]) for unit in UNITS}
    return tuple(unit.symbol for unit in UNITS if told_by_pint(unit) != kept[unit.symbol])


@cache
def _registry() -> "UnitRegistry[Fraction]":
    from pint import UnitRegistry

    registry: UnitRegistry[Fraction] = UnitRegistry(None, non_int_type=Fraction)
    for line in _DEFINITIONS:
        registry.define(line)
    return registry


def in_unit(value: float, unit: Unit) -> float:
    """Give a canonical value as a number in another unit of its dimension.

    >>> round(in_unit(25.4, BY_SPELLING["in"]), 6)
    1.0
    """
    return value / factor(unit)


def units_of(dimension: Dimension) -> tuple[Unit, ...]:
    """Give the units a dimension may be written in, the canonical one first."""
    canonical = CANONICAL[dimension]
    return (canonical, *(u for u in UNITS if u.dimension is dimension and u is not canonical))
