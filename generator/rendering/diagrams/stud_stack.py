"""The drawing of what stands on a stud: spacer, wheel pad, and the thread left for the nut.

Outboard to the left, as in every section of the guide. To scale along the stud.
"""

from dataclasses import replace
from itertools import chain

from generator.geometry.fastening import Stack, engagement_from_stack
from generator.quantities.estimate import Basis, Estimate
from generator.quantities.units import Mm
from generator.rendering.layout import LINE_HEIGHT, Units
from generator.rendering.sketch import (
    Measure,
    Shape,
    Sketch,
    Words,
    across,
    box,
    led,
    polygon,
)
from generator.site.drawings import ExampleSubject
from generator.site.facts import Fact, exact_length, words

EXPLAINS = True
DIAMETER: Mm = 12.0
PROTRUSION: Mm = 36.0
SPACER: Mm = 10.0
PAD: Mm = 12.0
NUT: Mm = 18.0
_FACE: Units = 470.0
_PER_MM: Units = 9.0
_AXIS: Units = 150.0


def _x(outboard: Mm) -> Units:
    return _FACE - _PER_MM * outboard


def _exact(value: Mm) -> Estimate:
    return Estimate(value, 0.0, Basis.MEASURED)


def _shapes(seat: Mm) -> tuple[Shape, ...]:
    """Draw hub, spacer, pad, nut and stud; the nut's seat stands so far from the hub face."""
    return (
        box("dw-metal dw-edge", (_FACE, 50.0), (90.0, 212.0)),
        box("dw-body dw-edge", (_x(SPACER), 50.0), (_PER_MM * SPACER, 60.0)),
        box("dw-body dw-edge", (_x(SPACER), 202.0), (_PER_MM * SPACER, 60.0)),
        box("dw-solid dw-edge", (_x(seat), 50.0), (_PER_MM * PAD, 60.0)),
        box("dw-solid dw-edge", (_x(seat), 202.0), (_PER_MM * PAD, 60.0)),
        box("dw-metal dw-edge", (_x(seat + NUT), 82.0), (_PER_MM * NUT, 40.0)),
        box("dw-metal dw-edge", (_x(seat + NUT), 178.0), (_PER_MM * NUT, 40.0)),
        box("dw-edge", (_x(seat + NUT), 122.0), (_PER_MM * NUT, 56.0)),
        box("dw-solid dw-edge", (_x(PROTRUSION), 122.0), (_PER_MM * PROTRUSION + 90.0, 56.0)),
        polygon("dw-axis", ((100.0, _AXIS), (600.0, _AXIS)), closed=False),
        polygon("dw-thin dw-arrow-end", ((104.0, 224.0), (14.0, 224.0)), closed=False),
    )


def scene(subject: ExampleSubject) -> Sketch:
    """Lay the drawing out."""
    stack = Stack(_exact(PROTRUSION), _exact(SPACER), _exact(PAD))
    engaged = engagement_from_stack(stack, _exact(NUT)).value
    seat = SPACER + PAD
    thread, thread_words = across(Measure((_x(PROTRUSION), _x(seat)), 274.0, (178.0, 262.0),
                                          "engaged", exact_length(engaged, 0)))  # fmt: skip
    pairs = (
        across(Measure((_x(PROTRUSION), _x(0.0)), 412.0, (178.0, 262.0), "past the hub face",
                       exact_length(PROTRUSION, 0))),
        across(Measure((_x(seat), _x(SPACER)), 330.0, (262.0, 262.0), "pad", exact_length(PAD, 0))),
        (thread, replace(thread_words, shown=None)),
        led((_x(4.0), 70.0), Words(472.0, 26.0, "spacer", "start", exact_length(SPACER, 0))),
        led((510.0, 110.0), Words(580.0, 84.0, "hub")),
        led((_x(14.0), 62.0), Words(330.0, 26.0, "wheel's pad", "middle")),
        led((_x(30.0), 102.0), Words(140.0, 46.0, "nut", "end")),
    )  # fmt: skip
    lengths = {
        "past the hub face": PROTRUSION, "spacer": SPACER, "pad": PAD,
        "thread of the nut": NUT, "engaged": engaged,
    }  # fmt: skip
    return Sketch(
        id=subject.id,
        title="What stands on a stud, and the thread that is left for the nut",
        desc=(
            f"A stud {PROTRUSION:g} mm past the hub face, spacer {SPACER:g} mm, pad {PAD:g} mm, "
            f"nut with {NUT:g} mm of thread: {engaged:g} mm engaged."
        ),
        caption=(
            f"An example: stud M12, {PROTRUSION:g} mm past the hub face. Section along the stud, "
            "to scale, the seat drawn flat. Where the stud ends short of an open nut's face, the "
            "nut's last threads hold nothing."
        ),
        height=448.0,
        shapes=(*_shapes(seat), *chain.from_iterable(lines for lines, _ in pairs)),
        words=(
            *(text for _, text in pairs),
            replace(thread_words, y=thread_words.y + LINE_HEIGHT, text=""),
            Words(14.0, 250.0, "outboard"),
        ),
        numbers=(
            *(Fact(name, exact_length(value, 0)) for name, value in lengths.items()),
            Fact("engaged, in diameters", words(f"{engaged / DIAMETER:.2f}")),
        ),
    )
