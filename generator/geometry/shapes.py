"""Shapes of the places a wheel can touch, as points, and the body that each shape is fixed to.

Corner frame of the shape's own body (see frames): x forward, y outboard, z up, mm. Arc angles count
from forward, up and over the top, in degrees.
A shape is a map from three parameters, each from 0 to 1, to a point; shapes of fewer dimensions
leave parameters unused. `sampling` turns shapes into points.
"""

from enum import Enum
from math import isfinite, sqrt
from typing import Protocol, TypeAlias

import numpy as np

from generator.frozen import dataclass
from generator.geometry.frames import Floats, Point, Poses, WheelPoses
from generator.quantities.units import Deg, Mm, Ratio

STRAIGHT_UP: Deg = 90.0


class Attachment(Enum):
    """The body that a site is fixed to; the value is the word for it."""

    BODY = "body"
    KNUCKLE = "knuckle"
    STRUT = "strut"
    ARM = "arm"
    AXLE = "axle"


@dataclass(frozen=True)
class Extent:
    """A coordinate that takes every value from start to end, freely of the other coordinates."""

    start: Mm
    end: Mm


@dataclass(frozen=True)
class Ramp:
    """A coordinate that runs from start to end together with all other ramps of the shape."""

    start: Mm
    end: Mm


Coordinate: TypeAlias = Mm | Extent | Ramp


class Shape(Protocol):
    """What sampling needs of a shape; equal shapes are one, so that it can be kept by."""

    def __hash__(self) -> int:
        """Give the same for equal shapes."""
        ...

    @property
    def thickness(self) -> Mm:
        """Give how far the surface lies off the points: taken from every gap."""
        ...

    @property
    def bend(self) -> Mm:
        """Give the least radius that the shape itself is bent to; infinite for a straight one."""
        ...

    def sizes(self) -> tuple[Mm, Mm, Mm]:
        """Give the length that each parameter runs over; 0 for one that is not used."""
        ...

    def marks(self) -> tuple[Ratio, ...]:
        """Give the values of the first parameter, apart from 0 and 1, that have to be sampled."""
        ...

    def at(self, parameters: Floats) -> Floats:
        """Give the points (m, 3) at parameters (m, 3)."""
        ...


@dataclass(frozen=True)
class Block:
    """A point, line, face or solid along the axes: each coordinate a number, extent or ramp."""

    x: Coordinate
    y: Coordinate
    z: Coordinate

    def __post_init__(self) -> None:
        _finite(*(end for each in self._coordinates for end in _ends(each)))

    @property
    def _coordinates(self) -> tuple[Coordinate, Coordinate, Coordinate]:
        return (self.x, self.y, self.z)

    @property
    def thickness(self) -> Mm:
        """Give 0: the points are the surface."""
        return 0.0

    @property
    def bend(self) -> Mm:
        """Give that nothing is bent."""
        return float("inf")

    def _parameter(self, axis: int) -> int:
        """Give which parameter a coordinate runs with: its own, or the first ramp's for ramps."""
        ramps = [i for i, each in enumerate(self._coordinates) if isinstance(each, Ramp)]
        return ramps[0] if axis in ramps else axis

    def sizes(self) -> tuple[Mm, Mm, Mm]:
        """Give the length that each parameter runs over."""
        squares = [0.0, 0.0, 0.0]
        for axis, each in enumerate(self._coordinates):
            start, end = _ends(each)
            squares[self._parameter(axis)] += (end - start) ** 2
        return (sqrt(squares[0]), sqrt(squares[1]), sqrt(squares[2]))

    def marks(self) -> tuple[Ratio, ...]:
        """Give nothing beyond the ends."""
        return ()

    def at(self, parameters: Floats) -> Floats:
        """Give the points (m, 3) at parameters (m, 3)."""
        columns = []
        for axis, each in enumerate(self._coordinates):
            start, end = _ends(each)
            columns.append(start + (end - start) * parameters[:, self._parameter(axis)])
        return np.stack(columns, axis=1)


@dataclass(frozen=True)
class Arc:
    """An arc about a line across the car, such as the edge of a wheel arch.

    Centre at (x, z); from start to end degrees from forward, over the top. y: a number, an extent
    (a band as wide) or a ramp (running along the arc).
    """

    x: Mm
    z: Mm
    radius: Mm
    start: Deg
    end: Deg
    y: Coordinate

    def __post_init__(self) -> None:
        _finite(self.x, self.z, self.start, self.end, *_ends(self.y))
        if not 0.0 < self.radius < float("inf"):
            raise ValueError(f"an arc needs a radius above 0, got {self.radius}")

    @property
    def thickness(self) -> Mm:
        """Give 0: the points are the edge."""
        return 0.0

    @property
    def bend(self) -> Mm:
        """Give the arc's radius."""
        return self.radius

    def sizes(self) -> tuple[Mm, Mm, Mm]:
        """Give the arc's length and the width of its band."""
        low, high = _ends(self.y)
        along = self.radius * float(np.radians(abs(self.end - self.start)))
        if isinstance(self.y, Ramp):
            return (sqrt(along**2 + (high - low) ** 2), 0.0, 0.0)
        return (along, abs(high - low), 0.0)

    def marks(self) -> tuple[Ratio, ...]:
        """Give nothing beyond the ends."""
        return ()

    def at(self, parameters: Floats) -> Floats:
        """Give the points (m, 3) at parameters (m, 3)."""
        along, across = parameters[:, 0], parameters[:, 1]
        angle = np.radians(self.start + (self.end - self.start) * along)
        low, high = _ends(self.y)
        y = low + (high - low) * (along if isinstance(self.y, Ramp) else across)
        return np.stack(
            [self.x + self.radius * np.cos(angle), y, self.z + self.radius * np.sin(angle)], axis=1
        )


