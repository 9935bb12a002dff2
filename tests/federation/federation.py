"""A federation of clubs that do not exist: any number of records, with the truth behind them.

    python -m tests.federation.federation --records 1000 --seed 7 FOLDER

writes a content folder. The same seed and number give the same bytes. Every chassis has its own
random numbers, so that the first chassis of a large federation are those of a small one.

True gap = shapes of the sheet with the wheel and tyre that are really on the car + the chassis's
own correction + what this car and this side have of their own.
"""

import argparse
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import repeat
from math import ceil
from os import cpu_count
from pathlib import Path
from random import Random
from typing import Any

import numpy as np

from tests.federation.chassis import Sheet, sheet
from tests.federation.fitting import End, Least, Size, behind, made, size, smaller, stock, wheels
from tests.federation.gaps import Fitted, Place, gaps
from tests.federation.members import member
from tests.federation.motion import Stance
from tests.federation.records import FIXED, Case, record
from tests.federation.section import Floats
from tests.federation.writing import document
from tests.truth.swept import number

PER_CHASSIS = 50
CARS = 0.7
"""Cars for each record: the rest are second records of a car."""
FIRST_DAY, DAYS, MORE_DAYS = date(2016, 1, 9), 2900, 180
CLUB = {
    "name": "Federation of the Nine Lanes",
    "title": "Nine Lanes fitment guide",
    "about": "This federation does not exist. Every car, member and number is invented.\n",
    "invented": True,
    "address": "https://ninelanes.example.org",
    "units": "metric",
    "forge": {
        "kind": "forgejo",
        "address": "https://forge.example.org/ninelanes/fitment-guide",
        "branch": "main",
    },
    "wanted_gaps": {"caliper": "3 mm", "moving": "8 mm", "fixed": "5 mm", "hoses": "12 mm"},
    "local_rules": "Ask the authority, an approved inspector and the insurer before driving.\n",
}
CAR_SHARE, SIDE_SHARE = 0.92, 0.39
"""Shares of what cars differ that is alike on both sides and that is not; squares add up to 1."""
CUT = 2.5
"""Draws are cut at so many sigmas."""
ROOM = 2.5
"""Nobody fits a wheel with less room than this beside what moves with it, mm."""
LIP_ROOM = 4.0
STAGGERED = 0.3
MOST_ROLLED, ROLLED_BEYOND = 16, 3
LOWER_TYRES = 2
AXLES = ("front", "rear")
LIP = {"front": "fender-lip", "rear": "quarter-lip"}


@dataclass(frozen=True)
class Correction:
    """The hidden part at one site: of the chassis, and how far sides of all its cars spread."""

    chassis: float
    spread: float

    def of_car(self, random: Random) -> dict[str, float]:
        """Draw a car: its whole correction on each side."""
        car = self.chassis + _draw(random, CAR_SHARE * self.spread)
        return {s: car + _draw(random, SIDE_SHARE * self.spread) for s in ("left", "right")}


@dataclass(frozen=True)
class Written:
    """One record's short name, its text, its car, and what is truly fitted."""

    slug: str
    text: str
    car: str
    front: End
    rear: End


@dataclass(frozen=True)
class Chassis:
    """One chassis of the federation with its records and its truth."""

    sheet: Sheet
    corrections: dict[tuple[str, str], Correction]
    records: tuple[Written, ...]

    def gaps_by_sheet(self, axle: str, ends: list[End]) -> dict[Place, Floats]:
        """Give the gaps of ends by the sheet's shapes alone."""
        return gaps(self.sheet.data, axle, fitted_of(self.sheet.data, axle, ends))


def _draw(random: Random, spread: float) -> float:
    return spread * min(CUT, max(-CUT, random.gauss(0.0, 1.0)))


def fitted_of(data: dict[str, Any], axle: str, ends: list[End]) -> Fitted:
    """Put what many cars have at an end in rows."""
    move = data[axle]["suspension"]
    bump, droop, ratio = (
        number(each) for each in (move["bump"], move["droop"], move["stop"]["motion_ratio"])
    )
    row = {name: np.array([getattr(end, name) for end in ends]) for name in
           ("lowered", "camber_set", "aside", "trimmed", "lips_gained")}  # fmt: skip
    stance = Stance(
        row["lowered"],
        bump + row["trimmed"] / ratio,
        np.full(len(ends), droop),
        row["camber_set"],
        row["aside"],
    )
    return Fitted(wheels(ends), stance, row["lips_gained"])


