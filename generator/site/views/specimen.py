"""The specimen page: every component of templates/components in every state."""

from collections.abc import Iterator

from generator.site import urls
from generator.site.guide import Guide
from generator.site.page import Page
from generator.site.shell import Link, PageHead


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page, in which nothing depends on the guide."""
    del guide
    yield Page(urls.SPECIMEN, "specimen", head(Link("Home", urls.HOME)), None)


def head(home: Link) -> PageHead:
    """Say what the page is; the template finds the components and their examples by itself."""
    return PageHead(
        title="Specimen",
        description="Every component of the guide in every state, with invented numbers.",
        breadcrumb=(home,),
    )
