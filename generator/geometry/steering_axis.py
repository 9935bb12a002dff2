"""The line a wheel steers about. Without numpy, so that checking a sheet need not load it."""

from math import atan, degrees, isfinite
from typing import TypeAlias

from generator.frozen import dataclass
from generator.quantities.units import Deg, Mm

Joint: TypeAlias = tuple[Mm, Mm, Mm]
UPRIGHT: Deg = 90.0
"""An axis at right angles to its own; none leans so far."""


@dataclass(frozen=True)
class SteeringAxis:
    """The line a wheel steers about: through (lead, −distance, 0), along (−tan τ, −tan σ, 1).

    inclination σ and caster τ between −90° and 90°. distance: hub face to the axis at spindle
    height, + inboard of the face. lead: how far the axis passes ahead of the spin axis there.
    """

    inclination: Deg = 0.0
    caster: Deg = 0.0
    distance: Mm = 0.0
    lead: Mm = 0.0

    def __post_init__(self) -> None:
        for angle in (self.inclination, self.caster):
            if not abs(angle) < UPRIGHT:
                raise ValueError(f"a steering axis leans less than 90°, got {angle}")
        if not (isfinite(self.distance) and isfinite(self.lead)):
            raise ValueError("a steering axis needs a finite place")


def axis_through(lower: Joint, upper: Joint) -> SteeringAxis:
    """Steering axis through two ball joints given in the corner frame.

    lower, upper: mm, x forward, y outboard, z up from the spin axis; upper above lower.
    Raises ValueError where the upper joint is not above the lower.
    Source: own derivation: σ and τ are the leans of the line seen from ahead and from the side.

    >>> axis = axis_through((0.0, -60.0, -120.0), (-25.0, -100.0, 320.0))
    >>> round(axis.inclination, 3), round(axis.caster, 3)
    (5.194, 3.252)
    """
    rise = upper[2] - lower[2]
    if not rise > 0.0:
        raise ValueError("the upper joint of a steering axis lies above the lower")
    forward, outboard = (upper[0] - lower[0]) / rise, (upper[1] - lower[1]) / rise
    return SteeringAxis(
        inclination=degrees(atan(-outboard)),
        caster=degrees(atan(-forward)),
        distance=-(lower[1] - lower[2] * outboard),
        lead=lower[0] - lower[2] * forward,
    )
