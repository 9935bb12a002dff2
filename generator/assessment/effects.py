"""What each trim or change of a setup did: gaps gained and lost, travel, lock, axle and thread.

A gap is gained (positive) or lost against the same setup with that one change undone. The least gap
over the whole sweep is compared, so that travel given by a trimmed stop shows as gap taken.
"""

from collections.abc import Iterator

from generator.assessment.assess import Assessment, AxleAssessment
from generator.assessment.clearances import Clearance
from generator.assessment.corner import (
    CornerMotion,
    at_side,
    corner_motion,
    lateral_shift,
    panhard_rod,
    standing,
)
from generator.assessment.reach import all_seen_from
from generator.assessment.undoing import Undoing, undoings
from generator.frozen import dataclass
from generator.geometry.axle import centring_adjustment
from generator.quantities.units import Deg, Mm
from generator.records.axle_sheet import AxleSheet
from generator.records.chassis import Chassis
from generator.records.fitted import AxleSetup
from generator.records.library import Case
from generator.records.words import Axle, Side, StopState

NOTHING: Mm = 0.05
"""Changes of a gap below this are not told: half of the last digit shown."""


@dataclass(frozen=True)
class SiteChange:
    """How much a change widened (positive) or narrowed the least gap at a site."""

    site: str
    label: str
    side: Side
    amount: Mm


@dataclass(frozen=True)
class Consequence:
    """Another number that a change moved, such as travel or lock; positive: more of it."""

    words: str
    amount: Mm | Deg
    unit: str


@dataclass(frozen=True)
class Effect:
    """What one change of a setup did at one end of the car.

    `unknown` names the sites whose gap is not known with the change, or without it.
    """

    axle: Axle
    change: str
    amount: Mm | Deg | None
    unit: str
    gained: tuple[SiteChange, ...]
    cost: tuple[SiteChange, ...]
    consequences: tuple[Consequence, ...]
    unknown: tuple[str, ...]
    notes: tuple[str, ...]


def effects_of(case: Case, assessment: Assessment) -> tuple[Effect, ...]:
    """Undo each change of a setup alone and compare. Computes only the end and sites concerned.

    Raises ValueError without a chassis sheet.
    """
    if case.chassis is None:
        raise ValueError(f"{case.setup.id} has no chassis sheet")
    setup, chassis = case.setup.value, case.chassis.value
    return (
        *_at_end(setup.front, chassis, assessment.front),
        *_at_end(setup.rear, chassis, assessment.rear),
    )


def _at_end(setup: AxleSetup, chassis: Chassis, now: AxleAssessment) -> Iterator[Effect]:
    sheet = chassis.front if now.axle is Axle.FRONT else chassis.rear
    undone = undoings(setup, sheet)
    asked = [(each.without, _concerned(each, chassis, now.axle)) for each in undone]
    for undoing, before in zip(undone, all_seen_from(now.axle, asked, chassis), strict=True):
        changes, unknown = _compared(before, now)
        yield Effect(
            axle=now.axle,
            change=undoing.words,
            amount=undoing.amount,
            unit=undoing.unit,
            gained=_most_first(each for each in changes if each.amount > NOTHING),
            cost=_most_first(each for each in changes if each.amount < -NOTHING),
            consequences=tuple(_consequences(setup, undoing, chassis, now.axle)),
            unknown=unknown,
            notes=tuple(_notes(setup, undoing, sheet)),
        )


def _concerned(undoing: Undoing, chassis: Chassis, axle: Axle) -> frozenset[str]:
    return frozenset(
        site.name for site in chassis.sites if site.axle is axle and undoing.concerns(site)
    )


def _most_first(changes: Iterator[SiteChange]) -> tuple[SiteChange, ...]:
    return tuple(sorted(changes, key=lambda each: -abs(each.amount)))


