"""Straight and flat shapes as rows of numbers, so that the points of many are found at once.

A point of such a shape is its start and a share of the way that each parameter leads. A bent shape
(an arc, a line with corners) has no such row and is asked itself.
"""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from generator.frozen import dataclass
from generator.geometry.frames import Floats, Indices
from generator.geometry.shapes import Shape

Flags = npt.NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class ShapeRows:
    """Shapes, one a row.

    straight: (t,), whether the rest of a row says all. start: (t, 3) mm, the point at zero.
    whole: (t, 3, 3) mm, [k] the way that the parameter k leads from 0 to 1. sizes: (t, 3) mm.
    dimensions: (t,), how many parameters are used; used: (t, 3), which they are, those first.
    """

    straight: Flags
    start: Floats
    whole: Floats
    sizes: Floats
    dimensions: Indices
    used: Indices

    def points(self, owner: Indices, parameters: Floats) -> Floats:
        """Give the points (n, c, 3) mm at parameters (n, c, 3) of shapes (n,) that are straight."""
        ways = np.einsum("nck,nkj->ncj", parameters, self.whole[owner])
        points: Floats = self.start[owner][:, None, :] + ways
        return points


def rows_of(shapes: Sequence[Shape]) -> ShapeRows:
    """Give the rows of shapes.

    Source: own derivation: none needed: a straight shape is a linear map of its parameters.
    >>> from generator.geometry.shapes import Arc, Block, Extent
    >>> rows = rows_of([Block(x=Extent(-200.0, 200.0), y=80.0, z=300.0), Arc(0, 0, 9.0, 0, 9, 0)])
    >>> rows.straight.tolist(), rows.whole[0, 0].tolist()
    ([True, False], [400.0, 0.0, 0.0])
    """
    every = [_row(shape) for shape in shapes]
    sizes = np.array([each.sizes for each in every])
    return ShapeRows(
        np.array([each.straight for each in every]),
        np.array([each.start for each in every]),
        np.array([each.whole for each in every]),
        sizes,
        (sizes > 0.0).sum(axis=1),
        np.argsort(sizes <= 0.0, axis=1, kind="stable"),
    )


@dataclass(frozen=True, eq=False)
class _Row:
    straight: bool
    start: Floats
    whole: Floats
    sizes: Floats


@lru_cache(maxsize=4096)
def _row(shape: Shape) -> _Row:
    sizes = np.array(shape.sizes())
    ends = shape.at(np.vstack((np.zeros(3), np.diag(np.where(sizes > 0.0, 1.0, 0.0)))))
    straight = not shape.marks() and not np.isfinite(shape.bend)
    return _Row(straight, ends[0], ends[1:] - ends[0], sizes)
