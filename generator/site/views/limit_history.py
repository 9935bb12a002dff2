"""How the limits of a chassis came about: for each, what records said of it and when."""

from collections.abc import Iterator

from generator.frozen import dataclass
from generator.records.chassis import Chassis
from generator.records.library import Filed
from generator.records.words import Axle
from generator.site import urls
from generator.site.guide import Guide
from generator.site.lifecycle import Kept, kept
from generator.site.limit_story import LimitStory, stories
from generator.site.page import Page
from generator.site.shell import Link, PageHead

BY_CHASSIS = True


@dataclass(frozen=True)
class LimitHistory:
    """All of the page: the limits of each end, and what git knows of the sheet."""

    chassis: Link
    ends: tuple[tuple[str, tuple[LimitStory, ...]], ...]
    sheet: Kept
    method_href: str


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page of each chassis."""
    for filed in guide.chassis():
        name = filed.value.name
        above = (Link("Home", urls.HOME), Link(name, urls.chassis(filed.id)))
        words = f"{name}: what each limit rests on, and since when."
        head = PageHead(f"How the limits came about: {name}", words, above, here="Limits")
        yield Page(urls.limit_history(filed.id), "limit_history", head, _view(guide, filed))


def _view(guide: Guide, filed: Filed[Chassis]) -> LimitHistory:
    return LimitHistory(
        chassis=Link(filed.value.name, urls.chassis(filed.id)),
        ends=tuple((axle.value, stories(guide, filed.id, axle)) for axle in Axle),
        sheet=kept(filed.source.path, guide.history),
        method_href=urls.METHOD,
    )
