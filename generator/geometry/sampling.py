"""Points of a shape, no further apart than a stated error of the gap allows.

Edges, corners and vertices are always among the points. The distance from a straight line or a flat
face to a convex body has no second minimum, so a coarse sampling followed by a finer one near its
nearest point finds the least gap of such a shape.
"""

from math import ceil, sqrt

import numpy as np

from generator.frozen import dataclass
from generator.geometry.frames import Floats
from generator.geometry.shapes import Shape
from generator.quantities.units import Mm, Ratio

LEAST_ROUNDING: Mm = 25.0
"""Sharpest rounding of a tyre's section that the chord error allows for (common practice)."""


@dataclass(frozen=True, eq=False)
class SampledShape:
    """Points of a shape: points (m, 3) mm, their parameters (m, 3), thickness, chord error.

    The least distance of the points exceeds the shape's own by no more than chord_error, against a
    convex body rounded by at least LEAST_ROUNDING; against a sharper edge, sample again nearby.
    """

    shape: Shape
    points: Floats
    parameters: Floats
    thickness: Mm
    chord_error: Mm


def sampled(shape: Shape, chord_error: Mm) -> SampledShape:
    """Points of a whole shape, close enough together for a chord error.

    chord_error > 0: see SampledShape.
    Raises ValueError for a chord error that is not above 0.
    Source: own derivation: between points d apart the distance to a body rounded by ρ, along a line
    bent to R, dips by at most d² (1/ρ + 1/R) / 8, and the dips of two directions add.

    >>> from generator.geometry.shapes import Block, Extent, Ramp
    >>> tube = Block(x=Extent(-25.0, 25.0), y=Ramp(-139.0, -154.0), z=Ramp(200.0, 300.0))
    >>> len(sampled(tube, 2.0).points)
    45
    """
    spacing = _spacing(shape, chord_error)
    low, high = np.zeros(3), np.ones(3)
    return _gridded(shape, (low, high), spacing, chord_error)


def sampled_near(shape: Shape, parameters: Floats, *, reach: Mm, chord_error: Mm) -> SampledShape:
    """Points of the part of a shape within a reach of one of its points.

    parameters: (3,) of that point, as a sampled shape lists them. reach: mm along the shape, > 0.
    Raises ValueError for a chord error that is not above 0.
    Source: own derivation: see `sampled`.

    >>> from generator.geometry.shapes import Block, Extent
    >>> rail = Block(x=Extent(-215.0, 180.0), y=-314.0, z=0.0)
    >>> near = sampled_near(rail, np.array([0.5, 0.0, 0.0]), reach=10.0, chord_error=0.1)
    >>> near.points[[0, -1], 0].round(1).tolist()
    [-27.5, -7.5]
    """
    sizes = np.array(shape.sizes())
    share = np.where(sizes > 0.0, reach / np.where(sizes > 0.0, sizes, 1.0), 0.0)
    bounds = np.clip(parameters - share, 0.0, 1.0), np.clip(parameters + share, 0.0, 1.0)
    return _gridded(shape, bounds, _spacing(shape, chord_error), chord_error)


def _spacing(shape: Shape, chord_error: Mm) -> Mm:
    if not 0.0 < chord_error < float("inf"):
        raise ValueError(f"a chord error is a length above 0, got {chord_error}")
    directions = max(1, sum(size > 0.0 for size in shape.sizes()))
    return sqrt(8.0 * chord_error / (directions * (1.0 / LEAST_ROUNDING + 1.0 / shape.bend)))


def _gridded(
    shape: Shape, bounds: tuple[Floats, Floats], spacing: Mm, chord_error: Mm
) -> SampledShape:
    low, high = bounds
    rows = []
    for axis, size in enumerate(shape.sizes()):
        inner = [mark for mark in shape.marks() if low[0] < mark < high[0]] if axis == 0 else []
        stops = [float(low[axis]), *inner, float(high[axis])]
        rows.append(_row(stops, size, spacing))
    parameters = np.stack([each.ravel() for each in np.meshgrid(*rows, indexing="ij")], axis=1)
    if all(len(each) > 2 for each in rows):
        # Inside a solid no point is nearest: only its faces are kept.
        parameters = parameters[((parameters == low) | (parameters == high)).any(axis=1)]
    points = shape.at(parameters)
    return SampledShape(shape, points, parameters, shape.thickness, chord_error)


def _row(stops: list[Ratio], size: Mm, spacing: Mm) -> Floats:
    """Give parameters through all stops, evenly between them, no further apart than the spacing."""
    if size <= 0.0:
        return np.zeros(1)
    pieces = [np.array(stops[:1])]
    for index in range(1, len(stops)):
        start, end = stops[index - 1 : index + 1]
        count = max(1, ceil((end - start) * size / spacing))
        pieces.append(np.linspace(start, end, count + 1)[1:])
    return np.concatenate(pieces)