def _compared(
    before: tuple[Clearance, ...], now: AxleAssessment
) -> tuple[tuple[SiteChange, ...], tuple[str, ...]]:
    with_it = {(each.site.name, each.side): each for each in now.clearances}
    changes, unknown = [], []
    for old in before:
        new = with_it[old.site.name, old.side]
        if new.least is None or old.least is None:
            why = new.unknown or old.unknown
            unknown.append(f"{old.site.label}: {why}" if why else old.site.label)
            continue
        amount = new.least.gap.value - old.least.gap.value
        changes.append(SiteChange(old.site.name, old.site.label, old.side, amount))
    return tuple(changes), tuple(dict.fromkeys(unknown))


def _consequences(
    setup: AxleSetup, undoing: Undoing, chassis: Chassis, axle: Axle
) -> Iterator[Consequence]:
    new, old = (_motion(each, chassis, axle) for each in (setup, undoing.without))
    if new is not None and old is not None:
        yield from _of_reach(new, old)
    sheet = chassis.front if axle is Axle.FRONT else chassis.rear
    if setup.ride_height is not undoing.without.ride_height:
        yield from _of_lowering(setup, sheet)
    if setup.spacer is not undoing.without.spacer and undoing.amount is not None:
        yield Consequence("track", 2.0 * undoing.amount, "mm")
        yield Consequence("thread left for the nuts, on the same studs", -undoing.amount, "mm")


def _motion(setup: AxleSetup, chassis: Chassis, axle: Axle) -> CornerMotion | None:
    """Give how a corner moves; None where that is not known."""
    sheet = chassis.front if axle is Axle.FRONT else chassis.rear
    changed = standing(at_side(setup, Side.LEFT), sheet)
    if changed.travel_unknown:
        return None
    try:
        return corner_motion(chassis, axle, Side.LEFT, changed)
    except ValueError:
        # A car beyond its stops: the clearances say so.
        return None


def _of_reach(new: CornerMotion, old: CornerMotion) -> Iterator[Consequence]:
    now, before = new.reach, old.reach
    for words, amount, unit in (
        ("bump travel of the wheel", now.limits.bump - before.limits.bump, "mm"),
        ("bump travel left from standing", before.static - now.static, "mm"),
        ("toe-out lock", now.locks.toe_out - before.locks.toe_out, "deg"),
        ("toe-in lock", now.locks.toe_in - before.locks.toe_in, "deg"),
    ):
        if abs(amount) > NOTHING:
            yield Consequence(words, amount, unit)


def _of_lowering(setup: AxleSetup, sheet: AxleSheet) -> Iterator[Consequence]:
    """Tell how far a rod carries the axle sideways, and the rod's change that centres it."""
    changed = standing(setup, sheet)
    shift = lateral_shift(sheet.suspension, changed)
    rod = panhard_rod(sheet.suspension)
    if shift is None or rod is None:
        return
    centred = centring_adjustment(rod, -changed.ride_height)
    side = "left" if shift >= 0.0 else "right"
    yield Consequence(f"axle to the {side}, by height and rod as set", abs(shift), "mm")
    yield Consequence("length of the lateral rod, to centre the axle at this height", centred, "mm")


def _notes(setup: AxleSetup, undoing: Undoing, sheet: AxleSheet) -> Iterator[str]:
    without = undoing.without
    stop = setup.bump_stop
    if stop is not without.bump_stop and stop is not None:
        if stop.state is StopState.REMOVED:
            yield "A stop is never taken out: the damper or the tyre then ends the travel."
        else:
            yield "Look at the damper's travel behind the squeezed stop, and at every gap in bump."
    if setup.stop_shim is not without.stop_shim:
        yield "Shim both sides alike, and see that the stop, not tyre or rack, ends the lock."
    if setup.bodywork is not without.bodywork:
        yield "Bare metal, seams and what lies behind a liner have to be sealed and guarded."
    if setup.camber is not without.camber and without.camber is None:
        yield "Toe has to be set again, and both sides alike."
    if setup.ride_height is not without.ride_height:
        yield "The stop, not the height, decides how far the wheel goes up; it gets there oftener."
        if sheet.suspension.rod is not None:
            yield "Measure tyre to frame rail on both sides; half the difference is the correction."
    if setup.spacer is not without.spacer:
        yield "Look at thread engagement, pilot, scrub radius and local law."
