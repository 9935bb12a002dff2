"""A number held against a bound: what every check of hardware, loads and parts gives back.

Sign: a margin is positive on the wanted side of the bound, whichever side that is.
"""

from enum import Enum
from math import isclose
from typing import TypeAlias

from generator.frozen import dataclass
from generator.quantities.estimate import Estimate
from generator.quantities.units import Percent

Number: TypeAlias = float
"""A number in the unit of the function that gave it."""

PRACTICE = "PRACTICE"
"""Source key of a bound that is common practice in the trade, with no standard behind it."""

WHOLE = 100.0
"""The whole, in per cent."""

COVERAGE = 2.0  # u to about 95 %, [GUM] 6.3.3
DUST = 1e-9  # binary rounding of a number that lies on its bound, far below any reading


class Outcome(Enum):
    """Which side of its bound a number lies on, as far as its uncertainty lets one say."""

    HOLDS = "holds"
    TOO_CLOSE_TO_SAY = "too close to say"
    FAILS = "fails"


@dataclass(frozen=True)
class Check:
    """A value, its standard uncertainty, its bound, the margin between them, the bound's source."""

    value: Number
    u: Number
    bound: Number
    margin: Number
    source: str

    @property
    def outcome(self) -> Outcome:
        """Give the side of the bound; a margin that is not a number fails."""
        # A margin of just its coverage decides, whichever way its last binary digit was rounded.
        if self.u > 0.0 and COVERAGE * self.u - abs(self.margin) > DUST:
            return Outcome.TOO_CLOSE_TO_SAY
        # Written so that NaN can never hold.
        on_bound = isclose(self.value, self.bound, rel_tol=DUST, abs_tol=DUST)
        return Outcome.HOLDS if self.margin >= 0.0 or on_bound else Outcome.FAILS


def at_least(value: Estimate | Number, bound: Number, *, source: str) -> Check:
    """Hold a number against a lower bound.

    Model: the bound is exact; the value's u is carried along. source: key of the bound's source.
    Source: own derivation: margin = value − bound.
    >>> at_least(9.75, 12.0, source=PRACTICE).margin
    -2.25
    """
    return _check(value, bound, 1.0, source)


def at_most(value: Estimate | Number, bound: Number, *, source: str) -> Check:
    """Hold a number against an upper bound.

    Model: the bound is exact; the value's u is carried along. source: key of the bound's source.
    Source: own derivation: margin = bound − value.
    >>> from generator.quantities.estimate import Basis
    >>> at_most(Estimate(0.78, 0.02, Basis.MEASURED), 0.8, source=PRACTICE).outcome.value
    'too close to say'
    """
    return _check(value, bound, -1.0, source)


def _check(value: Estimate | Number, bound: Number, wanted_side: Number, source: str) -> Check:
    if isinstance(value, Estimate):
        return Check(value.value, value.u, bound, wanted_side * (value.value - bound), source)
    return Check(value, 0.0, bound, wanted_side * (value - bound), source)


@dataclass(frozen=True)
class Change:
    """A number before and after a change, both in one unit."""

    before: Number
    after: Number

    @property
    def absolute(self) -> Number:
        """Give what was added."""
        return self.after - self.before

    @property
    def percent(self) -> Percent | None:
        """Give what was added as a share of the size before; None where that was nothing."""
        return WHOLE * self.absolute / abs(self.before) if self.before != 0.0 else None

    @property
    def turns_sign(self) -> bool:
        """Tell whether the number went through zero, as a scrub radius may."""
        return self.before * self.after < 0.0
