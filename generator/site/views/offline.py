"""The page for readers without a network who ask for a page that their device has not kept."""

from collections.abc import Iterator

from generator.frozen import dataclass
from generator.site import urls
from generator.site.guide import Guide
from generator.site.page import Page
from generator.site.shell import Link, PageHead


@dataclass(frozen=True)
class Offline:
    """All of the page."""

    chassis: tuple[Link, ...]


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page."""
    head = PageHead(
        "Without a network",
        "What this device has kept of the guide, and how to keep more.",
        (Link("Home", urls.HOME),),
    )
    chassis = tuple(Link(each.value.name, urls.chassis(each.id)) for each in guide.chassis())
    yield Page(urls.OFFLINE, "offline", head, Offline(chassis))
