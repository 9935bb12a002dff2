"""The gaps of sights: the least over the sweep, standing, in the named states, and two curves.

Sights of one corner or of many are measured together, since the geometry's arithmetic is the same
for all; what is found for one does not depend on the others.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from math import hypot

import numpy as np

from generator.assessment.clearances import Clearance, Curve, GapAt, Mounted, Sight, sights
from generator.assessment.corner import strut_doubt
from generator.assessment.fit import Fit
from generator.assessment.poses import pose_words
from generator.frozen import dataclass
from generator.geometry.clearance import SectionPoint
from generator.geometry.frames import Floats, Positions, positions
from generator.geometry.gradient import GapGradient, gap_gradients, gap_uncertainty
from generator.geometry.nearest import LeastOverSweep, Nearest, least_of, nearest_of
from generator.geometry.shapes import Attachment
from generator.geometry.sweep import Position, state_positions
from generator.geometry.travel import MotionRange, NamedState, named_states
from generator.geometry.tyre import TREAD_SHARE
from generator.quantities.estimate import Basis, Estimate, weakest
from generator.quantities.units import Mm
from generator.records.chassis import Chassis
from generator.records.words import Axle, Side

_CURVE_STEPS = 17


def clearances(
    chassis: Chassis, axle: Axle, side: Side, *, mounted: Mounted, stock: Fit
) -> tuple[Clearance, ...]:
    """Compute the gaps of all sites at one corner. `side` is left or right, or both if alike."""
    return measured(sights(chassis, axle, side, mounted=mounted, stock=stock))


def measured(seen: Sequence[Sight | Clearance]) -> tuple[Clearance, ...]:
    """Give all gaps of sights; what is a clearance already stays as it is."""
    moving = _moving(seen)
    looks = [_looks(each.motion.reach) for each in moving]
    near = nearest_of([each.target for each in moving], [each.whole for each in looks])
    least = least_of([each.target for each in moving])
    every = list(zip(moving, looks, near, strict=True))
    found = _told(
        [
            *(_least(sight, each) for sight, each in zip(moving, least, strict=True)),
            *(each for sight, look, at in every for each in _in_states(sight, look, at)),
        ]
    )
    whole: dict[int, Clearance] = {}
    first = len(moving)
    for place, (sight, look, at) in enumerate(every):
        standing, *states = found[first : first + 1 + len(look.states)]
        first += 1 + len(look.states)
        whole[id(sight)] = replace(
            _clearance(sight, None, found[place]),
            standing=standing,
            states=tuple(states),
            by_travel=_curve(sight, look.travel, at.gaps[look.by_travel]),
            by_steer=_curve(sight, look.steer, at.gaps[look.by_steer]) if look.steers else None,
        )
    return _in_order(seen, whole | _carried(seen))


def least_measured(seen: Sequence[Sight | Clearance]) -> tuple[Clearance, ...]:
    """Give the least gap alone of each sight, without the named states and the curves."""
    moving = _moving(seen)
    least = least_of([each.target for each in moving])
    found = _told([_least(sight, each) for sight, each in zip(moving, least, strict=True)])
    whole = {
        id(sight): _clearance(sight, None, each) for sight, each in zip(moving, found, strict=True)
    }
    return _in_order(seen, whole | _carried(seen))


def _moving(seen: Sequence[Sight | Clearance]) -> list[Sight]:
    return [each for each in seen if isinstance(each, Sight) and each.moves]


def _in_order(
    seen: Sequence[Sight | Clearance], found: dict[int, Clearance]
) -> tuple[Clearance, ...]:
    return tuple(each if isinstance(each, Clearance) else found[id(each)] for each in seen)


def _carried(seen: Sequence[Sight | Clearance]) -> dict[int, Clearance]:
    """Give the clearances of sites that go with the wheel: one gap, the same in every state."""
    carried = [each for each in seen if isinstance(each, Sight) and not each.moves]
    at = [
        positions(each.motion.reach.static, other_travel=each.motion.reach.static)
        for each in carried
    ]
    near = nearest_of([each.target for each in carried], at)
    found = _told(
        [
            _looked(sight, "moves with the wheel", _rest(sight.motion.reach), each, 0)
            for sight, each in zip(carried, near, strict=True)
        ]
    )
    return {
        id(sight): _clearance(sight, each, each) for sight, each in zip(carried, found, strict=True)
    }


def _clearance(sight: Sight, standing: GapAt | None, least: GapAt) -> Clearance:
    place = sight.place
    return Clearance(
        place.site, sight.side, place.condition, sight.moves, place.site.wanted.value,
        standing, least, (), None, None, "",
    )  # fmt: skip


@dataclass(frozen=True, eq=False)
class _Looks:
    """Where a site is looked at besides its least gap: at rest, in states, along travel and steer.

    `whole` has all positions in this order.
    """

    whole: Positions
    states: tuple[NamedState, ...]
    travel: Floats
    steer: Floats
    steers: bool

    @property
    def by_travel(self) -> slice:
        """Give the places of the curve over travel."""
        first = 1 + len(self.states)
        return slice(first, first + _CURVE_STEPS)

    @property
    def by_steer(self) -> slice:
        """Give the places of the curve over steer."""
        first = self.by_travel.stop
        return slice(first, first + _CURVE_STEPS)


@lru_cache(maxsize=256)
def _looks(reach: MotionRange) -> _Looks:
    rest, limits, locks = reach.static, reach.limits, reach.locks
    steers = bool(locks.toe_out or locks.toe_in)
    travel = np.linspace(-limits.droop, limits.bump, _CURVE_STEPS)
    steer = np.linspace(-locks.toe_in, locks.toe_out, _CURVE_STEPS)
    parts = [positions(rest, other_travel=rest), state_positions(reach), positions(travel)]
    if steers:
        parts.append(positions(np.full(_CURVE_STEPS, rest), steer))
    whole = Positions(
        np.concatenate([each.travel for each in parts]),
        np.concatenate([each.steer for each in parts]),
        np.concatenate([each.other_travel for each in parts]),
    )
    return _Looks(whole, named_states(reach), travel, steer, steers)


def _rest(reach: MotionRange) -> Position:
    return Position(reach.static, 0.0, reach.static)


@dataclass(frozen=True)
class _Found:
    """A gap that was found, still without its uncertainty; `site` is where on the wheel it is."""

    sight: Sight
    words: str
    position: Position
    gap: Mm
    site: SectionPoint


def _least(sight: Sight, found: LeastOverSweep) -> _Found:
    words = pose_words(found.position, sight.motion.reach)
    return _Found(sight, words, found.position, found.gap, found.site)


def _in_states(sight: Sight, look: _Looks, near: Nearest) -> Iterator[_Found]:
    yield _looked(sight, "standing", _rest(sight.motion.reach), near, 0)
    for place, state in enumerate(look.states, 1):
        position = Position(state.travel, state.steer, state.other_travel)
        yield _looked(sight, state.state.value, position, near, place)


def _looked(sight: Sight, words: str, position: Position, near: Nearest, at: int) -> _Found:
    u, r = near.points_ur[at].tolist()
    return _Found(sight, words, position, float(near.gaps[at]), SectionPoint(u, r))


def _curve(sight: Sight, along: Floats, gaps: Floats) -> Curve:
    return Curve(tuple(along.tolist()), tuple((gaps - sight.place.thickness).tolist()))


def _told(found: Sequence[_Found]) -> list[GapAt]:
    """Give gaps with their uncertainty; gradients are found for each outline at once."""
    by_outline: dict[int, list[int]] = {}
    for place, each in enumerate(found):
        by_outline.setdefault(id(each.sight.outline.centred), []).append(place)
    gradients: dict[int, GapGradient] = {}
    for places in by_outline.values():
        sites = [_from_centre(found[place]) for place in places]
        known = gap_gradients(sites, found[places[0]].sight.outline.centred)
        gradients.update(zip(places, known, strict=True))
    return [_gap_at(each, gradients[place]) for place, each in enumerate(found)]


def _from_centre(found: _Found) -> SectionPoint:
    """Give where on the wheel a gap is, counted from the wheel's own centre plane."""
    return SectionPoint(found.site.u - found.sight.outline.section.centre, found.site.r)


def _gap_at(found: _Found, gradient: GapGradient) -> GapAt:
    sight = found.sight
    wheel, tyre = sight.fit.wheel, sight.fit.tyre
    if wheel is None or tyre is None:
        raise ValueError("a gap needs a wheel and a tyre")
    of_setup = gap_uncertainty(gradient, wheel, tyre)
    rate = gradient.section_width
    if tyre.tread_width is None:
        rate += TREAD_SHARE * gradient.tread_width
    doubt = 0.0
    if sight.place.attachment is Attachment.STRUT:
        doubt = strut_doubt(sight.motion, found.site.r)
    basis = weakest(tyre.section_width.basis, wheel.centre_plane.basis, Basis.INFERRED)
    u_setup = hypot(of_setup, doubt)
    u = hypot(u_setup, sight.place.spread)
    estimate = Estimate(found.gap - sight.place.thickness, u, basis, ("chassis sheet",))
    return GapAt(found.words, found.position, estimate, u_setup, rate)
