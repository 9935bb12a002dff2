"""How far the gap of a point on a flat shape can still fall while it goes a little way along it.

A section lies behind each of its supporting lines, so a gap is at least n·p − h for each of them.
Along a straight line or a flat face u changes evenly, and r by no less than along its own direction
at the start; so with the line that is nearest at the start the gap has a floor that is all but
reached. A search whose floor lies above a gap already found need not go on.
"""

import numpy as np

from generator.geometry.distance import lines_of
from generator.geometry.frames import Floats, Indices
from generator.geometry.outline import Outline
from generator.geometry.straight import ShapeRows
from generator.quantities.units import Mm


def floors(
    shapes: ShapeRows,
    owner: Indices,
    outline: Outline,
    parameters: Floats,
    *,
    rotation: Floats,
    translation: Floats,
    left: Mm,
) -> Floats:
    """Give numbers (n,) mm that no gap is below within a way left along each parameter.

    owner: (n,), whose row of the shapes each stands on; all of these have as many dimensions.
    parameters: (n, 3), where on it. rotation (n, 3, 3), translation (n, 3) mm: of the wheel as the
    shape's body sees it. left: >= 0. No floor, minus infinity, is given for a shape that is bent.
    Source: own derivation: see the head; where n points towards the axis, r exceeds its even
    change by no more than the square of the way across over twice the radius.
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> from generator.geometry.shapes import Block, Extent
    >>> from generator.geometry.straight import rows_of
    >>> rail = rows_of([Block(x=Extent(-215.0, 180.0), y=-24.0, z=310.0)])
    >>> level = {"rotation": np.eye(3).reshape(1, 3, 3), "translation": np.zeros((1, 3))}
    >>> first, middle = np.zeros(1, dtype=int), np.array([[215.0 / 395.0, 0.0, 0.0]])
    >>> floors(rail, first, section_outline(EXAMPLE), middle, **level, left=4.5).round(3).tolist()
    [5.5]
    """
    if not len(owner):
        return np.empty(0)
    away = shapes.points(owner, parameters[:, None, :])[:, 0] - translation
    x, u, z = np.einsum("nj,nji->in", away, rotation)
    r = np.sqrt(x * x + z * z)
    normals, distances = lines_of(outline)
    beyond = normals @ np.stack((u, r)) - distances[:, None]
    best = beyond.argmax(axis=0)
    across, out = normals[best].T
    every = np.arange(len(u))
    floor: Floats = beyond[best, every]
    dimensions = int(shapes.dimensions[owner[0]])
    for axis in shapes.used[owner].T[:dimensions]:
        size, share = shapes.sizes[owner, axis], parameters[every, axis]
        way = shapes.whole[owner, axis] / size[:, None]
        along_x, along_u, along_z = np.einsum("nj,nji->in", way, rotation)
        steep = across * along_u + out * (along_x * x + along_z * z) / np.maximum(r, 1.0)
        low = np.maximum(-left, -share * size)
        high = np.minimum(left, (1.0 - share) * size)
        floor = floor + np.minimum(low * steep, high * steep)
    whole = left * np.sqrt(dimensions)
    round_off = whole**2 / (2.0 * np.maximum(r - whole, 1.0))
    safe = np.where(out < 0.0, floor + out * round_off, floor)
    return np.where(shapes.straight[owner] & (r > 1.0 + whole), safe, -np.inf)
