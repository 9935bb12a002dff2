"""Positions to look at: a grid over all that a wheel can do, the named states, and finer near one.

Full lock is swept up to two thirds of bump and tapers to a quarter at full bump (see travel). On a
beam or live axle the grid runs over heave and tilt: the heights that both wheels can take shrink
evenly from all of bump and droop while level to the stated articulation at full tilt.
"""

import numpy as np

from generator.frozen import dataclass
from generator.geometry.frames import Floats, Positions, positions, row
from generator.geometry.travel import (
    LOCK_BUMP_SHARE,
    Articulation,
    MotionRange,
    TravelLimits,
    lock_shares,
    named_states,
)
from generator.quantities.units import Deg, Mm, Ratio

_LEVELS = 13
_LEVELS_ABOVE = 4
_STEERS = 15
_TILTS = 15
_ALONE = 41
_NEAR = 7
NEAR_STEPS = _NEAR
"""Positions along each direction of a neighbourhood."""


@dataclass(frozen=True)
class Position:
    """One position: travel, steer and the other side's travel."""

    travel: Mm
    steer: Deg = 0.0
    other_travel: Mm = 0.0


def swept(reach: MotionRange) -> Positions:
    """Positions over the whole range, about 200, followed by the named states exactly.

    Source: own derivation: grid of the region that the module's head describes.

    >>> from generator.geometry.travel import Locks
    >>> len(swept(MotionRange(TravelLimits(84.0, 76.0), Locks(37.5, 32.0))))
    204
    """
    if reach.articulation is not None:
        grid = _tilting(reach, np.linspace(-1.0, 1.0, _TILTS), np.linspace(0.0, 1.0, _LEVELS))
    elif reach.locks.toe_out or reach.locks.toe_in:
        grid = _steering(reach, _levels(reach.limits), np.linspace(-1.0, 1.0, _STEERS))
    else:
        grid = positions(np.linspace(-reach.limits.droop, reach.limits.bump, _ALONE))
    return _joined(grid, state_positions(reach))


def state_positions(reach: MotionRange) -> Positions:
    """Give the positions of the named states, in their order.

    Source: own derivation: see `named_states`.
    """
    states = named_states(reach)
    return Positions(
        row([each.travel for each in states]),
        row([each.steer for each in states]),
        row([each.other_travel for each in states]),
    )


def refined(reach: MotionRange, near: Position, width: Ratio) -> Positions:
    """Positions close around one, within the swept region, that one first.

    width: half-width of the neighbourhood as a share of each whole range, above 0; the grid's own
    spacing is about 0.08, so 0.08, 0.02, 0.005 one after the other find the least gap's place to
    about 0.2 % of the range.
    Raises ValueError for a width that is not above 0.
    Source: own derivation: a grid of 7 × 7, clipped to the region of `swept`.

    >>> len(refined(MotionRange(TravelLimits(85.0, 90.0)), Position(10.0), 0.08))
    8
    """
    here = positions(near.travel, near.steer, other_travel=near.other_travel)
    return Positions(*(each[0] for each in refined_each(reach, here, width)))


def refined_each(
    reach: MotionRange, near: Positions, width: Ratio
) -> tuple[Floats, Floats, Floats]:
    """Give travel, steer and the other side's travel (t, m) close around each of t positions.

    Raises ValueError for a width that is not above 0.
    Source: own derivation: as `refined`.

    >>> reach = MotionRange(TravelLimits(85.0, 90.0))
    >>> refined_each(reach, positions([10.0, 20.0]), 0.08)[0][:, 0].tolist()
    [10.0, 20.0]
    """
    if not width > 0.0:
        raise ValueError(f"a neighbourhood needs a width above 0, got {width}")
    steps = width * np.linspace(-1.0, 1.0, _NEAR)
    if reach.articulation is not None:
        around = _tilting_near(reach, reach.articulation, near, steps)
    elif reach.locks.toe_out or reach.locks.toe_in:
        around = _steering_near(reach, near, steps)
    else:
        levels = _levels_near(reach.limits, near.travel, steps)
        around = (levels, np.zeros_like(levels), levels)
    here = (near.travel, near.steer, near.other_travel)
    first, second, third = (
        np.concatenate((one[:, None], each.reshape(len(near), -1)), axis=1)
        for one, each in zip(here, around, strict=True)
    )
    return first, second, third


