"""Prints what a member of the invented club would read at each site of a car of the demo.

    python tests/truth/truth.py copperbill-lips-rolled

True gap = swept geometry of the sheet + the chassis's own correction + what this car and this side
have of their own. A reading is the true gap with the error of the tool; a record then holds it as
people round. Seeded by names, so that the same question gives the same answer everywhere.
"""

import sys
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from zlib import crc32

import numpy as np

sys.path.insert(0, str(Path(__file__).parent))

from hidden import HIDDEN
from setups import TRUTHS, End, Truth
from swept import Car, Fitted, Reach, Tyre, number, sheet

TOOL_SPREAD = {
    "feeler gauge": 0.5,
    "drill shank": 0.5,
    "calipers": 0.5,
    "depth gauge": 0.7,
    "wedge gauge": 1.0,
    "clay": 1.0,
    "foam block": 1.5,
    "steel rule": 1.7,
    "straightedge": 2.0,
    "tape witness": 1.5,
    "by eye": 4.0,
    "photograph": 5.0,
    "from memory": 6.0,
}
"""One sigma of a reading, mm: common practice of the trade, none of it published."""
CAR_SHARE = 0.8
"""Cars differ by so much of what their sheet states: a sheet written from few cars says more."""
SIDE_SPREAD = 0.4
"""What the two sides of one car differ, as a share of what cars differ."""
CUT = 1.3
"""Draws are cut at so many sigmas: the demo has no car that could not have left its maker."""
SEED = 7
NOTED = 42.0
"""Gaps above it nobody writes down, mm."""


@dataclass(frozen=True)
class Corrections:
    """The hidden part: of the chassis, of the car, of the side."""

    chassis: float
    car: float
    side: float

    @property
    def total(self) -> float:
        """Give the whole correction."""
        return self.chassis + self.car + self.side


def _draw(spread: float, *names: str) -> float:
    generator = np.random.default_rng((SEED, *(crc32(name.encode()) for name in names)))
    return spread * float(np.clip(generator.standard_normal(), -CUT, CUT))


def corrections(chassis: str, car: str, axle: str, site: dict, side: str) -> Corrections:
    """Give the true correction of a site on one side of one car."""
    between = CAR_SHARE * number(site["between_cars"])
    key = (chassis, axle, site["name"])
    return Corrections(
        HIDDEN[chassis, axle][site["name"]],
        _draw(between, *key, car),
        _draw(SIDE_SPREAD * between, *key, car, side),
    )


def turning(end: End, side: str) -> Tyre:
    """Give tyre and rim of one side of a fitted end, in the frame of the sheet's hub face."""
    spacer, section, diameter = end.spacer, end.section, end.diameter
    if side == "left":
        spacer = spacer if end.left_spacer is None else end.left_spacer
        section, diameter = end.left_section or section, end.left_diameter or diameter
    centre = spacer + end.face_moved - end.offset
    width, rim = 25.4 * end.rim[0], 25.4 * end.rim[1]
    flanges = (end.flange_inboard, end.flange_outboard)
    return Tyre(centre, section, diameter, width, rim, *flanges, end.shoulder)


def reach_of(car: Car, end: End, side: str) -> Reach:
    """Give the travel and lock of a fitted end on one side."""
    sheet_reach = car.reach()
    return replace(
        sheet_reach,
        bump=sheet_reach.bump + end.bump_gained,
        droop=sheet_reach.droop + end.droop_gained,
        toe_out=end.toe_out_lock or sheet_reach.toe_out,
        toe_in=end.toe_in_lock or sheet_reach.toe_in,
        rest=end.lowered,
        camber=end.camber,
        at_knuckle=end.at_knuckle,
        outboard=end.axle_error if side == "left" else -end.axle_error,
    )


Place = tuple[str, str, str, str]
"""Axle, site, state, side."""


def fitted(name: str, axle: str, side: str) -> Fitted:
    """Give one corner of a record's car."""
    truth: Truth = TRUTHS[name]
    end = truth.front if axle == "front" else truth.rear
    car = Car(sheet(truth.chassis), axle)
    turned, reach = turning(end, side), reach_of(car, end, side)
    return Fitted(car, turned, reach, side, end.lips_gained, end.lips_cut)


@cache
def true_gap(name: str, place: Place) -> float:
    """Give the true gap of one site, state and side of one record's car."""
    axle, site, state, side = place
    corner, truth = fitted(name, axle, side), TRUTHS[name]
    end = truth.front if axle == "front" else truth.rear
    own = corrections(truth.chassis, truth.car, axle, corner.car.sites[site], side)
    return corner.gap(site, state) + own.total + end.reshaped.get(site, 0.0)


def places(name: str) -> list[Place]:
    """Give every place of a record's car that has a shape and a gap."""
    found = []
    for axle in ("front", "rear"):
        for site, data in Car(sheet(TRUTHS[name].chassis), axle).sites.items():
            sides = [side for side in ("left", "right") if data.get("only", side) == side]
            for state in fitted(name, axle, "left").states:
                found += [(axle, site, state, side) for side in sides]
    return found


def reading(name: str, place: Place) -> float:
    """Give what a careful member reads: shanks at parts that move along, clay or rule elsewhere."""
    axle, site, state, side = place
    gap = true_gap(name, place)
    sites = Car(sheet(TRUTHS[name].chassis), axle).sites
    if sites[site]["moves_with"] not in ("body", "arm"):
        return round(2.0 * (gap + _draw(TOOL_SPREAD["drill shank"], name, axle, site, side))) / 2.0
    tool = "steel rule" if "lock" in state or state == "static" else "clay"
    return float(round(gap + _draw(TOOL_SPREAD[tool], name, *place)))


def report(name: str) -> str:
    """Write the readings of a record's car, left and right, where they are below NOTED."""
    lines = [name]
    found: dict[tuple[str, str], dict[str, list[str]]] = {}
    for place in places(name):
        axle, site, state, _ = place
        states = found.setdefault((axle, site), {})
        states.setdefault(state, []).append(f"{reading(name, place):g}")
    for (axle, site), states in found.items():
        if len({tuple(both) for both in states.values()}) == 1:
            lines.append(f"  {axle} {site}: {'/'.join(states['static'])}")
            continue
        near = {s: b for s, b in states.items() if s == "static" or float(b[0]) < NOTED}
        listed = ", ".join(f"{state} {'/'.join(both)}" for state, both in near.items())
        lines.append(f"  {axle} {site}: {listed}")
    return "\n".join(lines)


if __name__ == "__main__":
    for wanted in sys.argv[1:] or TRUTHS:
        print(report(wanted))
