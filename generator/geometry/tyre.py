"""Tyre dimensions: what a size and a rim make, within which limits, and what was measured.

Lengths in mm. Whole millimetres are made by rounding half up, as the tyre regulations do. A
function whose name ends in `_exact` leaves the rounding out; the fit itself uses those.
"""

from math import floor, hypot, sqrt

from generator.frozen import dataclass
from generator.quantities.estimate import Basis, Estimate, weakest
from generator.quantities.units import Bar, Kg, KmPerHour, Mm, Percent, Ratio

WIDTH_FACTOR: Ratio = 0.4
"""K: section width per mm of rim width [UNR30] 6.1.1.1."""
WIDTH_FACTOR_CONFIGURATION_A: Ratio = 0.6
"""K of tyres with tyre-to-rim configuration symbol A [UNR30], second hand."""
HEIGHT_FACTOR_LEAST: Ratio = 0.97
"""a: least section height of a new tyre over nominal [UNR30] 6.1.5, from memory."""
HEIGHT_FACTOR_GREATEST: Ratio = 1.04
"""b: greatest section height of a new radial over nominal [UNR30] 6.1.5, from memory."""
OVERALL_WIDTH_FACTOR: Ratio = 1.04
"""Greatest overall width of a radial over its section width [UNR30] 6.1.4.2, from memory."""
SECTION_WIDTH_U: Mm = 6.0
"""Section of another design of the same size, one standard deviation [PRACTICE]."""
DIAMETER_U: Mm = 5.0
"""Diameter of another design of the same size, one standard deviation [PRACTICE]."""
TREAD_SHARE: Ratio = 0.86
"""Tread over section width, middle of 0.75 (touring) to 0.97 (competition) [PRACTICE]."""
TREAD_SHARE_U: Ratio = 0.22 / sqrt(12.0)
"""Rectangular distribution over that range [GUM] 4.3.7."""
WIDTH_FACTOR_U: Ratio = 0.1
"""Spread of K about the regulation's 0.4 for one tyre moved to another rim: assumed."""
LOADED_SHARE: Ratio = 0.965
"""Loaded over free radius, middle of 0.96 to 0.97 [PRACTICE]."""
LOADED_SHARE_U: Ratio = 0.01
"""Spread of that share over pressures and loads [PRACTICE]."""
DEFLECTION_SHARE: Ratio = 0.16
"""Deflection at rated load over section height: a modelling guess [TYRELIBRARY]."""
DEFLECTION_SHARE_U: Ratio = 0.04
"""Spread of that guess, so that the 0.96 of common practice lies within one step: assumed."""
ROLLING_FACTOR: Ratio = 3.05
"""Rolling circumference over diameter, radial, by [ETRTO], from memory; diagonal 2.99."""
ROLLING_FACTOR_U: Ratio = 0.015
"""Half a per cent: handbook examples have an effective radius 6 to 9 mm under the free one."""
PRESSURE_EXPONENT: Ratio = 0.8
"""Load over inflation pressure by [ETRTO]; 0.65 for indices its tables mark."""
SPEEDOMETER_SLOPE: Ratio = 1.1
"""[UNR39] 5.3: at most a tenth over the true speed, and the offset below."""
SPEEDOMETER_OFFSET: KmPerHour = 4.0
"""[UNR39] 5.3."""
_MM_PER_INCH: Mm = 25.4
_MM_PER_KM: Mm = 1.0e6
_DECIMAL_SLACK: float = 1e-9
"""A decimal half such as 102.5 may sit a hair under itself in binary; far below any tolerance."""


@dataclass(frozen=True)
class Limits:
    """Least and greatest of a length."""

    least: Mm
    greatest: Mm


@dataclass(frozen=True)
class TyreDimensions:
    """A mounted tyre as the fit uses it; no tread width means nobody measured it."""

    section_width: Estimate
    tread_width: Estimate | None
    diameter: Estimate

    def tread(self) -> Estimate:
        """Give the tread width, or the usual share of the section where it was not measured."""
        return self.tread_width or assumed_tread_width(self.section_width)


def round_half_up(value: float) -> int:
    """Round to the nearest whole number, halves upward.

    Source: [UNR30] 6.1.1.1 to 6.1.5, rounding to whole millimetres.
    >>> round_half_up(102.5)
    103
    """
    return floor(value + 0.5 + _DECIMAL_SLACK)


def section_height_exact(nominal_width: Mm, aspect: Percent) -> Mm:
    """Give the nominal section height without rounding.

    nominal_width, aspect: > 0. Raises ValueError otherwise.
    Source: [UNR30] 6.1.2.
    >>> section_height_exact(205.0, 50.0)
    102.5
    """
    if not (nominal_width > 0.0 and aspect > 0.0):
        raise ValueError("section width and aspect ratio are above zero")
    return nominal_width * aspect / 100.0


