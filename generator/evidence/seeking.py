"""The least amount of a change that is enough, asked for step by step.

Who asks can be answered later, so that several are answered together.
"""

from collections.abc import Generator

from generator.evidence.levers import Amount, Lever


def seeking(
    lever: Lever,
) -> Generator[tuple[Amount, ...], tuple[bool, ...], Amount | None]:
    """Ask whether amounts are enough, some at a time, until the least that is enough is known."""
    amounts = lever.amounts
    if not lever.rises:
        enough = yield amounts
        return next((each for each, mends in zip(amounts, enough, strict=True) if mends), None)
    if not (yield amounts[-1:])[0]:
        return None
    low, high = -1, len(amounts) - 1
    while high - low > 1:
        middle = (low + high) // 2
        if (yield amounts[middle : middle + 1])[0]:
            high = middle
        else:
            low = middle
    return amounts[high]
