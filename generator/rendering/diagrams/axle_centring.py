"""The drawing of a live axle off centre: both gaps to the frame rails, and half the difference."""

from itertools import chain

from generator.quantities.units import Mm
from generator.rendering.layout import Units
from generator.rendering.sketch import Measure, Sketch, Words, across, box, circle, led, polygon
from generator.site.drawings import ExampleSubject
from generator.site.facts import Fact, exact_length, words

EXPLAINS = True
LEFT: Mm = 66.0
RIGHT: Mm = 74.0
_MIDDLE: Units = 320.0
_SHIFT: Units = 12.0
_RAIL: Units = 128.0
_GAP: Units = 70.0


def scene(subject: ExampleSubject) -> Sketch:
    """Lay the drawing out."""
    error = (RIGHT - LEFT) / 2.0
    centre = _MIDDLE + _SHIFT
    faces = (centre - _RAIL - _GAP, centre + _RAIL + _GAP)
    rails = (_MIDDLE - _RAIL, _MIDDLE + _RAIL)
    rod = ((_MIDDLE - 92.0, 160.0), (centre + 96.0, 196.0))
    pairs = (
        across(Measure((faces[0], rails[0]), 70.0, (120.0, 120.0), "", None)),
        across(Measure((rails[1], faces[1]), 70.0, (120.0, 120.0), "", None)),
        across(Measure((_MIDDLE, centre), 324.0, (220.0, 220.0), "off centre",
                       exact_length(error, 0))),
        led((centre + 52.0, 184.0), Words(centre + 40.0, 264.0, "lateral rod")),
    )  # fmt: skip
    shapes = (
        box("dw-tyre dw-edge", (faces[0] - 88.0, 112.0), (88.0, 190.0)),
        box("dw-tyre dw-edge", (faces[1], 112.0), (88.0, 190.0)),
        box("dw-solid dw-edge", (faces[0], 200.0), (faces[1] - faces[0], 18.0)),
        box("dw-body dw-edge", (rails[0], 96.0), (24.0, 70.0)),
        box("dw-body dw-edge", (rails[1] - 24.0, 96.0), (24.0, 70.0)),
        polygon("dw-edge", rod, closed=False),
        *(circle("dw-ring", end, 7.0) for end in rod),
        polygon("dw-axis", ((_MIDDLE, 20.0), (_MIDDLE, 330.0)), closed=False),
        polygon("dw-axis", ((centre, 180.0), (centre, 330.0)), closed=False),
    )
    return Sketch(
        id=subject.id,
        title="A live axle off centre, from both gaps to the frame rails",
        desc=(f"Left {LEFT:g} mm, right {RIGHT:g} mm: the axle stands {error:g} mm to the right."),
        caption=(
            "An example, from behind, not to scale; the error is drawn larger than it is. Measured "
            "to the rails, at the same height, with the car loaded as it is driven."
        ),
        height=366.0,
        shapes=(*shapes, *chain.from_iterable(lines for lines, _ in pairs)),
        words=(
            *(text for _, text in pairs if text.text),
            Words((faces[0] + rails[0]) / 2.0, 58.0, "left", "middle", exact_length(LEFT, 0), True),
            Words(
                (faces[1] + rails[1]) / 2.0, 58.0, "right", "middle", exact_length(RIGHT, 0), True
            ),
            Words(_MIDDLE - 12.0, 40.0, "body", "end"),
        ),
        numbers=(
            Fact("left, tyre to rail", exact_length(LEFT, 0)),
            Fact("right, tyre to rail", exact_length(RIGHT, 0)),
            Fact("off centre", exact_length(error, 0), "half of the difference, to the right"),
            Fact("rod", words("shorter by as much"), "its body end being on the left"),
        ),
    )