def section_height(nominal_width: Mm, aspect: Percent) -> Mm:
    """Give the nominal section height in whole millimetres.

    nominal_width, aspect: > 0. Raises ValueError otherwise.
    Source: [UNR30] 6.1.2.
    >>> section_height(205.0, 50.0)
    103.0
    """
    return float(round_half_up(section_height_exact(nominal_width, aspect)))


def overall_diameter(rim_diameter: Mm, height: Mm) -> Mm:
    """Give the tyre's outer diameter D = d + 2H.

    rim_diameter: by the regulation's table, not 25.4 × code. Both > 0, else ValueError.
    Source: [UNR30] 6.1.2.1.
    >>> overall_diameter(406.0, section_height(205.0, 55.0))
    632.0
    """
    if not (rim_diameter > 0.0 and height > 0.0):
        raise ValueError("rim diameter and section height are above zero")
    return rim_diameter + 2.0 * height


def section_width_exact(
    reference_width: Mm, reference_rim: Mm, *, rim_width: Mm, width_factor: Ratio = WIDTH_FACTOR
) -> Mm:
    """Give the section width on a rim without rounding: S = S1 + K (A − A1).

    Holds near the approved rims; no promise about one maker's tyre. reference_width,
    reference_rim: nominal width on the theoretical rim, or catalogue width on the measuring rim.
    rim_width: code × 25.4, unrounded. All > 0, ValueError otherwise.
    Source: [UNR30] 6.1.1.1.
    >>> round(section_width_exact(205.0, 0.70 * 205.0, rim_width=6.5 * 25.4), 2)
    213.64
    """
    if not (reference_width > 0.0 and reference_rim > 0.0 and rim_width > 0.0):
        raise ValueError("section and rim widths are above zero")
    return reference_width + width_factor * (rim_width - reference_rim)


def section_width_on_rim(
    reference_width: Mm, reference_rim: Mm, *, rim_width: Mm, width_factor: Ratio = WIDTH_FACTOR
) -> Mm:
    """Give the section width on a rim in whole millimetres; see `section_width_exact`.

    Raises ValueError as it does. Source: [UNR30] 6.1.1.1.
    >>> section_width_on_rim(205.0, 0.70 * 205.0, rim_width=6.5 * 25.4)
    214.0
    """
    exact = section_width_exact(
        reference_width, reference_rim, rim_width=rim_width, width_factor=width_factor
    )
    return float(round_half_up(exact))


def theoretical_rim_width(nominal_width: Mm, share: Ratio) -> Mm:
    """Give the theoretical rim width A1 = x S1, unrounded; x is declared by the tyre's maker.

    Source: [UNR30] 6.1.1.1.
    >>> theoretical_rim_width(225.0, 0.85)
    191.25
    """
    return share * nominal_width


def measuring_rim_code(nominal_width: Mm, share: Ratio) -> Ratio:
    """Give the measuring rim's width code in inches, nearest half.

    share: rim over section by aspect ratio.
    Source: [ETRTO] design guide, second hand.
    >>> measuring_rim_code(205.0, 0.80)
    6.5
    """
    return round_half_up(2.0 * share * nominal_width / _MM_PER_INCH) / 2.0


def diameter_limits(
    rim_diameter: Mm,
    height: Mm,
    *,
    least_factor: Ratio = HEIGHT_FACTOR_LEAST,
    greatest_factor: Ratio = HEIGHT_FACTOR_GREATEST,
) -> Limits:
    """Give the least and greatest diameter a size allows: the factors act on section height only.

    height: nominal section height, > 0. Defaults are those of a new radial; in service the
    standards' own greatest factor is used. Raises ValueError if a length is not above zero.
    Source: [UNR30] 6.1.5.
    >>> limits = diameter_limits(406.0, 113.0)
    >>> round(limits.least, 2), round(limits.greatest, 2)
    (625.22, 641.04)
    """
    return Limits(
        overall_diameter(rim_diameter, height * least_factor),
        overall_diameter(rim_diameter, height * greatest_factor),
    )


def greatest_overall_width(
    section_width: Mm, *, factor: Ratio = OVERALL_WIDTH_FACTOR, rim_protector: Mm = 0.0
) -> Mm:
    """Give the greatest overall width a size allows on this rim, unrounded.

    rim_protector: what a moulded rib may add, 8 mm by the regulation; zero without one. Any
    amount narrower is allowed.
    Source: [UNR30] 6.1.4.2.
    >>> round(greatest_overall_width(214.0), 2)
    222.56
    """
    return section_width * factor + rim_protector


