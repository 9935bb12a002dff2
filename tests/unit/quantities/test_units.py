from functools import cache
from itertools import chain

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.quantities.units import (
    BY_SPELLING,
    CANONICAL,
    UNITS,
    Dimension,
    disagreements,
    factor,
    in_unit,
    units_of,
)

# What each symbol is called in pint's own registry, whose definitions are not ours.
IN_PINT = {
    "mm": "millimeter",
    "cm": "centimeter",
    "in": "inch",
    "thou": "thou",
    "km": "kilometer",
    "mi": "international_mile",
    "deg": "degree",
    "arcmin": "arcminute",
    "kg": "kilogram",
    "g": "gram",
    "lb": "pound",
    "N·m": "newton * meter",
    "lb ft": "force_pound * foot",
    "lb in": "force_pound * inch",
    "bar": "bar",
    "psi": "psi",
    "kPa": "kilopascal",
    "km/h": "kilometer / hour",
    "mph": "international_mile / hour",
    "deg/mm": "degree / millimeter",
    "deg/in": "degree / inch",
}

# Exact by definition: NIST SP 811 appendix B, bold rows (from memory), and ISO 80000 parts 3 and 4.
EXACT = {
    "mm": 1.0,
    "cm": 10.0,
    "in": 25.4,
    "thou": 0.0254,
    "km": 1.0,
    "mi": 1.609344,
    "deg": 1.0,
    "kg": 1.0,
    "g": 0.001,
    "lb": 0.45359237,
    "N·m": 1.0,
    "bar": 1.0,
    "kPa": 0.01,
    "km/h": 1.0,
    "mph": 1.609344,
    "deg/mm": 1.0,
}

# NIST SP 811 appendix B, seven figures (from memory).
SEVEN_FIGURES = {"psi": 0.06894757, "lb ft": 1.355818, "lb in": 0.1129848, "arcmin": 0.01666667}

symbols = st.sampled_from([unit.symbol for unit in UNITS])


@cache
def pint_registry():
    from pint import UnitRegistry

    return UnitRegistry()


def test_every_unit_of_the_table_is_checked_against_pint():
    assert {unit.symbol for unit in UNITS} == set(IN_PINT)


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: unit.symbol)
def test_a_factor_is_that_of_pints_full_registry(unit):
    registry = pint_registry()
    one = registry.Quantity(1.0, registry.parse_units(IN_PINT[unit.symbol]))
    canonical = registry.parse_units(IN_PINT[CANONICAL[unit.dimension].symbol])
    assert factor(unit) == pytest.approx(one.to(canonical).magnitude, rel=1e-12)


@pytest.mark.parametrize(("symbol", "exact"), EXACT.items())
def test_a_factor_exact_by_definition_is_exact(symbol, exact):
    assert factor(BY_SPELLING[symbol]) == exact


@pytest.mark.parametrize(("symbol", "printed"), SEVEN_FIGURES.items())
def test_a_factor_rounds_to_its_printed_figures(symbol, printed):
    assert factor(BY_SPELLING[symbol]) == pytest.approx(printed, rel=5e-7)


def test_torque_and_pressure_come_from_pound_foot_and_standard_gravity():
    # lbf = 0.45359237·9.80665 N, ft = 0.3048 m, in² = 645.16 mm²: all exact by definition.
    pound_force = 0.45359237 * 9.80665
    assert factor(BY_SPELLING["lb ft"]) == pytest.approx(pound_force * 0.3048, rel=1e-15)
    assert factor(BY_SPELLING["psi"]) == pytest.approx(pound_force / 645.16e-6 / 1e5, rel=1e-15)


def test_no_spelling_stands_for_two_units():
    spellings = list(chain.from_iterable(unit.spellings for unit in UNITS))
    assert len(set(spellings)) == len(spellings)
    assert set(spellings) == set(BY_SPELLING)


def test_every_symbol_is_a_spelling_of_its_own_unit():
    assert all(BY_SPELLING[unit.symbol] is unit for unit in UNITS)


def test_every_dimension_has_a_canonical_unit_of_factor_one():
    assert set(CANONICAL) == set(Dimension)
    assert all(factor(unit) == 1.0 for unit in CANONICAL.values())


@pytest.mark.parametrize("dimension", Dimension)
def test_the_units_of_a_dimension_start_with_the_canonical_one(dimension):
    found = units_of(dimension)
    assert found[0] is CANONICAL[dimension]
    assert set(found) == {unit for unit in UNITS if unit.dimension is dimension}
    assert len(set(found)) == len(found)


@pytest.mark.parametrize("typed", ["MM", "Kg", "nan mm", "inchs", "mm ", "", "m", "N m/s"])
def test_what_is_not_in_the_table_is_no_unit(typed):
    assert typed not in BY_SPELLING


@given(st.floats(-1e6, 1e6), symbols)
def test_there_and_back_is_the_same_number(value, symbol):
    unit = BY_SPELLING[symbol]
    assert in_unit(value * factor(unit), unit) == pytest.approx(value, rel=1e-15, abs=1e-300)


def test_kept_factors_are_those_pint_computes_from_the_definitions() -> None:
    assert disagreements() == ()