@dataclass(frozen=True)
class Polyline:
    """Straight pieces through two or more points."""

    points: tuple[Point, ...]

    def __post_init__(self) -> None:
        _finite(*(each for point in self.points for each in point))
        if len(self.points) < 2 or not (np.diff(self._reached()) > 0.0).all():
            raise ValueError("a polyline needs two or more points, each apart from the next")

    @property
    def thickness(self) -> Mm:
        """Give 0: the points are the edge."""
        return 0.0

    @property
    def bend(self) -> Mm:
        """Give that each piece is straight; the vertices are sampled."""
        return float("inf")

    def _reached(self) -> Floats:
        steps = np.linalg.norm(np.diff(np.asarray(self.points, dtype=np.float64), axis=0), axis=1)
        return np.concatenate([[0.0], np.cumsum(steps)])

    def sizes(self) -> tuple[Mm, Mm, Mm]:
        """Give the whole length."""
        return (float(self._reached()[-1]), 0.0, 0.0)

    def marks(self) -> tuple[Ratio, ...]:
        """Give where the vertices lie."""
        reached = self._reached()
        return tuple(float(each) for each in reached[1:-1] / reached[-1])

    def at(self, parameters: Floats) -> Floats:
        """Give the points (m, 3) at parameters (m, 3)."""
        reached = self._reached()
        along = parameters[:, 0] * reached[-1]
        columns = np.asarray(self.points, dtype=np.float64).T
        return np.stack([np.interp(along, reached, column) for column in columns], axis=1)


@dataclass(frozen=True)
class RoundBar(Polyline):
    """A rod, tube or hose about a polyline: its radius is taken from every gap."""

    radius: Mm = 0.0

    def __post_init__(self) -> None:
        super().__post_init__()
        if not 0.0 <= self.radius < float("inf"):
            raise ValueError(f"a bar needs a radius of 0 or more, got {self.radius}")

    @property
    def thickness(self) -> Mm:
        """Give the bar's radius."""
        return self.radius


@dataclass(frozen=True)
class AtRadius:
    """A site without a shape yet: one point at a radius from the spin axis, at a known y.

    y comes from a gap measured at rest. bearing: degrees from forward, straight up where nobody
    noted it; it matters only once the wheel travels or steers against the site.
    """

    radius: Mm
    y: Mm
    bearing: Deg = STRAIGHT_UP

    def __post_init__(self) -> None:
        _finite(self.y, self.bearing)
        if not 0.0 <= self.radius < float("inf"):
            raise ValueError(f"a site needs a radius of 0 or more, got {self.radius}")

    @property
    def thickness(self) -> Mm:
        """Give 0: one point."""
        return 0.0

    @property
    def bend(self) -> Mm:
        """Give that nothing is bent."""
        return float("inf")

    def sizes(self) -> tuple[Mm, Mm, Mm]:
        """Give no lengths: one point."""
        return (0.0, 0.0, 0.0)

    def marks(self) -> tuple[Ratio, ...]:
        """Give nothing."""
        return ()

    def at(self, parameters: Floats) -> Floats:
        """Give the point once per row of parameters."""
        angle = np.radians(self.bearing)
        point = (self.radius * np.cos(angle), self.y, self.radius * np.sin(angle))
        return np.tile(np.asarray(point), (len(parameters), 1))


@dataclass(frozen=True)
class Shifted:
    """A shape as a modification left it: moved as a whole, as a rolled lip or a dented rail."""

    shape: Shape
    by: Point

    @property
    def thickness(self) -> Mm:
        """Give the shape's own."""
        return self.shape.thickness

    @property
    def bend(self) -> Mm:
        """Give the shape's own."""
        return self.shape.bend

    def sizes(self) -> tuple[Mm, Mm, Mm]:
        """Give the shape's own."""
        return self.shape.sizes()

    def marks(self) -> tuple[Ratio, ...]:
        """Give the shape's own."""
        return self.shape.marks()

    def at(self, parameters: Floats) -> Floats:
        """Give the shape's points, moved."""
        points: Floats = self.shape.at(parameters) + np.asarray(self.by)
        return points


def poses_against(wheel: WheelPoses, attachment: Attachment) -> Poses:
    """Poses of the wheel as a site on the given body sees them.

    Knuckle, upright, axle and beam carry the wheel: their sites see the zero pose at every travel
    and steer. A strut's sites see camber set at the knuckle bolts, an arm's see steer alone.
    Source: own derivation: the pose relative to the body that carries the site.
    """
    return {
        Attachment.BODY: wheel.body,
        Attachment.ARM: wheel.arm,
        Attachment.STRUT: wheel.strut,
        Attachment.KNUCKLE: wheel.hub,
        Attachment.AXLE: wheel.hub,
    }[attachment]


def _ends(coordinate: Coordinate) -> tuple[Mm, Mm]:
    if isinstance(coordinate, Extent | Ramp):
        return (coordinate.start, coordinate.end)
    return (coordinate, coordinate)


def _finite(*numbers: Mm) -> None:
    if not all(isfinite(each) for each in numbers):
        raise ValueError("a shape needs finite numbers")
