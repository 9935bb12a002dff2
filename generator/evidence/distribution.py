"""A distribution as a table: the published form of a limit, the same here and in the browser.

Knots joined by straight lines: rising by construction, and blurred by a normal in closed form.
"""

from dataclasses import dataclass

import numpy as np

from generator.evidence.normal import Array, log_normal_density, normal_cdf
from generator.quantities.units import Mm, Probability

RANGE: tuple[Probability, Probability, Probability] = (0.05, 0.5, 0.95)
"""The quantiles that make a range."""

_CELLS = 160  # straight pieces of a table
_TAIL: Probability = 1e-7  # beyond it a table ends
_ZOOMS, _ZOOM_POINTS = 5, 17  # find a quantile to a millionth of the table's width
_NEAR_POINTS = 4  # of a zoom, about where a quantile is expected
_FAR = 8.5  # standard deviations beyond which a double holds nothing of a normal's tail
_FLAT = 0.05  # cells below this share of the blur: Simpson's rule, which then errs by 1e-9


_Brackets = tuple[Array, Array, Array, Array]


@dataclass(frozen=True)
class Range:
    """The 5 %, 50 % and 95 % points."""

    low: Mm
    median: Mm
    high: Mm

    @property
    def spread(self) -> Mm:
        """Width from 5 % to 95 %."""
        return self.high - self.low


@dataclass(frozen=True)
class Distribution:
    """A distribution function given at knots and straight between them.

    knots: rising, mm. below: probability of lying below each knot, 0 at the first and 1 at the
    last. error: largest difference from the distribution it stands for.
    """

    knots: tuple[Mm, ...]
    below: tuple[Probability, ...]
    error: Probability

    def probability_below(self, x: Array, u: Mm = 0.0) -> Array:
        """Give P(c + e ≤ x), e ~ N(0, u²), for x of shape (n,), mm; u ≥ 0.

        Rises with x. Blurring never enlarges `error`.

        Source: own derivation: the normal integrated over each straight piece is
        m·(Ψ(z) − Ψ(z − d))/d with Ψ(z) = z·Φ(z) + φ(z), z, d in units of u.

        >>> flat = Distribution((0.0, 2.0), (0.0, 1.0), 0.0)
        >>> [float(p) for p in flat.probability_below(np.array([0.5, 1.0]))]
        [0.25, 0.5]
        """
        knots, below = np.array(self.knots), np.array(self.below)
        if not u > 0.0:
            return np.asarray(np.interp(x, knots, below))
        x = np.asarray(x)
        # Pieces that lie below all x by so many u count whole, those above all x not at all.
        first = max(int(np.searchsorted(knots, x.min() - _FAR * u)) - 1, 0)
        last = min(int(np.searchsorted(knots, x.max() + _FAR * u)) + 1, len(knots))
        whole, knots, below = below[first], knots[first:last], below[first:last]
        cells, masses = np.diff(knots) / u, np.diff(below)
        z = (x[:, None] - knots) / u
        cdf = normal_cdf(z)
        rise = z * cdf + np.exp(log_normal_density(z))
        pieces = (rise[:, :-1] - rise[:, 1:]) / cells
        flat = cells < _FLAT
        if np.any(flat):
            middle = normal_cdf(0.5 * (z[:, :-1] + z[:, 1:])[:, flat])
            ends = cdf[:, :-1][:, flat] + cdf[:, 1:][:, flat]
            pieces[:, flat] = (ends + 4.0 * middle) / 6.0
        return np.asarray(np.clip(whole + np.sum(pieces * masses, axis=1), 0.0, 1.0))

    def probability_above(self, x: Mm, u: Mm = 0.0) -> Probability:
        """Give P(c + e > x), e ~ N(0, u²): the chance that the correction, blurred, exceeds x.

        >>> Distribution((0.0, 2.0), (0.0, 1.0), 0.0).probability_above(0.5)
        0.75
        """
        return 1.0 - float(self.probability_below(np.array([x]), u)[0])

    def range(self, u: Mm = 0.0) -> Range:
        """Give the 5 %, 50 % and 95 % points of c + e, e ~ N(0, u²)."""
        knots = np.array(self.knots)
        if not u > 0.0:
            return Range(*(float(q) for q in np.interp(RANGE, self.below, knots)))
        ends = np.linspace(self.knots[0] - 6.0 * u, self.knots[-1] + 6.0 * u, _ZOOM_POINTS)
        found = _bracketed(ends[:, None], self.probability_below(ends, u)[:, None])
        for zoom in range(1, _ZOOMS):
            found = self._zoomed(found, u, guessed=zoom > 1)
        low, high, under, over = found
        # Along the last piece, so that the answer does not depend on where the pieces lie.
        share = (np.array(RANGE) - under) / np.where(over > under, over - under, 1.0)
        return Range(*(low + np.clip(share, 0.0, 1.0) * (high - low)).tolist())

    def _zoomed(self, last: _Brackets, u: Mm, *, guessed: bool) -> _Brackets:
        """Give a sixteenth of each bracket; `guessed`: look first where a straight line says."""
        low, high, under, over = last
        points = np.linspace(low, high, _ZOOM_POINTS)
        if guessed:
            share = (np.array(RANGE) - under) / np.where(over > under, over - under, 1.0)
            nearest = np.floor(share * (_ZOOM_POINTS - 1)).astype(int)
            first = np.clip(nearest - 1, 0, _ZOOM_POINTS - _NEAR_POINTS)
            near = np.take_along_axis(points, first + np.arange(_NEAR_POINTS)[:, None], axis=0)
            below = self.probability_below(near.ravel(), u).reshape(near.shape)
            if np.all(below[0] < RANGE) and np.all(below[-1] >= RANGE):
                return _bracketed(near, below)
        return _bracketed(points, self.probability_below(points.ravel(), u).reshape(points.shape))


def _bracketed(points: Array, below: Array) -> _Brackets:
    """Give the points next to each quantile of RANGE, and how much lies below them.

    points, below: (n, 3) rising, a column for each quantile; or (n, 1), the same for all.
    """
    first = np.clip(np.sum(below < RANGE, axis=0), 1, len(points) - 1)
    points, below = np.broadcast_arrays(points, below + np.zeros(len(RANGE)))
    rows = np.arange(len(RANGE))
    return points[first - 1, rows], points[first, rows], below[first - 1, rows], below[first, rows]


def tabulated(points: Array, below: Array) -> Distribution:
    """Keep a distribution given on equal steps as a table of about 160 straight pieces.

    points: (n,) rising in equal steps, mm. below: (n,) probability of lying below each, rising
    from 0 to 1. The knots are dense where the density is steep, which evens out the error.

    Source: own derivation: a chord over h errs by h²·|f′|/8, so the density of knots goes with
    √|f′|.
    """
    first = max(int(np.searchsorted(below, _TAIL)) - 1, 0)
    last = min(int(np.searchsorted(below, 1.0 - _TAIL)), len(points) - 1)
    steep = np.sqrt(np.abs(np.gradient(np.gradient(below))))[first : last + 1]
    need = np.cumsum(steep + 0.05 * np.mean(steep))
    share = np.linspace(need[0], need[-1], _CELLS + 1)
    chosen = first + np.unique(np.round(np.interp(share, need, np.arange(len(need)))).astype(int))
    knots, values = points[chosen], below[chosen].copy()
    values[0], values[-1] = 0.0, 1.0
    error = float(np.max(np.abs(np.interp(points, knots, values) - below)))
    return Distribution(tuple(knots.tolist()), tuple(values.tolist()), error)
