"""Worth measuring: which gap, on one more car, would tell most about what is not decided yet.

A setup's chance at a site is a coin of which the club does not know the odds well. One measured
gap more moves what is known of the site, and with it the chance, by an amount that depends on what
is found. The worth is how much of the chance's entropy is expected to go: over all that may be
found, weighted by how likely it is. It is 0 where a measurement cannot change anybody's mind.
"""

from collections.abc import Iterable, Mapping
from math import hypot

import numpy as np

from generator.assessment.clearances import Clearance, GapAt
from generator.evidence.club import ChassisEvidence, prior
from generator.evidence.entries import TOOL_U, SiteKey, computed_in
from generator.evidence.learning import Learned, learn
from generator.evidence.likelihood import LEAST_U
from generator.evidence.normal import Array, log_normal_density, normal_cdf
from generator.evidence.verdict import Verdict
from generator.frozen import dataclass
from generator.quantities.units import Mm, Probability, Ratio
from generator.records.words import State, Tool

MOST = 5
"""Measurements told for one chassis or setup; more would not be an answer."""
_LOOKED_AT = 8
_FOUND = 61
"""What may be found: the mean of the chances over it is the chance of now within 0.001."""
_REACH = 6.0
_LEAST_WORTH: Ratio = 0.005

_STATES = tuple(state for state in State if state is not State.SWEEP)


@dataclass(frozen=True)
class Measurement:
    """A gap worth measuring on one more car: where, in which state, with which tool, and why.

    `worth` is the expected drop of the entropy of the chance, in bits; `chance` is that of now.
    `setup` is the setup whose chance hangs on it most.
    """

    chassis: str
    key: SiteKey
    label: str
    state: State
    tool: Tool
    setup: str
    chance: Probability
    worth: Ratio
    why: str


@dataclass(frozen=True)
class _Open:
    """A chance that is not decided: a site on one side, seen by one setup."""

    key: SiteKey
    clearance: Clearance
    least: GapAt
    setup: str
    chance: Probability


def worth_measuring(
    evidence: ChassisEvidence, judged: Mapping[str, Verdict]
) -> tuple[Measurement, ...]:
    """Give the measurements that tell most about setups of one chassis, the best first.

    judged: the setups that matter, by name: those of the records, or one candidate.
    """
    waiting = sorted(_open(judged), key=_rank)[:_LOOKED_AT]
    found = [_measurement(each, evidence) for each in waiting]
    worthy = [each for each in found if each.worth >= _LEAST_WORTH]
    return tuple(sorted(worthy, key=_order)[:MOST])


def worth_for_club(of_chassis: Iterable[tuple[Measurement, ...]]) -> tuple[Measurement, ...]:
    """Give the measurements that tell most in the whole club, the best first."""
    return tuple(sorted((each for some in of_chassis for each in some), key=_order)[:MOST])


def _order(measurement: Measurement) -> tuple[float, str, tuple[str, ...]]:
    return (-measurement.worth, measurement.chassis, measurement.key.order)


def _rank(each: _Open) -> tuple[float, tuple[str, ...]]:
    return (-entropy(each.chance), each.key.order)


def _open(judged: Mapping[str, Verdict]) -> list[_Open]:
    """Give for each site and side the setup whose chance is least decided."""
    best: dict[SiteKey, _Open] = {}
    for name in sorted(judged):
        for site in (each for axle in judged[name].axles() for each in axle.sites):
            clearance, least = site.clearance, site.clearance.least
            if least is None or site.chance is None:
                continue
            key = SiteKey(clearance.site.axle, clearance.site.name, site.side, clearance.condition)
            known = best.get(key)
            if known is None or entropy(site.chance) > entropy(known.chance):
                best[key] = _Open(key, clearance, least, name, site.chance)
    return list(best.values())


def _measurement(each: _Open, evidence: ChassisEvidence) -> Measurement:
    known = evidence.limits.get(each.key)
    observations = [weighed.entry.observation for weighed in known.weighed] if known else []
    learned = learn(observations, prior(each.clearance.site))
    state, tool = _how(each.clearance)
    computed = computed_in(each.clearance, state)
    u = hypot(TOOL_U[tool], computed.u_setup if computed else each.least.u_setup)
    short = each.clearance.wanted - each.least.gap.value
    worth = expected_drop(learned, short, blur=each.least.u_setup, u=u)
    return Measurement(
        evidence.chassis, each.key, each.clearance.site.label, state, tool, each.setup,
        each.chance, worth, _why(len(observations)),
    )  # fmt: skip


