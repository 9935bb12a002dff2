"""What one record says of the gaps, site by site, and what may be said of the whole.

A gap that nobody looked at is "unknown", never clear. A part of the body moves against the wheel,
so that a gap seen only with the car standing does not tell what happens through travel and lock.
A gap of one side says nothing of the other. `summary` says what is known of a site; pages,
drawings, lists and tables call a gap clear only where its site is (`word_of`).
"""

from collections.abc import Iterator
from dataclasses import replace
from math import inf

from generator.frozen import dataclass
from generator.quantities.quantity import Quantity
from generator.quantities.span import GapReading, Said
from generator.quantities.units import Mm
from generator.records.library import Case, Doubt
from generator.records.names import named_list
from generator.records.setup import Gap, Rub, Setup
from generator.records.site_sheet import SiteSheet
from generator.records.words import Attachment, Side, State
from generator.site.facts import in_mm

CLEARS, TIGHT, TOUCHES, UNKNOWN = "clears", "tight", "touches", "unknown"
SHEET = "sheet"
"""Of a gap that is wide enough by what is computed from the sheet alone: that is no promise."""
FREE_HERE = "free here"
"""The word for a gap that is wide enough at a site that does not clear as a whole."""
QUESTIONED = "in question: "
STANDING = "seen with the car standing only"
ALL_SIDES = frozenset(Side)
LEFT = frozenset((Side.LEFT, Side.BOTH))


@dataclass(frozen=True)
class Reading:
    """One gap of a record beside what its site wants; for `word` see `word_of`.

    `asides` say why it is not simply what its number says; `note` is the member's own.
    """

    label: str
    axle: str
    side: str
    state: str
    said: GapReading
    word: str
    wanted: Quantity | None
    tool: str
    asides: tuple[str, ...]
    note: str
    caution: str


@dataclass(frozen=True)
class SiteSummary:
    """What is known of one site of the sheet: the least favourable of its readings.

    `gap` is that reading; None where nothing counts, or a mark was found. `lacks`: what is not
    known of it although what was looked at clears.
    """

    site: SiteSheet
    word: str
    reason: str
    gap: Gap | None = None
    lacks: str = ""


@dataclass(frozen=True)
class Headline:
    """The answer a setup page opens with: a gap state, a sentence, and its reasons."""

    word: str
    sentence: str
    reasons: tuple[str, ...]


def called(word: str) -> str:
    """Give the words that readers see for a state.

    >>> called("unknown"), called("tight")
    ('not known', 'tight')
    """
    return "not known" if word == UNKNOWN else word


def judged(said: GapReading, wanted: Mm | None) -> str:
    """Name the state of a gap; a range that may be closer than wanted is tight.

    A bare "clears" clears; how much room there is stays unknown.

    >>> judged(GapReading(Said.MEASURED, 3.0, 3.0, 1.0, "3 mm"), 5.0)
    'tight'
    >>> judged(GapReading(Said.NOT_CHECKED, None, None, 0.0, "not checked"), 5.0)
    'unknown'
    """
    if said.high is not None and said.high <= 0.0:
        return TOUCHES
    if said.low is None or not said.low >= 0.0:
        return UNKNOWN
    if said.said is not Said.CLEARS and not said.low > 0.0:
        return UNKNOWN
    if wanted is not None and said.high is not None and said.low < wanted:
        return TIGHT
    return CLEARS


def disputed_sites(setup: Setup) -> frozenset[str]:
    """Name the sites of which a dispute is not settled."""
    return frozenset(
        each.site for each in setup.disputes if each.site is not None and each.settled is None
    )


