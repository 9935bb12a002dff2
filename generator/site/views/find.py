"""All setups of the guide in one plain table, by chassis and then the newest first."""

from collections.abc import Iterator
from dataclasses import dataclass

from generator.site import urls
from generator.site.guide import Guide
from generator.site.listing import SetupLine, setup_lines
from generator.site.page import Page
from generator.site.shell import Link, PageHead


@dataclass(frozen=True)
class Find:
    """The list."""

    groups: tuple[tuple[Link, tuple[SetupLine, ...]], ...]
    setups: int


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page of all setups."""
    groups = []
    for filed in guide.chassis():
        lines = setup_lines(guide, guide.setups_of(filed.id))
        if lines:
            groups.append((Link(filed.value.name, urls.chassis(filed.id)), lines))
    head = PageHead(
        "Find a setup",
        "Every setup of the guide: wheels, tyres, spacers and what was seen.",
        (Link("Home", urls.HOME),),
    )
    yield Page(urls.FIND, "find", head, Find(tuple(groups), sum(len(g) for _, g in groups)))