def nominal_dimensions(section_width: Mm, diameter: Mm) -> TyreDimensions:
    """Give what a size on its rim says of a tyre that nobody measured.

    Model: the value is the design figure; u is the usual spread between designs of one size (6 mm
    in section, 5 mm in diameter), so that two tyres of one size may differ by more than one size
    step. It replaces the one-sided +4 % of section and the −3 % / +4 % of section height, which
    bound a new tyre and say nothing of where in them it lies; a rectangular distribution over
    −3…+4 % of two heights of 113 mm would give 4.6 mm. Tread width stays unknown.
    Source: [PRACTICE] spreads as one standard deviation; [UNR30] 6.1.4, 6.1.5.
    >>> nominal_dimensions(214.0, 632.0).section_width.u
    6.0
    """
    return TyreDimensions(
        Estimate(section_width, SECTION_WIDTH_U, Basis.INFERRED, ("nominal size",)),
        None,
        Estimate(diameter, DIAMETER_U, Basis.INFERRED, ("nominal size",)),
    )


def measured_over(
    nominal: TyreDimensions,
    *,
    section_width: Estimate | None = None,
    tread_width: Estimate | None = None,
    diameter: Estimate | None = None,
) -> TyreDimensions:
    """Put measurements in the place of nominal figures, each with its own spread.

    Source: own derivation: a measurement of the mounted tyre outweighs its label.
    >>> known = measured_over(
    ...     nominal_dimensions(214.0, 632.0), section_width=Estimate(219.0, 1.0, Basis.MEASURED)
    ... )
    >>> known.section_width.value, known.diameter.u
    (219.0, 5.0)
    """
    return TyreDimensions(
        section_width or nominal.section_width,
        tread_width or nominal.tread_width,
        diameter or nominal.diameter,
    )


def carried_to_rim(section: Estimate, measured_on: Mm, *, rim_width: Mm) -> Estimate:
    """Give the section width on another rim than the one it was measured on.

    Model: 0.4 ± 0.1 mm of section per mm of rim. measured_on, rim_width: > 0.
    Raises ValueError if a width is not above zero.
    Source: [UNR30] 6.1.1.1; spread of K assumed.
    >>> wider = carried_to_rim(Estimate(214.0, 1.0, Basis.MEASURED), 165.1, rim_width=177.8)
    >>> round(wider.value, 2), round(wider.u, 2)
    (219.08, 1.62)
    """
    value = section_width_exact(section.value, measured_on, rim_width=rim_width)
    if rim_width == measured_on:
        return section
    u = hypot(section.u, WIDTH_FACTOR_U * (rim_width - measured_on))
    return Estimate(value, u, weakest(section.basis, Basis.INFERRED), section.sources)


def assumed_tread_width(section_width: Estimate) -> Estimate:
    """Give the tread width where nobody measured it: 0.86 ± 0.06 of the section.

    Source: [PRACTICE] 0.75 to 0.97, as a rectangular distribution.
    >>> round(assumed_tread_width(Estimate(200.0, 0.0, Basis.MEASURED)).value, 1)
    172.0
    """
    u = hypot(TREAD_SHARE * section_width.u, TREAD_SHARE_U * section_width.value)
    sources = (*section_width.sources, "common practice: tread over section")
    return Estimate(TREAD_SHARE * section_width.value, u, Basis.ASSUMED, sources)


def loaded_radius(diameter: Estimate) -> Estimate:
    """Give the static loaded radius by the rule of thumb 0.965 ± 0.01 of the free radius.

    Source: [PRACTICE] 0.96 to 0.97, its middle.
    >>> round(loaded_radius(Estimate(609.0, 0.0, Basis.MEASURED)).value, 1)
    293.8
    """
    radius = diameter.scaled(0.5)
    u = hypot(LOADED_SHARE * radius.u, LOADED_SHARE_U * radius.value)
    return Estimate(LOADED_SHARE * radius.value, u, Basis.ASSUMED, diameter.sources)


