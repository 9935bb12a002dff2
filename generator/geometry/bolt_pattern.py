"""Bolt circles: from the chord one can measure to the circle one cannot."""

from math import pi, sin

from generator.quantities.units import Mm


def _share(bolts: int, apart: int) -> float:
    if bolts < 3 or not 1 <= apart <= bolts // 2:
        raise ValueError(f"no chord over {apart} places on a circle of {bolts} bolts")
    return sin(pi * apart / bolts)


def chord(pitch_circle: Mm, *, bolts: int, apart: int = 1) -> Mm:
    """Give the distance between the centres of two bolts that are `apart` places from each other.

    pitch_circle: diameter, > 0. bolts: >= 3. apart: 1 to half the bolts.
    Raises ValueError outside these.
    Source: own derivation: chord of a circle, PCD sin(pi k / n).
    >>> round(chord(114.3, bolts=5), 3)
    67.184
    """
    if not pitch_circle > 0.0:
        raise ValueError(f"a pitch circle is above zero, got {pitch_circle} mm")
    return pitch_circle * _share(bolts, apart)


def pitch_circle_from_chord(measured: Mm, *, bolts: int, apart: int = 1) -> Mm:
    """Give the pitch circle diameter from the distance of two bolt centres.

    measured: centre to centre, > 0. bolts: >= 3. apart: 1 to half the bolts.
    Raises ValueError outside these.
    Source: own derivation: chord of a circle, solved for its diameter.
    >>> round(pitch_circle_from_chord(67.184, bolts=5), 1)
    114.3
    """
    if not measured > 0.0:
        raise ValueError(f"a chord is above zero, got {measured} mm")
    return measured / _share(bolts, apart)


def radial_mismatch(wheel_circle: Mm, hub_circle: Mm) -> Mm:
    """Give how far each bolt stands from its hole's centre along the radius, never negative.

    Source: own derivation: half the difference of the two diameters.
    >>> radial_mismatch(98.0, 100.0)
    1.0
    """
    return abs(wheel_circle - hub_circle) / 2.0
