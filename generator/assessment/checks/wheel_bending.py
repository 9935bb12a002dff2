"""What bending moment the car asks of the wheel, against what the stock wheel sees."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Caution, Finding, Gravity, Hazard
from generator.geometry.bound import Change
from generator.geometry.gearing import rolling_radius
from generator.geometry.loads import (
    STANDARD_GRAVITY,
    WheelLoad,
    j328_moment,
    r124_moments,
)
from generator.geometry.tyre import loaded_radius, rolling_circumference
from generator.published import fastening, tables
from generator.quantities.estimate import Estimate
from generator.quantities.units import Mm, Newton, Ratio
from generator.records.words import Axle, Material

HAZARD = Hazard(
    "H18",
    "bending moment of the wheel",
    "A wheel's strength is proved by bending it as it turns. Load, tyre radius and inset enter: a "
    "wheel proved with another tyre or offset was proved for another moment.",
    "SAEJ328",
    Gravity.NOTE,
    Caution.LOADS,
)
FOLLOWS = (
    "Information: ask the wheel's maker for the moment, or the load with tyre and offset, it was "
    "proved at. A spacer does not enter here, but loads studs and bearing."
)


def findings(end: End) -> Iterator[Finding]:
    """State the test moments with this car's figures, beside those of the stock wheel.

    Model: half the permitted axle load; inset of the bare wheel, an inset adds; both wheels with
    the factor of the fitted wheel's material.
    Source: [SAEJ328] equation 1, second hand; [UNR124] annex 6, from memory.
    """
    fitted, stock = end.fit.fitted, end.fit.stock
    if fitted.wheel is None or fitted.tyre is None or stock.wheel is None or stock.tyre is None:
        yield HAZARD.not_known(
            end.where,
            "The wheel's bending moment is not known, as offset or tyre diameter is not.",
            measure="Measure backspacing and overall width, and the tyre's diameter.",
        )
        return
    load = end.sheet.permitted_load.value / 2.0 * STANDARD_GRAVITY
    factor, material = factor_of(end.fitted.wheel.material, end.axle)
    diameters = stock.tyre.diameter, fitted.tyre.diameter
    insets = stock.wheel.offset.value, fitted.wheel.offset.value
    standing = [loaded_radius(each).value for each in diameters]
    rolling = [_rolling_radius(end, each) for each in diameters]
    of_j328 = Change(*(j328_moment(each, factor=factor) for each in _pair(load, standing, insets)))
    of_r124 = Change(*(r124_moments(each).greatest for each in _pair(load, rolling, insets)))
    yield HAZARD.stated(
        end.where,
        of_j328.after,
        "N·m",
        sentence=f"Bending moment by SAE J328, {material}: {_words(of_j328)}.",
        follows=FOLLOWS,
    )
    yield HAZARD.stated(
        end.where,
        of_r124.after,
        "N·m",
        sentence=f"Bending moment by UN R124: {_words(of_r124)}.",
        follows=FOLLOWS,
    )


def _pair(load: Newton, radii: list[Mm], insets: tuple[Mm, Mm]) -> list[WheelLoad]:
    return [WheelLoad(load, *each) for each in zip(radii, insets, strict=True)]


def _rolling_radius(end: End, diameter: Estimate) -> Mm:
    factor = tables.rolling_factor(end.fitted.tyre.size.construction)
    return rolling_radius(rolling_circumference(diameter, factor=factor).value)


def factor_of(material: Material | None, axle: Axle) -> tuple[Ratio, str]:
    """Give the test's load factor by material; aluminium, the higher one, where none is given."""
    table, words = {
        Material.STEEL: ("ferrous", "steel"),
        Material.ALUMINIUM: ("cast or forged aluminium", "cast or forged aluminium"),
        None: ("cast or forged aluminium", "taken as cast aluminium"),
    }[material]
    factors = fastening.rotary_fatigue(table)
    return (factors.front if axle is Axle.FRONT else factors.rear), words


def _words(change: Change) -> str:
    return (
        f"{change.after:.0f} N·m with this wheel and tyre, {change.before:.0f} N·m with the stock "
        f"ones ({change.percent or 0.0:+z.0f} %)"
    )
