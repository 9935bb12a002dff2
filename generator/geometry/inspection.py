"""Receiving inspection: what four weights, a dial gauge, callipers and date codes say of new parts.

Signs: a deviation is measured less ordered; a bore's clearance is bore less snout, both diameters.
"""

from datetime import date
from enum import Enum
from math import fsum, sqrt

from generator.frozen import dataclass
from generator.geometry.bound import PRACTICE, WHOLE, Check, at_most
from generator.quantities.date_code import DateCode, week_days
from generator.quantities.estimate import Basis, Estimate
from generator.quantities.units import Kg, Mm, Percent, Years

_GREGORIAN_YEAR = 365.2425  # mean days of a calendar year, by the leap rule: 146 097 days in 400
_CENTRING_LEAST, _CENTRING_GREATEST = 0.05, 0.20  # mm in diameter, common practice
_DIGITS = 6  # a millionth of a mm: takes off the binary rounding of a difference, no more


@dataclass(frozen=True)
class WeightSpread:
    """How far the weights of a set lie apart; `odd` counts from 0, None where none stands out."""

    mean: Kg
    spread: Kg
    percent: Percent
    u_percent: Percent
    odd: int | None
    spread_of_others: Kg

    def check(self, limit: Percent) -> Check:
        """Hold the spread, in per cent of the mean, against a limit of common practice."""
        spread = Estimate(self.percent, self.u_percent, Basis.MEASURED)
        return at_most(spread, limit, source=PRACTICE)


class RunOutBand(Enum):
    """What common practice does with a run-out."""

    GOOD = "good"
    ACCEPTED = "accepted"
    DOUBTFUL = "doubtful"
    ASK_THE_SELLER = "ask the seller"


@dataclass(frozen=True)
class RunOutLimits:
    """Upper ends of the bands of a run-out; from `ask` on the seller is asked."""

    good: Mm
    accepted: Mm
    ask: Mm


@dataclass(frozen=True)
class RunOut:
    """A run-out read on the hub, its band, and what part of it the wheel alone can have."""

    reading: Mm
    band: RunOutBand
    wheel_least: Mm
    wheel_greatest: Mm


class BoreFit(Enum):
    """How a wheel's bore sits on the hub's snout."""

    WILL_NOT_GO_ON = "will not go on"
    TIGHT = "tight"
    CENTRES = "centres"
    DOES_NOT_CENTRE = "does not centre"


@dataclass(frozen=True)
class BoreClearance:
    """Bore less snout in diameter, its fit, and the other fits its uncertainty leaves open."""

    clearance: Estimate
    fit: BoreFit
    also_possible: tuple[BoreFit, ...]


@dataclass(frozen=True)
class Deviation:
    """A measured size less the ordered one, with sign, and its check against the tolerance."""

    deviation: Estimate
    check: Check


@dataclass(frozen=True)
class Age:
    """Age on a day, from made on the last to made on the first possible day."""

    least: Years
    greatest: Years

    def check(self, limit: Years) -> Check:
        """Hold the greatest age against a limit of common practice."""
        return at_most(self.greatest, limit, source=PRACTICE)


def weight_spread(weights: tuple[Kg, ...], u: Kg) -> WeightSpread:
    """Spread of a set's weights, greatest less least, and the odd one out.

    Model: one scale for all, so its gain error falls out; u: of one reading, standard. The odd one
    stands further from each of the others than those lie apart among themselves and more than 2 u
    of a difference. weights: three or more, > 0. Raises ValueError otherwise.
    Source: own derivation: range of a sample, u of a difference of two readings [GUM] 5.1.
    By hand: 7.90, 7.92, 7.88, 8.35: spread 0.47 on a mean of 8.0125, 5.87 %; the last is odd.
    >>> found = weight_spread((7.90, 7.92, 7.88, 8.35), u=0.02)
    >>> round(found.spread, 2), round(found.percent, 2), found.odd
    (0.47, 5.87, 3)
    """
    if len(weights) < 3 or not (all(weight > 0.0 for weight in weights) and u >= 0.0):
        raise ValueError(f"a spread needs three or more weights above zero, got {weights}")
    mean = fsum(weights) / len(weights)
    spread = max(weights) - min(weights)
    u_percent = WHOLE * sqrt(2.0) * u / mean
    odd = _odd_one(weights, doubt=2.0 * sqrt(2.0) * u)
    others = [weight for index, weight in enumerate(weights) if index != odd]
    return WeightSpread(
        mean, spread, WHOLE * spread / mean, u_percent, odd, max(others) - min(others)
    )


def _odd_one(weights: tuple[Kg, ...], doubt: Kg) -> int | None:
    for index, weight in enumerate(weights):
        others = weights[:index] + weights[index + 1 :]
        nearest = min(abs(weight - other) for other in others)
        if nearest > max(doubt, max(others) - min(others)):
            return index
    return None


def run_out(reading: Mm, hub: Mm, *, limits: RunOutLimits) -> RunOut:
    """Band of a run-out read on the hub, and the wheel's own share of it.

    Model: the band is that of the reading, which is what turns on the car. The hub's run-out adds
    to the wheel's or takes off it, by the angle between their high spots, so the wheel alone lies
    between reading less hub and reading plus hub. Both total indicator readings, >= 0; limits
    rising. Raises ValueError otherwise.
    Source: [PRACTICE] bands; own derivation: two eccentricities add as vectors.
    By hand: 0.70 on a hub of 0.05: accepted, wheel alone 0.65 to 0.75.
    >>> found = run_out(0.70, 0.05, limits=RunOutLimits(0.5, 0.8, 1.0))
    >>> found.band.value, round(found.wheel_least, 2), round(found.wheel_greatest, 2)
    ('accepted', 0.65, 0.75)
    """
    if not (reading >= 0.0 and hub >= 0.0 and limits.good <= limits.accepted <= limits.ask):
        raise ValueError(f"a run-out is not below zero, got {reading} and {hub} mm")
    return RunOut(reading, _band(reading, limits), max(0.0, reading - hub), reading + hub)


