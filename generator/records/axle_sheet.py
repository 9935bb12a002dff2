"""One end of a car on its sheet: hub, fasteners, brake, stock wheel, suspension."""

import re
from typing import Annotated

from generator.quantities.span import Extent, Ramp, read_coordinate, read_extent
from generator.reading.fields import (
    Angle,
    AnglePerLength,
    Bolts,
    Length,
    Line,
    Mass,
    Model,
    Number,
    Rim,
    Screw,
    SeatForm,
    Torque,
    Tyre,
    described,
    text_reader,
    word,
)
from generator.records.hard_points import HardPoints
from generator.records.words import (
    Fixing,
    Location,
    NutForm,
    Side,
    SuspensionKind,
)

Coordinate = Annotated[Extent | Ramp, text_reader(read_coordinate)]
Range = Annotated[Extent, text_reader(read_extent)]


class OutlinePoint(Model):
    """One corner of a brake's outline."""

    r: Length = described(
        "distance from the spin axis", example="151 mm", usual=(20, 230), required=True
    )
    y: Length = described(
        "distance outboard of the hub face", example="-12 mm", usual=(-140, 60), required=True
    )


class Brake(Model):
    """The largest reach of disc, caliper or drum inside the wheel."""

    @property
    def part(self) -> str:
        """Name what reaches furthest into the wheel; a drum inside a disc's hat does not."""
        told = self.description.casefold()
        is_drum = "drum" in told and not re.search(r"dis[ck]|caliper", told)
        return "drum" if is_drum else "caliper"

    description: Line = described(
        "what the brake is", example="solid disc, single-piston sliding caliper", required=True
    )
    diameter: Length = described(
        "diameter of the disc, or outer diameter of the drum",
        example="252 mm",
        usual=(180, 380),
        required=True,
    )
    outline: tuple[OutlinePoint, ...] = described(
        "the outline of caliper and rotor, or of the drum, from the hub outward", required=True
    )


class StockWheel(Model):
    """The wheel the car came with."""

    size: Rim = described("size stamped on the stock wheel", example="6 x 14", required=True)
    offset: Length = described("its offset", example="24 mm", usual=(-20, 60), required=True)
    backspacing: Length | None = described(
        "its backspacing as measured", example="113 mm", usual=(70, 190)
    )
    barrel_radius: Length | None = described(
        "inner radius of its barrel over caliper or drum", example="160 mm", usual=(120, 260)
    )
    spoke_back: Length | None = described(
        "how far its spokes' back stands outboard of the hub face", example="22 mm", usual=(-20, 80)
    )
    spoke_back_radius: Length | None = described(
        "the radius at which the spokes' back was measured", example="120 mm", usual=(60, 220)
    )


class StockTyre(Model):
    """The tyre the car came with."""

    size: Tyre = described("its full designation", example="195/65 R14 89H", required=True)
    section_width: Length | None = described(
        "its section width on the stock wheel", example="201 mm", usual=(125, 320)
    )
    diameter: Length | None = described(
        "its overall diameter, unloaded", example="609 mm", usual=(480, 740)
    )
    loaded_radius: Length | None = described(
        "height of the wheel centre above the road, standing", example="294 mm", usual=(230, 360)
    )
    approved_rims: Range | None = described(
        "rim widths its maker approves", example="5.5 to 7 in", source="tyre maker"
    )


class Fastening(Model):
    """How the wheel is held."""

    fixing: Annotated[Fixing, word(Fixing)] = described(
        "studs with nuts, or bolts", example="studs", required=True
    )
    thread: Screw = described("thread", example="M12x1.5", required=True)
    length: Length = described(
        "studs: how far they stand out of the hub face; bolts: thread in the hub with the stock "
        "wheel",
        example="36 mm",
        usual=(12, 110),
        required=True,
    )
    free_depth: Length | None = described(
        "bolts: free depth behind the hub face before something is touched",
        example="29 mm",
        usual=(15, 60),
    )
    nut: Annotated[NutForm, word(NutForm)] = described(
        "open or closed nuts, or bolts", example="closed", required=True
    )
    seat: SeatForm = described("form of the seat", example="cone 60 deg", required=True)
    hex: Length | None = described("size of the hexagon", example="19 mm", usual=(16, 28))
    torque: Torque = described(
        "the vehicle maker's tightening torque",
        example="95 N·m",
        usual=(55, 240),
        source="vehicle maker",
        required=True,
    )


class Cap(Model):
    """Grease cap or hub nut that the wheel has to pass."""

    diameter: Length | None = described("its diameter", example="52 mm", usual=(30, 90))
    projection: Length = described(
        "how far it stands outboard of the hub face",
        example="41 mm",
        usual=(0, 70),
        required=True,
    )


class BumpStop(Model):
    """The stop that ends bump travel."""

    free_height: Length = described(
        "its height, not pressed", example="62 mm", usual=(15, 100), required=True
    )
    motion_ratio: Number = described(
        "travel at the stop for one millimetre of wheel travel",
        example="0.96",
        usual=(0.45, 1.15),
        required=True,
    )


