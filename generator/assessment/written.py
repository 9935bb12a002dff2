"""How a check's sentence writes its numbers."""

from typing import Final

from generator.geometry.bound import Number

_MOST_PLACES: Final = 4
_SAME: Final = 1e-6
"""Numbers this near are one number for the reader, whatever the last binary digit says."""


def apart(value: Number, bound: Number, places: int = 1) -> tuple[str, str]:
    """Write a value and its bound with as many decimals as tell which is the greater.

    >>> apart(20.04, 20.0), apart(20.0, 20.0), apart(523.6, 524.1, 0)
    (('20.04', '20.00'), ('20.0', '20.0'), ('523.6', '524.1'))
    """
    most = _MOST_PLACES if abs(value - bound) > _SAME else places
    for each in range(places, most + 1):
        told = (f"{value:.{each}f}", f"{bound:.{each}f}")
        if float(told[0]) != float(told[1]):
            break
    return told
