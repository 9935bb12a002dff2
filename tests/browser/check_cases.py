"""Cases of the checks that a trial shows: whole cars, with every finding as Python gives it."""

import random
from collections.abc import Iterator, Sequence
from datetime import date
from itertools import cycle
from typing import Any, TypeVar

from generator.assessment.car import car
from generator.assessment.finding import Finding
from generator.assessment.fit import axle_fit
from generator.assessment.hazards import findings
from generator.evidence.candidate import like_stock, millimetres
from generator.quantities.quantity import Quantity, read_quantity
from generator.quantities.rim_size import RimSize
from generator.quantities.seat import Seat, read_seat
from generator.quantities.span import read_extent, read_gap
from generator.quantities.thread import read_thread
from generator.quantities.tyre_size import read_tyre_size
from generator.quantities.units import Dimension
from generator.reading.fields import Figure
from generator.records.axle_sheet import AxleSheet, Cap
from generator.records.chassis import Chassis
from generator.records.fitted import (
    AxleSetup,
    BumpStopFitted,
    Hardware,
    RideHeight,
    SideValues,
    Spacer,
    TyreFitted,
    WheelFitted,
)
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.records.words import Axle, Fixing, Material, NutForm, SpacerKind, StopState
from generator.site.guide import Guide
from generator.site.live.fitted import fitted_json, number
from generator.site.live.sheet import end_json
from tests.browser.cases import Case

SEED = 20261129
DAY = date(2026, 3, 1)
SHOWN = (
    "H01", "H02", "H03", "H04", "H05", "H06", "H07", "H08", "H09", "H10", "H14", "H15", "H16",
    "H17", "H18", "H19", "H20", "H21", "H22", "H23", "H24", "H25", "H30",
)  # fmt: skip
"""What follows from a wheel, tyre or spacer on paper; the rest is read on the parts themselves."""
TYRES = (
    "205/60 R 14 88H", "205/60 R 14 88V", "185/65 R 14 86T", "225/55 R 14", "205/60 R 14 92W XL",
    "205/60 VR 14", "195/70 R 14 C 96/94S", "LT205/75 R 14 95Q", "HL 205/60 R 14 95Y",
    "P205/60 R 14 87H", "T125/70 D 14 93M", "E70-14", "165 SR 14", "6.50-14", "205/60 ZR 14 (88Y)",
    "205/60 R 14 279Y", "205/60 R 14 59S", "185/60 R 14 82H", "185/60 R 14",
)  # fmt: skip
Kind = TypeVar("Kind")


def check_cases(guide: Guide, count: int) -> Iterator[Case]:
    """Give all setups of the demo, and cars on which all is changed that a check asks for."""
    for setup in guide.setups():
        chassis = guide.library.chassis.get(setup.value.chassis)
        if chassis is not None:
            yield _case(chassis.value, setup.value)
    chance = random.Random(SEED)
    every = cycle(guide.chassis())
    for _ in range(count):
        chassis = next(every)
        yield _case(*_made_up(chassis, guide, chance))


def _case(chassis: Chassis, setup: Setup) -> Case:
    fits = [
        axle_fit(axle, getattr(setup, axle.value), getattr(chassis, axle.value)) for axle in Axle
    ]
    found = [each for each in findings(car(setup, chassis, *fits)) if each.code in SHOWN]
    rows = [row for each in found for row in _apart(_row(each), setup)]
    answer = [part for row in sorted(rows, key=_order) for part in row]
    given = {
        "car": {
            "drive": chassis.drive.value,
            "topSpeed": number(chassis.top_speed),
            "front": end_json(chassis.front, chassis.steering),
            "rear": end_json(chassis.rear, None),
        },
        "front": fitted_json(setup.front),
        "rear": fitted_json(setup.rear),
    }
    return Case("checks", given, answer)


_Row = list[float | str | None]


def _row(found: Finding) -> _Row:
    axle = found.axle.value if found.axle else None
    numbers = (found.value, found.u, found.bound)
    return [found.code, axle, found.side.value, found.outcome.value, *numbers]


