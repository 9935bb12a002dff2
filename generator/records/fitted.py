"""What is fitted at one end of the car: wheels, spacers, tyres, hardware, heights, stops."""

from typing import Annotated

from generator.quantities.span import Extent, GapReading, read_extent, read_gap
from generator.reading.fields import (
    Angle,
    Bolts,
    Count,
    Distance,
    Length,
    Line,
    Mass,
    Model,
    Number,
    Pressure,
    Rim,
    Screw,
    SeatForm,
    Slug,
    Torque,
    Tyre,
    Week,
    YesNo,
    described,
    listed,
    text_reader,
    word,
)
from generator.records.words import (
    CamberBy,
    Liner,
    Lips,
    Material,
    NutForm,
    SpacerKind,
    StopState,
    Tool,
)

GapSaid = Annotated[GapReading, text_reader(read_gap)]
Range = Annotated[Extent, text_reader(read_extent)]
ToolWord = Annotated[Tool, word(Tool)]


class WheelFitted(Model):
    """One axle's wheels: as ordered, and as measured on arrival."""

    size: Rim = described(
        "size stamped: width and diameter in inches", example="7 x 15", required=True
    )
    offset: Length | None = described(
        "offset as stamped or ordered; positive when the mounting face lies outboard of the rim's "
        "centre",
        example="20 mm",
        usual=(-75, 60),
        limit=(-130, 100),
        source="UN R124 2.6",
    )
    offset_measured: Length | None = described(
        "offset as measured", example="21 mm", usual=(-75, 60), limit=(-130, 100)
    )
    backspacing: Length | None = described(
        "mounting face to the inboard lip, with a straightedge across the lip",
        example="5.44 in",
        usual=(70, 230),
        limit=(35, 300),
    )
    width_measured: Length | None = described(
        "width between the flanges' inner faces", example="178 mm", usual=(95, 335)
    )
    overall_width: Length | None = described(
        "width from lip to lip", example="203 mm", usual=(110, 375)
    )
    flange_inboard: Length | None = described(
        "thickness of the inboard flange", example="12.5 mm", usual=(5, 18)
    )
    flange_outboard: Length | None = described(
        "thickness of the outboard flange", example="12.5 mm", usual=(5, 18)
    )
    material: Annotated[Material, word(Material)] | None = described(
        "what the wheel is made of", example="aluminium"
    )
    bolt_circle: Bolts | None = described("bolts and bolt circle", example="4x118")
    bore: Length | None = described("centre bore", example="61.6 mm", usual=(48, 90))
    ring: Length | None = described(
        "inner diameter of the centring ring, if one is fitted", example="61.6 mm", usual=(48, 90)
    )
    seat: SeatForm | None = described("form of the nut's seat", example="cone 60 deg")
    pad_thickness: Length | None = described(
        "thickness of the pad under the nut", example="12 mm", usual=(5, 40)
    )
    spoke_back: Length | None = described(
        "back of the spokes outboard of the mounting face", example="24 mm", usual=(-20, 90)
    )
    spoke_back_radius: Length | None = described(
        "the radius at which the spokes' back was measured", example="140 mm", usual=(60, 240)
    )
    barrel_radius: Length | None = described(
        "inner radius of the barrel over caliper or drum", example="172 mm", usual=(120, 280)
    )
    load_rating: Mass | None = described(
        "load rating marked on the wheel", example="560 kg", usual=(300, 1000)
    )
    masses: tuple[Mass, ...] = listed("mass of each wheel, bare", example="7.4 kg", usual=(3.5, 19))
    runout_radial: Length | None = described("radial run-out", example="0.3 mm", usual=(0, 2))
    runout_lateral: Length | None = described("lateral run-out", example="0.3 mm", usual=(0, 2))


