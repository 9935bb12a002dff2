"""The home page: choose the car, see what is new, read the flags, take part."""

from collections.abc import Iterator
from dataclasses import dataclass

from generator.site import urls
from generator.site.forge_links import new_file
from generator.site.guide import Guide
from generator.site.listing import SetupLine, setup_lines
from generator.site.page import Page
from generator.site.shell import PageHead

_NEWEST = 6


@dataclass(frozen=True)
class ChassisCard:
    """One chassis to choose."""

    name: str
    href: str
    body: str
    built: str
    summary: str
    also_called: tuple[str, ...]
    setups: int
    newest: SetupLine | None


@dataclass(frozen=True)
class Home:
    """All of the home page."""

    title: str
    club: str
    about: str
    is_demo: bool
    chassis: tuple[ChassisCard, ...]
    newest: tuple[SetupLine, ...]
    setups: int
    find_href: str
    articles_href: str
    reference_href: str
    faults_href: str
    method_href: str
    new_setup_href: str
    repository_href: str


def pages(guide: Guide) -> Iterator[Page]:
    """Give the home page."""
    setups = guide.setups()
    view = Home(
        title=guide.club.title,
        club=guide.club.name,
        about=guide.club.about,
        is_demo=guide.club.invented,
        chassis=tuple(_cards(guide)),
        newest=setup_lines(guide, setups[:_NEWEST]),
        setups=len(setups),
        find_href=urls.FIND,
        articles_href=urls.ARTICLES,
        reference_href=urls.RECORD_REFERENCE,
        faults_href=urls.FAULTS,
        method_href=urls.METHOD,
        new_setup_href=new_file(guide.club.forge, "setups"),
        repository_href=guide.club.forge.address,
    )
    description = f"What wheels and tyres fit, as measured by members of the {guide.club.name}."
    yield Page(urls.HOME, "home", PageHead(guide.club.title, description), view)


def _cards(guide: Guide) -> Iterator[ChassisCard]:
    for filed in guide.chassis():
        found = guide.setups_of(filed.id)
        newest = setup_lines(guide, found[:1])
        yield ChassisCard(
            name=filed.value.name,
            href=urls.chassis(filed.id),
            body=filed.value.body,
            built=filed.value.built,
            summary=filed.value.summary,
            also_called=filed.value.also_called,
            setups=len(found),
            newest=newest[0] if newest else None,
        )
