"""What the next car may expect, for pages: the line a setup opens with, and a row for each site."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from generator.evidence.confidence import limit_confidence
from generator.evidence.distribution import Range
from generator.evidence.verdict import WORDS, AxleVerdict, SiteVerdict, Verdict
from generator.frozen import dataclass
from generator.quantities.units import Mm, Probability
from generator.site.facts import Shown, estimated, given
from generator.site.readings import CLEARS, TIGHT, TOUCHES, Headline, named
from generator.site.readings import UNKNOWN as UNKNOWN_WORD

_NEARLY: Probability = 1e-6
_NAMED = 3
_SAYS = {
    "touches": (TOUCHES, "expected to touch"),
    "not known": (UNKNOWN_WORD, "not known"),
    "tight": (TIGHT, "the wanted gap is not sure"),
}


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


def expected_line(verdict: Verdict) -> Headline:
    """Say in one line what the next car may expect, by the word that decides.

    Where a site is not known nothing is said to clear; see `evidence.verdict`.
    """
    sites = [site for axle in verdict.axles() for site in axle.sites]
    word = next((each for each in WORDS if each in {site.word for site in sites}), "not known")
    if not sites:
        return Headline(UNKNOWN_WORD, "Next car: the sheet names no sites yet", ())
    names = list(dict.fromkeys(named(site.clearance.site) for site in sites))
    if word == "clears":
        return Headline(CLEARS, f"Next car: expected to clear at all {len(names)} sites", ())
    at = dict.fromkeys(named(site.clearance.site) for site in sites if site.word == word)
    state, says = _SAYS[word]
    return Headline(state, f"Next car: {says} at the {_listed(tuple(at))}", ())


def _listed(names: tuple[str, ...]) -> str:
    more = len(names) - _NAMED
    if more > 1:
        return f"{', '.join(names[:_NAMED])} and {more} more sites"
    return " and ".join((", ".join(names[:-1]), names[-1])) if len(names) > 1 else names[0]


def expected_rows(verdict: AxleVerdict) -> tuple[Expected, ...]:
    """Give the sites of one end, the weakest first; sides that a reader sees alike come once."""
    return tuple(_together(_expected_at(site) for site in verdict.sites))


def _together(rows: Iterable[Expected]) -> Iterator[Expected]:
    by_site: dict[tuple[object, ...], list[Expected]] = {}
    for row in rows:
        by_site.setdefault(row.told, []).append(row)
    for alike in by_site.values():
        yield replace(alike[0], side="both" if len(alike) > 1 else alike[0].side)


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
