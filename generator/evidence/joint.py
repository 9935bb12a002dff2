"""All sites at once: the chance that every site clears, where sites share what is not known.

Sites of one corner share the tyre's unknown width: where it is 2 mm wider, every gap beside it is
about 1 mm smaller. Given that width the sites are taken as independent, so the chance that all
clear is the product of their chances, averaged over the width. The corrections themselves are
taken as independent between sites; the two bounds, which need no such assumption beyond the
shared width, are given beside the answer.
"""

from collections.abc import Sequence
from math import pi, sqrt

import numpy as np

from generator.evidence.distribution import Distribution
from generator.evidence.normal import Array
from generator.frozen import dataclass
from generator.quantities.estimate import Estimate
from generator.quantities.units import Mm, Probability, Ratio

# The trapezoid rule in standard deviations of the shared width. Gauss–Hermite nodes would lie
# 0.4 apart at best; these also follow a site known much better than the tyre.
_REACH, _STEP = 8.0, 0.1


@dataclass(frozen=True)
class Demand:
    """What is asked of one site: computed + correction + sensitivity·shared > wanted.

    computed: the gap with the uncertainty that is the site's own, without the shared part.
    sensitivity: change of the gap for 1 mm of the shared unknown, −1 to 1, often −0.5 for a width.
    """

    next_car: Distribution
    computed: Estimate
    wanted: Mm
    sensitivity: Ratio = 0.0


@dataclass(frozen=True)
class Joint:
    """The chance that every demand is met, its bounds whatever binds the sites, and each alone.

    weakest: place of the demand with the least chance of its own, the first of equals.
    """

    probability: Probability
    least: Probability
    most: Probability
    alone: tuple[Probability, ...]
    weakest: int


def joint_clearance(demands: Sequence[Demand], shared_u: Mm) -> Joint:
    """Give the chance that all sites clear at once on the next car.

    demands: at least one. shared_u: standard uncertainty of the shared unknown, ≥ 0.
    Raises ValueError without a demand or for a negative or infinite shared_u.

    Source: own derivation: ∫ φ(t) Π P(gap_j > wanted_j | t) dt; bounds of Fréchet,
    max(0, 1 − Σ(1 − p_j)) and min p_j.

    >>> even = Distribution((-1.0, 1.0), (0.0, 1.0), 0.0)
    >>> from generator.quantities.estimate import Basis
    >>> demand = Demand(even, Estimate(0.0, 0.0, Basis.INFERRED), 0.0)
    >>> joint_clearance([demand, demand], 0.0).probability
    0.25
    """
    if not demands or not 0.0 <= shared_u < np.inf:
        raise ValueError(f"a joint statement needs sites and a spread ≥ 0, got {shared_u}")
    points = np.arange(-_REACH, _REACH + 0.5 * _STEP, _STEP) if shared_u > 0.0 else np.zeros(1)
    weights = np.exp(-0.5 * points * points) * (_STEP / sqrt(2.0 * pi) if shared_u > 0.0 else 1.0)
    # Both sides of a car often ask the same.
    different = {demand: _chances(demand, points * shared_u) for demand in dict.fromkeys(demands)}
    chances = np.array([different[demand] for demand in demands])
    alone = np.clip(chances @ weights, 0.0, 1.0)
    together = float(np.clip(np.prod(chances, axis=0) @ weights, 0.0, 1.0))
    least = max(0.0, 1.0 - float(np.sum(1.0 - alone)))
    return Joint(
        together, least, float(np.min(alone)), tuple(alone.tolist()), int(np.argmin(alone))
    )


def _chances(demand: Demand, shared: Array) -> Array:
    """Give the chance of one demand for each value of the shared unknown."""
    needed = demand.wanted - demand.computed.value - demand.sensitivity * shared
    return np.asarray(1.0 - demand.next_car.probability_below(needed, demand.computed.u))