def _apart(row: _Row, setup: Setup) -> list[_Row]:
    """Tell what is the same on both sides for each, where something differs between them.

    Whether two findings are told as one depends on their sentences, which are Python's alone.
    """
    end = None if row[1] is None else getattr(setup, str(row[1]))
    if end is None or row[2] != "both" or (end.left is None and end.right is None):
        return [row]
    return [[*row[:2], side, *row[3:]] for side in ("left", "right")]


def _order(row: _Row) -> tuple[str, float]:
    value = row[4]
    return " ".join(str(part or "") for part in row[:4]), -1e9 if value is None else float(value)


def _made_up(chassis: Filed[Chassis], guide: Guide, chance: random.Random) -> tuple[Chassis, Setup]:
    records = guide.setups_of(chassis.id)
    candidate = like_stock(chassis, day=DAY).setup.value
    start = chance.choice((candidate, *(each.value for each in records)))
    front, rear = (_fitted(getattr(start, axle.value), axle, chance) for axle in Axle)
    sheet = chassis.value.model_copy(
        update={
            "front": _sheet(chassis.value.front, chance),
            "rear": _sheet(chassis.value.rear, chance),
            "top_speed": _maybe(
                chance, "170 km/h", "210 km/h", "215 km/h", "300 km/h", of=Dimension.SPEED
            ),
        }
    )
    return sheet, start.model_copy(update={"front": front, "rear": rear})


def _maybe(chance: random.Random, *texts: str, of: Dimension = Dimension.LENGTH) -> Quantity | None:
    text = chance.choice((None, *texts))
    return None if text is None else read_quantity(text, of)


def _pick(chance: random.Random, options: Sequence[Kind]) -> Kind | None:
    return chance.choice((None, *options))


def _sheet(sheet: AxleSheet, chance: random.Random) -> AxleSheet:
    held = sheet.fastening.model_copy(
        update={
            "fixing": chance.choice(tuple(Fixing)),
            "nut": chance.choice(tuple(NutForm)),
            "free_depth": _maybe(chance, "20 mm", "24 mm", "45 mm"),
        }
    )
    cap = None
    if chance.random() < 0.6:
        cap = Cap.model_construct(
            diameter=_maybe(chance, "52 mm", "61.60 mm"),
            projection=read_quantity(chance.choice(("9 mm", "12 mm", "41 mm")), Dimension.LENGTH),
        )
    return sheet.model_copy(update={"fastening": held, "cap": cap})


def _fitted(start: AxleSetup, axle: Axle, chance: random.Random) -> AxleSetup:
    update: dict[str, Any] = {
        "wheel": _wheel(start.wheel, chance),
        "tyre": _tyre(start, chance),
        "spacer": _spacer(chance),
        "hardware": _hardware(chance),
        "camber": _maybe(chance, "-1 deg", "-2.5 deg", "-4 deg", "4.5 deg", of=Dimension.ANGLE),
        "bump_stop": _stop(chance),
        "caliper_to_spoke": _gap(chance),
        "caliper_to_barrel": _gap(chance),
        "face_moved": _maybe(chance, "4 mm") if chance.random() < 0.3 else None,
    }
    if chance.random() < 0.6:
        height = read_quantity(
            chance.choice(("-90 mm", "-30 mm", "0 mm", "12 mm")), Dimension.LENGTH
        )
        update["ride_height"] = RideHeight.model_construct(change=height)
    if chance.random() < 0.3:
        sides = ("camber", "-1.5 deg", Dimension.ANGLE), ("spacer", "8 mm", Dimension.LENGTH)
        name, text, dimension = chance.choice(sides)
        update["left"] = SideValues.model_construct(**{name: read_quantity(text, dimension)})
    if axle is Axle.REAR:
        update["camber"] = None
    return start.model_copy(update=update)


def _seat(chance: random.Random) -> Seat | None:
    text = _pick(chance, ("cone 60 deg", "60° cone", "cone 90 deg", "ball R14", "flat", "shank"))
    return None if text is None else read_seat(text)