def word_of(case: Case, gap: Gap) -> str:
    """Name the state of a reported gap: it clears only where its whole site does, on each side.

    Otherwise a gap that is wide enough is unknown as its own side is, or free here.
    """
    site = case.site(gap.site, gap.axle)
    word = judged(gap.gap, site.wanted.value if site else None)
    if word != CLEARS:
        return word
    here = summary(case, site, _spoken_of(gap)) if site else None
    if site is None or here is None or (here.word == UNKNOWN and not here.lacks):
        return UNKNOWN
    return CLEARS if summary(case, site).word == CLEARS else FREE_HERE


def _spoken_of(gap: Gap) -> frozenset[Side]:
    return ALL_SIDES if gap.side is Side.BOTH else frozenset((gap.side, Side.BOTH))


def readings(case: Case) -> tuple[Reading, ...]:
    """Give all gaps of a record in its own order."""
    return tuple(_reading(case, gap) for gap in case.setup.value.gaps)


def _reading(case: Case, gap: Gap) -> Reading:
    site = case.site(gap.site, gap.axle)
    axle = gap.axle or (site.axle if site else None)
    return Reading(
        label=named(site) if site else gap.site,
        axle=axle.value if axle else "",
        side=gap.side.value,
        state=gap.state.value,
        said=gap.gap,
        word=word_of(case, gap),
        wanted=site.wanted if site else None,
        tool=gap.tool.value if gap.tool else "",
        asides=tuple(_asides(case, gap, site)),
        note=gap.note or "",
        caution=(site.caution or "") if site else "",
    )


def _asides(case: Case, gap: Gap, site: SiteSheet | None) -> Iterator[str]:
    """Say why a gap is not simply what its number says."""
    if gap.site in disputed_sites(case.setup.value):
        yield "disputed"
    if site is None:
        return
    yield from (f"{QUESTIONED}{doubt.words} by {doubt.by}" for doubt in _against(case, site))
    word = word_of(case, gap)
    if word == UNKNOWN and summary(case, site, _spoken_of(gap)).reason == STANDING:
        yield "standing only"
    if word == FREE_HERE and summary(case, site).lacks:
        yield summary(case, site).lacks


def _against(case: Case, site: SiteSheet) -> tuple[Doubt, ...]:
    asked = (site.axle, site.name)
    return tuple(each for each in case.doubts if (each.axle, each.site) == asked)


def _is_of(case: Case, line: Gap | Rub, site: SiteSheet) -> bool:
    # The name first: each line of a record is asked about each site of its sheet.
    return line.site == site.name and case.site(line.site, line.axle) is site


def marks_at(case: Case, site: SiteSheet, sides: frozenset[Side] = ALL_SIDES) -> tuple[Rub, ...]:
    """Give the marks that tell how a site stands.

    One that was cured is of before, unless a gap there still touches: then the gaps are too.
    """
    found = [
        rub
        for rub in case.setup.value.rubs
        if rub.side in sides and rub.grade > 0 and _is_of(case, rub, site)
    ]
    if not found:
        return ()
    as_marked = any(
        judged(gap.gap, None) == TOUCHES and _is_of(case, gap, site)
        for gap in case.setup.value.gaps
    )
    return tuple(rub for rub in found if as_marked or rub.cured is not True)


def summaries(case: Case) -> tuple[SiteSummary, ...]:
    """Say of every site of the sheet what this record knows of it."""
    if case.chassis is None:
        return ()
    return tuple(summary(case, site) for site in case.chassis.value.sites)


def summary(case: Case, site: SiteSheet, sides: frozenset[Side] = ALL_SIDES) -> SiteSummary:
    """Say what a record knows of a site, or of it on some sides alone."""
    found = [gap for gap in _looked_at(case, site) if gap.side in sides]
    rubbed = marks_at(case, site, sides)
    if rubbed:
        return SiteSummary(site, TOUCHES, f"a mark was found: {rubbed[0].when}")
    states = [(judged(gap.gap, site.wanted.value), gap) for gap in found]
    for bad in (TOUCHES, TIGHT):
        worst = [gap for word, gap in states if word == bad]
        if worst:
            least = min(worst, key=lambda gap: gap.gap.high or 0.0)
            return SiteSummary(site, bad, f"{in_mm(least.gap)}, {least.state.value}", least)
    good = [gap for word, gap in states if word == CLEARS]
    if site.moves_with in (Attachment.BODY, Attachment.ARM):
        good = [gap for gap in good if gap.state is not State.STATIC]
    if not good:
        return SiteSummary(site, UNKNOWN, STANDING if found else "no gap was reported")
    return _where_good(case, site, good, tuple(side for side in site.sides if side in sides))


