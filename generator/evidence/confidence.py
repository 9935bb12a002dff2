"""How sure: the flags of records and of limits, from one table of rules, never declared by anyone.

A record's flag is the highest one whose conditions all hold. Each condition says in words whether
it holds, so that a page can say why a flag is what it is and what would raise it.
"""

from collections.abc import Callable
from enum import Enum

from generator.assessment.finding import Finding
from generator.assessment.hazards import forbids_driving
from generator.evidence.club import ChassisEvidence, SiteLimits, Weighed
from generator.evidence.limits import DOUBTFUL, SitePosterior
from generator.frozen import dataclass
from generator.quantities.span import Said
from generator.quantities.units import Km, Mm, Probability
from generator.reading.fault import Fault, Severity
from generator.records.fitted import AxleSetup, Hardware
from generator.records.library import Doubt, Filed
from generator.records.setup import Setup
from generator.records.words import Agreement, Axle, InOut, Outcome, State, Tool

DRIVEN_ENOUGH: Km = 500.0
"""Distance after which a fitting counts as driven: common practice."""
WELL_KNOWN_SPREAD: Mm = 14.0
"""Width of the 5–95 % range up to which a limit counts as well known: own choice."""
WELL_KNOWN_CARS = 3
UNSETTLED: Probability = 0.25
"""Chance of a wrong sheet from which one car alone does not hold a limit: own choice."""
SETTLED_BY = "a measured gap of another car, and the site's place on the sheet measured again"


class RecordFlag(Enum):
    """How far a record is borne out."""

    PROVEN = "proven"
    CHECKED = "checked"
    REPORTED = "reported"
    IN_QUESTION = "in question"


class LimitFlag(Enum):
    """How well a limit is known."""

    WELL_KNOWN = "well known"
    BRACKETED = "bracketed"
    ONE_SIDED = "one-sided"
    UNKNOWN = "unknown"


@dataclass(frozen=True)
class Reason:
    """One condition: whether it holds, in words; `raises` says what would make it hold.

    `is_told`: its lengths are the guide's own, not as somebody typed them.
    """

    holds: bool
    words: str
    raises: str = ""
    is_told: bool = False


@dataclass(frozen=True)
class RecordConfidence:
    """A record's flag, why, and what would raise it."""

    flag: RecordFlag
    reasons: tuple[Reason, ...]
    raise_by: tuple[str, ...]


@dataclass(frozen=True)
class LimitConfidence:
    """A limit's flag, and why."""

    flag: LimitFlag
    words: str
    raise_by: str


@dataclass(frozen=True)
class _Seen:
    """What the conditions look at; limit: the one that the worst doubtful entry speaks of.

    `dangers` names the checks that say not to drive.
    """

    setup: Setup
    dangers: tuple[str, ...]
    doubtful: tuple[Weighed, ...]
    limit: SiteLimits | None
    warnings: tuple[Fault, ...]


_Condition = Callable[[_Seen], Reason]


def record_confidence(
    filed: Filed[Setup],
    evidence: ChassisEvidence,
    faults: tuple[Fault, ...],
    findings: tuple[Finding, ...] = (),
) -> RecordConfidence:
    """Give how sure a record is.

    `faults` are those of all files; only its own count. `findings`: what the checks of its
    hardware and loads found.
    """
    own = tuple(
        fault
        for fault in faults
        if fault.place.path == filed.source.path and fault.severity is Severity.WARNING
    )
    doubtful = evidence.doubtful(filed.id)
    limit = evidence.limits[_worst(doubtful).entry.key] if doubtful else None
    dangers = tuple(dict.fromkeys(each.hazard for each in findings if forbids_driving(each)))
    seen = _Seen(filed.value, dangers, doubtful, limit, own)
    against = [reason for reason in (each(seen) for each in _AGAINST) if not reason.holds]
    if against:
        raise_by = tuple(reason.raises for reason in against if reason.raises)
        return RecordConfidence(RecordFlag.IN_QUESTION, tuple(against), raise_by)
    checked = [each(seen) for each in _CHECKED]
    proven = [each(seen) for each in _PROVEN]
    if not all(reason.holds for reason in checked):
        return _flagged(RecordFlag.REPORTED, checked, checked)
    if not all(reason.holds for reason in proven):
        return _flagged(RecordFlag.CHECKED, [*checked, *proven], proven)
    return _flagged(RecordFlag.PROVEN, [*checked, *proven], [])


