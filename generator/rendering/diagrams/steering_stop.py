"""The drawing of a shimmed steering stop: a little at the stop is much at the tyre's edge."""

from dataclasses import replace
from itertools import chain
from math import radians

from generator.geometry.travel import Locks, shimmed_at_stops
from generator.quantities.units import Deg, Mm
from generator.rendering.layout import Units
from generator.rendering.sketch import (
    Measure,
    Point,
    Sketch,
    Words,
    across,
    angle,
    box,
    circle,
    led,
    polygon,
    turned,
)
from generator.site.drawings import ExampleSubject
from generator.site.facts import Fact, exact_length

EXPLAINS = True
LOCK: Deg = 38.0
ARM: Mm = 74.0
SHIM: Mm = 3.0
EDGE: Mm = 280.0
_AXIS: Point = (250.0, 210.0)
_SHOWN: Deg = 9.0
"""By how much the drawing turns the wheel back, so that it can be seen."""
_HALF: tuple[Units, Units] = (42.0, 170.0)


def _tyre(steer: Deg) -> tuple[Point, ...]:
    (x, y), (half, length) = _AXIS, _HALF
    left, right = x - 60.0 - half, x - 60.0 + half
    corners = ((left, y - length), (right, y - length), (right, y + length), (left, y + length))
    return turned(corners, _AXIS, steer)


def scene(subject: ExampleSubject) -> Sketch:
    """Lay the drawing out."""
    lost = LOCK - shimmed_at_stops(Locks(toe_out=LOCK), ARM, toe_out=SHIM).toe_out
    drawn_back = EDGE * radians(lost)
    lug = (_AXIS[0] + 180.0, _AXIS[1])
    arm, told = across(Measure((_AXIS[0], lug[0]), 300.0, (222.0, 250.0), "stop arm",
                               exact_length(ARM, 0)))  # fmt: skip
    pairs = (
        (arm, replace(told, x=lug[0] + 10.0, y=308.0, anchor="start")),
        led((lug[0] - 4.0, 192.0), Words(500.0, 110.0, "shim", "start", exact_length(SHIM, 0))),
        led((lug[0], 158.0), Words(500.0, 60.0, "stop")),
        led(_AXIS, Words(330.0, 330.0, "steering axis")),
    )  # fmt: skip
    shapes = (
        polygon("dw-hidden-edge", _tyre(-32.0)),
        polygon("dw-tyre dw-edge", _tyre(-32.0 + _SHOWN)),
        box("dw-solid dw-edge", (_AXIS[0], 200.0), (190.0, 20.0)),
        box("dw-region-tight dw-edge", (lug[0] - 12.0, 184.0), (24.0, 16.0)),
        box("dw-body dw-edge", (lug[0] - 26.0, 132.0), (52.0, 52.0)),
        polygon("dw-edge", ((lug[0] - 12.0, 220.0), (lug[0] + 12.0, 220.0)), closed=False),
        circle("dw-ring", _AXIS, 10.0),
        polygon("dw-thin dw-arrow-end", ((600.0, 390.0), (600.0, 330.0)), closed=False),
    )
    return Sketch(
        id=subject.id,
        title="What a shim at the steering stop takes from the lock",
        desc=(
            f"A shim of {SHIM:g} mm at {ARM:g} mm from the steering axis takes {lost:.1f}° of lock "
            f"and draws the tyre's edge back by {drawn_back:.0f} mm."
        ),
        caption=(
            f"An example, from above, left wheel at toe-out lock; dashes: without the shim, drawn "
            f"further apart than the {lost:.1f}° are. Both sides alike, and the stop, not the "
            "tyre, ends the lock."
        ),
        height=420.0,
        shapes=(*shapes, *chain.from_iterable(lines for lines, _ in pairs)),
        words=(*(text for _, text in pairs), Words(590.0, 366.0, "forward", "end")),
        numbers=(
            Fact("stop arm", exact_length(ARM, 0)),
            Fact("shim", exact_length(SHIM, 0)),
            Fact("lock lost", angle(lost)),
            Fact("tyre's edge drawn back", exact_length(drawn_back, 0), f"at {EDGE:g} mm"),
        ),
    )
