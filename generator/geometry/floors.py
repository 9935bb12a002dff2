"""How far the gap of a point on a flat shape can still fall while it goes a little way along it.

A section lies behind each of its supporting lines, so a gap is at least n·p − h for each of them.
Along a straight line or a flat face u changes evenly, and r by no less than along its own direction
at the start; so with the line that is nearest at the start the gap has a floor that is all but
reached. A search whose floor lies above a gap already found need not go on.
"""

from functools import lru_cache

import numpy as np

from generator.geometry.distance import lines_of
from generator.geometry.frames import Floats
from generator.geometry.outline import Outline
from generator.geometry.shapes import Shape
from generator.quantities.units import Mm


def floors(
    shape: Shape,
    outline: Outline,
    parameters: Floats,
    *,
    rotation: Floats,
    translation: Floats,
    left: Mm,
) -> Floats:
    """Give numbers (n,) mm that no gap is below within a way left along each parameter.

    parameters: (n, 3), where on the shape each stands. rotation (n, 3, 3), translation (n, 3) mm:
    of the wheel as the shape's body sees it. left: >= 0. No floor, minus infinity, is given for a
    shape that is bent.
    Source: own derivation: see the head; where n points towards the axis, r exceeds its even
    change by no more than the square of the way across over twice the radius.
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> from generator.geometry.shapes import Block, Extent
    >>> rail = Block(x=Extent(-215.0, 180.0), y=-24.0, z=310.0)
    >>> level = {"rotation": np.eye(3).reshape(1, 3, 3), "translation": np.zeros((1, 3))}
    >>> middle = np.array([[215.0 / 395.0, 0.0, 0.0]])
    >>> floors(rail, section_outline(EXAMPLE), middle, **level, left=4.5).round(3).tolist()
    [5.5]
    """
    if shape.marks() or np.isfinite(shape.bend):
        return np.full(len(parameters), -np.inf)
    sizes, ways = _ways(shape)
    away = shape.at(parameters) - translation
    x, u, z = (np.einsum("nj,nj->n", away, rotation[:, :, axis]) for axis in range(3))
    r = np.sqrt(x * x + z * z)
    normals, distances = lines_of(outline)
    beyond = normals @ np.stack((u, r)) - distances[:, None]
    best = beyond.argmax(axis=0)
    across, out = normals[best].T
    floor: Floats = beyond[best, np.arange(len(u))]
    for axis, way in zip(np.flatnonzero(sizes), ways, strict=True):
        along = np.einsum("j,nji->ni", way, rotation)
        steep = across * along[:, 1] + out * (along[:, 0] * x + along[:, 2] * z) / np.maximum(
            r, 1.0
        )
        low = np.maximum(-left, -parameters[:, axis] * sizes[axis])
        high = np.minimum(left, (1.0 - parameters[:, axis]) * sizes[axis])
        floor = floor + np.minimum(low * steep, high * steep)
    whole = left * np.sqrt(len(ways))
    round_off = whole**2 / (2.0 * np.maximum(r - whole, 1.0))
    safe = np.where(out < 0.0, floor + out * round_off, floor)
    return np.where(r > 1.0 + whole, safe, -np.inf)


@lru_cache(maxsize=4096)
def _ways(shape: Shape) -> tuple[Floats, Floats]:
    """Give the sizes (3,) of a flat shape, and for each used one the way of a millimetre (k, 3)."""
    sizes = np.array(shape.sizes())
    used = np.flatnonzero(sizes > 0.0)
    ends = shape.at(np.vstack((np.zeros(3), np.eye(3)[used])))
    return sizes, (ends[1:] - ends[0]) / sizes[used, None]