def _looked_at(case: Case, site: SiteSheet) -> list[Gap]:
    return [
        gap
        for gap in case.setup.value.gaps
        if gap.gap.said is not Said.NOT_CHECKED and _is_of(case, gap, site)
    ]


def _where_good(
    case: Case, site: SiteSheet, good: list[Gap], asked: tuple[Side, ...]
) -> SiteSummary:
    """Say whether gaps that are wide enough speak for their site on all the sides asked for."""
    without = _not_among(good, asked)
    best, told = _how_well(good, site, tuple(side for side in asked if side not in without))
    for doubt in _against(case, site):
        return SiteSummary(site, UNKNOWN, f"{QUESTIONED}{doubt.words}")
    if site.name in disputed_sites(case.setup.value):
        return SiteSummary(site, UNKNOWN, f"disputed; reported: {told}")
    lacks = _unseen(case, site, without)
    if lacks:
        told = f"{lacks}; {best.side.value} {told}"
        return SiteSummary(site, UNKNOWN, told, lacks=lacks)
    lacks = _closer(case, site, good, asked)
    if lacks:
        return SiteSummary(site, UNKNOWN, f"{told}; {lacks}", lacks=lacks)
    return SiteSummary(site, CLEARS, told, best)


def _unseen(case: Case, site: SiteSheet, without: tuple[Side, ...]) -> str:
    """Say why nothing is known of a side."""
    stood = {gap.side for gap in _looked_at(case, site)}
    for side in without:
        return f"{side.value} {STANDING if stood & {side, Side.BOTH} else 'not looked at'}"
    return ""


def _closer(case: Case, site: SiteSheet, good: list[Gap], asked: tuple[Side, ...]) -> str:
    """Say where a site may be closer than wanted, by its gap taken closest to there."""
    for side in asked:
        here = [_carried(case, gap) for gap in good if gap.side in (side, Side.BOTH)]
        by, where, left = min(here)
        if by > 0.0 and left < site.wanted.value:
            return f"computed {by:.0f} mm less at {where}"
    return ""


def _carried(case: Case, gap: Gap) -> tuple[Mm, str, Mm]:
    """Give by how much its site comes closer elsewhere, where, and what of the gap is left there.

    A bare word that it clears has no number to take anything from.
    """
    closer = next((each for each in case.closer if each.gap is gap), None)
    by = closer.by if closer else 0.0
    left = inf if gap.gap.said is Said.CLEARS or gap.gap.low is None else gap.gap.low - by
    return by, closer.where if closer else "", left


def _not_among(gaps: list[Gap], asked: tuple[Side, ...]) -> tuple[Side, ...]:
    said = {gap.side for gap in gaps}
    return () if Side.BOTH in said else tuple(side for side in asked if side not in said)


def _how_well(good: list[Gap], site: SiteSheet, seen: tuple[Side, ...]) -> tuple[Gap, str]:
    """Give the least of the gaps, and tell it; a number of one side is none of the other."""
    numbered = [gap for gap in good if (gap.gap.low or 0.0) >= site.wanted.value]
    best = min(numbered or good, key=lambda gap: gap.gap.low or 0.0)
    told = f"{in_mm(best.gap)}, {best.state.value}"
    bare = _not_among(numbered, seen)
    if not bare:
        return best, told
    where = f"; {bare[0].value} side" if len(bare) < len(seen) else ""
    return best, f"{told}{where}: how much room there is, is not known"


