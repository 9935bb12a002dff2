"""A number with its standard uncertainty and the ground it stands on (JCGM 100)."""

from enum import Enum
from math import hypot, isfinite

from generator.frozen import dataclass


class Basis(Enum):
    """What an estimate stands on, strongest first."""

    MEASURED = "measured"
    PUBLISHED = "published"
    STAMPED = "stamped"
    INFERRED = "inferred"
    ASSUMED = "assumed"


_RANK = {basis: rank for rank, basis in enumerate(Basis)}


def weakest(*bases: Basis) -> Basis:
    """Give the weakest of several grounds: a sum is no better known than its worst part.

    >>> weakest(Basis.MEASURED, Basis.ASSUMED)
    <Basis.ASSUMED: 'assumed'>
    """
    return max(bases, key=_RANK.__getitem__)


@dataclass(frozen=True)
class Estimate:
    """A value, its standard uncertainty u (one sigma, same unit), its basis and its sources.

    Sources are keys of the published sources or the words of a record's field.
    Raises ValueError for a value or u that is not finite, or a negative u: an unknown number is
    None, never an Estimate.
    """

    value: float
    u: float
    basis: Basis
    sources: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not (isfinite(self.value) and isfinite(self.u) and self.u >= 0.0):
            raise ValueError(f"an estimate needs finite numbers, got {self.value} ± {self.u}")

    def scaled(self, by: float) -> "Estimate":
        """Give the estimate times a number that is exactly known."""
        return Estimate(self.value * by, self.u * abs(by), self.basis, self.sources)

    def shifted(self, by: float) -> "Estimate":
        """Give the estimate plus a number that is exactly known."""
        return Estimate(self.value + by, self.u, self.basis, self.sources)

    def plus(self, other: "Estimate") -> "Estimate":
        """Add two independent estimates: values add, uncertainties add in quadrature [GUM] 5.1."""
        return Estimate(
            self.value + other.value,
            hypot(self.u, other.u),
            weakest(self.basis, other.basis),
            tuple(dict.fromkeys(self.sources + other.sources)),
        )

    def minus(self, other: "Estimate") -> "Estimate":
        """Subtract an independent estimate."""
        return self.plus(other.scaled(-1.0))
