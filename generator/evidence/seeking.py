"""The least amount of a change that is enough, asked for step by step.

Who asks can be answered later, so that several are answered together. The odds of what was tried
say where the least amount is likely to be; where they mislead, the row is halved.
"""

from collections.abc import Generator
from math import ceil, log

from generator.evidence.levers import Amount, Lever
from generator.frozen import dataclass
from generator.quantities.units import Probability

_GUESSES = 3
"""Steps that follow the odds before the rest of the row is halved."""
_CERTAIN: Probability = 1e-9


@dataclass(frozen=True)
class Told:
    """What came of an amount: whether it is enough, and by what odds; None where not known.

    odds: logarithm of the odds of what is wanted over those that are enough.
    """

    is_enough: bool
    odds: float | None


def odds_over(chance: Probability | None, enough: Probability) -> float | None:
    """Give the logarithm of a chance's odds over those of the chance that is enough.

    >>> odds_over(0.9, 0.9), odds_over(None, 0.9)
    (0.0, None)
    """
    return None if chance is None else _log_odds(chance) - _log_odds(enough)


def _log_odds(chance: Probability) -> float:
    inside = min(max(chance, _CERTAIN), 1.0 - _CERTAIN)
    return log(inside / (1.0 - inside))


def seeking(
    lever: Lever, here: float | None
) -> Generator[tuple[Amount, ...], tuple[Told, ...], Amount | None]:
    """Ask whether amounts are enough, some at a time, until the least that is enough is known.

    here: the odds without any.
    """
    amounts = lever.amounts
    if not lever.rises:
        told = yield amounts
        return next((a for a, each in zip(amounts, told, strict=True) if each.is_enough), None)
    (most,) = yield amounts[-1:]
    if not most.is_enough:
        return None
    low, high = (-1, here), (len(amounts) - 1, most.odds)
    guesses = 0
    while high[0] - low[0] > 1:
        at = _middle(low, high) if guesses == _GUESSES else _guess(low, high)
        guesses = min(guesses + 1, _GUESSES)
        first = max(at - 1, low[0] + 1)
        for place, each in enumerate((yield amounts[first : at + 1]), first):
            if each.is_enough:
                high = (place, each.odds)
                break
            low = (place, each.odds)
    return amounts[high[0]]


_Place = tuple[int, float | None]


def _guess(low: _Place, high: _Place) -> int:
    """Give where the odds would be even if they rose evenly from place to place."""
    if low[1] is None or high[1] is None or not low[1] < 0.0 <= high[1]:
        return _middle(low, high)
    share = low[1] / (low[1] - high[1])
    return min(max(low[0] + ceil(share * (high[0] - low[0])), low[0] + 1), high[0] - 1)


def _middle(low: _Place, high: _Place) -> int:
    return (low[0] + high[0]) // 2
