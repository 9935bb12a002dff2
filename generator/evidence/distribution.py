"""A distribution as a table: the published form of a limit, the same here and in the browser.

Knots joined by straight lines: rising by construction, and blurred by a normal in closed form. A
verdict asks the same of every site of a car, so many are also laid side by side and asked at once.
"""

from collections.abc import Sequence

import numpy as np

from generator.evidence.normal import Array, log_normal_density, normal_cdf
from generator.frozen import dataclass
from generator.quantities.units import Mm, Probability

RANGE: tuple[Probability, Probability, Probability] = (0.05, 0.5, 0.95)
"""The quantiles that make a range."""

_CELLS = 160  # straight pieces of a table
_TAIL: Probability = 1e-7  # beyond it a table ends
_FAR = 8.5  # standard deviations beyond which a double holds nothing of a normal's tail
_FLAT = 0.05  # cells below this share of the blur: Simpson's rule, which then errs by 1e-9
_ENDS = 9.0  # standard deviations of the blur beyond a table, where a quantile cannot lie
_CLOSE: Mm = 1e-7  # a Newton step this small is the last: its square is what is left
_MOST_STEPS = 80


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
        if not u > 0.0:
            return Range(*np.interp(RANGE, self.below, self.knots).tolist())
        return Range(*Blurred.of([(self, u)]).quantiles(RANGE)[0].tolist())


@dataclass(frozen=True, eq=False)
class Blurred:
    """Tables as rows: knots (n, k) mm, mass of each piece (n, k - 1), blur (n,) mm.

    Shorter tables end in pieces without mass.
    """

    knots: Array
    masses: Array
    u: Array

    @classmethod
    def of(cls, asked: Sequence[tuple[Distribution, Mm]]) -> "Blurred":
        """Lay distributions, each with its blur u > 0, side by side.

        Raises ValueError for none, or for a blur that is not above 0.
        """
        if not asked or not all(u > 0.0 for _, u in asked):
            raise ValueError("a blur is above 0, and is asked of one distribution at least")
        longest = max(len(table.knots) for table, _ in asked)
        knots = np.empty((len(asked), longest))
        below = np.ones((len(asked), longest))
        for row, (table, _) in enumerate(asked):
            count = len(table.knots)
            knots[row, :count], below[row, :count] = table.knots, table.below
            knots[row, count:] = table.knots[-1] + np.arange(1.0, longest - count + 1.0)
        return cls(knots, np.diff(below, axis=1), np.array([u for _, u in asked]))

    def below(self, x: Array) -> Array:
        """Give P(c + e ≤ x) for x (n, p) mm, a row for each distribution.

        Source: own derivation: see `Distribution.probability_below`.

        >>> even = Distribution((0.0, 2.0), (0.0, 1.0), 0.0)
        >>> Blurred.of([(even, 0.1), (even, 1.0)]).below(np.array([[1.0], [1.0]])).round(9).tolist()
        [[0.5], [0.5]]
        """
        return self._below_and_density(x)[0]

    def quantiles(self, shares: Sequence[Probability]) -> Array:
        """Give the x (n, p) mm with P(c + e ≤ x) = share, for shares (p,) inside 0 to 1.

        Source: own derivation: Newton's steps from the quantile of the bare table, stretched by
        the blur; halving where one would leave the bracket.

        >>> even = Distribution((0.0, 2.0), (0.0, 1.0), 0.0)
        >>> Blurred.of([(even, 0.5)]).quantiles([0.5]).round(6).tolist()
        [[1.0]]
        """
        wanted = np.asarray(shares)
        x = self._first(wanted)
        far = _ENDS * self.u[:, None]
        low = np.broadcast_to(self.knots[:, :1] - far, x.shape)
        high = np.broadcast_to(self.knots[:, -1:] + far, x.shape)
        x = np.clip(x, low, high)
        for _ in range(_MOST_STEPS):
            below, density = self._below_and_density(x)
            low, high = np.where(below < wanted, x, low), np.where(below < wanted, high, x)
            following = x + (wanted - below) / np.maximum(density, 1e-300)
            inside = (following >= low) & (following <= high)
            following = np.where(inside, following, 0.5 * (low + high))
            step, x = np.abs(following - x), following
            if not (step > _CLOSE).any():
                break
        return np.asarray(x)

    def _first(self, wanted: Array) -> Array:
        """Give a first guess of quantiles (n, p): exact for a normal table."""
        middles = 0.5 * (self.knots[:, 1:] + self.knots[:, :-1])
        cells = np.diff(self.knots, axis=1)
        mean = (self.masses * middles).sum(axis=1)[:, None]
        squares = (self.masses * ((middles - mean) ** 2 + cells * cells / 12.0)).sum(axis=1)
        stretch = np.sqrt(1.0 + self.u * self.u / np.maximum(squares, 1e-12))[:, None]
        ends = np.cumsum(self.masses, axis=1)
        bare = np.array([
            np.interp(wanted, row, knots[1:]) for row, knots in zip(ends, self.knots, strict=True)
        ])  # fmt: skip
        return np.asarray(mean + (bare - mean) * stretch)

    def _below_and_density(self, x: Array) -> tuple[Array, Array]:
        u, masses = self.u[:, None], self.masses[:, None, :]
        cells = np.diff(self.knots, axis=1) / u
        z = (x[:, :, None] - self.knots[:, None, :]) / u[:, :, None]
        cdf = normal_cdf(z)
        rise = z * cdf + np.exp(log_normal_density(z))
        pieces = (rise[:, :, :-1] - rise[:, :, 1:]) / cells[:, None, :]
        row, column = np.nonzero(cells < _FLAT)
        if len(row):
            middle = normal_cdf(0.5 * (z[row, :, column] + z[row, :, column + 1]))
            ends = cdf[row, :, column] + cdf[row, :, column + 1]
            pieces[row, :, column] = (ends + 4.0 * middle) / 6.0
        falls = (cdf[:, :, :-1] - cdf[:, :, 1:]) / cells[:, None, :]
        below = np.clip((pieces * masses).sum(axis=2), 0.0, 1.0)
        return below, (falls * masses).sum(axis=2) / u


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