def _levels(limits: TravelLimits) -> Floats:
    """Give travel levels with one exactly where the taper of the lock begins."""
    start = LOCK_BUMP_SHARE * limits.bump
    below = np.linspace(-limits.droop, start, _LEVELS - _LEVELS_ABOVE)
    return np.concatenate([below, np.linspace(start, limits.bump, _LEVELS_ABOVE + 1)[1:]])


def _levels_near(limits: TravelLimits, travel: Floats, steps: Floats) -> Floats:
    around = travel[:, None] + steps * (limits.bump + limits.droop)
    return np.clip(around, -limits.droop, limits.bump)


def _steering(reach: MotionRange, levels: Floats, shares: Floats) -> Positions:
    locks = np.where(shares > 0.0, reach.locks.toe_out, reach.locks.toe_in) * shares
    steer = lock_shares(reach.limits, levels)[:, None] * locks
    return positions(np.repeat(levels, len(shares)), steer.ravel())


def _steering_near(
    reach: MotionRange, near: Positions, steps: Floats
) -> tuple[Floats, Floats, Floats]:
    """Give neighbourhoods (t, 7, 7) over travel and steer."""
    locks = reach.locks
    levels = _levels_near(reach.limits, near.travel, steps)
    share = lock_shares(reach.limits, levels)[:, :, None]
    steer = (near.steer[:, None] + steps * (locks.toe_out + locks.toe_in))[:, None, :]
    held = np.clip(steer, -share * locks.toe_in, share * locks.toe_out)
    travel = np.broadcast_to(levels[:, :, None], held.shape)
    return travel, held, travel


def _tilting(reach: MotionRange, tilts: Floats, heights: Floats) -> Positions:
    """Give positions by tilt (p,), −1 to 1 of full articulation, and height in the range (q,)."""
    if reach.articulation is None:
        raise ValueError("a tilt needs a stated articulation")
    lowest, highest = _heaves(reach.limits, reach.articulation, tilts)
    heave = lowest[:, None] + (highest - lowest)[:, None] * heights
    lift = 0.5 * (reach.articulation.up + reach.articulation.down) * tilts[:, None]
    return positions((heave + lift).ravel(), other_travel=(heave - lift).ravel())


def _tilting_near(
    reach: MotionRange, articulation: Articulation, near: Positions, steps: Floats
) -> tuple[Floats, Floats, Floats]:
    """Give neighbourhoods (t, 7, 7) over tilt and heave; (t, 1, 7) where nothing tilts."""
    whole = articulation.up + articulation.down
    middle = 0.5 * (near.travel + near.other_travel)
    tilt = np.zeros((len(near), 1))
    if whole > 0.0:
        here = (near.travel - near.other_travel) / whole
        tilt = np.clip(here[:, None] + 2.0 * steps, -1.0, 1.0)
    lowest, highest = (each[:, :, None] for each in _heaves(reach.limits, articulation, tilt))
    heave = middle[:, None] + steps * (reach.limits.bump + reach.limits.droop)
    held = np.clip(heave[:, None, :], lowest, highest)
    lift = 0.5 * whole * tilt[:, :, None]
    return held + lift, np.zeros_like(held), held - lift


def _heaves(
    limits: TravelLimits, articulation: Articulation, tilts: Floats
) -> tuple[Floats, Floats]:
    """Give the lowest and highest mean travel at each tilt."""
    full = 0.5 * (articulation.up - articulation.down)
    share = np.abs(tilts)
    lowest = -limits.droop + share * (full + limits.droop)
    return lowest, limits.bump + share * (full - limits.bump)


def _joined(first: Positions, second: Positions) -> Positions:
    return Positions(
        np.concatenate([first.travel, second.travel]),
        np.concatenate([first.steer, second.steer]),
        np.concatenate([first.other_travel, second.other_travel]),
    )