def _how(clearance: Clearance) -> tuple[State, Tool]:
    """Give the state and the tool: where the gap is least, clay if nobody can reach in."""
    if not clearance.moves:
        return State.STATIC, Tool.FEELER
    known = [(computed_in(clearance, state), state) for state in _STATES]
    gaps = [(gap.gap.value, state) for gap, state in known if gap is not None]
    if not gaps:
        return State.SWEEP, Tool.CLAY
    state = min(gaps, key=lambda each: each[0])[1]
    return state, Tool.FEELER if state is State.STATIC else Tool.CLAY


def _why(entries: int) -> str:
    if not entries:
        return "its chance rests on the chassis sheet alone"
    return f"its chance rests on {entries} entr{'y' if entries == 1 else 'ies'}"


def entropy(chance: Probability) -> Ratio:
    """Give how undecided a chance is, in bits: 1 at even odds, 0 at certainty.

    Source: own derivation: Shannon entropy of two outcomes, −Σ p·log₂ p.

    >>> entropy(0.5), entropy(1.0)
    (1.0, 0.0)
    """
    return float(_entropies(np.array([chance]))[0])


def _entropies(chances: Array) -> Array:
    inside = np.clip(chances, 1e-12, 1.0 - 1e-12)
    bits = -(inside * np.log2(inside) + (1.0 - inside) * np.log2(1.0 - inside))
    return np.asarray(np.where((chances > 1e-9) & (chances < 1.0 - 1e-9), bits, 0.0))


def expected_drop(learned: Learned, short: Mm, *, blur: Mm, u: Mm) -> Ratio:
    """Give how much entropy of a chance one more car's measured correction takes away on average.

    short: how much the computed gap lacks to the wanted one, so that the chance is that of a
    correction above it. blur: of that gap by wheel and tyre, u: of the measurement; both ≥ 0.
    Never negative: on average a measurement tells something or nothing.

    Source: own derivation: Σ m(y)·[H(p) − H(p | y)] over what may be found, y, with its predictive
    density m; at every node of (μ, τ) a new car's y is N(μ, τ² + u²), or wrong.

    >>> from generator.evidence.likelihood import SitePrior
    >>> known_well = learn((), SitePrior(0.0, 0.5, 0.5))
    >>> known_badly = learn((), SitePrior(0.0, 10.0, 0.5))
    >>> drops = [expected_drop(each, 1.0, blur=1.0, u=1.0) for each in (known_well, known_badly)]
    >>> drops[0] < drops[1]
    True
    """
    weights, chances = predicted_chances(learned, short, blur=blur, u=u)
    now = float(weights @ chances)
    return max(entropy(now) - float(weights @ _entropies(chances)), 0.0)


def predicted_chances(learned: Learned, short: Mm, *, blur: Mm, u: Mm) -> tuple[Array, Array]:
    """Give what the chance will be for all that may be found, with how likely each is.

    Both arrays (n,). The mean chance is the chance of now: nobody expects to change his mind in
    one direction.

    Source: own derivation: see `expected_drop`.
    """
    lattice, masses = learned.lattice, learned.masses
    means, spreads = lattice.means(), lattice.spreads()
    clears = normal_cdf((means - short) / np.hypot(spreads, max(blur, 1e-6)))
    seen = np.hypot(spreads, max(u, LEAST_U))
    share, wide = learned.prior.doubt, learned.prior.wrong_sd
    found = _grid(learned, seen)
    density = np.exp(log_normal_density((found[:, None] - means) / seen)) / seen
    wrong_sd = hypot(wide, u)
    wrong = np.exp(log_normal_density((found - learned.prior.mean) / wrong_sd)) / wrong_sd
    likely = (1.0 - share) * density + share * wrong[:, None]
    predictive = likely @ masses
    chances = (likely @ (masses * clears)) / predictive
    weights = predictive * np.gradient(found)
    return weights / np.sum(weights), chances


def _grid(learned: Learned, seen: Array) -> Array:
    """Give what may be found: dense where it is likely, out to what a wrong entry would say."""
    means, masses = learned.lattice.means(), learned.masses
    middle = float(masses @ means)
    width = float(np.sqrt(masses @ ((means - middle) ** 2 + seen**2)))
    reach = max(_REACH * width, 3.0 * learned.prior.wrong_sd) / width
    even = np.linspace(-1.0, 1.0, _FOUND)
    return np.asarray(middle + width * reach * np.sinh(4.0 * even) / np.sinh(4.0))
