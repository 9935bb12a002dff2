"""A place where a tyre or wheel can touch the car, and its shape.

Coordinates are in the corner frame: x forward, y outboard, z up, from the point where the spin axis
meets the hub's mounting face at reference ride height.
"""

from typing import Annotated

from generator.quantities.span import Extent, Ramp, read_coordinate, read_extent
from generator.reading.fields import (
    Angle,
    Length,
    Line,
    Model,
    Slug,
    choice,
    described,
    text_reader,
    word,
)
from generator.records.words import (
    Attachment,
    Axle,
    Facing,
    Part,
    Side,
)

Coordinate = Annotated[Extent | Ramp, text_reader(read_coordinate)]
Range = Annotated[Extent, text_reader(read_extent)]


class Arc(Model):
    """A part of a circle around an axis that runs across the car, such as a wheel-arch lip."""

    x: Length = described("centre, forward of the hub", example="4 mm", required=True)
    z: Length = described("centre, above the hub", example="8 mm", required=True)
    radius: Length = described("radius", example="366 mm", usual=(200, 500), required=True)
    begin: Angle = described("begin, from forward, upwards", example="15 deg", required=True)
    end: Angle = described("end, from forward, upwards", example="165 deg", required=True)
    y: Coordinate = described("distance outboard of the hub face", example="92 mm", required=True)


class Block(Model):
    """A point, edge, face or box: each coordinate a length, an extent or a ramp."""

    x: Coordinate = described("forward of the hub", example="-25 to 25 mm", required=True)
    y: Coordinate = described("outboard of the hub face", example="-139 -> -154 mm", required=True)
    z: Coordinate = described("above the hub", example="200 -> 300 mm", required=True)


class Corner(Model):
    """One point of a line."""

    x: Length = described("forward of the hub", example="45 mm", required=True)
    y: Length = described("outboard of the hub face", example="-205 mm", required=True)
    z: Length = described("above the hub", example="-118 mm", required=True)


class Reach(Model):
    """A site of which only its distance from the spin axis is known."""

    radius: Length = described("distance from the spin axis", example="280 mm", required=True)
    stock_gap: Length | None = described(
        "gap to the stock tyre, standing", example="14 mm", usual=(0, 200)
    )


def _one_side(text: str) -> Side | None:
    """Read a side of the car; a site on both is not on one side only."""
    side = choice(Side)(text)
    return None if side is Side.BOTH else side


class SiteSheet(Model):
    """A place where a tyre or wheel can touch the car."""

    name: Slug = described("short name, used in records", example="strut-tube", required=True)
    label: Line = described("name for people", example="strut tube", required=True)
    axle: Annotated[Axle, word(Axle)] = described("front or rear", example="front", required=True)
    facing: Annotated[Facing, word(Facing)] = described(
        "which face of the tyre it lies at", example="inboard", required=True
    )
    moves_with: Annotated[Attachment, word(Attachment)] = described(
        "what it is fixed to", example="knuckle", required=True
    )
    part: Annotated[Part, word(Part)] | None = described(
        "lip or liner, where the site is one of them", example="lip"
    )
    only: Annotated[Side, text_reader(_one_side)] | None = described(
        "the side of the car, where it is on one side only", example="left"
    )
    arc: Arc | None = described("shape: part of a circle")
    block: Block | None = described("shape: point, edge, face or box")
    line: tuple[Corner, ...] | None = described("shape: straight pieces from point to point")
    reach: Reach | None = described("no shape yet: only its radius")
    thickness: Length | None = described(
        "radius of a round bar or hose around the line", example="8 mm", usual=(1, 60)
    )
    wanted: Length = described(
        "the least gap wanted here", example="5 mm", usual=(2, 30), required=True
    )
    spread: Length | None = described(
        "how far the coordinates may be off, one sigma", example="3 mm", usual=(0.5, 12)
    )
    between_cars: Length | None = described(
        "scale of how far cars differ here, see the method", example="4 mm", usual=(0.5, 12)
    )
    evidence: Line | None = described(
        "how the coordinates were found", example="measured on two cars with the springs out"
    )
    caution: Line | None = described(
        "what must be said wherever this site is shown",
        example="a hose that touches a tyre will fail",
    )

    @property
    def sides(self) -> tuple[Side, ...]:
        """The sides of the car it is on."""
        return (Side.LEFT, Side.RIGHT) if self.only is None else (self.only,)