def chassis(seed: int, place: int, count: int) -> Chassis:
    """Make one chassis with so many records."""
    random = Random(f"{seed} {place}")
    made_sheet = sheet(place, random)
    data = made_sheet.data
    corrections = _corrections(data, random)
    cars = max(1, round(CARS * count))
    numbers = list(range(cars)) + [random.randrange(cars) for _ in range(count - cars)]
    own = [{k: each.of_car(random) for k, each in corrections.items()} for _ in range(cars)]
    members = [member(place * PER_CHASSIS + car, random) for car in range(cars)]
    ends = _all_ends(data, numbers, random)
    ends, rubbed = _made_to_fit(data, ends, numbers, own)
    known = {axle: gaps(data, axle, fitted_of(data, axle, ends[axle])) for axle in AXLES}
    names = tuple(each.name for each in members)
    written: list[Written] = []
    last: dict[int, tuple[str, date]] = {}
    for index, car in enumerate(numbers):
        who, (before, day) = members[car], last.get(car, ("", FIRST_DAY))
        day = day + timedelta(days=1 + random.randrange(MORE_DAYS if before else DAYS))
        slug = f"{who.slug}-{1 + sum(each == car for each in numbers[:index])}"
        case = Case(
            slug, f"{who.slug}-car", who, day, ends["front"][index], ends["rear"][index],
            _truly(known, own[car], index), names[:car] + names[car + 1 :],
            numbers.count(car) == 1, before if random.random() < 0.5 else "", rubbed[index],
        )  # fmt: skip
        fields = record(case, data, random) | {"chassis": made_sheet.slug}
        written.append(Written(slug, document(fields), case.car, case.front, case.rear))
        last[car] = (slug, day)
    return Chassis(made_sheet, corrections, tuple(written))


def _corrections(data: dict[str, Any], random: Random) -> dict[tuple[str, str], Correction]:
    """Draw what each site is off by; again where a stock car would have been left without room.

    A sheet's spread between cars is a guess before any car was measured: the true one is drawn from
    the half of a normal distribution with that scale.
    """
    found = {}
    for axle in AXLES:
        known = gaps(data, axle, fitted_of(data, axle, [stock(data[axle])]))
        for site in (each for each in data["sites"] if each["axle"] == axle):
            least = min(float(g[0]) for (_, name, _, _), g in known.items() if name == site["name"])
            between = number(site["between_cars"])
            wanted = LIP_ROOM + between - least
            spread = abs(_draw(random, between))
            drawn = [_draw(random, number(site["spread"])) for _ in range(12)]
            first = next((each for each in drawn if each >= wanted), max(0.0, wanted))
            found[axle, site["name"]] = Correction(first, spread)
    return found


def _all_ends(data: dict[str, Any], numbers: list[int], random: Random) -> dict[str, list[End]]:
    """Choose what each record's car has at both ends; a car keeps its sizes."""
    sizes = [_sizes(data, random) for _ in range(1 + max(numbers))]
    found: dict[str, list[End]] = {axle: [] for axle in AXLES}
    for car in numbers:
        low = random.choice((0.0, 0.0, 0.0, 0.0, 15.0, 20.0, 25.0, 30.0))
        for axle, chosen in zip(AXLES, sizes[car], strict=True):
            kind = data[axle]["suspension"]["kind"]
            free = kind not in ("live axle", "twist beam")
            found[axle].append(
                replace(
                    made(chosen, data[axle], random),
                    spacer=random.choices((0.0, 3.0, 5.0, 8.0, 10.0), (82, 5, 6, 4, 3))[0],
                    lowered=low,
                    camber_set=-random.choice((0.0, 0.4, 0.8, 1.2)) if free else 0.0,
                    aside=_draw(random, 1.5) if kind == "live axle" else 0.0,
                    trimmed=random.choices((0.0, 8.0), (96, 4))[0],
                )
            )
    return found


def _sizes(data: dict[str, Any], random: Random) -> tuple[Size, Size]:
    least = Least.of(data)
    front = size(data["front"], least, random)
    return front, behind(front, least, random) if random.random() < STAGGERED else front


