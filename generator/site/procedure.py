"""How a wheel is tried on a car before the road: bench, car and road, with boxes to write in.

The mock-up sheet of a chassis prints it with the gaps of the stock wheels, a trial with those of
what is tried.
"""

from collections.abc import Iterator
from dataclasses import replace
from math import ceil

from generator.frozen import dataclass
from generator.records.axle_sheet import AxleSheet
from generator.records.chassis import Chassis
from generator.records.library import Filed
from generator.records.words import Axle
from generator.site import advice, cautions
from generator.site.facts import Fact, Shown, given, words
from generator.site.field_facts import shown
from generator.site.guide import Guide
from generator.site.mock_up import EndSteps


@dataclass(frozen=True)
class BenchLine:
    """One thing to look at before the wheel goes on: what the sheet says of it, front and rear."""

    label: str
    front: Shown
    rear: Shown


@dataclass(frozen=True)
class Procedure:
    """All steps in their order, with the cautions that stand before them."""

    bench: tuple[BenchLine, ...]
    heights: tuple[Fact, ...]
    ends: tuple[EndSteps, ...]
    torques: tuple[Fact, ...]
    brakes: tuple[str, ...]
    bench_cautions: tuple[cautions.Caution, ...]
    car_cautions: tuple[cautions.Caution, ...]
    turn_cautions: tuple[cautions.Caution, ...]
    road_cautions: tuple[cautions.Caution, ...]
    local_rules: str


def procedure(guide: Guide, filed: Filed[Chassis]) -> Procedure:
    """Give the steps for one chassis."""
    chassis = filed.value
    pair = (chassis.front, chassis.rear)
    return Procedure(
        bench=tuple(_bench(*pair)),
        heights=tuple(_heights(chassis)),
        ends=advice.mock_up_steps(filed),
        torques=tuple(
            Fact(f"{axle.value}, {sheet.fastening.thread}", given(sheet.fastening.torque))
            for axle, sheet in zip(Axle, pair, strict=True)
        ),
        brakes=tuple(_brakes(*pair)),
        bench_cautions=(cautions.LOADS, cautions.SPACERS),
        car_cautions=(cautions.JACKING, cautions.SPRINGS, cautions.HOSES),
        turn_cautions=(cautions.STEERING,),
        road_cautions=(cautions.FASTENERS, cautions.YOUR_CAR, cautions.BODY_CONTACT, cautions.LAW),
        local_rules=guide.club.local_rules,
    )


def _bench(front: AxleSheet, rear: AxleSheet) -> Iterator[BenchLine]:
    pairs = (
        ("bolts and bolt circle", [shown(end.bolt_circle) for end in (front, rear)]),
        ("bore, to pass the hub's pilot", [given(end.pilot_diameter) for end in (front, rear)]),
        ("cap stands out of the hub face", [
            given(end.cap.projection) if end.cap else words("no cap on the sheet")
            for end in (front, rear)
        ]),
        ("thread", [shown(end.fastening.thread) for end in (front, rear)]),
        ("thread that stands out, or is in the hub", [
            given(end.fastening.length) for end in (front, rear)
        ]),
        ("seat", [shown(end.fastening.seat) for end in (front, rear)]),
        ("stock wheel", [shown(end.stock_wheel.size) for end in (front, rear)]),
        ("offset, stock", [given(end.stock_wheel.offset, is_signed=True) for end in (front, rear)]),
        ("backspacing, stock", [given(end.stock_wheel.backspacing) for end in (front, rear)]),
        ("tyre section width on its rim, stock", [
            given(end.stock_tyre.section_width) for end in (front, rear)
        ]),
        ("tyre diameter, stock", [given(end.stock_tyre.diameter) for end in (front, rear)]),
        ("run-out of the bead seat, side and up, at most", [
            words("what the wheel's maker says")
        ] * 2),
        ("load rating cast in the wheel, at least", [_half_load(end) for end in (front, rear)]),
        ("load index and date code of the tyre", [words("by the car's papers")] * 2),
        ("turns from first catch to seat, spacer on, at least", [
            _turns(end) for end in (front, rear)
        ]),
    )  # fmt: skip
    for label, (left, right) in pairs:
        yield BenchLine(label, left, right)


def _brakes(front: AxleSheet, rear: AxleSheet) -> Iterator[str]:
    """Say what of each brake to look at: calipers where there are any, drums else."""
    parts = {axle.value: end.brake.part for axle, end in zip(Axle, (front, rear), strict=True)}
    if "drum" in parts.values():
        yield "drum: clips off, screws flush, adjuster within reach"
    if len(set(parts.values())) == 1:
        yield f"{front.brake.part} passes spoke and barrel, by clay"
    else:
        yield from (
            f"{axle}: {part} passes spoke and barrel, by clay" for axle, part in parts.items()
        )


def _half_load(end: AxleSheet) -> Shown:
    """Show what one wheel must carry: half of the permitted axle load, never rounded down."""
    load = given(end.permitted_load)
    halves = [
        None if each is None else float(ceil(each / 2.0)) for each in (load.value, load.other)
    ]
    return replace(load, value=halves[0], other=halves[1], decimals=0, other_decimals=0, typed="")


def _turns(end: AxleSheet) -> Shown:
    """Show the turns that make one diameter of engagement, which common practice wants."""
    thread = end.fastening.thread
    tenths = ceil(round(10.0 * thread.diameter / thread.pitch, 6))
    return words(f"{tenths / 10.0:.1f}, one diameter")


def _heights(chassis: Chassis) -> Iterator[Fact]:
    for axle, end in zip(Axle, (chassis.front, chassis.rear), strict=True):
        yield Fact(f"{axle.value}, hub centre to lip", given(end.ride_height.hub_to_lip))
        yield Fact(f"{axle.value}, hub centre to a fixed point", given(end.ride_height.hub_to_rail))
        yield Fact(f"{axle.value}, travel up to the stop", given(end.suspension.bump))
        yield Fact(f"{axle.value}, travel down", given(end.suspension.droop))
