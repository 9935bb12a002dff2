"""Readings of bolt circles; 4.5 in = 114.3 mm and 4.75 in = 120.65 mm exactly (1 in = 25.4 mm)."""

import pytest

from generator.quantities.bolt_circle import read_bolt_circle
from generator.quantities.misread import Misread


@pytest.mark.parametrize(
    ("text", "count", "diameter", "canonical"),
    [
        ("4x118", 4, 118.0, "4x118"),
        ("4 x 118 mm", 4, 118.0, "4x118"),
        ("5×117", 5, 117.0, "5x117"),
        ("5x4.5 in", 5, 114.3, "5x114.3"),
        ('5X4.75"', 5, 120.65, "5x120.65"),
        ("8x165.1", 8, 165.1, "8x165.1"),
        ("3x98", 3, 98.0, "3x98"),
    ],
)
def test_bolt_circle_is_read(text: str, count: int, diameter: float, canonical: str) -> None:
    circle = read_bolt_circle(text)
    assert (count, diameter, canonical) == (circle.count, circle.diameter, str(circle))
    assert read_bolt_circle(str(circle)) == circle


@pytest.mark.parametrize(
    ("text", "code", "fix"),
    [
        ("5-117", "N401", "5x117"),
        ("5x117,5", "N401", "5x117.5"),
        ("118x4", "N402", "4x118"),
        ("9x118", "N402", ""),
        ("2x118", "N402", ""),
        ("6.0x166", "N402", "6x166"),
        ("5.0x4", "N402", "4x5.0"),
        ("5x4.5", "N403", "5x4.5 in"),
        ("5x4000", "N401", ""),
        ("5x600", "N403", ""),
    ],
)
def test_each_slip_has_its_code_and_fix(text: str, code: str, fix: str) -> None:
    with pytest.raises(Misread) as caught:
        read_bolt_circle(text)
    assert (code, fix) == (caught.value.code, caught.value.fix)
