"""The page on which setups are laid beside each other; its script does what its address asks."""

from collections.abc import Iterator, Mapping

from generator.frozen import dataclass
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.site import urls
from generator.site.comparison import comparison_file, stock_file
from generator.site.guide import Guide
from generator.site.lifecycle import replaced_by
from generator.site.page import DataFile, Page
from generator.site.shell import Link, PageHead


@dataclass(frozen=True)
class ComparePage:
    """What the page says without a script, and where its script finds the rest."""

    find_href: str
    chassis: tuple[Link, ...]
    example: str


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page."""
    head = PageHead(
        "Compare setups",
        "Two to four setups, or one against stock: numbers, differences and sections laid over "
        "each other.",
        (Link("Home", urls.HOME),),
    )
    setups = guide.setups()
    example = ""
    if setups and setups[0].value.chassis in guide.library.chassis:
        example = urls.compare(setups[0].value.chassis, setups[0].id)
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
    yield from map(stock_file, guide.chassis())


def files_of(
    guide: Guide, filed: Filed[Setup], replaced: Mapping[str, Filed[Setup]]
) -> Iterator[DataFile]:
    """Give what the page's script loads of one setup."""
    yield comparison_file(guide, filed, replaced)