def _band(reading: Mm, limits: RunOutLimits) -> RunOutBand:
    if reading <= limits.good:
        return RunOutBand.GOOD
    if reading <= limits.accepted:
        return RunOutBand.ACCEPTED
    return RunOutBand.DOUBTFUL if reading <= limits.ask else RunOutBand.ASK_THE_SELLER


def deviation_from_order(measured: Estimate, ordered: Mm, *, tolerance: Mm) -> Deviation:
    """Measured width, backspacing or offset less the ordered, held against a tolerance.

    tolerance: > 0, the same to both sides.
    Source: [PRACTICE] tolerances of an order.
    By hand: 140.5 on 138.3 ordered: 2.2 too much, 0.2 past a tolerance of 2.
    >>> found = deviation_from_order(Estimate(140.5, 0.05, Basis.MEASURED), 138.3, tolerance=2.0)
    >>> round(found.deviation.value, 2), round(found.check.margin, 2)
    (2.2, -0.2)
    """
    deviation = measured.shifted(-ordered)
    size = deviation.scaled(-1.0) if deviation.value < 0.0 else deviation
    return Deviation(deviation, at_most(size, tolerance, source=PRACTICE))


def bore_clearance(bore: Estimate, snout: Estimate) -> BoreClearance:
    """Fit of a wheel's bore on the hub's snout (or in a ring, on the ring).

    Model: round parts; 2 u to either side leaves neighbouring fits open. Both diameters > 0.
    Source: [PRACTICE] 0.05 to 0.20 mm in diameter centres a wheel.
    By hand: 57.15 on 57.05: 0.10, centres.
    >>> exact = lambda mm: Estimate(mm, 0.0, Basis.MEASURED)
    >>> bore_clearance(exact(57.15), exact(57.05)).fit.value
    'centres'
    """
    clearance = bore.minus(snout)
    reach = 2.0 * clearance.u
    fit = _fit(clearance.value)
    tight_end, loose_end = _fit(clearance.value - reach), _fit(clearance.value + reach)
    order = list(BoreFit)
    span = order[order.index(tight_end) : order.index(loose_end) + 1]
    return BoreClearance(clearance, fit, tuple(other for other in span if other is not fit))


def _fit(clearance: Mm) -> BoreFit:
    clearance = round(clearance, _DIGITS)
    if clearance < 0.0:
        return BoreFit.WILL_NOT_GO_ON
    if clearance < _CENTRING_LEAST:
        return BoreFit.TIGHT
    return BoreFit.CENTRES if clearance <= _CENTRING_GREATEST else BoreFit.DOES_NOT_CENTRE


def age(code: DateCode, on: date) -> Age:
    """Age of a tyre on a day, in years, from its date code.

    Model: made on any day its code allows; days over the mean calendar year. Raises ValueError for
    a day before the first on which it can have been made.
    Source: [CFR574] date code; own derivation: days between two dates, leap rule.
    By hand, 0124 is 7 to 13 January 2024; on 7 January 2030 2186 to 2192 days, 5.99 to 6.00 years.
    >>> from generator.quantities.date_code import read_date_code
    >>> found = age(read_date_code("0124"), date(2030, 1, 7))
    >>> round(found.least, 2), round(found.greatest, 2)
    (5.99, 6.0)
    """
    first, last = week_days(code)
    if on < first:
        raise ValueError(f"a tyre made from {first} on has no age on {on}")
    least = max(0, (on - last).days)
    return Age(least / _GREGORIAN_YEAR, (on - first).days / _GREGORIAN_YEAR)


def codes_are_equal(codes: tuple[DateCode, ...]) -> bool:
    """Tell whether a set of tyres bears one and the same date code.

    Source: own derivation: comparison of the digits as read.
    >>> from generator.quantities.date_code import read_date_code
    >>> codes_are_equal((read_date_code("2501"), read_date_code("2601")))
    False
    """
    return len({code.digits for code in codes}) == 1


def weeks_apart(codes: tuple[DateCode, ...]) -> int | None:
    """Count the weeks between the oldest and the newest tyre of a set.

    0 for equal codes; None where a code that names several years leaves it open.
    codes: one or more.
    Source: [CFR574] date code counts weeks; own derivation: days over seven.
    >>> from generator.quantities.date_code import read_date_code
    >>> weeks_apart((read_date_code("0124"), read_date_code("5223")))
    2
    """
    if codes_are_equal(codes):
        return 0
    if not all(code.is_certain for code in codes):
        return None
    starts = [week_days(code)[0] for code in codes]
    return (max(starts) - min(starts)).days // 7


def batch_check(weeks: int, limit: int) -> Check:
    """Weeks between two tyres of a pair, held against a limit.

    Source: [PRACTICE] pairs within 13 weeks or so.
    >>> float(batch_check(17, 13).margin)
    -4.0
    """
    return at_most(weeks, limit, source=PRACTICE)