class Spacer(Model):
    """What lies between hub and wheel."""

    thickness: Length = described(
        "thickness, all spacers and shims of the corner together",
        example="5 mm",
        usual=(0, 60),
        limit=(0, 90),
        required=True,
    )
    kind: Annotated[SpacerKind, word(SpacerKind)] = described(
        "how it is held", example="slip-on", required=True
    )
    count: Count | None = described("how many pieces", example="1")
    material: Annotated[Material, word(Material)] | None = described(
        "what it is made of", example="aluminium"
    )
    pockets: Length | None = described(
        "bolt-on: depth of the pockets in the wheel over the car's studs",
        example="12 mm",
        usual=(0, 40),
    )
    nut_height: Length | None = described(
        "bolt-on: height of the nuts of the first joint", example="16 mm", usual=(8, 30)
    )


class TyreFitted(Model):
    """One axle's tyres: what the sidewall says, and what was measured."""

    size: Tyre = described(
        "full designation from the sidewall", example="205/60 R15 91V", required=True
    )
    approved_rims: Range | None = described(
        "rim widths the tyre's maker approves", example="5.5 to 7.5 in", source="tyre maker"
    )
    section_width: Length | None = described(
        "section width as mounted, sidewall to sidewall, away from the ground",
        example="212 mm",
        usual=(130, 350),
    )
    tread_width: Length | None = described(
        "breadth of the tread", example="176 mm", usual=(90, 340)
    )
    diameter: Length | None = described(
        "diameter: circumference with a thin tape, divided by π", example="628 mm", usual=(480, 740)
    )
    tread_depth: Length | None = described("depth of the tread", example="7 mm", usual=(0, 11))
    pressure: Pressure | None = described(
        "cold pressure when measured", example="2.1 bar", usual=(1.0, 4.0)
    )
    date_codes: tuple[Week, ...] = listed("week and year of making", example="0823")


class Hardware(Model):
    """Studs or bolts, nuts, and how they were tightened."""

    thread: Screw = described("thread", example="M12x1.5", required=True)
    length: Length | None = described(
        "studs: how far they stand out of the hub face; bolts: reach under the head",
        example="48 mm",
        usual=(20, 110),
    )
    nut: Annotated[NutForm, word(NutForm)] | None = described(
        "open or closed nuts, or bolts", example="open"
    )
    seat: SeatForm | None = described("form of the nut's or bolt's seat", example="cone 60 deg")
    nut_depth: Length | None = described(
        "closed nuts: depth of thread to the bottom", example="30 mm", usual=(10, 60)
    )
    turns: Number | None = described(
        "turns from first catch to seated", example="9.5", usual=(5, 25)
    )
    engagement: Length | None = described(
        "length of engaged thread", example="14 mm", usual=(8, 40), limit=(1, 60)
    )
    torque: Torque | None = described(
        "tightening torque used", example="95 N·m", usual=(55, 240), limit=(20, 330)
    )
    lubricated: YesNo | None = described("were threads or seats lubricated", example="no")
    retorqued_after: Distance | None = described(
        "distance to the first re-torque", example="60 km", usual=(1, 500)
    )
    nuts_moved: YesNo | None = described("did a nut turn at re-torque", example="no")
    settled_after: Distance | None = described(
        "driven until a later check at which no nut turned", example="250 km", usual=(10, 2000)
    )
    studs_changed: Line | None = described(
        "were the studs changed", example="48 mm studs pressed in"
    )


class RideHeight(Model):
    """Ride height against the sheet."""

    change: Length | None = described(
        "against the sheet's reference, up positive, hub against body",
        example="-25 mm",
        usual=(-120, 60),
    )
    hub_to_lip: Length | None = described("hub centre to lip", example="349 mm", usual=(250, 480))
    hub_to_rail: Length | None = described(
        "hub centre to the sheet's fixed point", example="364 mm", usual=(230, 550)
    )


