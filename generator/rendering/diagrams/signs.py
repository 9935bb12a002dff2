"""The drawing of words and signs: a wheel in section with its lengths named, no car of its own.

Drawn from a round example that the caption states; the lengths follow from the formulas of the
method page.
"""

from collections.abc import Iterator
from dataclasses import replace

from generator.frozen import dataclass
from generator.geometry.wheel import (
    FLANGE_THICKNESS,
    WheelDimensions,
    WheelPosition,
    wheel_position,
)
from generator.quantities.estimate import Basis, Estimate
from generator.quantities.units import Inch, Mm
from generator.rendering import section_shapes as shapes
from generator.rendering.dimensions import Dimension, across, dimension
from generator.rendering.layout import Scale, Units
from generator.site.drawings import SignsSubject
from generator.site.facts import Fact, Shown, estimated, exact_length

EXPLAINS = True
WIDTH: Inch = 7.0
OFFSET: Mm = 22.0
SPACER: Mm = 8.0
_BEAD: Mm = 380.2
"""Bead seat of a rim of 15 in [ISO4000-2], from memory."""
_FLANGE = Estimate(FLANGE_THICKNESS, 0.0, Basis.ASSUMED)
_ROW: Units = 58.0
_RIM_ABOVE: Units = 18.0
"""How far above the rim its width is drawn."""
_TAIL: Units = 34.0
_NEAR: Mm = 0.01
_FOOT: Mm = 95.0
"""The axis is drawn nearer than it is: only lengths across the car are to scale."""


@dataclass(frozen=True)
class Part:
    """A part's name, and the leader from it to the part."""

    leader: str
    x: Units
    y: Units
    name: str


@dataclass(frozen=True)
class Scene:
    """All coordinates, in sheet units, and the words."""

    id: str
    title: str
    desc: str
    caption: str
    height: Units
    rim: str
    disc: str
    spacer: str
    face: str
    axis: str
    centre: str
    dimensions: tuple[Dimension, ...]
    parts: tuple[Part, ...]
    flange: str
    flange_x: Units
    flange_y: Units
    outward: str
    outward_y: Units
    numbers: tuple[Fact, ...]


def scene(subject: SignsSubject) -> Scene:
    """Lay the drawing out."""
    wheel = _wheel()
    scale = Scale(345.0, 372.0, 2.1)
    rim = tuple((u, r - _FOOT) for u, r in shapes.rim_shape(wheel, _BEAD, 0.0))
    disc = tuple(
        (u, max(r - _FOOT, 12.0)) for u, r in shapes.disc_shape(wheel, _BEAD, SPACER, None)
    )
    top, foot = scale.y(max(r for _, r in rim)), scale.y(0.0)
    lip, wide = scale.x(wheel.outboard_lip.value), top - _RIM_ABOVE
    inner = wheel.inboard_lip.value
    lip_foot = scale.y(min(r for u, r in rim if abs(u - inner) < _NEAR))
    named = tuple(_named(wheel, top, foot, lip_foot))
    numbers = [Fact(each.name, _shown(each.value)) for each in named]
    numbers += [
        Fact("spacer s", exact_length(SPACER, 0)),
        Fact("flange t", exact_length(FLANGE_THICKNESS)),
    ]
    return Scene(
        id=subject.id,
        title="A wheel in section with its lengths named",
        desc=(
            f"A rim {WIDTH:g} in wide, offset {OFFSET:g} mm, spacer {SPACER:g} mm: backspacing "
            f"{wheel.backspacing.value:.1f} mm, effective offset "
            f"{wheel.effective_offset.value:.0f} mm."
        ),
        caption=(
            f"An example: 7 x 15, offset {OFFSET:g} mm, spacer {SPACER:g} mm, flanges "
            f"{FLANGE_THICKNESS:g} mm. Seen from behind, left wheel; lengths across the car to "
            "scale, the rim drawn nearer to the axis than it is."
        ),
        height=foot + 22.0 + 3 * _ROW + 4.0,
        rim=scale.path(rim),
        disc=scale.path(disc),
        spacer=scale.path(((0.0, 12.0), (0.0, 40.0), (SPACER, 40.0), (SPACER, 12.0))),
        face=scale.path(((0.0, 0.0), (0.0, 52.0)), closed=False),
        axis=f"M90 {foot:g}H560",
        centre=f"M{scale.x(wheel.centre_plane.value):g} {top - 10:g}V{foot + 2.6 * _ROW:g}",
        dimensions=tuple(_drawn(each, scale) for each in named),
        parts=tuple(_parts(scale)),
        flange=f"M{lip - _TAIL:g} {wide:g}H{lip:g}",
        flange_x=lip - _TAIL - 6.0,
        flange_y=wide + 8.0,
        outward="M118 40H30",
        outward_y=30.0,
        numbers=tuple(numbers),
    )


