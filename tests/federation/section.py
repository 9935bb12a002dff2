"""What turns, of many setups at once: a convex tyre by its support function, and a band of rim.

The distance of a point from a convex body is the greatest, over all directions, of how far the
point lies along the direction less how far the body reaches. So a section is a row of numbers, and
the gaps of all setups to all points are one product of arrays. With directions 5 degrees apart a
gap of 50 mm comes out 0.05 mm small. The outline is another than the guide's by a millimetre or
two, so that agreement between the two says something.

Wheel's frame: u along the spin axis, outboard positive; r from the axis; mm.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]

SEATS = {14: 354.8, 15: 380.2, 16: 405.6, 17: 436.6, 18: 462.0}
"""Diameter of the bead seat by the rim's code, mm [ISO4000-2], from memory."""
FLANGE_TOP = 17.3
"""From the bead seat up to the lip's top, mm."""
BARREL = 16.0
"""From the bead seat down to the inside of the barrel, which is open, mm."""
FLANGE = 12.7
"""Thickness of a rim's flange, mm: common practice."""
COARSE, FINE = 16, 72
"""Directions for a first look and for the gap."""
KEPT = 10
"""Points of a site that are looked at closely."""
ROUNDNESS = 150.0
"""Exponent of the shoulder times its radius, mm: 28 mm gives a tyre of everyday shape."""
SIDEWALL = (2.2, 1.3)
"""Exponents of the lower sidewall, along the radius and across."""
ROUND = np.linspace(0.0, np.pi / 2.0, 20)


@dataclass(frozen=True)
class Wheels:
    """One end's wheels and tyres of many setups; arrays (setups,)."""

    centre: Floats
    """Middle of the rim from the hub's face, outboard positive: spacer less offset."""
    section: Floats
    diameter: Floats
    rim_width: Floats
    rim_code: Floats
    shoulder: Floats
    """Radius of the shoulder."""

    def corners(self) -> Floats:
        """Give points (setups, points, 2) around the tyre, (u, r) from the rim's middle."""
        seat = np.array([SEATS[int(code)] for code in self.rim_code])[:, None] / 2.0
        lip, barrel, top = seat + FLANGE_TOP, seat - BARREL, self.diameter[:, None] / 2.0
        widest = top / 2.0 + (lip + barrel) / 4.0
        half, n = self.section[:, None] / 2.0, ROUNDNESS / self.shoulder[:, None]
        bead = self.rim_width[:, None] / 2.0 + 1.0
        upper = half * np.cos(ROUND) ** (2.0 / n), np.sin(ROUND) ** (2.0 / n) * (top - widest)
        along, across = SIDEWALL
        below = np.sin(ROUND) ** (2.0 / along)
        lower = bead + (half - bead) * (1.0 - below**along) ** (1.0 / across)
        u = np.hstack((upper[0], lower))
        r = widest + np.hstack((upper[1], below * (lip - widest)))
        return np.stack((np.hstack((u, -u)), np.hstack((r, r))), axis=2)

    def band(self) -> Floats:
        """Give middle and half extent of the rim's band in u, then in r: (setups, 4)."""
        seat = np.array([SEATS[int(code)] for code in self.rim_code]) / 2.0
        middle, half = seat + (FLANGE_TOP - BARREL) / 2.0, (FLANGE_TOP + BARREL) / 2.0
        wide = self.rim_width / 2.0 + FLANGE
        return np.stack((self.centre, wide, middle, np.full_like(middle, half)), axis=1)


@dataclass(frozen=True)
class Sections:
    """How far the tyre of each setup reaches by direction (setups, directions), and its rim."""

    coarse: Floats
    fine: Floats
    band: Floats

    @classmethod
    def of(cls, wheels: Wheels) -> "Sections":
        """Measure the hull of wheels and tyres in all directions."""
        corners = wheels.corners()
        shifted = np.stack((corners[..., 0] + wheels.centre[:, None], corners[..., 1]), axis=2)
        reach = [(shifted @ directions(count)).max(axis=1) for count in (COARSE, FINE)]
        return cls(reach[0], reach[1], wheels.band())

    def gaps(self, points: Floats, times: int = 1) -> Floats:
        """Give the least signed distance of points (setups·times, points, 3) from each wheel.

        `times`: so many rows in turn belong to one setup.
        """
        u, r = points[..., 1], np.hypot(points[..., 0], points[..., 2])
        coarse, fine, band = (
            np.repeat(each, times, axis=0) for each in (self.coarse, self.fine, self.band)
        )
        if u.shape[1] > KEPT:
            first = np.minimum(_beyond(u, r, coarse), _from_band(u, r, band))
            nearest = np.argpartition(first, KEPT, axis=1)[:, :KEPT]
            u, r = (np.take_along_axis(each, nearest, axis=1) for each in (u, r))
        found: Floats = np.minimum(_beyond(u, r, fine), _from_band(u, r, band)).min(axis=1)
        return found


def _beyond(u: Floats, r: Floats, reach: Floats) -> Floats:
    """How far points (rows, n) lie beyond each row's section, by its reach (rows, directions)."""
    cosines, sines = directions(reach.shape[1])
    greatest = np.full_like(u, -np.inf)
    for cosine, sine, row in zip(cosines, sines, reach.T, strict=True):
        np.maximum(greatest, cosine * u + sine * r - row[:, None], out=greatest)
    return greatest


def _from_band(u: Floats, r: Floats, band: Floats) -> Floats:
    """Signed distance of points (rows, n) from each row's band of rim, a rectangle."""
    centre, wide, middle, high = (column[:, None] for column in band.T)
    a, b = np.abs(u - centre) - wide, np.abs(r - middle) - high
    outside = np.hypot(np.maximum(a, 0.0), np.maximum(b, 0.0))
    found: Floats = outside + np.minimum(np.maximum(a, b), 0.0)
    return found


def directions(count: int) -> Floats:
    """Give unit vectors (2, count) all around."""
    angle = np.linspace(0.0, 2.0 * np.pi, count, endpoint=False)
    return np.stack((np.cos(angle), np.sin(angle)))
