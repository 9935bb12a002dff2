"""Words of ours told in both units; the other unit's numbers are pint's own registry's."""

import pint
import pytest

from generator.rendering.filters import NO_BREAK
from generator.rendering.other_units import ToldQuantity, quantities_apart

PINT = {
    "km/h": ("kilometer/hour", "mile/hour"),
    "km": ("kilometer", "mile"),
    "kg": ("kilogram", "pound"),
    "N·m": ("newton*meter", "foot*force_pound"),
    "bar": ("bar", "psi"),
}


def told(words: str) -> list[tuple[str, str]]:
    parts = [each for each in quantities_apart(words) if isinstance(each, ToldQuantity)]
    return [
        (part.metric.replace(NO_BREAK, " "), part.other.replace(NO_BREAK, " ")) for part in parts
    ]


@pytest.mark.parametrize(
    ("metric", "places"),
    [("182 km/h", 0), ("48.3 km", 1), ("5 km", 1), ("826 kg", 0), ("7.25 kg", 2), ("95 N·m", 0),
     ("2 bar", 1), ("2.48 bar", 1)],
)  # fmt: skip
def test_each_unit_is_told_as_the_inch_readers_have_it(metric: str, places: int) -> None:
    number, unit = metric.split(" ")
    ours, theirs = PINT[unit]
    registry = pint.UnitRegistry()
    wanted = registry.Quantity(float(number), ours).to(theirs).magnitude
    ((shown, other),) = told(f"It takes {metric}.")
    assert shown == metric
    assert other.split(" ")[0] == f"{wanted:.{places}f}"


def test_a_list_and_a_range_are_told_whole() -> None:
    assert told("after 5, 20 and 50 km") == [("5, 20 and 50 km", "3.1, 12 and 31 mi")]
    assert told("at 2.1 bar cold and 104 to 107 km/h") == [
        ("2.1 bar", "30.5 psi"),
        ("104 to 107 km/h", "65 to 66 mph"),
    ]


def test_a_round_figure_in_brackets_stays_round() -> None:
    assert told("again after 50 to 100 km (30 to 60 mi), cold") == [("50 to 100 km", "30 to 60 mi")]


def test_what_is_no_such_quantity_stays_as_it_is() -> None:
    for words in (
        "M12x1.5",
        "21 to 57 kN",
        "7.5 mm",
        "12\u202f400 km of it",
        "5 km-stone",
        "1/2 kg",
    ):
        assert quantities_apart(words) == (words,)


def test_many_digits_are_grouped() -> None:
    assert told("driven 12400 km") == [("12\u202f400 km", "7705 mi")]