def _flagged(flag: RecordFlag, reasons: list[Reason], missing: list[Reason]) -> RecordConfidence:
    raise_by = tuple(reason.raises for reason in missing if not reason.holds)
    return RecordConfidence(flag, tuple(reasons), raise_by)


def _no_rule_against(seen: _Seen) -> Reason:
    against = [fault for fault in seen.warnings if not fault.asks]
    if not against:
        return Reason(True, "no rule speaks against it")
    codes = ", ".join(sorted({fault.code for fault in against}))
    words = f"a rule speaks against it ({codes}): {against[0].headline}"
    return Reason(False, words, "an answer to that rule")


def _no_limit_against(seen: _Seen) -> Reason:
    if seen.limit is None:
        return Reason(True, "it agrees with the other records")
    worst = _worst(seen.doubtful)
    key = worst.entry.key
    where = f"the {seen.limit.site.label}"
    words = (
        f"{_against(seen.limit)} its gap at {where} ({key.axle.value}, {key.side.value}) by "
        f"{_off_by(worst)}"
    )
    return Reason(False, words, f"a second measurement at {where}", is_told=True)


def _against(limit: SiteLimits) -> str:
    alone = limit.posterior.upheld.cars == 0
    return "the sheet contradicts" if alone else "the other records contradict"


def _off_by(weighed: Weighed) -> str:
    return f"{abs(weighed.influence.off_by):.0f} mm"


def doubts(evidence: ChassisEvidence, record: str) -> tuple[Doubt, ...]:
    """Give what is held against a record's gaps: each site once, by what is furthest off."""
    found: dict[tuple[Axle, str], list[Weighed]] = {}
    for each in evidence.doubtful(record):
        found.setdefault((each.entry.key.axle, each.entry.key.site), []).append(each)
    return tuple(
        Doubt(*site, f"{_against(evidence.limits[worst.entry.key])} it", _off_by(worst))
        for site, worst in ((site, _worst(tuple(each))) for site, each in found.items())
    )


def _worst(doubtful: tuple[Weighed, ...]) -> Weighed:
    return max(doubtful, key=lambda each: abs(each.influence.off_by))


def _no_open_dispute(seen: _Seen) -> Reason:
    open_ones = [each for each in seen.setup.disputes if each.settled is None]
    if not open_ones:
        return Reason(True, "nobody disputes it")
    words = f"{open_ones[0].member} disputes it: {open_ones[0].claim}"
    return Reason(False, words, "a third car that settles the dispute")


def _through_travel(seen: _Seen) -> Reason:
    method = seen.setup.method
    by_clay = {Tool.CLAY, Tool.FOAM} & {gap.tool for gap in seen.setup.gaps}
    if method.springs is InOut.OUT:
        return Reason(True, "checked with the springs out")
    if by_clay:
        return Reason(True, "checked with clay or foam left in place through the travel")
    raises = "a check through full travel with the springs out, or with clay left in place"
    return Reason(False, "not checked through full travel", raises)


def _moving_states(seen: _Seen) -> Reason:
    moving = [
        gap
        for gap in seen.setup.gaps
        if gap.state is not State.STATIC and gap.gap.said is not Said.NOT_CHECKED
    ]
    if len(moving) > 1:
        return Reason(True, f"{len(moving)} gaps away from rest")
    return Reason(False, "hardly a gap away from rest", "gaps at full bump and at both locks")


def _measured_tyre(seen: _Seen) -> Reason:
    tyres = (seen.setup.front.tyre, seen.setup.rear.tyre)
    if all(tyre.section_width is not None for tyre in tyres):
        return Reason(True, "tyres measured as mounted")
    return Reason(False, "a tyre's width is from its label", "the section width as mounted")


def _driven(seen: _Seen) -> Reason:
    road, enough = seen.setup.road, f"{DRIVEN_ENOUGH:.0f} km (300 mi)"
    if road is None or road.outcome is Outcome.NOT_DRIVEN:
        return Reason(False, "not driven yet", f"{enough} on the road, then a look")
    if road.outcome is Outcome.MARK:
        return Reason(False, "a mark was found after driving", "a remedy, and a clean look after")
    far = f"{road.distance.value:.0f} km"
    if not road.distance.value >= DRIVEN_ENOUGH:
        return Reason(False, f"driven {far} only", f"{enough} driven", is_told=True)
    return Reason(True, f"driven {far} without a mark", is_told=True)