class LateralRod(Model):
    """A Panhard rod: one end on the body, one on the axle."""

    length: Length = described(
        "between the centres of its joints", example="1015 mm", usual=(500, 1250), required=True
    )
    height_difference: Length = described(
        "body end above axle end, at reference ride height",
        example="42 mm",
        usual=(-120, 140),
        required=True,
    )
    body_side: Annotated[Side, word(Side)] = described(
        "side of the car on which the body end is", example="left", required=True
    )
    centre_height: Length | None = described(
        "middle of the rod above the axle line", example="25 mm", usual=(-150, 150)
    )


class WattLinkage(Model):
    """A Watt linkage: two equal links and a centre arm that holds the axle."""

    link: Length = described(
        "length of each link", example="430 mm", usual=(200, 700), required=True
    )
    arm: Length = described(
        "length of the centre arm between its outer joints",
        example="118 mm",
        usual=(60, 250),
        required=True,
    )
    centre_height: Length | None = described(
        "centre pivot above the axle line", example="15 mm", usual=(-150, 150)
    )


class Suspension(Model):
    """How the wheel moves."""

    kind: Annotated[SuspensionKind, word(SuspensionKind)] = described(
        "kind of suspension", example="strut", required=True
    )
    description: Line | None = described(
        "links and springs in words", example="strut, lower arm with radius rod"
    )
    bump: Length = described(
        "travel up from reference height to the squeezed stop",
        example="84 mm",
        usual=(15, 130),
        required=True,
    )
    droop: Length = described(
        "travel down from reference height", example="76 mm", usual=(15, 160), required=True
    )
    stop: BumpStop | None = described("the bump stop")
    camber_gain: AnglePerLength | None = described(
        "camber change for travel up", example="-0.013 deg/mm", usual=(-0.05, 0.01)
    )
    lateral_gain: Number | None = described(
        "movement outboard for one millimetre of travel up", example="0.02", usual=(-0.15, 0.15)
    )
    fore_aft_gain: Number | None = described(
        "movement forward for one millimetre of travel up", example="-0.01", usual=(-0.2, 0.2)
    )
    toe_gain: AnglePerLength | None = described(
        "toe-out change for travel up", example="0.002 deg/mm", usual=(-0.02, 0.02)
    )
    static_camber: Angle | None = described(
        "camber at reference height", example="-0.5 deg", usual=(-4, 1.5)
    )
    location: Annotated[Location, word(Location)] | None = described(
        "what holds a live axle sideways", example="panhard rod"
    )
    rod: LateralRod | None = described("the Panhard rod")
    watt: WattLinkage | None = described("the Watt linkage")
    roll_centre_height: Length | None = described(
        "where the axle tilts: height above the axle line", example="25 mm", usual=(-150, 200)
    )
    articulation_up: Length | None = described(
        "travel up of one side with the other down", example="70 mm", usual=(15, 130)
    )
    articulation_down: Length | None = described(
        "travel down of the other side", example="-60 mm", usual=(-140, -15)
    )
    single_camber_gain: AnglePerLength | None = described(
        "twist beam: camber change when one wheel alone travels up",
        example="-0.018 deg/mm",
        usual=(-0.05, 0.02),
    )
    single_toe_gain: AnglePerLength | None = described(
        "twist beam: toe-out change when one wheel alone travels up",
        example="-0.010 deg/mm",
        usual=(-0.03, 0.03),
    )


class RideHeightReference(Model):
    """The reference ride height of the sheet."""

    hub_to_lip: Length = described(
        "hub centre to the edge of the lip above it",
        example="374 mm",
        usual=(280, 480),
        required=True,
    )
    hub_to_rail: Length | None = described(
        "hub centre to a fixed point of the chassis", example="389 mm", usual=(250, 550)
    )


class AxleSheet(Model):
    """All a sheet says of one end of the car."""

    track: Length = described(
        "track with stock wheels", example="1395 mm", usual=(1200, 1700), required=True
    )
    face_distance: Length = described(
        "hub face to hub face", example="1443 mm", usual=(1250, 1750), required=True
    )
    body_width: Length | None = described(
        "width over the arches", example="1660 mm", usual=(1450, 1950)
    )
    kerb_load: Mass = described(
        "axle load at kerb", example="605 kg", usual=(300, 1000), required=True
    )
    permitted_load: Mass = described(
        "permitted axle load",
        example="730 kg",
        usual=(400, 1300),
        source="vehicle maker",
        required=True,
    )
    bolt_circle: Bolts = described("bolts and bolt circle", example="4x118", required=True)
    pilot_diameter: Length = described(
        "diameter of the hub's pilot (snout)", example="61.5 mm", usual=(48, 90), required=True
    )
    pilot_height: Length = described(
        "how far the pilot stands outboard of the face",
        example="9 mm",
        usual=(3, 20),
        required=True,
    )
    cap: Cap | None = described("grease cap or hub nut outboard of the face")
    fastening: Fastening = described("how the wheel is held", required=True)
    brake: Brake = described("the brake", required=True)
    stock_wheel: StockWheel = described("the stock wheel", required=True)
    stock_tyre: StockTyre = described("the stock tyre", required=True)
    ride_height: RideHeightReference = described("the reference ride height", required=True)
    suspension: Suspension = described("the suspension", required=True)
    hard_points: HardPoints | None = described(
        "joints and pivots of a strut or double wishbone, where somebody measured them"
    )
