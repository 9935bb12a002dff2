"""One article of the handbook, with the one before and the one after."""

from collections.abc import Iterator

from generator.frozen import dataclass
from generator.site import urls
from generator.site.cautions import Caution, called_for
from generator.site.forge_links import ForgeLinks, forge_links
from generator.site.guide import Guide
from generator.site.page import Page
from generator.site.shell import Link, PageHead

_OWN_CAUTION = "**Caution"


@dataclass(frozen=True)
class ArticlePage:
    """The text in Markdown, the cautions it calls for and does not give itself, and its way on."""

    title: str
    summary: str
    text: str
    cautions: tuple[Caution, ...]
    previous: Link | None
    next: Link | None
    forge: ForgeLinks


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page of each article."""
    articles = guide.articles()
    links = [Link(each.head.title, urls.article(each.id)) for each in articles]
    for at, article in enumerate(articles):
        view = ArticlePage(
            title=article.head.title,
            summary=article.head.summary,
            text=article.text,
            cautions=() if _OWN_CAUTION in article.text else called_for(article.text),
            previous=links[at - 1] if at > 0 else None,
            next=links[at + 1] if at + 1 < len(links) else None,
            forge=forge_links(guide.club.forge, article.path),
        )
        above = (Link("Home", urls.HOME), Link("Articles", urls.ARTICLES))
        head = PageHead(article.head.title, article.head.summary, above)
        yield Page(urls.article(article.id), "article", head, view)
