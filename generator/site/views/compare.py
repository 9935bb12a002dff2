"""The page on which setups are laid beside each other; its script does what its address asks."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from generator.frozen import dataclass
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.site import urls
from generator.site.comparison import comparison_file, stock_file
from generator.site.guide import Guide
from generator.site.lifecycle import replaced_by
from generator.site.listing import case_of
from generator.site.page import DataFile, Page
from generator.site.shell import Link, PageHead


@dataclass(frozen=True)
class Newest:
    """A setup, its day of measuring, and its chassis; empty where the club has no sheet of it."""

    day: date
    id: str
    chassis: str


@dataclass(frozen=True)
class ComparePage:
    """What the page says without a script, and where its script finds the rest."""

    find_href: str
    chassis: tuple[Link, ...]
    example: str


def share(guide: Guide) -> tuple[Newest, ...]:
    """Give the newest setup of a guide of one chassis, if it has any."""
    return tuple(
        Newest(filed.value.date, filed.id, case.chassis.id if case.chassis else "")
        for filed, case in ((each, case_of(guide, each)) for each in guide.setups()[:1])
    )


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page."""
    yield from joined(guide, [share(part) for part in guide.parts()])


def joined(guide: Guide, shares: Sequence[tuple[Newest, ...]]) -> Iterator[Page]:
    """Give the page; its example is the newest setup of all beside stock."""
    head = PageHead(
        "Compare setups",
        "Two to four setups, or one against stock: numbers, differences and sections laid over "
        "each other.",
        (Link("Home", urls.HOME),),
    )
    every = (each for share in shares for each in share)
    newest = min(every, key=lambda each: (-each.day.toordinal(), each.id), default=None)
    example = urls.compare(newest.chassis, newest.id) if newest and newest.chassis else ""
    view = ComparePage(
        find_href=urls.FIND,
        chassis=tuple(Link(each.value.name, urls.chassis(each.id)) for each in guide.chassis()),
        example=example,
    )
    yield Page(urls.COMPARE, "compare", head, view)


def files(guide: Guide, every_page: tuple[Page, ...]) -> Iterator[DataFile]:
    """Give what the page's script loads."""
    replaced = replaced_by(guide.library)
    for filed in guide.setups():
        yield from files_of(guide, filed, replaced)
    yield from part_files(guide)


def part_files(guide: Guide) -> Iterator[DataFile]:
    """Give what the page's script loads of one chassis as it left the factory, or of several."""
    yield from (stock_file(guide, filed) for filed in guide.chassis())


def files_of(
    guide: Guide, filed: Filed[Setup], replaced: Mapping[str, Filed[Setup]]
) -> Iterator[DataFile]:
    """Give what the page's script loads of one setup."""
    yield comparison_file(guide, filed, replaced)