class BumpStopFitted(Model):
    """What was done to the bump stop."""

    state: Annotated[StopState, word(StopState)] = described(
        "original, trimmed, spaced, replaced or removed", example="trimmed", required=True
    )
    trimmed: Length | None = described("cut off", example="10 mm", usual=(0, 40))
    spaced: Length | None = described("added under it", example="8 mm", usual=(0, 40))
    free_height: Length | None = described(
        "height left, not pressed", example="52 mm", usual=(5, 100)
    )
    damper_reserve: Length | None = described(
        "damper travel left with the stop fully squeezed", example="12 mm", usual=(3, 60)
    )


class Bodywork(Model):
    """What was done to lips, liners and metal."""

    lips: Annotated[Lips, word(Lips)] | None = described("the lips", example="rolled")
    lips_gained: Length | None = described(
        "how far the lip's edge moved outboard or up", example="8 mm", usual=(0, 40)
    )
    liner: Annotated[Liner, word(Liner)] | None = described("the liner", example="trimmed")
    changed: tuple[Slug, ...] = listed(
        "sites of the sheet that were reshaped, moved or removed", example="pinch-weld"
    )


class SideValues(Model):
    """What is different on one side; what is left out is as on the axle."""

    spacer: Length | None = described("spacer thickness", example="8 mm", usual=(0, 60))
    section_width: Length | None = described(
        "section width as mounted", example="214 mm", usual=(130, 350)
    )
    diameter: Length | None = described("tyre diameter", example="627 mm", usual=(480, 740))
    camber: Angle | None = described("camber", example="-1.4 deg", usual=(-6, 1.5))
    ride_height_change: Length | None = described(
        "ride height against the sheet, up positive", example="-22 mm", usual=(-120, 60)
    )
    lips: Annotated[Lips, word(Lips)] | None = described("the lip", example="rolled")
    lips_gained: Length | None = described(
        "how far the lip's edge moved", example="8 mm", usual=(0, 40)
    )


class AxleSetup(Model):
    """Everything about one end of the car."""

    wheel: WheelFitted = described("the wheels", required=True)
    spacer: Spacer | None = described("spacer, if one is fitted")
    face_moved: Length | None = described(
        "hub face moved outboard by another hub, disc hat or axle", example="3 mm", usual=(-30, 60)
    )
    tyre: TyreFitted = described("the tyres", required=True)
    hardware: Hardware | None = described("studs or bolts, nuts, torque")
    camber: Angle | None = described(
        "camber, top outboard positive", example="-1.2 deg", usual=(-6, 1.5)
    )
    camber_by: Annotated[CamberBy, word(CamberBy)] | None = described(
        "where camber was set", example="top mount or arm"
    )
    toe: Angle | None = described(
        "toe of each wheel, toe-out positive", example="-0.1 deg", usual=(-1, 1)
    )
    ride_height: RideHeight | None = described("ride height")
    bump_stop: BumpStopFitted | None = described("bump stop")
    stop_shim: Length | None = described("shim at the steering stop", example="3 mm", usual=(0, 10))
    toe_out_lock: Angle | None = described(
        "measured lock, front of the wheel outboard", example="35 deg", usual=(15, 46)
    )
    toe_in_lock: Angle | None = described(
        "measured lock, front of the wheel inboard", example="30 deg", usual=(12, 42)
    )
    rod_change: Length | None = described(
        "lateral rod made longer (positive) or shorter", example="2 mm", usual=(-20, 20)
    )
    axle_error: Length | None = described(
        "axle off centre, to the left positive", example="3 mm", usual=(-15, 15)
    )
    bodywork: Bodywork | None = described("lips, liners and metal")
    caliper_to_spoke: GapSaid | None = described("gap of caliper or drum to spoke", example="4 mm")
    caliper_to_barrel: GapSaid | None = described(
        "gap of caliper or drum to barrel", example="5 mm"
    )
    left: SideValues | None = described("what is different on the left")
    right: SideValues | None = described("what is different on the right")
