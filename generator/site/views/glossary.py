"""The words of the trade as the guide uses them."""

from collections.abc import Iterator

from generator.frozen import dataclass
from generator.published.tables import source
from generator.published.values import Known
from generator.site import urls
from generator.site.glossary import Term, terms
from generator.site.guide import Guide
from generator.site.page import Page
from generator.site.shell import Link, PageHead


@dataclass(frozen=True)
class GlossaryTerm:
    """A term with its source spelt out and its neighbours as links."""

    term: Term
    source_href: str
    standing: str
    see: tuple[Link, ...]


@dataclass(frozen=True)
class Glossary:
    """All terms, by letter."""

    letters: tuple[tuple[str, tuple[GlossaryTerm, ...]], ...]


def pages(guide: Guide) -> Iterator[Page]:
    """Give the glossary."""
    by_letter: dict[str, list[GlossaryTerm]] = {}
    for term in terms():
        by_letter.setdefault(term.name[0].lower(), []).append(_shown(term))
    letters = tuple((letter, tuple(found)) for letter, found in sorted(by_letter.items()))
    description = "The words of wheel fitting and what they mean in this guide."
    head = PageHead(
        "Glossary", description, (Link("Home", urls.HOME), Link("Articles", urls.ARTICLES))
    )
    yield Page(urls.GLOSSARY, "glossary", head, Glossary(letters))


def _shown(term: Term) -> GlossaryTerm:
    anchors = {each.name: each.anchor for each in terms()}
    see = tuple(Link(name, urls.term(anchors[name])) for name in term.see)
    if not term.source:
        return GlossaryTerm(term, urls.source("PRACTICE"), Known.PRACTICE.value, see)
    return GlossaryTerm(term, urls.source(term.source), source(term.source).known.value, see)