def _made_to_fit(
    data: dict[str, Any], ends: dict[str, list[End]], numbers: list[int], cars: list[dict]
) -> tuple[dict[str, list[End]], list[frozenset[str]]]:
    """Take less offset where a wheel would not go on, then lower tyres, then roll the lips."""
    own = [cars[car] for car in numbers]
    found = {axle: _moved_out(data, axle, ends[axle], own) for axle in AXLES}
    again = list(range(len(own)))
    for _ in range(LOWER_TYRES):
        some = {axle: [found[axle][i] for i in again] for axle in AXLES}
        room = [
            _least(data, axle, some[axle], [own[i] for i in again], but=LIP[axle]) for axle in AXLES
        ]
        both = zip(again, *room, strict=True)
        tight = {numbers[i] for i, front, rear in both if min(front, rear) < ROOM}
        again = [i for i, car in enumerate(numbers) if car in tight]
        for axle in AXLES:
            for i in again:
                found[axle][i] = smaller(found[axle][i])
    rubbed: list[set[str]] = [set() for _ in own]
    for axle, rows in found.items():
        for i, gap in enumerate(_least(data, axle, rows, own, only=LIP[axle])):
            more = ceil(LIP_ROOM - gap) + ROLLED_BEYOND
            if gap < LIP_ROOM and more <= MOST_ROLLED:
                rows[i] = replace(rows[i], lips_gained=float(more))
                if gap <= 0.0:
                    rubbed[i].add(LIP[axle])
    return found, [frozenset(each) for each in rubbed]


def _moved_out(data: dict[str, Any], axle: str, ends: list[End], own: list[dict]) -> list[End]:
    beside = [site for site in data["sites"] if site["moves_with"] in FIXED]
    room = _least(data | {"sites": beside}, axle, ends, own)
    less = [max(0, ceil(ROOM - gap)) for gap in room]
    return [
        replace(end, offset=end.offset - by, true_offset=end.true_offset - by)
        for end, by in zip(ends, less, strict=True)
    ]


def _least(
    data: dict[str, Any],
    axle: str,
    ends: list[End],
    own: list[dict],
    *,
    only: str = "",
    but: str = "",
) -> list[float]:
    """Give the least true gap of each car at some of the sites of a sheet."""
    sites = [s for s in data["sites"] if s["name"] != but and only in ("", s["name"])]
    known = gaps(data | {"sites": sites}, axle, fitted_of(data, axle, ends))
    rows = [
        found + np.array([car[axle, site][side] for car in own])
        for (_, site, _, side), found in known.items()
    ]
    least: list[float] = np.min(rows, axis=0).tolist() if rows else [99.0] * len(ends)
    return least


def _truly(
    known: dict[str, dict[Place, Floats]], own: dict[tuple[str, str], dict[str, float]], index: int
) -> dict[tuple[str, str], dict[tuple[str, str], float]]:
    found: dict[tuple[str, str], dict[tuple[str, str], float]] = {}
    for places in known.values():
        for (axle, site, state, side), each in places.items():
            gap = float(each[index]) + own[axle, site][side]
            found.setdefault((axle, site), {})[state, side] = gap
    return found


def federation(seed: int, records: int) -> Iterator[Chassis]:
    """Make a federation, one chassis after another."""
    for place in range(max(1, ceil(records / PER_CHASSIS))):
        yield chassis(seed, place, min(PER_CHASSIS, records - place * PER_CHASSIS))


def write(folder: Path, *, seed: int, records: int) -> None:
    """Write a federation as a content folder; the folder is made."""
    (folder / "chassis").mkdir(parents=True)
    (folder / "club.yaml").write_text(document(CLUB), "utf-8")
    places = range(ceil(records / PER_CHASSIS))
    counts = [min(PER_CHASSIS, records - place * PER_CHASSIS) for place in places]
    with ProcessPoolExecutor(min(len(counts), cpu_count() or 1)) as pool:
        for _ in pool.map(write_chassis, repeat(folder), repeat(seed), places, counts):
            pass


def write_chassis(folder: Path, seed: int, place: int, count: int) -> None:
    """Write the sheet and the records of a chassis."""
    each = chassis(seed, place, count)
    text = document(each.sheet.data)
    (folder / "chassis" / f"{each.sheet.slug}.yaml").write_text(text, "utf-8")
    own = folder / "setups" / each.sheet.slug
    own.mkdir(parents=True)
    for written in each.records:
        (own / f"{written.slug}.yaml").write_text(written.text, "utf-8")


def main() -> None:
    """Write a federation from the command line."""
    parser = argparse.ArgumentParser(description="Write a federation that does not exist.")
    parser.add_argument("folder", type=Path)
    parser.add_argument("--records", type=int, default=100)
    parser.add_argument("--seed", type=int, default=7)
    said = parser.parse_args()
    write(said.folder, seed=said.seed, records=said.records)


if __name__ == "__main__":
    main()
