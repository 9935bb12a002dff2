"""What one entry says of the correction of one site, in one state, on one car.

Sign: true gap = computed gap + correction. A positive correction means that the car has more room
than the sheet says. An entry is a statement `low ≤ correction ≤ high`, blurred by u: both ends
equal for a measured gap, one end at infinity for "clears" and "touches".
"""

from enum import Enum
from math import hypot, inf, isfinite, isnan

from generator.frozen import dataclass
from generator.quantities.estimate import Estimate
from generator.quantities.units import Mm


class Kind(Enum):
    """The form of an entry's statement; the value is the word used in messages."""

    EXACT = "measured"
    LOWER = "more than"
    UPPER = "at most"
    INTERVAL = "between"


@dataclass(frozen=True, order=True)
class Origin:
    """Whose statement it is: the car, the member who made it, and the record that holds it."""

    car: str
    member: str
    record: str

    def __post_init__(self) -> None:
        if not (self.car and self.record):
            raise ValueError("an observation needs the names of its car and of its record")


@dataclass(frozen=True)
class Observation:
    """One statement about a correction: between low and high, each end blurred by u (one sigma).

    Raises ValueError when an end is not a number, both ends are infinite, low exceeds high, or u
    is negative or not finite.
    """

    low: Mm
    high: Mm
    u: Mm
    origin: Origin

    def __post_init__(self) -> None:
        if isnan(self.low) or isnan(self.high) or not (isfinite(self.u) and self.u >= 0.0):
            raise ValueError(f"an observation needs numbers, got {self}")
        if not self.low <= self.high or self.low == inf or self.high == -inf:
            raise ValueError(f"an observation needs low ≤ high, got {self.low} and {self.high}")
        if not (isfinite(self.low) or isfinite(self.high)):
            raise ValueError("an observation without an end says nothing")

    @property
    def kind(self) -> Kind:
        """The form of the statement."""
        if self.low == self.high:
            return Kind.EXACT
        if self.high == inf:
            return Kind.LOWER
        return Kind.UPPER if self.low == -inf else Kind.INTERVAL

    @property
    def sort_key(self) -> tuple[Origin, Mm, Mm, Mm]:
        """An order that depends on the content only, never on the order of files."""
        return (self.origin, self.low, self.high, self.u)


def exact(value: Mm, u: Mm, origin: Origin) -> Observation:
    """Give a correction known as value ± u.

    >>> exact(3.0, 1.0, Origin("car", "member", "record")).kind
    <Kind.EXACT: 'measured'>
    """
    return Observation(value, value, u, origin)


def lower_bound(value: Mm, u: Mm, origin: Origin) -> Observation:
    """Give the statement that the correction exceeds value ± u."""
    return Observation(value, inf, u, origin)


def upper_bound(value: Mm, u: Mm, origin: Origin) -> Observation:
    """Give the statement that the correction is at most value ± u."""
    return Observation(-inf, value, u, origin)


def measured_gap(measured: Estimate, computed: Estimate, origin: Origin) -> Observation:
    """Turn a measured gap (mm, negative for overlap) into a correction: measured − computed.

    computed: the gap the model gives for the record's own setup, with its uncertainty (tyre,
    flange, pose). The two are independent: uncertainties add in quadrature.

    Source: [GUM] 5.1.

    >>> from generator.quantities.estimate import Basis
    >>> seen = Estimate(8.0, 3.0, Basis.MEASURED)
    >>> modelled = Estimate(5.0, 4.0, Basis.INFERRED)
    >>> entry = measured_gap(seen, modelled, Origin("car", "member", "record"))
    >>> entry.low, entry.u
    (3.0, 5.0)
    """
    return exact(measured.value - computed.value, hypot(measured.u, computed.u), origin)


def gap_above(least: Mm, computed: Estimate, origin: Origin) -> Observation:
    """Turn "more than `least`" into a bound; plain "clears" is a gap above 0.

    Source: own derivation: computed + c > least, so c > least − computed.

    >>> from generator.quantities.estimate import Basis
    >>> clears = gap_above(0.0, Estimate(5.0, 4.0, Basis.INFERRED), Origin("c", "m", "r"))
    >>> clears.low, clears.high
    (-5.0, inf)
    """
    return lower_bound(least - computed.value, computed.u, origin)


def gap_at_most(most: Mm, computed: Estimate, origin: Origin) -> Observation:
    """Turn "at most `most`" into a bound; a rub mark ("touches") is a gap of at most 0.

    Source: own derivation: computed + c ≤ most, so c ≤ most − computed.

    >>> from generator.quantities.estimate import Basis
    >>> touches = gap_at_most(0.0, Estimate(5.0, 4.0, Basis.INFERRED), Origin("c", "m", "r"))
    >>> touches.low, touches.high
    (-inf, -5.0)
    """
    return upper_bound(most - computed.value, computed.u, origin)


def gap_between(least: Mm, most: Mm, computed: Estimate, origin: Origin) -> Observation:
    """Turn "between `least` and `most`" (least < most) into an interval of the correction.

    Raises ValueError when least is not below most.

    Source: own derivation: both bounds of gap_above and gap_at_most at once.
    """
    if not least < most:
        raise ValueError(f"an interval needs least < most, got {least} and {most}")
    return Observation(least - computed.value, most - computed.value, computed.u, origin)
