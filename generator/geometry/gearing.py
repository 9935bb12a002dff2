"""What another tyre diameter does to speedometer and to front and rear wheel speeds.

Signs: a reading error is positive where the instrument shows more than the true speed; a mismatch
is positive where the front grew against the rear.
"""

from math import hypot, pi

from generator.frozen import dataclass
from generator.geometry.bound import PRACTICE, WHOLE, Check, at_least, at_most
from generator.geometry.tyre import greatest_indicated_speed
from generator.quantities.estimate import Estimate, weakest
from generator.quantities.units import KmPerHour, Mm, Percent


@dataclass(frozen=True)
class DiameterPair:
    """Tyre diameters of the front and the rear axle, > 0."""

    front: Estimate
    rear: Estimate


def diameter_mismatch(stock: DiameterPair, fitted: DiameterPair) -> Estimate:
    """Change of the front to rear ratio of diameters, in per cent.

    Model: rolling radii go with the diameters; four independent diameters, first order.
    All diameters > 0, ValueError otherwise.
    Source: [PRACTICE] m = (D_f2/D_r2)/(D_f1/D_r1) − 1; u: [GUM] 5.1.6, products.
    By hand: (632/632)/(632/645) − 1 = 645/632 − 1 = 2.057 %.
    >>> from generator.quantities.estimate import Basis
    >>> exact = lambda mm: Estimate(mm, 0.0, Basis.MEASURED)
    >>> same, taller = DiameterPair(exact(632), exact(632)), DiameterPair(exact(632), exact(645))
    >>> round(diameter_mismatch(taller, same).value, 3)
    2.057
    """
    four = (stock.front, stock.rear, fitted.front, fitted.rear)
    if not all(diameter.value > 0.0 for diameter in four):
        raise ValueError("diameters are above zero")
    ratio = (fitted.front.value / fitted.rear.value) / (stock.front.value / stock.rear.value)
    u = ratio * hypot(*(diameter.u / diameter.value for diameter in four))
    sources = tuple(dict.fromkeys(key for diameter in four for key in diameter.sources))
    basis = weakest(*(diameter.basis for diameter in four))
    return Estimate(WHOLE * (ratio - 1.0), WHOLE * u, basis, sources)


def rolling_radius(circumference: Mm) -> Mm:
    """Give the radius at which a wheel rolls: its way in one turn over a full circle.

    circumference: mm, of the rolling wheel, or standing by its loaded radius.
    Source: own derivation: way of one turn = 2 pi radius.
    >>> round(rolling_radius(1936.75), 2)
    308.24
    """
    return circumference / (2.0 * pi)


def percent_check(change: Estimate, limit: Percent) -> Check:
    """Size of a change in per cent, whichever way it goes, held against a limit.

    For the diameter and for the mismatch of front and rear. limit: > 0.
    Source: [PRACTICE] within 2 % of diameter as a rule, mismatch 1.5 % good and 3 % the limit.
    >>> from generator.quantities.estimate import Basis
    >>> round(percent_check(Estimate(-2.06, 0.1, Basis.MEASURED), 3.0).margin, 2)
    0.94
    """
    size = change.scaled(-1.0) if change.value < 0.0 else change
    return at_most(size, limit, source=PRACTICE)


def indicated_speed(
    true_speed: KmPerHour, stock_error: Percent, *, stock: Estimate, fitted: Estimate
) -> Estimate:
    """Speed the instrument shows at a true speed once another tyre diameter is fitted.

    Model: it counts turns, and its error with the stock tyre is known. true_speed: >= 0.
    stock, fitted: diameters > 0, ValueError otherwise.
    Source: own derivation: turns per distance go with D_stock/D_fitted; u: [GUM] 5.1.6.
    By hand: 100 km/h, 4 % high, 632 to 645: 104·632/645 = 101.9.
    >>> from generator.quantities.estimate import Basis
    >>> exact = lambda mm: Estimate(mm, 0.0, Basis.MEASURED)
    >>> round(indicated_speed(100.0, 4.0, stock=exact(632.0), fitted=exact(645.0)).value, 1)
    101.9
    """
    if not (stock.value > 0.0 and fitted.value > 0.0):
        raise ValueError("diameters are above zero")
    shown = true_speed * (1.0 + stock_error / WHOLE) * stock.value / fitted.value
    u = shown * hypot(stock.u / stock.value, fitted.u / fitted.value)
    sources = tuple(dict.fromkeys(stock.sources + fitted.sources))
    return Estimate(shown, u, weakest(stock.basis, fitted.basis), sources)


def speedometer_checks(indicated: Estimate, true_speed: KmPerHour) -> tuple[Check, Check]:
    """Shown speed, held against the true speed below and the law's greatest above.

    true_speed: >= 0.
    Source: [UNR39] 5.3, 0 <= V1 − V2 <= 0.1 V2 + 4 km/h.
    By hand, true 50: from 50 to 59.
    >>> from generator.quantities.estimate import Basis
    >>> low, high = speedometer_checks(Estimate(52.0, 0.0, Basis.MEASURED), 50.0)
    >>> low.margin, round(high.margin, 6)
    (2.0, 7.0)
    """
    return (
        at_least(indicated, true_speed, source="UNR39"),
        at_most(indicated, greatest_indicated_speed(true_speed), source="UNR39"),
    )
