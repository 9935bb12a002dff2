"""Seats: the form in which a nut or bolt meets the wheel.

Canonical texts: `cone 60 deg` (the included angle), `ball R13` (the radius in mm), `flat`, `shank`.
Source: common practice of the trade; ball radii R12, R13 and R14 from memory.
"""

from dataclasses import field
from enum import Enum

from generator.frozen import dataclass
from generator.quantities.cursor import Cursor, number, readable
from generator.quantities.misread import Explained
from generator.quantities.units import Deg, Mm

SMALLEST_CONE: Deg = 40.0
LARGEST_CONE: Deg = 120.0
SMALLEST_BALL: Mm = 8.0
LARGEST_BALL: Mm = 18.0
"""Wide of all seats in use, common practice; beyond, a half angle or a diameter was given."""

NOT_A_SEAT = Explained(
    "N601",
    "not a seat form",
    "Nut and wheel must meet in the same form, or the nut bears on a line and works loose. The "
    "forms in use are cone, ball, flat collar and shank with washer.",
    "Name the form, with the included angle of a cone or the radius of a ball.",
    "acorn",
    "cone 60 deg",
)
CONE_ANGLE = Explained(
    "N602",
    "a cone without its included angle",
    "Cones of 45, 60 and 90 degrees are in use and must not be mixed. The angle is the whole "
    "opening, not from the axis to the flank.",
    "Measure the cone with a gauge or marking blue, and write the included angle.",
    "cone 30 deg",
    "cone 60 deg",
)
BALL_RADIUS = Explained(
    "N603",
    "a ball without its radius",
    "Ball seats of several radii look alike and must not be mixed. The number is the radius: a "
    "ball of 26 mm is R13.",
    "Write R and the radius in mm.",
    "ball R26",
    "ball R13",
)
CODES: tuple[Explained, ...] = (NOT_A_SEAT, CONE_ANGLE, BALL_RADIUS)
_EXPECTED = "`cone 60 deg`, `ball R13`, `flat` or `shank`, with the numbers of this seat"
_ANGLE = "([0-9]{1,3}(?:[.][0-9])?)(?![0-9.]) *(?:degrees?|deg|°)?(?![A-Z])"
_CONE = "(?:cone|conical|taper|tapered)(?![A-Z])"


class SeatForm(Enum):
    """The shape of the bearing surface."""

    CONE = "cone"
    BALL = "ball"
    FLAT = "flat"
    SHANK = "shank"


@dataclass(frozen=True)
class Seat:
    """A seat's form, with the included angle of a cone or the radius of a ball."""

    form: SeatForm
    angle: Deg | None = None
    radius: Mm | None = None
    typed: str = field(compare=False, default="")

    def __str__(self) -> str:
        if self.angle is not None:
            return f"cone {number(str(self.angle))} deg"
        if self.radius is not None:
            return f"ball R{number(str(self.radius))}"
        return self.form.value


def read_seat(text: str) -> Seat:
    """Read a seat.

    Raises Misread (N601 to N603).
    Source: common practice of the trade.

    >>> str(read_seat("60° cone"))
    'cone 60 deg'
    """
    cursor = Cursor(readable(text, NOT_A_SEAT, expected=_EXPECTED))
    if cursor.take("flat(?![A-Z])"):
        seat = Seat(SeatForm.FLAT, typed=text)
    elif cursor.take("(?:shank|mag)(?![A-Z])"):
        seat = Seat(SeatForm.SHANK, typed=text)
    elif cursor.take("(?:ball|radius|spherical)(?![A-Z])"):
        seat = _ball(cursor)
    elif cursor.sees(_CONE) or cursor.sees(_ANGLE):
        seat = _cone(cursor)
    else:
        raise cursor.unexpected(NOT_A_SEAT, expected=_EXPECTED)
    cursor.take("seat(?![A-Z])")
    if cursor.rest:
        raise cursor.unexpected(NOT_A_SEAT, expected="nothing more", fix=str(seat))
    return seat


def _cone(cursor: Cursor) -> Seat:
    angle_first = cursor.take(_ANGLE)
    if cursor.take(_CONE) is None:
        raise cursor.unexpected(NOT_A_SEAT, expected="the word `cone` with the angle")
    angle = angle_first or cursor.take(_ANGLE)
    if angle is None:
        raise CONE_ANGLE.misread(
            "the cone has no angle",
            0,
            len(cursor.text),
            expected="the included angle, such as `cone 60 deg`",
            fix="cone 60 deg, cone 45 deg or cone 90 deg, as measured",
        )
    value = float(angle.group(1))
    if not SMALLEST_CONE <= value <= LARGEST_CONE:
        doubled = SMALLEST_CONE <= 2.0 * value <= LARGEST_CONE
        raise CONE_ANGLE.misread(
            f"a cone of {value:g} degrees is not in use on wheels",
            *angle.span(1),
            expected="the included angle, from 40 to 120 degrees",
            fix=f"cone {2.0 * value:g} deg" if doubled else "",
        )
    return Seat(SeatForm.CONE, angle=value, typed=cursor.text)


def _ball(cursor: Cursor) -> Seat:
    radius = cursor.take("(R?) *([0-9]{1,3}(?:[.][0-9])?)(?![0-9.])(?: *mm)?(?![A-Z])")
    if radius is None:
        raise BALL_RADIUS.misread(
            "the ball has no radius",
            0,
            len(cursor.text),
            expected="R and the radius in mm, such as `ball R13`",
            fix="ball R12, ball R13 or ball R14, as marked",
        )
    value = float(radius.group(2))
    in_use = SMALLEST_BALL <= value <= LARGEST_BALL
    if in_use and radius.group(1):
        return Seat(SeatForm.BALL, radius=value, typed=cursor.text)
    halved = SMALLEST_BALL <= value / 2.0 <= LARGEST_BALL
    fix = f"ball R{value:g}" if in_use else f"ball R{value / 2.0:g}" if halved else ""
    raise BALL_RADIUS.misread(
        f"`{radius.group().strip(' ')}` is not a ball radius",
        radius.end() - len(radius.group().strip(" ")),
        radius.end(),
        expected="R and the radius in mm, such as `R13`",
        fix=fix,
    )
