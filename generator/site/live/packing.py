"""A distribution packed for the browser: its knots as lattice places, its masses as whole shares.

Six bytes a knot, the least significant byte first: two for the lattice steps from the knot before,
four for the probability since then in shares of 2³² − 1. `templates/scripts/fit/distribution.js`
unpacks it. Probabilities are kept to 2·10⁻¹⁰.
"""

import base64
from itertools import pairwise

from generator.evidence.distribution import Distribution
from generator.frozen import dataclass
from generator.quantities.units import Mm

WHOLE = 2**32 - 1
_PLACES = 2**16 - 1
_FINEST = 64
"""The smallest gap between knots is taken to be at most so many lattice steps."""
_ON_LATTICE = 1e-5


@dataclass(frozen=True)
class Packed:
    """The first knot, the lattice's step, and the cells as base64."""

    start: Mm
    step: Mm
    cells: str

    def as_json(self) -> dict[str, object]:
        """Give the form that the browser reads."""
        return {"start": self.start, "step": self.step, "cells": self.cells}


def packed(table: Distribution) -> Packed:
    """Pack a table. Raises ValueError where its knots are on no lattice.

    >>> packed(Distribution((0.0, 1.0, 3.0), (0.0, 0.5, 1.0), 0.0)).step
    1.0
    """
    start, step = table.knots[0], _step(table.knots)
    places = [round((knot - start) / step) for knot in table.knots]
    shares = [round(below * WHOLE) for below in table.below]
    cells = bytearray()
    for place, share in zip(_rises(places), _rises(shares), strict=True):
        cells += place.to_bytes(2, "little") + share.to_bytes(4, "little")
    return Packed(start, step, base64.b64encode(cells).decode("ascii"))


def unpacked(given: Packed) -> Distribution:
    """Give the table as the browser has it; its error is that of the whole shares."""
    cells = base64.b64decode(given.cells)
    knots, below, place, share = [], [], 0, 0
    for at in range(0, len(cells), 6):
        place += int.from_bytes(cells[at : at + 2], "little")
        share += int.from_bytes(cells[at + 2 : at + 6], "little")
        knots.append(given.start + given.step * place)
        below.append(share / WHOLE)
    below[-1] = 1.0
    return Distribution(tuple(knots), tuple(below), 1.0 / WHOLE)


def _rises(values: list[int]) -> list[int]:
    return [values[0], *(high - low for low, high in pairwise(values))]


def _step(knots: tuple[Mm, ...]) -> Mm:
    """Find the lattice: the largest step of which all distances are whole multiples."""
    gaps = [high - low for low, high in pairwise(knots)]
    least, whole = min(gaps), knots[-1] - knots[0]
    for parts in range(1, _FINEST + 1):
        step = least / parts
        count = round(whole / step)
        step = whole / count
        off = max(abs(gap / step - round(gap / step)) for gap in gaps)
        if off < _ON_LATTICE * max(1.0, max(gaps) / step) and max(gaps) / step < _PLACES:
            return step
    raise ValueError("the knots of this table lie on no lattice")
