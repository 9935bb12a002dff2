"""What members fit: wheel and tyre sizes round the stock ones, and what each truly measures."""

from dataclasses import dataclass, replace
from random import Random
from typing import Any

import numpy as np

from tests.federation.section import SEATS, Floats, Wheels
from tests.truth.swept import number

INCH = 25.4
LOWEST = 40
"""Aspect ratio below which nobody of the federation goes."""
NEARLY = 0.012
"""Front and rear diameters differ by less, as a share."""
SHOULDERS = (20.0, 24.0, 28.0, 28.0, 32.0)
LOADS = {
    75: 387, 76: 400, 77: 412, 78: 425, 79: 437, 80: 450, 81: 462, 82: 475, 83: 487, 84: 500,
    85: 515, 86: 530, 87: 545, 88: 560, 89: 580, 90: 600, 91: 615, 92: 630, 93: 650, 94: 670,
    95: 690, 96: 710, 97: 730, 98: 750, 99: 775, 100: 800,
}  # fmt: skip
"""Load index to kg [ETRTO], from memory."""
SPEEDS = {"S": 180, "T": 190, "H": 210, "V": 240, "W": 270}
"""Speed symbol to km/h [UN R30], from memory."""
OFFSET_SPREAD, WIDTH_SPREAD, SECTION_SPREAD, DIAMETER_SPREAD = 0.8, 0.5, 4.0, 3.5
"""One sigma of what wheels and tyres differ from their stamps, mm: common practice."""
RULE = 0.8
"""One sigma of a member's reading of wheel or tyre, mm."""


@dataclass(frozen=True)
class Size:
    """A wheel and a tyre for it, as sold."""

    code: int
    width: float
    """Inches."""
    nominal: int
    aspect: int
    load: int
    speed: str
    rims: tuple[float, float]

    @property
    def tyre(self) -> str:
        """The marks of the tyre."""
        return f"{self.nominal}/{self.aspect} R{self.code} {self.load}{self.speed}"

    @property
    def section(self) -> float:
        """Design section on this rim: 5 mm for each half inch from the measuring rim [UN R30]."""
        share = 0.70 if self.aspect >= 50 else 0.85
        return self.nominal + 0.4 * (self.width * INCH - share * self.nominal)

    @property
    def diameter(self) -> float:
        """Design diameter."""
        return SEATS[self.code] + 2.0 * self.nominal * self.aspect / 100.0


@dataclass(frozen=True)
class Least:
    """What every tyre of a car has to carry, kg, and how fast, km/h."""

    load: float
    speed: float

    @classmethod
    def of(cls, data: dict[str, Any]) -> "Least":
        """Take it from a sheet."""
        loads = [number(data[axle]["permitted_load"]) / 2.0 for axle in ("front", "rear")]
        return cls(max(loads), number(data["top_speed"]))


@dataclass(frozen=True)
class End:
    """One end of one car as it truly is."""

    size: Size
    offset: int
    """As stamped."""
    true_offset: float
    true_width: float
    section: float
    diameter: float
    shoulder: float
    spacer: float = 0.0
    lowered: float = 0.0
    camber_set: float = 0.0
    aside: float = 0.0
    trimmed: float = 0.0
    lips_gained: float = 0.0

    @property
    def centre(self) -> float:
        """Middle of the rim from the hub's face."""
        return self.spacer - self.true_offset


def wheels(ends: list[End]) -> Wheels:
    """Put the wheels of many cars in rows."""

    def row(name: str) -> Floats:
        return np.array([getattr(end, name) for end in ends], dtype=np.float64)

    codes = np.array([float(end.size.code) for end in ends])
    widths = row("true_width")
    return Wheels(row("centre"), row("section"), row("diameter"), widths, codes, row("shoulder"))


def size(end: dict[str, Any], least: Least, random: Random) -> Size:
    """Choose a wheel wider than stock by little or much, and a tyre of nearly stock diameter."""
    width, code = (float(each) for each in end["stock_wheel"]["size"].split(" x "))
    width += random.choices((0.0, 0.5, 1.0, 1.5), (25, 25, 40, 10))[0]
    code = min(17, int(code) + random.choices((0, 1, 2), (45, 45, 10))[0])
    diameter = number(end["stock_tyre"]["diameter"]) - random.uniform(0.0, 15.0)
    return _on(int(code), width, diameter, least, random)


def behind(front: Size, least: Least, random: Random) -> Size:
    """Choose a wider wheel for the rear, with a tyre as tall as in front or nearly so."""
    wider = front.width + random.choice((0.5, 1.0))
    found = _on(front.code, wider, front.diameter, least, random)
    return found if abs(found.diameter / front.diameter - 1.0) < NEARLY else front


def _on(code: int, width: float, diameter: float, least: Least, random: Random) -> Size:
    ideal = width * INCH / random.uniform(0.80, 0.90)
    nominal = 10 * round((ideal - 5.0) / 10.0) + 5
    off = [
        (abs(SEATS[code] + 2.0 * nominal * share / 100.0 - diameter), share)
        for share in range(LOWEST, 85, 5)
    ]
    aspect = min(off)[1]
    middle = round(2.0 * (0.70 if aspect >= 50 else 0.85) * nominal / INCH) / 2.0
    rims = (min(width, middle - 0.5), max(width, middle + 1.0))
    load = min(index for index, mass in LOADS.items() if mass >= least.load)
    speed = next(mark for mark, most in SPEEDS.items() if most >= least.speed)
    return Size(code, width, nominal, aspect, load + random.randint(0, 4), speed, rims)


def smaller(end: End) -> End:
    """Put on the next lower tyre of the same width."""
    less = replace(end.size, aspect=max(LOWEST, end.size.aspect - 5))
    lost = end.size.diameter - less.diameter
    section = end.section + less.section - end.size.section
    return replace(end, size=less, section=section, diameter=end.diameter - lost)


def stock(data: dict[str, Any]) -> End:
    """Give the wheel and tyre the car left its maker with."""
    width, code = (float(each) for each in data["stock_wheel"]["size"].split(" x "))
    tyre, offset = data["stock_tyre"], number(data["stock_wheel"]["offset"])
    sizes = Size(int(code), width, 0, 60, 0, "", (0.0, 0.0))
    section, diameter = number(tyre["section_width"]), number(tyre["diameter"])
    return End(sizes, round(offset), offset, width * INCH, section, diameter, SHOULDERS[2])


def made(chosen: Size, end: dict[str, Any], random: Random) -> End:
    """Draw what a set of that size truly measures; the offset takes up part of the width."""
    more = chosen.width * INCH - float(end["stock_wheel"]["size"].split(" x ")[0]) * INCH
    offset = round(number(end["stock_wheel"]["offset"]) - random.uniform(0.2, 0.8) * more / 2.0)
    return End(
        chosen,
        offset,
        offset + random.gauss(0.0, OFFSET_SPREAD),
        chosen.width * INCH + random.gauss(0.0, WIDTH_SPREAD),
        chosen.section + random.gauss(0.0, SECTION_SPREAD),
        chosen.diameter + random.gauss(-2.0, DIAMETER_SPREAD),
        random.choice(SHOULDERS),
    )
