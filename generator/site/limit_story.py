"""How each limit came about: what each record said of it and when, also those that count no more.

Days are those the records give; beside what a record says stands the commit that brought it into
the guide, where git is known. Whatever else befell a record is told with its reason.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date

from generator.evidence.club import ChassisEvidence
from generator.evidence.distribution import Range
from generator.evidence.entries import Entry, SiteKey, entries
from generator.frozen import dataclass
from generator.quantities.units import Mm
from generator.reading.history import Change
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.records.words import Axle, Side
from generator.site import urls
from generator.site.facts import Shown, said, words
from generator.site.guide import Guide
from generator.site.lifecycle import events, has_lapsed, replaced_by
from generator.site.shell import Link

_NO_EVENT_OF_A_LIMIT = "replaces"
"""The older record tells of it, too, and stands in the same list."""


@dataclass(frozen=True)
class Said:
    """What a record found, and in which position with which tool."""

    shown: Shown
    seen: str = ""


@dataclass(frozen=True)
class Step:
    """One thing that happened to a limit on a day.

    `says` is what the record found here, empty for what befell it later; `added` is the commit
    that brought the record, None where that is not known. `counts` tells whether it counts now.
    """

    day: date
    event: str
    record: Link
    says: tuple[Said, ...]
    told: str
    added: Change | None
    counts: bool


@dataclass(frozen=True)
class LimitStory:
    """One limit as it is now, and what happened to it, the newest first."""

    label: str
    side: str
    condition: str
    low: Mm
    high: Mm
    cars: int
    steps: tuple[Step, ...]


def stories(guide: Guide, chassis: str, axle: Axle) -> tuple[LimitStory, ...]:
    """Give the story of each limit of one end that records speak of; two like sides as one."""
    evidence = guide.evidence.get(chassis)
    if evidence is None:
        return ()
    said = _said(guide, chassis)
    keys = sorted({*evidence.limits, *said}, key=lambda key: key.order)
    told = [_story(guide, evidence, key, said.get(key, {})) for key in keys if key.axle is axle]
    return tuple(_joined(told))


def _said(guide: Guide, chassis: str) -> Mapping[SiteKey, Mapping[str, list[Entry]]]:
    """Give all entries by limit and record, those of records that count no more among them."""
    found: dict[SiteKey, dict[str, list[Entry]]] = {}
    for filed in guide.setups_of(chassis):
        computed = guide.assessments.get(filed.id)
        if computed is None:
            continue
        as_if = filed.value.model_copy(update={"withdrawn": None})
        for entry in entries(replace(filed, value=as_if), computed):
            found.setdefault(entry.key, {}).setdefault(filed.id, []).append(entry)
    return found


def _story(
    guide: Guide, evidence: ChassisEvidence, key: SiteKey, said: Mapping[str, list[Entry]]
) -> LimitStory:
    posterior = evidence.posterior(key)
    steps = [step for name, found in said.items() for step in _steps(guide, name, found)]
    limits: Range = posterior.limits
    sheet = guide.library.chassis[evidence.chassis].value
    label = next(
        site.label for site in sheet.sites if (site.axle, site.name) == (key.axle, key.site)
    )
    ordered = sorted(steps, key=lambda each: (each.record.href, bool(each.says)))
    return LimitStory(
        label=label,
        side=key.side.value,
        condition=key.condition.value,
        low=limits.low,
        high=limits.high,
        cars=posterior.cars,
        steps=tuple(sorted(ordered, key=lambda each: each.day, reverse=True)),
    )


def _steps(guide: Guide, name: str, found: list[Entry]) -> Iterator[Step]:
    filed = guide.library.setups[name]
    replaced = replaced_by(guide.library)
    counts = not has_lapsed(filed, replaced)
    link = Link(filed.value.title, urls.setup(name))
    file = guide.history.of(filed.source.path)
    first, *later = events(filed, guide.library, replaced)
    says = tuple(dict.fromkeys(_words(filed, entry) for entry in found))
    yield Step(first.day, first.word, link, says, "", file.first if file else None, counts)
    for event in later:
        if event.word != _NO_EVENT_OF_A_LIMIT:
            told = " ".join([event.text, *([event.link.label] if event.link else [])])
            yield Step(event.day, event.word, link, (), told, None, counts)


def _words(filed: Filed[Setup], entry: Entry) -> Said:
    """Give what a record says of a limit, and how it was seen."""
    if entry.index < 0:
        return Said(words("a mark that nothing cured: it touched"))
    gap = filed.value.gaps[entry.index]
    tool = f", {gap.tool.value}" if gap.tool else ""
    return Said(said(gap.gap), f"{gap.state.value}{tool}")


def _joined(told: Iterable[LimitStory]) -> Iterator[LimitStory]:
    """Tell two sides of which the same is known once."""
    alike: dict[LimitStory, list[str]] = {}
    for each in told:
        alike.setdefault(replace(each, side=""), []).append(each.side)
    for story, sides in alike.items():
        yield replace(story, side=sides[0] if len(sides) == 1 else Side.BOTH.value)
