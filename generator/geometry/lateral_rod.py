"""A lateral rod with both wheels travelling alike: arithmetic, for checks that start quickly.

The whole axle on its rod, tilted and in many positions at once, is in `axle`.
"""

from math import sqrt

from generator.quantities.units import Mm


def rod_shift(length: Mm, rise: Mm, travel: Mm) -> Mm:
    """Shift of an axle away from the rod's body bracket, both wheels travelling alike.

    length > 0. rise: body end above axle end before the travel. travel: bump +. A negative result
    is a shift toward the bracket.
    Raises ValueError for a rod too short for the height of its ends.
    Source: own derivation: Δ = √(L² − (h − z)²) − √(L² − h²).

    >>> round(rod_shift(1015.0, 42.0, 25.0), 1), round(rod_shift(1015.0, 42.0, -90.0), 1)
    (0.7, -7.8)
    """
    if not length >= max(abs(rise), abs(rise - travel)):
        raise ValueError(f"a rod of {length} mm does not reach over that height")
    return sqrt(length**2 - (rise - travel) ** 2) - sqrt(length**2 - rise**2)
