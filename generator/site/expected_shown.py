"""What the next car may expect, for pages: the line a setup opens with, and a row for each site."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from generator.evidence.confidence import limit_confidence
from generator.evidence.distribution import Range
from generator.evidence.verdict import AxleVerdict, SiteVerdict, Verdict
from generator.frozen import dataclass
from generator.quantities.units import Mm, Probability
from generator.records.names import named_list
from generator.records.words import Axle
from generator.site.facts import Shown, estimated, given
from generator.site.readings import CLEARS, TIGHT, TOUCHES, Headline, named
from generator.site.readings import UNKNOWN as UNKNOWN_WORD

LIKELY: Probability = 0.5
"""Below this chance of the wanted gap, closer than wanted is the likelier of the two."""
_NEARLY: Probability = 1e-6
_NAMED = 3
_SAYS = {
    "touches": (TOUCHES, "likely to touch"),
    "closer": (TIGHT, "likely closer than wanted"),
    "not known": (UNKNOWN_WORD, "not known"),
    "tight": (TIGHT, "not sure"),
    "clears": (CLEARS, "expected to clear"),
}
"""How sites stand, the worst first, each with its gap state and what is said of it."""
_GAP_NOT_SURE = "the wanted gap is not sure"


@dataclass(frozen=True)
class Expected:
    """What the next car may expect at a site; `why` if nothing can be said."""

    label: str
    side: str
    least: Shown
    where: str
    wanted: Shown
    gap_range: Range | None
    chance: Probability | None
    word: str
    known: str
    known_words: str
    why: str

    @property
    def told(self) -> tuple[object, ...]:
        """Give all that a reader sees of it but the side, with the digits shown."""
        percent = None if self.chance is None else round(self.chance, 2)
        return (
            self.label,
            self.least,
            self.where,
            self.word,
            percent,
            self._span,
            self.known_words,
        )

    @property
    def _span(self) -> tuple[Mm, Mm] | None:
        return (round(self.gap_range.low), round(self.gap_range.high)) if self.gap_range else None


@dataclass(frozen=True)
class ExpectedSites:
    """The sites of one end, the weakest first, each with its rows, one or one for each side.

    A site counts once, by its weaker side: `weak` is not known or not expected to clear there.
    """

    weak: tuple[tuple[Expected, ...], ...]
    strong: tuple[tuple[Expected, ...], ...]


def expected_line(verdict: Verdict) -> Headline:
    """Say in one line what the next car may expect, the worst sites first, by name.

    The reason counts every site once, by its weaker side. Where a site is not known nothing is
    said to clear; see `evidence.verdict`.
    """
    weakest = _weakest(site for axle in verdict.axles() for site in axle.sites)
    if not weakest:
        return Headline(UNKNOWN_WORD, "Next car: the sheet names no sites yet", ())
    standing = {key: [each for each in weakest if _standing(each) == key] for key in _SAYS}
    known = {key: sites for key, sites in standing.items() if sites}
    counts = ", ".join(f"{len(sites)} {_SAYS[key][1]}" for key, sites in known.items())
    total = f"Of {len(weakest)} sites, each by its weaker side: {counts}"
    worst = next(iter(known))
    state, says = _SAYS[worst]
    if worst == "clears":
        return Headline(state, f"Next car: {says} at all {len(weakest)} sites", (total,))
    says = _GAP_NOT_SURE if worst == "tight" else says
    at = _named([named(site.clearance.site) for site in known[worst]])
    return Headline(state, f"Next car: {says} at the {at}", (total,))


def _weakest(sites: Iterable[SiteVerdict]) -> list[SiteVerdict]:
    """Give each site by its weaker side, the worst first."""
    order = tuple(_SAYS)

    def strength(site: SiteVerdict) -> tuple[int, float]:
        return (order.index(_standing(site)), site.chance or 0.0)

    found: dict[tuple[Axle, str], SiteVerdict] = {}
    for site in sorted(sites, key=strength):
        found.setdefault((site.clearance.site.axle, site.clearance.site.name), site)
    return list(found.values())


def _standing(site: SiteVerdict) -> str:
    is_likely = site.word == "tight" and (site.chance or 0.0) < LIKELY
    return "closer" if is_likely else site.word


def _named(names: list[str]) -> str:
    more = len(names) - _NAMED
    return f"{named_list(names[:_NAMED])}; and {more} more sites" if more > 1 else named_list(names)


def expected_rows(verdict: AxleVerdict) -> ExpectedSites:
    """Give the sites of one end, the weakest first; sides that a reader sees alike come once."""
    sites: dict[str, list[SiteVerdict]] = {}
    for site in verdict.sites:
        sites.setdefault(site.clearance.site.name, []).append(site)
    rows = [(sides, tuple(_together(map(_expected_at, sides)))) for sides in sites.values()]
    is_strong = [all(side.word == "clears" for side in sides) for sides, _ in rows]
    return ExpectedSites(
        weak=tuple(each for (_, each), strong in zip(rows, is_strong, strict=True) if not strong),
        strong=tuple(each for (_, each), strong in zip(rows, is_strong, strict=True) if strong),
    )


def _together(rows: Iterable[Expected]) -> Iterator[Expected]:
    alike: dict[tuple[object, ...], list[Expected]] = {}
    for row in rows:
        alike.setdefault(row.told, []).append(row)
    for each in alike.values():
        yield replace(each[0], side="both" if len(each) > 1 else each[0].side)


def never_certain(chance: Probability | None) -> Probability | None:
    """Keep a chance that was computed as good as certain from being shown as certain."""
    return None if chance is None else min(max(chance, _NEARLY), 1.0 - _NEARLY)


def _expected_at(site: SiteVerdict) -> Expected:
    clearance, least = site.clearance, site.clearance.least
    known = limit_confidence(site.posterior) if site.posterior else None
    return Expected(
        label=clearance.site.label,
        side=site.side.value,
        least=estimated(least.gap if least else None),
        where=least.words if least else "",
        wanted=given(clearance.site.wanted),
        gap_range=site.gap,
        chance=never_certain(site.chance),
        word=UNKNOWN_WORD if site.chance is None else site.word,
        known=known.flag.value if known else UNKNOWN_WORD,
        known_words=known.words if known else "",
        why=site.refused,
    )
