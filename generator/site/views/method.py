"""Method and sources: the formulas, the signs, and where every number is from."""

from collections.abc import Iterator
from dataclasses import dataclass

from generator.published.tables import published_tables, source, sources
from generator.published.values import PublishedTable, Source
from generator.site import urls
from generator.site.drawings import SignsSubject
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


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page."""
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
