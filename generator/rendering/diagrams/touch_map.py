"""The drawing of where a tyre touches: from behind and from outside, the places numbered."""

from collections.abc import Iterator
from math import cos, radians, sin

from generator.rendering.layout import Units
from generator.rendering.sketch import Point, Shape, Sketch, Words, box, circle, polygon
from generator.site.drawings import ExampleSubject
from generator.site.facts import Fact, words

EXPLAINS = True
PLACES: tuple[tuple[str, str, Point], ...] = (
    ("outer lip", "full bump, with a little steer", (52.0, 84.0)),
    ("spring perch", "every position: it moves with the wheel", (206.0, 72.0)),
    ("strut tube or damper", "every position: it moves with the wheel", (262.0, 168.0)),
    ("rail, rod or bar", "full lock, often at droop", (282.0, 268.0)),
    ("caliper and spokes", "every turn of the wheel", (150.0, 292.0)),
    ("liner and bumper tab", "toe-in lock, braking", (366.0, 180.0)),
    ("lip over the crown", "full bump", (480.0, 46.0)),
    ("pinch weld and liner", "toe-out lock, reversing", (602.0, 236.0)),
)
"""Place, when it touches, and where its number stands on the sheet."""
_WHEEL: Point = (480.0, 210.0)
_TYRE: Units = 112.0


def _arch(radius: Units) -> Shape:
    x, y = _WHEEL
    turns = [radians(at) for at in range(200, 341, 14)]
    points = [(x + radius * cos(turn), y + 14.0 + radius * sin(turn)) for turn in turns]
    return polygon("dw-edge", points, closed=False)


def _shapes() -> Iterator[Shape]:
    tyre = (
        (92.0, 116.0), (104.0, 102.0), (150.0, 98.0), (196.0, 102.0), (208.0, 116.0),
        (214.0, 160.0), (204.0, 206.0), (96.0, 206.0), (86.0, 160.0),
    )  # fmt: skip
    yield polygon("dw-tyre dw-edge", tyre)
    rim = ((96.0, 206.0), (96.0, 222.0), (120.0, 236.0), (180.0, 236.0), (204.0, 222.0),
           (204.0, 206.0))  # fmt: skip
    yield polygon("dw-edge", rim, closed=False)
    yield polygon("dw-solid dw-edge", ((112.0, 236.0), (124.0, 236.0), (136.0, 340.0),
                                       (124.0, 340.0)))  # fmt: skip
    yield box("dw-hidden-edge", (142.0, 258.0), (52.0, 58.0))
    yield box("dw-solid dw-edge", (214.0, 82.0), (44.0, 8.0))
    yield box("dw-solid dw-edge", (232.0, 96.0), (14.0, 130.0))
    yield box("dw-body dw-edge", (258.0, 286.0), (26.0, 44.0))
    yield box("dw-body dw-edge", (66.0, 48.0), (10.0, 52.0))
    yield polygon("dw-axis", ((60.0, 340.0), (300.0, 340.0)), closed=False)
    yield circle("dw-tyre dw-edge", _WHEEL, _TYRE)
    yield circle("dw-ring", _WHEEL, 70.0)
    yield _arch(136.0)
    yield polygon("dw-thin dw-arrow-end", ((440.0, 350.0), (370.0, 350.0)), closed=False)


def scene(subject: ExampleSubject) -> Sketch:
    """Lay the drawing out."""
    marks = [circle("dw-ring", place, 17.0) for _, _, place in PLACES]
    numbers = [
        Words(x, y + 8.0, str(at), "middle", None, True)
        for at, (_, _, (x, y)) in enumerate(PLACES, 1)
    ]
    return Sketch(
        id=subject.id,
        title="Where wheel and tyre touch, in eight places",
        desc="; ".join(f"{at} {name}" for at, (name, _, _) in enumerate(PLACES, 1)) + ".",
        caption=(
            "Left wheel: from behind, outboard to the left, and from outside, forward to the left. "
            "Not to scale. "
            + "; ".join(f"{at} {name}" for at, (name, _, _) in enumerate(PLACES, 1))
            + "."
        ),
        height=392.0,
        shapes=(*_shapes(), *marks),
        words=(*numbers, Words(60.0, 378.0, "from behind"), Words(370.0, 378.0, "forward")),
        numbers=tuple(
            Fact(f"{at} {name}", words(when)) for at, (name, when, _) in enumerate(PLACES, 1)
        ),
    )
