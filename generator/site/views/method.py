"""Method and sources: the formulas, the signs, and where every number is from."""

from collections.abc import Iterator, Sequence

from generator.evidence.confidence import UNSETTLED, WELL_KNOWN_CARS, WELL_KNOWN_SPREAD
from generator.evidence.entries import DRIVEN_U, NO_TOOL_U, TOOL_U
from generator.evidence.held_out import HeldOut, PartHeldOut, one_in, together
from generator.evidence.prior import SitePrior
from generator.evidence.proof import PROOFS, SITES, Proof
from generator.evidence.verdict import EXPECTED, FREE
from generator.frozen import dataclass
from generator.published.tables import published_tables, source, sources
from generator.published.values import PublishedTable, Source
from generator.quantities.units import Mm, Probability
from generator.site import advice, urls
from generator.site.drawings import SignsSubject
from generator.site.expected_shown import LIKELY
from generator.site.guide import Guide
from generator.site.method_text import BASES, CHAPTERS, SIGNS, Chapter, Formula
from generator.site.page import Page
from generator.site.shell import Link, PageHead


@dataclass(frozen=True)
class Cited:
    """A formula with the words for its source and how that is known."""

    formula: Formula
    label: str
    href: str
    standing: str


@dataclass(frozen=True)
class CitedChapter:
    """A chapter with its formulas cited."""

    chapter: Chapter
    formulas: tuple[Cited, ...]


@dataclass(frozen=True)
class SourceLine:
    """A source, its anchor, and the tables taken from it."""

    source: Source
    anchor: str
    tables: tuple[PublishedTable, ...]


@dataclass(frozen=True)
class Method:
    """All of the page."""

    signs_drawing: SignsSubject
    signs: tuple[tuple[str, str], ...]
    bases: tuple[tuple[str, str], ...]
    chapters: tuple[CitedChapter, ...]
    sources: tuple[SourceLine, ...]
    glossary_href: str
    statistics: "Statistics"
    forecasts: HeldOut | None
    proofs: tuple[Proof, ...]
    simulated: int


@dataclass(frozen=True)
class Statistics:
    """The numbers that the statistics hold before any record, as the program uses them."""

    prior: SitePrior
    tools: tuple[tuple[str, Mm], ...]
    no_tool: Mm
    driven: Mm
    well_known_cars: int
    well_known_spread: Mm
    unsettled: Probability
    expected: Probability
    likely: Probability
    free: Probability


def _statistics() -> Statistics:
    tools = sorted((u, tool.value) for tool, u in TOOL_U.items())
    return Statistics(
        # A sheet's own spread and place come from its sites; the shares are the same for all.
        prior=SitePrior(0.0, 1.0),
        tools=tuple((name, u) for u, name in tools),
        no_tool=NO_TOOL_U,
        driven=DRIVEN_U,
        well_known_cars=WELL_KNOWN_CARS,
        well_known_spread=WELL_KNOWN_SPREAD,
        unsettled=UNSETTLED,
        expected=EXPECTED,
        likely=LIKELY,
        free=FREE,
    )


def share(guide: Guide) -> tuple[PartHeldOut, ...]:
    """Give the share of a guide of one chassis: how forecasts of its gaps did."""
    return tuple(advice.forecasts(guide, chassis) for chassis in guide.chassis())


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page."""
    yield from joined(guide, [share(part) for part in guide.parts()])


def joined(guide: Guide, shares: Sequence[tuple[PartHeldOut, ...]]) -> Iterator[Page]:
    """Give the page from what each chassis gives to it."""
    forecasts = [each for share in shares for each in share]
    view = Method(
        signs_drawing=SignsSubject("signs"),
        signs=SIGNS,
        bases=BASES,
        chapters=tuple(
            CitedChapter(chapter, tuple(_cited(each) for each in chapter.formulas))
            for chapter in CHAPTERS
        ),
        sources=tuple(_line(each) for each in sources()),
        glossary_href=urls.GLOSSARY,
        statistics=_statistics(),
        forecasts=together(forecasts, every=one_in(guide.records)),
        proofs=PROOFS,
        simulated=SITES,
    )
    head = PageHead(
        "Method and sources",
        "The formulas, signs and sources of every number of this guide.",
        (Link("Home", urls.HOME), Link("Articles", urls.ARTICLES)),
    )
    yield Page(urls.METHOD, "method", head, view)


def _cited(formula: Formula) -> Cited:
    found = source(formula.source)
    label = found.title.split(",")[0] if found.key not in ("GEOMETRY", "PRACTICE") else ""
    words = {"GEOMETRY": "own derivation", "PRACTICE": "common practice"}
    return Cited(formula, label or words[found.key], urls.source(found.key), found.known.value)


def _line(each: Source) -> SourceLine:
    tables = tuple(table for table in published_tables() if table.source == each.key)
    return SourceLine(each, urls.source(each.key).partition("#")[2], tables)