def _wheel(start: WheelFitted, chance: random.Random) -> WheelFitted:
    return start.model_copy(
        update={
            "size": RimSize(chance.choice((5.0, 5.5, 6.0, 7.0, 8.0, 10.0)), 14),
            "offset": _maybe(chance, "-20 mm", "0 mm", "24 mm", "45 mm"),
            "backspacing": _maybe(chance, "120 mm", "140.5 mm"),
            "offset_measured": None,
            "width_measured": None,
            "bore": _maybe(chance, "56.5 mm", "57.1 mm", "61.60 mm", "72.6 mm"),
            "ring": _maybe(chance, "57.10 mm", "61.5 mm") if chance.random() < 0.3 else None,
            "seat": _seat(chance),
            "pad_thickness": _maybe(chance, "8 mm", "12.0 mm", "30 mm"),
            "material": _pick(chance, tuple(Material)),
            "load_rating": _maybe(chance, "380 kg", "460 kg", "650 kg", of=Dimension.MASS),
            "spoke_back": _maybe(chance, "-10 mm", "12 mm", "40 mm"),
            "barrel_radius": _maybe(chance, "120 mm", "150 mm", "172 mm"),
        }
    )


def _tyre(start: AxleSetup, chance: random.Random) -> TyreFitted:
    rims = _pick(chance, ("5.5 to 7.5 in", "140 to 190 mm", "7 to 8 in"))
    return TyreFitted.model_construct(
        size=read_tyre_size(chance.choice(TYRES)),
        approved_rims=None if rims is None else read_extent(rims),
        section_width=_maybe(chance, "205 mm"),
        diameter=_maybe(chance, "560 mm", "601.5 mm", "640 mm"),
        pressure=_maybe(chance, "1.6 bar", "2.1 bar", "2.5 bar", "3.0 bar", of=Dimension.PRESSURE),
    )


def _spacer(chance: random.Random) -> Spacer | None:
    # At the ends of every kind's band, at the snout's own height, and none.
    thickness = chance.choice((None, 0.0, 1.0, 3.0, 5.0, 6.0, 8.0, 20.0, 25.0, 50.0))
    if thickness is None:
        return None
    return Spacer.model_construct(
        thickness=millimetres(thickness),
        kind=chance.choice(tuple(SpacerKind)),
        count=_pick(chance, (1, 2)),
        nut_height=_maybe(chance, "16 mm", "20 mm", "25 mm"),
        pockets=_maybe(chance, "0 mm", "12 mm", "25 mm"),
    )


def _hardware(chance: random.Random) -> Hardware | None:
    if chance.random() < 0.25:
        return None
    turns = _pick(chance, (5.0, 8.0, 9.5, 14.0)) if chance.random() < 0.5 else None
    return Hardware.model_construct(
        thread=read_thread(chance.choice(("M12x1.5", "M14x1.5", "M12x1.25", "1/2-20", "M10x0.75"))),
        length=_maybe(chance, "28 mm", "38 mm", "60 mm"),
        nut=_pick(chance, tuple(NutForm)),
        nut_depth=_maybe(chance, "20 mm", "30 mm"),
        seat=_seat(chance),
        turns=None if turns is None else Figure(turns, f"{turns:g}"),
        engagement=_maybe(chance, "9 mm", "12 mm", "14.5 mm") if chance.random() < 0.5 else None,
    )


def _stop(chance: random.Random) -> BumpStopFitted | None:
    state = _pick(chance, tuple(StopState))
    if state is None:
        return None
    return BumpStopFitted.model_construct(
        state=state,
        trimmed=_maybe(chance, "0 mm", "8 mm", "90 mm"),
        spaced=_maybe(chance, "0 mm", "6 mm", "60 mm"),
        free_height=_maybe(chance, "40 mm"),
        damper_reserve=_maybe(chance, "4 mm", "8 mm", "12 mm"),
    )


def _gap(chance: random.Random) -> Any:
    said = _pick(
        chance,
        ("2 mm", "3 mm", "4.5 mm", "9 mm", "3 to 6 mm", "more than 2 mm", "more than 3 mm",
         "touches", "clears", "not checked"),
    )  # fmt: skip
    return None if said is None else read_gap(said)
