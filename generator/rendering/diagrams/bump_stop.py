"""The drawing of a trimmed bump stop: the wheel gains more than was cut, by the motion ratio."""

from itertools import chain

from generator.geometry.travel import BumpStop, bump_gained
from generator.quantities.units import Mm, Ratio
from generator.rendering.layout import Units
from generator.rendering.sketch import (
    Measure,
    Point,
    Shape,
    Sketch,
    Words,
    box,
    circle,
    led,
    polygon,
    upright,
)
from generator.site.drawings import ExampleSubject
from generator.site.facts import Fact, exact_length, words

EXPLAINS = True
FREE_HEIGHT: Mm = 48.0
RATIO: Ratio = 0.68
CUT: Mm = 10.0
_SQUEEZE: Ratio = 0.4
"""Says nothing of the gain; the middle of what common practice gives for rubber."""
_PER_MM: Units = 2.6
_PIVOT = (90.0, 330.0)
_REACH: Units = 420.0
_TOP: Units = 52.0


def _shapes(at: Units, wheel: Point, raised: Point, ends: tuple[Units, Units]) -> tuple[Shape, ...]:
    """Draw mount, damper, stop and arm; `ends` are where the stop ends, cut and uncut."""
    top, (edge, bottom) = _TOP, ends
    return (
        box("dw-body dw-edge", (at - 90.0, 30.0), (180.0, 22.0)),
        box("dw-solid dw-edge", (at - 6.0, 52.0), (12.0, 168.0)),
        polygon(
            "dw-tyre dw-edge",
            ((at - 46.0, top), (at + 46.0, top), (at + 34.0, edge), (at - 34.0, edge)),
        ),
        polygon(
            "dw-region-touches dw-edge",
            ((at - 34.0, edge), (at + 34.0, edge), (at + 30.0, bottom), (at - 30.0, bottom)),
        ),
        box("dw-metal dw-edge", (at - 26.0, 220.0), (52.0, _PIVOT[1] - 220.0)),
        polygon("dw-edge", (_PIVOT, wheel), closed=False),
        polygon("dw-hidden-edge", (_PIVOT, raised), closed=False),
        circle("dw-ring", _PIVOT, 9.0),
        circle("dw-ring", (at, _PIVOT[1]), 9.0),
        circle("dw-solid dw-edge", wheel, 18.0),
        circle("dw-hidden-edge", raised, 18.0),
    )


def scene(subject: ExampleSubject) -> Sketch:
    """Lay the drawing out."""
    gained = bump_gained(BumpStop(FREE_HEIGHT, RATIO, _SQUEEZE), CUT)
    at = _PIVOT[0] + RATIO * _REACH
    wheel = (_PIVOT[0] + _REACH, _PIVOT[1])
    top, bottom = _TOP, _TOP + _PER_MM * FREE_HEIGHT
    edge, lift = bottom - _PER_MM * CUT, _PER_MM * gained
    pairs = (
        upright(Measure((top, bottom), at - 74.0, (at - 46.0, at - 34.0), "free height",
                        exact_length(FREE_HEIGHT, 0)), (at - 84.0, 122.0), "end"),
        upright(Measure((edge, bottom), at + 70.0, (at + 34.0, at + 34.0), "cut",
                        exact_length(CUT, 0)), (at + 84.0, 146.0), "start"),
        upright(Measure((wheel[1], wheel[1] - lift), wheel[0] + 76.0, (wheel[0], wheel[0]),
                        "gained", exact_length(gained)), (wheel[0] + 112.0, 244.0), "end"),
        led((_PIVOT[0], _PIVOT[1]), Words(_PIVOT[0] + 20.0, 392.0, "inner pivot of the arm")),
        led((at, 230.0), Words(at - 84.0, 236.0, "damper", "end")),
    )  # fmt: skip
    shapes = _shapes(at, wheel, (wheel[0], wheel[1] - lift), (edge, bottom))
    return Sketch(
        id=subject.id,
        title="What a trimmed bump stop gives at the wheel",
        desc=f"{CUT:g} mm cut at a motion ratio of {RATIO:g} give {gained:.1f} mm of bump.",
        caption=(
            f"An example: free height {FREE_HEIGHT:g} mm, motion ratio {RATIO:g}. Seen from "
            "behind; dashes: where the wheel then goes. The travel gained is gap lost over the "
            "crown. A stop is trimmed, never taken out."
        ),
        height=404.0,
        shapes=(*shapes, *chain.from_iterable(lines for lines, _ in pairs)),
        words=(*(text for _, text in pairs), Words(wheel[0], 378.0, "wheel", "middle")),
        numbers=(
            Fact("free height", exact_length(FREE_HEIGHT, 0)),
            Fact("cut", exact_length(CUT, 0)),
            Fact("motion ratio", words(f"{RATIO:g}"), "the stop's movement to the wheel's"),
            Fact("gained at the wheel", exact_length(gained)),
        ),
    )
