"""The chassis sheet: hub, fasteners, brakes, suspension, travel and the sites of one kind of car.

Coordinates are in the corner frame: x forward, y outboard, z up, from the point where the spin axis
meets the hub's mounting face at reference ride height.
"""

from typing import Annotated

from generator.quantities.span import Extent, Ramp, read_coordinate, read_extent
from generator.reading.fields import (
    Angle,
    Length,
    Line,
    Mass,
    Model,
    Name,
    Prose,
    Speed,
    described,
    listed,
    text_reader,
    word,
)
from generator.records.axle_sheet import AxleSheet
from generator.records.site_sheet import SiteSheet
from generator.records.words import (
    Drive,
    StopKind,
)

Coordinate = Annotated[Extent | Ramp, text_reader(read_coordinate)]
Range = Annotated[Extent, text_reader(read_extent)]


class Steering(Model):
    """The steering axis and its limits; the same on both sides."""

    inclination: Angle = described(
        "kingpin inclination, top inboard positive",
        example="11.8 deg",
        usual=(4, 18),
        required=True,
    )
    caster: Angle = described(
        "caster, top rearward positive", example="3.9 deg", usual=(-1, 12), required=True
    )
    axis_inset: Length = described(
        "hub face to steering axis at spindle height, inboard positive",
        example="96.4 mm",
        usual=(50, 165),
        required=True,
    )
    toe_out_lock: Angle = described(
        "greatest angle with the front of the wheel outboard",
        example="37.5 deg",
        usual=(15, 46),
        required=True,
    )
    toe_in_lock: Angle = described(
        "greatest angle with the front of the wheel inboard",
        example="32 deg",
        usual=(12, 42),
        required=True,
    )
    arm: Length | None = described("length of the steering arm", example="138 mm", usual=(80, 190))
    stop: Annotated[StopKind, word(StopKind)] | None = described(
        "what ends the lock", example="screw on the knuckle"
    )
    stop_arm: Length | None = described(
        "steering axis to the stop's contact", example="74 mm", usual=(35, 170)
    )


class Chassis(Model):
    """One kind of car, as far as wheel fitment needs it."""

    name: Name = described("name of the car", example="Ostvane Meridel", required=True)
    also_called: tuple[Name, ...] = listed("other names members use", example="Meridel coupe")
    body: Line = described("body", example="two-door notchback coupe", required=True)
    built: Line = described("years built", example="1976 to 1984", required=True)
    drive: Annotated[Drive, word(Drive)] = described("driven wheels", example="rear", required=True)
    summary: Line = described(
        "one line about it", example="strut front, live axle on a rod", required=True
    )
    wheelbase: Length = described("wheelbase", example="2480 mm", usual=(1900, 3100), required=True)
    kerb_mass: Mass = described("kerb mass", example="1115 kg", usual=(500, 2200), required=True)
    top_speed: Speed | None = described(
        "the vehicle's top speed, for the speed symbol", example="175 km/h", usual=(80, 320)
    )
    variants: tuple[Line, ...] = listed(
        "variants that differ at hub, brake or suspension", example="rear drum from 1980 on"
    )
    front: AxleSheet = described("the front end", required=True)
    rear: AxleSheet = described("the rear end", required=True)
    steering: Steering = described("the steering", required=True)
    sites: tuple[SiteSheet, ...] = listed("where a tyre or wheel can touch")
    build_changes: Prose | None = described("changes while it was built that matter here")
    cautions: Prose | None = described("cautions of the maker and of the club")
    notes: Prose | None = described("remarks")