def loaded_radius_under(diameter: Estimate, height: Mm, *, load_share: Ratio) -> Estimate:
    """Give the static loaded radius under a share of the tyre's rated load.

    Model: linear spring, deflection 0.16 ± 0.04 of section height at rated load; holds from zero
    to rated load at rated pressure. height: section height, > 0. load_share: 0 to 1.2.
    Raises ValueError outside these.
    Source: [TYRELIBRARY] deflection at rated load, a guess; scaled linearly.
    >>> d = Estimate(635.0, 0.0, Basis.MEASURED)
    >>> round(loaded_radius_under(d, 127.0, load_share=1.0).value, 2)
    297.18
    """
    if not (height > 0.0 and 0.0 <= load_share <= 1.2):
        raise ValueError("section height is above zero, the load from zero to about rated load")
    u = hypot(diameter.u / 2.0, DEFLECTION_SHARE_U * height * load_share)
    value = diameter.value / 2.0 - DEFLECTION_SHARE * height * load_share
    return Estimate(value, u, Basis.ASSUMED, diameter.sources)


def rolling_circumference(diameter: Estimate, *, factor: Ratio = ROLLING_FACTOR) -> Estimate:
    """Give the rolling circumference at 60 km/h; factor 3.05 ± 0.015 radial, 2.99 diagonal.

    Source: [ETRTO] engineering design information, from memory.
    >>> round(rolling_circumference(Estimate(635.0, 0.0, Basis.MEASURED)).value, 2)
    1936.75
    """
    u = hypot(factor * diameter.u, ROLLING_FACTOR_U * diameter.value)
    return Estimate(
        factor * diameter.value, u, weakest(diameter.basis, Basis.INFERRED), diameter.sources
    )


def revolutions_per_km(circumference: Estimate) -> Estimate:
    """Give the wheel's turns in a kilometre.

    circumference: > 0, ValueError otherwise.
    Source: own derivation: one kilometre over the rolling circumference.
    >>> round(revolutions_per_km(Estimate(2000.0, 20.0, Basis.MEASURED)).u, 1)
    5.0
    """
    if not circumference.value > 0.0:
        raise ValueError("a rolling circumference is above zero")
    turns = _MM_PER_KM / circumference.value
    u = turns * circumference.u / circumference.value
    return Estimate(turns, u, circumference.basis, circumference.sources)


def _ratio_change(over: Estimate, under: Estimate) -> Estimate:
    """Give over / under − 1 in per cent; independent inputs, first order [GUM] 5.1."""
    if not (over.value > 0.0 and under.value > 0.0):
        raise ValueError("diameters are above zero")
    ratio = over.value / under.value
    u = ratio * hypot(over.u / over.value, under.u / under.value)
    basis = weakest(over.basis, under.basis)
    sources = tuple(dict.fromkeys(over.sources + under.sources))
    return Estimate(100.0 * (ratio - 1.0), 100.0 * u, basis, sources)


def true_speed_change(new_diameter: Estimate, old_diameter: Estimate) -> Estimate:
    """Give by how many per cent the true speed changes at the same reading.

    Positive: the instrument reads lower against the truth. Both > 0, else ValueError.
    Source: own derivation: distance per turn goes with the circumference.
    >>> exact = lambda mm: Estimate(mm, 0.0, Basis.MEASURED)
    >>> round(true_speed_change(exact(632.0), exact(635.0)).value, 3)
    -0.472
    """
    return _ratio_change(new_diameter, old_diameter)


def engine_speed_change(new_diameter: Estimate, old_diameter: Estimate) -> Estimate:
    """Give by how many per cent the engine turns faster at the same true speed.

    Both > 0, else ValueError. Source: own derivation: turns per distance, D_old / D_new.
    >>> exact = lambda mm: Estimate(mm, 0.0, Basis.MEASURED)
    >>> round(engine_speed_change(exact(600.0), exact(630.0)).value, 3)
    5.0
    """
    return _ratio_change(old_diameter, new_diameter)


def greatest_indicated_speed(true_speed: KmPerHour) -> KmPerHour:
    """Give the greatest speed an instrument may show; it must never show less than the truth.

    true_speed: >= 0. Source: [UNR39] 5.3.
    >>> round(greatest_indicated_speed(50.0), 6)
    59.0
    """
    return SPEEDOMETER_SLOPE * true_speed + SPEEDOMETER_OFFSET


def load_at_pressure(
    rated_load: Kg, pressure: Bar, *, rated_pressure: Bar, exponent: Ratio = PRESSURE_EXPONENT
) -> Kg:
    """Give the load a tyre carries below its rated pressure.

    Holds from about 1.5 bar to the rated pressure; above it the rated load stays the limit.
    All > 0, ValueError otherwise.
    Source: [ETRTO] load law with exponent 0.8 (second hand).
    >>> round(load_at_pressure(500.0, 2.0, rated_pressure=2.5), 1)
    418.3
    """
    if not (rated_load > 0.0 and pressure > 0.0 and rated_pressure > 0.0):
        raise ValueError("loads and pressures are above zero")
    return rated_load * float(min(1.0, pressure / rated_pressure) ** exponent)