def _wheel() -> WheelPosition:
    return wheel_position(
        WheelDimensions(
            Estimate(WIDTH * 25.4, 0.0, Basis.STAMPED),
            offset=Estimate(OFFSET, 0.0, Basis.STAMPED),
            flange_inboard=_FLANGE,
            flange_outboard=_FLANGE,
        ),
        Estimate(SPACER, 0.0, Basis.MEASURED),
    )


@dataclass(frozen=True)
class _Named:
    """A length with its name, its ends, and where its line is drawn and starts from."""

    name: str
    value: Estimate
    ends: tuple[Mm, Mm]
    y: Units
    from_y: Units
    words_from: Mm | None = None
    """What its words stand right of, where the wheel's centre plane would run through them."""
    right_from: Units | None = None
    """Where the line of its right end starts, if not where that of its left one does."""


def _named(wheel: WheelPosition, top: Units, foot: Units, lip_foot: Units) -> Iterator[_Named]:
    inner, outer = wheel.inboard_lip.value, wheel.outboard_lip.value
    seats = (inner + _FLANGE.value, outer - _FLANGE.value)
    row = foot + 22.0
    centre = wheel.centre_plane.value
    yield _Named("overall width", wheel.overall_width, (inner, outer), top - 74.0, top)
    yield _Named("rim width W", wheel.width, seats, top - _RIM_ABOVE, top)
    yield _Named(
        "backspacing B", wheel.backspacing, (inner, SPACER), row, foot - 60.0, centre,
        right_from=lip_foot,
    )  # fmt: skip
    yield _Named("offset ET", wheel.offset, (centre, SPACER), row + _ROW, foot - 60.0)
    yield _Named("effective offset", wheel.effective_offset, (centre, 0.0), row + 2 * _ROW, foot)


def _drawn(named: _Named, scale: Scale) -> Dimension:
    line = across(scale, named.ends, named.y, named.from_y)
    above = -8.0 if named.y < named.from_y else 24.0
    drawn = dimension(named.name, estimated(named.value), line, above)
    if named.right_from is not None:
        left, right = drawn.extensions
        start, rest = right.split(" ")[0], right.partition("V")[2]
        drawn = replace(drawn, extensions=(left, f"{start} {named.right_from:g}V{rest}"))
    if named.words_from is None:
        return drawn
    return replace(drawn, x=scale.x(named.words_from) + 8.0, anchor="start")


def _parts(scale: Scale) -> Iterator[Part]:
    """Name the faces and the spacer between them, each right of the wheel's centre plane."""
    x = scale.x(SPACER - OFFSET) + 30.0
    for name, u, r in (
        ("hub face", 0.0, 46.0),
        ("spacer s", SPACER / 2.0, 31.0),
        ("mounting face", SPACER, 16.0),
    ):
        y = scale.y(r)
        yield Part(f"M{x - 6.0:g} {y:g}H{scale.x(u):g}", x, y + 8.0, name)


def _shown(value: Estimate) -> Shown:
    return exact_length(value.value)
