"""Cases of what would help: ends with a site that fails, and all that Python says of it."""

import random
from collections.abc import Iterator
from datetime import date
from itertools import cycle

from generator.evidence.candidate import Candidate, like_record, like_stock
from generator.evidence.remedies import Remedy, SiteRemedies, remedies
from generator.evidence.verdict import WORDS, AxleVerdict
from generator.records.chassis import Chassis
from generator.records.library import Filed
from generator.records.words import Axle
from generator.site.guide import Guide
from generator.site.live.fitted import fitted_json
from tests.browser.cases import Case
from tests.browser.check_cases import SHOWN
from tests.browser.live_cases import changes, judge

SEED = 1
DAY = date(2026, 3, 1)
Answer = list[float | str | None]


def remedy_cases(guide: Guide, count: int) -> Iterator[Case]:
    """Give ends that were changed at random, each with the remedies of one site that fails.

    The sites are taken in turn, so that the weakest are among them and the last.
    """
    chance = random.Random(SEED)
    made, turn = 0, cycle(range(6))
    for chassis in cycle(guide.chassis()):
        for axle in Axle:
            if made == count:
                return
            candidate = _candidate(guide, chassis, axle, chance)
            fitted = candidate.axle(axle)
            judged = judge(chassis, axle, fitted, guide.evidence[chassis.id])
            names = [name for name, _ in _failing(judged)]
            if names:
                made += 1
                name = names[next(turn) % len(names)]
                yield _case(candidate, judged, name, guide)


def _candidate(
    guide: Guide, chassis: Filed[Chassis], axle: Axle, chance: random.Random
) -> Candidate:
    """Give a record of this chassis, or its stock, with one end changed where that can be."""
    records = guide.setups_of(chassis.id)
    start = like_stock(chassis, day=DAY)
    if chance.random() < 0.5:
        start = like_record(chassis, chance.choice(records))
    change, _ = changes(chance, start.axle(axle), axle)
    try:
        return start.changed(axle, change)
    except ValueError:
        return start


def _failing(judged: AxleVerdict) -> list[tuple[str, str]]:
    """Give the sites that touch, then those that are tight, the weakest first, with their word."""
    worst: dict[str, str] = {}
    for each in judged.sites:
        name = each.clearance.site.name
        worst[name] = min(each.word, worst.get(name, each.word), key=WORDS.index)
    return [pair for word in ("touches", "tight") for pair in worst.items() if pair[1] == word]


def _case(candidate: Candidate, judged: AxleVerdict, name: str, guide: Guide) -> Case:
    chassis, axle = candidate.chassis.id, judged.axle
    (found,) = remedies(candidate, judged, guide.evidence[chassis], only=name)
    given = {
        "chassis": chassis,
        "axle": axle.value,
        "on": {each.value: fitted_json(candidate.axle(each)) for each in Axle},
        "name": name,
    }
    return Case("remedies", given, [*_before(judged, name), *_told(found)])


def _before(judged: AxleVerdict, name: str) -> Answer:
    chances = [each.chance for each in judged.sites if each.clearance.site.name == name]
    known = [chance for chance in chances if chance is not None]
    return [part for pair in _failing(judged) for part in pair] + [min(known)]


def _told(found: SiteRemedies) -> Iterator[float | str | None]:
    for remedy in found.remedies:
        yield from _one(remedy)


def _one(remedy: Remedy) -> Iterator[float | str | None]:
    yield from (remedy.word, remedy.chance)
    for step in remedy.steps:
        yield from (step.kind.value, step.words, step.costs)
    yield from ("mends", *remedy.mends, "spoils")
    for lost in sorted(remedy.spoils, key=lambda each: f"{each.label} {each.side.value}"):
        yield from (lost.label, lost.side.value, lost.before, lost.after)
    yield "checks"
    yield from sorted(
        " ".join((each.code, each.axle.value if each.axle else "", each.outcome.value))
        for each in remedy.findings
        if each.code in SHOWN
    )
