"""The way to the pages on which a setup that nobody has tried is judged: one for each chassis."""

from collections.abc import Iterator

from generator.frozen import dataclass
from generator.site import urls
from generator.site.guide import Guide
from generator.site.page import Page
from generator.site.shell import Link, PageHead


@dataclass(frozen=True)
class Trials:
    """All of the page."""

    choices: tuple[Link, ...]


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page."""
    head = PageHead(
        "Try a setup",
        "Would mine fit? A wheel, a tyre and a car that nobody has tried together.",
        (Link("Home", urls.HOME),),
    )
    choices = tuple(Link(each.value.name, urls.trial(each.id)) for each in guide.chassis())
    yield Page(urls.TRY, "trials", head, Trials(choices))
