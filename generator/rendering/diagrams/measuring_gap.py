"""The drawing of how a gap is measured: to the nearest point, at lock and in bump."""

from itertools import chain

from generator.rendering.layout import Units
from generator.rendering.sketch import (
    Measure,
    Point,
    Shape,
    Sketch,
    Words,
    across,
    box,
    circle,
    led,
    polygon,
    turned,
    upright,
)
from generator.site.drawings import ExampleSubject
from generator.site.facts import Fact, words

EXPLAINS = True
_AXIS: Point = (110.0, 190.0)
_RAIL: Units = 262.0
_LUMP: Units = 512.0
"""Where the clay lies below the lip."""


def _tyre(steer: float) -> tuple[Point, ...]:
    x, y = _AXIS
    corners = (
        (x - 36.0, y - 128.0), (x + 36.0, y - 128.0), (x + 42.0, y - 112.0), (x + 42.0, y + 112.0),
        (x + 36.0, y + 128.0), (x - 36.0, y + 128.0), (x - 42.0, y + 112.0), (x - 42.0, y - 112.0),
    )  # fmt: skip
    return turned(corners, _AXIS, steer)


def _section(top: float) -> tuple[Point, ...]:
    return (
        (430.0, top + 16.0), (446.0, top + 2.0), (490.0, top), (534.0, top + 2.0),
        (550.0, top + 16.0), (556.0, top + 60.0), (546.0, top + 108.0), (434.0, top + 108.0),
        (424.0, top + 60.0),
    )  # fmt: skip


def _clay(tyre: Point, part: Point) -> Shape:
    """Draw a lump pressed on a part and squeezed to the gap: what stays is as thick as the gap."""
    (x0, y0), (x1, y1) = tyre, part
    along = (0.0, 1.0) if y0 == y1 else (1.0, 0.0)
    waist = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    spread = (((x1, y1), 20.0), (waist, 22.0), ((x0, y0), 9.0))
    side = [(x + along[0] * by, y + along[1] * by) for (x, y), by in spread]
    other = [(x - along[0] * by, y - along[1] * by) for (x, y), by in spread]
    return polygon("dw-region-tight dw-edge", (*side, *reversed(other)))


def _shapes(steered: tuple[Point, ...], edge: Point) -> tuple[Shape, ...]:
    """Draw tyre and rail from above, tyre and lip from behind, and the clay."""
    return (
        polygon("dw-hidden-edge", _tyre(0.0)),
        polygon("dw-tyre dw-edge", steered),
        circle("dw-ring", _AXIS, 7.0),
        box("dw-body dw-edge", (_RAIL, 40.0), (20.0, 330.0)),
        _clay((edge[0], edge[1]), (_RAIL, edge[1])),
        polygon("dw-hidden-edge", _section(236.0)),
        polygon("dw-tyre dw-edge", _section(146.0)),
        polygon(
            "dw-body dw-edge",
            ((410.0, 40.0), (424.0, 40.0), (424.0, 82.0), (566.0, 82.0), (566.0, 96.0),
             (410.0, 96.0)),
        ),
        _clay((_LUMP, 147.0), (_LUMP, 96.0)),
        polygon("dw-thin dw-arrow-end", ((40.0, 40.0), (40.0, 10.0)), closed=False),
    )  # fmt: skip


def scene(subject: ExampleSubject) -> Sketch:
    """Lay the drawing out."""
    steered = _tyre(-24.0)
    edge = max(steered[3:6], key=lambda point: point[0])
    pairs = (
        across(Measure((edge[0], _RAIL), edge[1] + 44.0, (edge[1], edge[1] + 20.0), "", None)),
        led((_RAIL - 22.0, edge[1] - 6.0), Words(300.0, 206.0, "clay")),
        led((_RAIL + 10.0, 110.0), Words(302.0, 60.0, "rail")),
        upright(Measure((96.0, 146.0), 474.0, (474.0, 474.0), "gap"), (462.0, 136.0), "end"),
        led((_LUMP, 118.0), Words(590.0, 60.0, "clay", "middle")),
        led((417.0, 66.0), Words(394.0, 40.0, "lip", "end")),
    )
    return Sketch(
        id=subject.id,
        title="A gap is measured to the nearest point, in the position that bites",
        desc=(
            "Left: from above at toe-out lock, from the tyre's edge to the rail. Right: from "
            "behind in full bump, from the crown to the lip. Clay lies in both gaps."
        ),
        caption=(
            "Left: from above, at toe-out lock. Right: from behind, in full bump. Dashes: standing "
            "straight ahead, where the same places look far apart. Not to scale. The clay lies in "
            "the gap, under film, and keeps the least gap of the whole movement."
        ),
        height=400.0,
        shapes=(*_shapes(steered, edge), *chain.from_iterable(lines for lines, _ in pairs)),
        words=(
            *(text for _, text in pairs if text.text),
            Words((edge[0] + _RAIL) / 2.0, edge[1] + 72.0, "gap", "middle", None, True),
            Words(52.0, 30.0, "forward"),
            Words(20.0, 388.0, "at lock"),
            Words(410.0, 388.0, "in bump"),
        ),
        numbers=(
            Fact("at lock", words("tyre's edge to the rail"), "clay or rule, at its own height"),
            Fact("in bump", words("crown to the lip"), "clay, springs out"),
            Fact("standing", words("says little of either"), "the gap is largest there"),
        ),
    )
