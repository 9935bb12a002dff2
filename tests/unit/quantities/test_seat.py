"""Readings of seats; forms and radii are common practice of the trade."""

import pytest

from generator.quantities.misread import Misread
from generator.quantities.seat import SeatForm, read_seat


@pytest.mark.parametrize(
    ("text", "form", "angle", "radius", "canonical"),
    [
        ("cone 60 deg", SeatForm.CONE, 60.0, None, "cone 60 deg"),
        ("cone 60°", SeatForm.CONE, 60.0, None, "cone 60 deg"),
        ("60° cone", SeatForm.CONE, 60.0, None, "cone 60 deg"),
        ("Conical 90 degrees seat", SeatForm.CONE, 90.0, None, "cone 90 deg"),
        ("ball R13", SeatForm.BALL, None, 13.0, "ball R13"),
        ("radius R12.5 mm", SeatForm.BALL, None, 12.5, "ball R12.5"),
        ("flat", SeatForm.FLAT, None, None, "flat"),
        ("shank", SeatForm.SHANK, None, None, "shank"),
        ("mag", SeatForm.SHANK, None, None, "shank"),
    ],
)
def test_seat_is_read(
    text: str, form: SeatForm, angle: float | None, radius: float | None, canonical: str
) -> None:
    seat = read_seat(text)
    assert (form, angle, radius, canonical) == (seat.form, seat.angle, seat.radius, str(seat))
    assert read_seat(str(seat)) == seat


@pytest.mark.parametrize(
    ("text", "code", "fix"),
    [
        ("acorn", "N601", ""),
        ("flat 60", "N601", "flat"),
        ("cone 30 deg", "N602", "cone 60 deg"),
        ("cone", "N602", "cone 60 deg, cone 45 deg or cone 90 deg, as measured"),
        ("ball R26", "N603", "ball R13"),
        ("ball 13", "N603", "ball R13"),
    ],
)
def test_each_slip_has_its_code_and_fix(text: str, code: str, fix: str) -> None:
    with pytest.raises(Misread) as caught:
        read_seat(text)
    assert (code, fix) == (caught.value.code, caught.value.fix)
