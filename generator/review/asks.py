"""What to ask the member: the one measurement that decides, and what the rules found odd."""

from collections.abc import Iterable, Iterator
from math import fsum

from generator.evidence.verdict import EXPECTED, SiteVerdict, Verdict
from generator.quantities.span import Said
from generator.quantities.units import Mm, Probability
from generator.reading.fault import Fault, Severity
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.rendering.filters import inch, mm
from generator.review.edition import Edition
from generator.review.standing import Doubt

_MOST_RULES = 5
_MOST_SITES = 3
_CERTAIN: Probability = 0.02
"""Below this chance another measurement hardly changes what a reader is told."""

_SIGN = {"inboard": 1.0, "outboard": -1.0}
"""A gap that is too small at an inboard site says that the wheel stands further inboard."""
_FEWEST = 2
"""Sites that have to be off alike."""
_ALIKE: Mm = 3.0
"""How far apart shifts may be to be one, in mm: the spread of gaps read with a rule."""


def asks(setup: Filed[Setup], edition: Edition, doubted: tuple[Doubt, ...]) -> tuple[str, ...]:
    """Give the questions about one record, the deciding measurement first.

    Member's words come in them as written: who shows them escapes them.
    """
    if setup.value.withdrawn is not None or edition.guide is None:
        return ()
    found = list(_about_doubts(setup, doubted))
    verdict = edition.guide.verdicts.get(setup.id)
    if not found and verdict is not None:
        found += _about_weakest(setup.value, verdict)
    found += _about_rules(setup.source.path, edition.faults)
    confidence = edition.guide.confidence.get(setup.id)
    for raised in confidence.raise_by if confidence else ():
        if not any(raised in each for each in found):
            found.append(f"to raise its flag: {raised}")
    return tuple(found)


def _about_doubts(setup: Filed[Setup], doubted: tuple[Doubt, ...]) -> Iterator[str]:
    own = [each for each in doubted if each.setup == setup.id and each.is_new]
    yield from _about_position(own)
    worst = {(each.axle, each.site): each for each in sorted(own, key=lambda one: abs(one.off_by))}
    ordered = sorted(worst.values(), key=lambda each: (-abs(each.off_by), each.axle, each.site))
    for each in ordered[:_MOST_SITES]:
        low, high = mm(each.expected_low, 0), mm(each.expected_high, 0)
        yield (
            f"measure {each.label} ({each.axle}, {each.side}) once more, {each.pose}: the other "
            f"records expect {low} to {high} ({inch(each.expected_low, 0)} to "
            f"{inch(each.expected_high, 0)}). A gap in there settles it for them, the gap first "
            "reported settles it for this record"
        )


def _about_position(doubted: Iterable[Doubt]) -> Iterator[str]:
    """Ask for the figures of the wheels where several sites are off as by one shift of them."""
    shifts = [(each, _SIGN[each.facing] * each.off_by) for each in doubted if each.facing in _SIGN]
    alike = max((_near(shift, shifts) for _, shift in shifts), key=len, default=[])
    places = dict.fromkeys(f"{each.label} ({each.axle})" for each, _ in alike)
    if len(places) < _FEWEST:
        return
    middle = fsum(shift for _, shift in alike) / len(alike)
    way = "inboard" if middle < 0.0 else "outboard"
    yield (
        f"read offset, width and spacer of the wheels once more: {' and '.join(places)} are off as "
        f"if the wheels stood about {mm(abs(middle), 0)} ({inch(abs(middle), 0)}) further {way} "
        "than written"
    )


def _near(shift: Mm, shifts: list[tuple[Doubt, Mm]]) -> list[tuple[Doubt, Mm]]:
    return [each for each in shifts if abs(each[1] - shift) <= _ALIKE]


def _about_weakest(setup: Setup, verdict: Verdict) -> Iterator[str]:
    """Ask for a number at the site that decides whether the setup clears, if it has none yet."""
    measured = {gap.site for gap in setup.gaps if gap.gap.said in (Said.MEASURED, Said.BETWEEN)}
    for site in _undecided(verdict):
        least = site.clearance.least
        if site.clearance.site.name not in measured and least is not None:
            yield (
                f"the measurement that decides: the gap at {site.clearance.site.label} "
                f"({site.clearance.site.axle.value}, {site.side.value}), {least.words}; "
                f"{mm(least.gap.value, 0)} ({inch(least.gap.value, 0)}) is computed there and "
                f"{mm(site.clearance.wanted, 0)} wanted"
            )
            return


def _undecided(verdict: Verdict) -> list[SiteVerdict]:
    sites = [site for axle in verdict.axles() for site in axle.sites if site.chance is not None]
    open_ones = [site for site in sites if _CERTAIN < (site.chance or 0.0) < EXPECTED]
    return sorted(
        open_ones, key=lambda each: (each.chance or 0.0, each.clearance.site.name, each.side.value)
    )


def _about_rules(path: str, faults: tuple[Fault, ...]) -> Iterator[str]:
    own = [
        fault for fault in faults if fault.place.path == path and fault.severity is Severity.WARNING
    ]
    for fault in own[:_MOST_RULES]:
        fix = f"; {fault.fix}" if fault.fix else ""
        yield f"line {fault.place.line} [{fault.code}]: {fault.headline}{fix}"