def _hardware(seen: _Seen) -> Reason:
    axles: tuple[AxleSetup, ...] = (seen.setup.front, seen.setup.rear)
    if all(axle.hardware is not None and _is_complete(axle.hardware) for axle in axles):
        return Reason(True, "hardware complete, nuts looked at again after driving")
    raises = "thread, seat, engagement, torque and re-torque at both ends"
    return Reason(False, "hardware not complete", raises)


def _all_told(seen: _Seen) -> Reason:
    asking = [fault for fault in seen.warnings if fault.asks]
    if not asking:
        return Reason(True, "no rule asks for more")
    words = f"a rule asks for more ({asking[0].code}): {asking[0].headline}"
    return Reason(False, words, "an answer to that rule")


def _may_be_driven(seen: _Seen) -> Reason:
    if not seen.dangers:
        return Reason(True, "no check of hardware and loads says not to drive")
    named = ", ".join(seen.dangers)
    return Reason(False, f"a check says not to drive: {named}", f"that put right: {named}")


def _is_complete(hardware: Hardware) -> bool:
    engaged = hardware.turns is not None or hardware.engagement is not None
    return (
        engaged
        and hardware.seat is not None
        and hardware.torque is not None
        and hardware.retorqued_after is not None
    )


def _agreed(seen: _Seen) -> Reason:
    others = [each for each in seen.setup.confirmations if each.member != seen.setup.member]
    if not others:
        return Reason(False, "nobody else bears it out", "a second car, or a second pair of eyes")
    best = next((each for each in others if each.how is Agreement.OTHER_CAR), others[0])
    return Reason(True, f"{best.member} {best.how.value}")


_AGAINST: tuple[_Condition, ...] = (_no_rule_against, _no_limit_against, _no_open_dispute)
_CHECKED: tuple[_Condition, ...] = (_through_travel, _moving_states)
_PROVEN: tuple[_Condition, ...] = (
    _measured_tyre,
    _driven,
    _hardware,
    _may_be_driven,
    _all_told,
    _agreed,
)


def limit_confidence(posterior: SitePosterior) -> LimitConfidence:
    """Give how well a limit is known; entries in question do not count, and the words say so."""
    if posterior.prior_only:
        return LimitConfidence(LimitFlag.UNKNOWN, "the sheet alone, no record", "any measured gap")
    held = posterior.upheld.cars
    if held == 0 or (held == 1 and not posterior.sheet_wrong < UNSETTLED):
        words = "the one car and the sheet disagree, and one car cannot tell which of them is wrong"
        if posterior.cars > 1:
            words = "the records disagree with the sheet and with each other"
        return LimitConfidence(LimitFlag.UNKNOWN, words, SETTLED_BY)
    known = _upheld(posterior)
    if not posterior.sheet_wrong > DOUBTFUL:
        return known
    off = posterior.mean.median
    room = f"{'more' if off > 0.0 else 'less'} room than the sheet says"
    if known.flag is not LimitFlag.ONE_SIDED:
        room = f"about {abs(off):.0f} mm {room}"
    words = f"{known.words}; the records agree with each other and not with the sheet"
    raise_by = f"the sheet corrected after a look at the car: {room}"
    return LimitConfidence(
        known.flag, words, f"{raise_by}; {known.raise_by}" if known.raise_by else raise_by
    )


def _upheld(posterior: SitePosterior) -> LimitConfidence:
    """Give how well a limit is known from the entries that are not in question."""
    held = posterior.upheld
    cars = f"{held.cars} car{'' if held.cars == 1 else 's'}"
    doubted = posterior.entries - held.entries
    but = f", {doubted} more in question" if doubted else ""
    narrow = posterior.limits.spread <= WELL_KNOWN_SPREAD
    if held.cars >= WELL_KNOWN_CARS and held.exact >= WELL_KNOWN_CARS and narrow:
        words = f"measured on {cars}, within {posterior.limits.spread:.0f} mm{but}"
        return LimitConfidence(LimitFlag.WELL_KNOWN, words, "")
    has_both = held.lower > 0 and held.upper > 0
    if held.exact or held.between or has_both:
        words = f"held from both sides by {cars}{but}"
        return LimitConfidence(LimitFlag.BRACKETED, words, "measured gaps of other cars")
    side = "clears" if held.lower else "touches"
    words = f"{cars} say{'s' if held.cars == 1 else ''} only that it {side}{but}"
    return LimitConfidence(LimitFlag.ONE_SIDED, words, "a measured gap")
