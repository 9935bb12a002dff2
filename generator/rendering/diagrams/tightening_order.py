"""The drawing of the order in which four, five and six nuts are tightened: crosswise."""

from collections.abc import Iterator
from math import cos, pi, sin

from generator.rendering.layout import Units
from generator.rendering.sketch import Point, Shape, Sketch, Words, circle, polygon
from generator.site.drawings import ExampleSubject
from generator.site.facts import Fact, words

EXPLAINS = True
ORDERS: dict[int, tuple[int, ...]] = {
    4: (0, 2, 1, 3),
    5: (0, 2, 4, 1, 3),
    6: (0, 3, 2, 5, 4, 1),
}
"""The place of each nut in turn, counted clockwise from the top: common practice."""
_CENTRES: dict[int, Units] = {4: 112.0, 5: 320.0, 6: 528.0}
_LEVEL: Units = 118.0
_CIRCLE: Units = 66.0
_NUT: Units = 21.0


def _place(count: int, at: int) -> Point:
    turn = 2.0 * pi * at / count
    return (
        round(_CENTRES[count] + _CIRCLE * sin(turn), 1),
        round(_LEVEL - _CIRCLE * cos(turn), 1),
    )


def _shapes() -> Iterator[Shape]:
    for count, order in ORDERS.items():
        centre = (_CENTRES[count], _LEVEL)
        yield circle("dw-solid dw-edge", centre, 100.0)
        yield circle("dw-ring", centre, 22.0)
        places = [_place(count, at) for at in order]
        yield polygon("dw-hidden-edge", places, closed=False)
        for place in places:
            yield circle("dw-ring", place, _NUT)


def _words() -> Iterator[Words]:
    for count, order in ORDERS.items():
        for turn, at in enumerate(order, 1):
            x, y = _place(count, at)
            yield Words(x, y + 8.0, str(turn), "middle", None, True)
        yield Words(_CENTRES[count], 250.0, f"{count} nuts", "middle")


def _by_place(order: tuple[int, ...]) -> str:
    return ", ".join(str(order.index(at) + 1) for at in range(len(order)))


def scene(subject: ExampleSubject) -> Sketch:
    """Lay the drawing out."""
    return Sketch(
        id=subject.id,
        title="The order in which four, five and six nuts are tightened",
        desc="Crosswise: each nut lies as far as can be from the one before it.",
        caption=(
            "Seen from outside. Begin anywhere, follow the dashes, go round at every stage. Common "
            "practice; the vehicle maker's order goes first."
        ),
        height=268.0,
        shapes=tuple(_shapes()),
        words=tuple(_words()),
        numbers=tuple(
            Fact(f"{count} nuts, clockwise from the top", words(_by_place(order)))
            for count, order in ORDERS.items()
        ),
    )
