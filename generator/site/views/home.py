"""The home page: choose the car, see what is new, read the flags, take part."""

from collections.abc import Iterator, Sequence

from generator.frozen import dataclass
from generator.records.chassis import Chassis
from generator.records.library import Filed
from generator.site import urls
from generator.site.drawings import SignsSubject
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
    signs_drawing: SignsSubject
    find_href: str
    try_href: str
    glossary_href: str
    articles_href: str
    reference_href: str
    submit_href: str
    faults_href: str
    method_href: str
    new_setup_href: str
    repository_href: str


@dataclass(frozen=True)
class Share:
    """What one chassis gives to the page: its card, if it has a sheet, and its newest setups."""

    card: ChassisCard | None
    newest: tuple[tuple[str, SetupLine], ...]
    setups: int


def share(guide: Guide) -> Share:
    """Give the share of a guide of one chassis."""
    setups = guide.setups()
    newest = setups[:_NEWEST]
    lines = setup_lines(guide, newest)
    known = guide.chassis()
    found = tuple((filed.id, line) for filed, line in zip(newest, lines, strict=True))
    return Share(_card(known[0], lines, len(setups)) if known else None, found, len(setups))


def pages(guide: Guide) -> Iterator[Page]:
    """Give the home page."""
    yield from joined(guide, [share(part) for part in guide.parts()])


def joined(guide: Guide, shares: Sequence[Share]) -> Iterator[Page]:
    """Give the home page from what each chassis gives to it."""
    cards = [each.card for each in shares if each.card]
    newest = sorted(
        (found for each in shares for found in each.newest),
        key=lambda found: (-found[1].day.toordinal(), found[0]),
    )
    view = Home(
        title=guide.club.title,
        club=guide.club.name,
        about=guide.club.about,
        is_demo=guide.club.invented,
        chassis=tuple(sorted(cards, key=lambda card: (card.name, card.href))),
        newest=tuple(line for _, line in newest[:_NEWEST]),
        setups=sum(each.setups for each in shares),
        signs_drawing=SignsSubject("signs"),
        find_href=urls.FIND,
        try_href=urls.TRY,
        glossary_href=urls.GLOSSARY,
        articles_href=urls.ARTICLES,
        reference_href=urls.RECORD_REFERENCE,
        submit_href=urls.SUBMIT,
        faults_href=urls.FAULTS,
        method_href=urls.METHOD,
        new_setup_href=new_file(guide.club.forge, "setups"),
        repository_href=guide.club.forge.address,
    )
    description = f"What wheels and tyres fit, as measured by members of the {guide.club.name}."
    yield Page(urls.HOME, "home", PageHead(guide.club.title, description), view)


def _card(filed: Filed[Chassis], newest: tuple[SetupLine, ...], setups: int) -> ChassisCard:
    return ChassisCard(
        name=filed.value.name,
        href=urls.chassis(filed.id),
        body=filed.value.body,
        built=filed.value.built,
        summary=filed.value.summary,
        also_called=filed.value.also_called,
        setups=setups,
        newest=newest[0] if newest else None,
    )
