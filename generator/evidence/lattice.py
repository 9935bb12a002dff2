"""The nodes (μ, τ) at which a posterior is computed: equal steps along μ, laid slice by slice.

A slice is one τ with a run of values of μ. Where the posterior has a sharp part and a long flat
tail, one τ has several slices: a fine one for the sharp part and a coarse one for each tail. They
overlap, and seams share the posterior out between them smoothly, so that each part by itself is
something the trapezoid rule sums without error:

    share of the fine slice     Φ((μ − a)/s)·Φ((b − μ)/s)       a, b: seams
    of the tail below           Φ((a − μ)/s)
    of the tail above           Φ((μ − b)/s)
"""

from functools import cached_property
from math import ceil, floor, inf

import numpy as np
from numpy.typing import NDArray

from generator.evidence.normal import Array, log_normal_cdf
from generator.frozen import dataclass
from generator.quantities.units import Mm

RESOLUTION = 0.7
"""Step of μ in the least width (one sigma) of what is summed: the trapezoid rule errs by 1e-8."""
_SEAM: Mm = 4.0  # s: wide enough for coarse tails, narrow against the wide normal of the prior
_SEAM_REACH = 5.5  # in s: beyond it lies 2e-8 of a share
_SEAM_STEP: Mm = RESOLUTION * _SEAM
_WORTH = 1.4  # how many times coarser a tail must be to be worth seams


@dataclass(frozen=True)
class Slice:
    """One τ with a run of values of μ, every `stride`-th lattice point from `first` on.

    weight: of τ in an integral over it. above, below: the seams that the slice's share lies above
    and below, mm; without seams the slice has all of its τ.
    """

    car_spread: Mm
    first: int
    stride: int
    count: int
    weight: float = 1.0
    above: Mm = -inf
    below: Mm = inf


@dataclass(frozen=True)
class Lattice:
    """Equal steps along the correction, and the nodes (μ, τ) laid on them slice by slice."""

    start: Mm
    step: Mm
    size: int
    slices: tuple[Slice, ...]

    def places(self, part: Slice) -> NDArray[np.intp]:
        """Give the lattice indices of a slice's nodes."""
        return np.arange(part.count) * part.stride + part.first

    def means_of(self, part: Slice) -> Array:
        """Give μ of a slice's nodes, mm."""
        return np.asarray(self.start + self.step * self.places(part), dtype=np.float64)

    def means(self) -> Array:
        """Give μ of every node, slice after slice, mm."""
        return self._means

    def spreads(self) -> Array:
        """Give τ of every node, slice after slice, mm."""
        return self._spreads

    @cached_property
    def _means(self) -> Array:
        return np.concatenate([self.means_of(part) for part in self.slices])

    @cached_property
    def _spreads(self) -> Array:
        return self._repeated([part.car_spread for part in self.slices])

    def steps(self) -> Array:
        """Give the distance of every node from the next of its slice, mm."""
        return self._repeated([part.stride * self.step for part in self.slices])

    def volumes(self) -> Array:
        """Give what every node stands for in an integral over μ and τ, without the seams."""
        return self.steps() * self._repeated([part.weight for part in self.slices])

    def log_shares(self) -> Array:
        """Give ln of the share that every node has of its place, 0 where there are no seams."""
        shares = np.zeros_like(self.means())
        start = 0
        for part in self.slices:
            end = start + part.count
            if part.above > -inf or part.below < inf:
                shares[start:end] = _log_share(self.means()[start:end], part)
            start = end
        return shares

    def _repeated(self, values: list[float]) -> Array:
        return np.repeat(values, [part.count for part in self.slices])


def _log_share(means: Array, part: Slice) -> Array:
    share = np.zeros_like(means)
    if part.above > -inf:
        share += log_normal_cdf((means - part.above) / _SEAM)
    if part.below < inf:
        share += log_normal_cdf((part.below - means) / _SEAM)
    return share


@dataclass(frozen=True)
class Run:
    """A range of μ to be laid with nodes at one τ, at most `step` apart, between its seams."""

    low: Mm
    high: Mm
    step: Mm
    above: Mm = -inf
    below: Mm = inf


def runs(low: Mm, high: Mm, *, step: Mm, most: float, sharp: tuple[Mm, Mm]) -> tuple[Run, ...]:
    """Give the runs that cover low to high, fine about what is sharp and coarse in the tails.

    step: what the sharp part needs; it is made larger where the fine run would have more than
    `most` nodes. sharp: the ends of what varies within less than a few millimetres.

    Source: own derivation: see the head of the module.

    >>> [round(run.step, 1) for run in runs(-5.0, 5.0, step=0.5, most=800.0, sharp=(-3.0, 3.0))]
    [0.5]
    >>> len(runs(-200.0, 200.0, step=0.5, most=800.0, sharp=(-3.0, 3.0)))
    3
    """
    reach = _SEAM_REACH * _SEAM
    below, above = sharp[0] - reach, sharp[1] + reach
    worth = step * _WORTH < _SEAM_STEP
    left, right = worth and low < below - reach, worth and high > above + reach
    fine_low, fine_high = (below - reach if left else low), (above + reach if right else high)
    fine = max(step, (fine_high - fine_low) / most)
    found = [Run(fine_low, fine_high, fine, below if left else -inf, above if right else inf)]
    if left:
        found.append(Run(low, below + reach, _SEAM_STEP, below=below))
    if right:
        found.append(Run(above - reach, high, _SEAM_STEP, above=above))
    return tuple(found)


def laid(run: Run, start: Mm, step: Mm, *, car_spread: Mm, weight: float) -> Slice:
    """Give the slice of a run on a lattice from `start` on: its stride is a power of two."""
    stride = 2 ** max(0, floor(np.log2(run.step / step)))
    first = floor((run.low - start) / (stride * step))
    count = ceil((run.high - start) / (stride * step)) - first + 1
    return Slice(car_spread, first * stride, stride, count, weight, run.above, run.below)
