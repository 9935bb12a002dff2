"""Constants that a formula carries with it are the ones its source's table publishes.

`geometry` may not read tables, so that its formulas stand alone; this holds the two together.
"""

from generator.geometry import tyre
from generator.published import tables
from generator.quantities.tyre_marks import Construction


def test_width_factors_are_those_of_the_regulation() -> None:
    assert tables.width_factor() == tyre.WIDTH_FACTOR
    assert tables.width_factor("configuration A") == tyre.WIDTH_FACTOR_CONFIGURATION_A


def test_height_and_width_limits_are_those_of_the_regulation() -> None:
    limits = tables.size_tolerance(Construction.RADIAL)
    assert limits.section_height_least == tyre.HEIGHT_FACTOR_LEAST
    assert limits.section_height_greatest == tyre.HEIGHT_FACTOR_GREATEST
    assert limits.width_greatest == tyre.OVERALL_WIDTH_FACTOR


def test_rolling_and_pressure_laws_are_those_of_the_standards() -> None:
    assert tables.rolling_factor(Construction.RADIAL) == tyre.ROLLING_FACTOR
    assert tables.load_pressure_law().exponent == tyre.PRESSURE_EXPONENT


def test_speedometer_law_is_that_of_the_regulation() -> None:
    law = tables.speedometer_law()
    assert 1.0 + law.share == tyre.SPEEDOMETER_SLOPE
    assert law.constant == tyre.SPEEDOMETER_OFFSET
