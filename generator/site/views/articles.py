"""The list of the handbook's articles."""

from collections.abc import Iterator

from generator.frozen import dataclass
from generator.site import urls
from generator.site.guide import Guide
from generator.site.page import Page
from generator.site.shell import Link, PageHead


@dataclass(frozen=True)
class ArticleLine:
    """One article in the list."""

    title: str
    summary: str
    href: str


@dataclass(frozen=True)
class Articles:
    """The list, and the pages that belong beside it."""

    articles: tuple[ArticleLine, ...]
    beside: tuple[ArticleLine, ...]


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page of articles."""
    lines = tuple(
        ArticleLine(each.head.title, each.head.summary, urls.article(each.id))
        for each in guide.articles()
    )
    beside = (
        ArticleLine("Glossary", "The words of the trade and what they mean here.", urls.GLOSSARY),
        ArticleLine(
            "Fields of a record", "What may be written, in which unit, with examples.",
            urls.RECORD_REFERENCE,
        ),
        ArticleLine("Faults explained", "Every message of the checks, and how to mend it.",
                    urls.FAULTS),
        ArticleLine("Method and sources", "Formulas, signs, and where every number is from.",
                    urls.METHOD),
    )  # fmt: skip
    head = PageHead(
        "Articles",
        "How to choose, measure, mock up, fasten and run in wider wheels.",
        (Link("Home", urls.HOME),),
    )
    yield Page(urls.ARTICLES, "articles", head, Articles(lines, beside))