def has_number(summary: SiteSummary) -> bool:
    """Tell whether a cleared site is known to keep the gap its sheet wants."""
    return summary.word == CLEARS and not summary.reason.endswith("not known")


def headline(case: Case) -> Headline:
    """Say in one line what a record says: touching before tight before unknown before clear.

    A withdrawn record says nothing any more; one that is disputed or in question is not clear.
    """
    setup = case.setup.value
    if setup.withdrawn is not None:
        return Headline(UNKNOWN, "Withdrawn: nothing here counts any more", ())
    told = _told(summaries(case))
    disputed = [each for each in setup.disputes if each.settled is None]
    if disputed and told.word in (CLEARS, UNKNOWN):
        return Headline(UNKNOWN, f"Disputed: {disputed[0].claim}", told.reasons)
    return _with_doubts(case, told)


def _with_doubts(case: Case, told: Headline) -> Headline:
    """Name what is in question; what speaks against each site stands beside its gaps."""
    sites = case.chassis.value.sites if case.chassis else ()
    names = named_list(_short(site) for site in sites if _against(case, site))
    if not names:
        return told
    if told.word in (TOUCHES, TIGHT):
        return replace(told, sentence=f"{told.sentence}. In question: {names}")
    known = told.sentence.removeprefix("Nothing looked at touches; ")
    reasons = tuple(each for each in told.reasons if QUESTIONED not in each)
    return Headline(UNKNOWN, f"In question: {names}. {known}", reasons)


def _told(found: tuple[SiteSummary, ...]) -> Headline:
    by_word = {
        word: [each for each in found if each.word == word]
        for word in (TOUCHES, TIGHT, UNKNOWN, CLEARS)
    }
    loose = [each for each in by_word[CLEARS] if not has_number(each)]
    reasons = _said_once((*by_word[TOUCHES], *by_word[TIGHT], *loose, *by_word[UNKNOWN]))
    sites = len(found)
    if by_word[TOUCHES]:
        names = named_list(named(each.site) for each in by_word[TOUCHES])
        return Headline(TOUCHES, f"Touches: {names}", reasons)
    if not found:
        return Headline(UNKNOWN, "The sheet of this chassis names no sites yet", ())
    unknown = len(by_word[UNKNOWN])
    if by_word[TIGHT]:
        names = named_list(named(each.site) for each in by_word[TIGHT])
        rest = f". {_of_all(unknown, sites)}" if unknown else ""
        return Headline(TIGHT, f"Closer than wanted: {names}{rest}", reasons)
    if unknown:
        looked = "nothing looked at touches; " if unknown < sites else ""
        text = f"{looked}{_of_all(unknown, sites)}"
        return Headline(UNKNOWN, text[:1].upper() + text[1:], reasons)
    if loose:
        text = f"Reported clear everywhere; at {len(loose)} of {sites} sites without a number"
        return Headline(UNKNOWN, text, reasons)
    return Headline(CLEARS, f"Reported to keep the wanted gap at all {sites} sites", reasons)


def _of_all(unknown: int, sites: int) -> str:
    return f"{unknown} of {sites} sites {'is' if unknown == 1 else 'are'} not known"


def _short(site: SiteSheet) -> str:
    return named(site).split(",", maxsplit=1)[0]


def _said_once(found: tuple[SiteSummary, ...]) -> tuple[str, ...]:
    """Give the reasons in their order, each once with all the sites that it holds for."""
    sites: dict[str, list[str]] = {}
    for each in found:
        sites.setdefault(each.reason, []).append(named(each.site))
    return tuple(f"{named_list(names)}: {reason}" for reason, names in sites.items())


def named(site: SiteSheet) -> str:
    """Name a site with its end of the car, once."""
    end = site.axle.value
    return site.label if site.label.startswith(end) else f"{end} {site.label}"
