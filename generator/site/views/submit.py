"""Submitting a record: the form, and the way by file for those without scripting."""

from collections.abc import Iterator, Mapping, Sequence

from generator.frozen import dataclass
from generator.records.checking import rule_modules
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.site import urls
from generator.site.facets import Trait, newest_first, traits
from generator.site.forge_links import filled_in, new_file
from generator.site.guide import Guide
from generator.site.joining import Joining
from generator.site.page import DataFile, Page
from generator.site.shell import Link, PageHead
from generator.site.submit_data import (
    Known,
    chassis_files,
    fields_file,
    near_file,
    rules_file,
    start_files,
)

LONGEST_ADDRESS = 6000
"""Characters; forges refuse addresses of about eight thousand, and little is promised of them."""


@dataclass(frozen=True)
class Starter:
    """A chassis: its names, its sheet for the form, a record to begin with, and its limits."""

    id: str
    name: str
    sheet_href: str
    starter_href: str
    page_href: str
    forge_href: str
    live_href: str


@dataclass(frozen=True)
class WaitingRule:
    """A rule that the form cannot apply: its code, what it is, and where it is explained.

    `is_partly` is True where the form does apply what the rule asks of the record alone.
    """

    code: str
    title: str
    href: str
    is_partly: bool


@dataclass(frozen=True)
class Submit:
    """What the page shows and what its script is told; addresses are below the guide's root."""

    chassis: tuple[Starter, ...]
    waiting: tuple[WaitingRule, ...]
    fields_href: str
    rules_href: str
    near_href: str
    from_href: str
    forge_href: str
    asked_name: str
    asked_text: str
    longest: int
    faults_href: str
    ruled_href: str
    reference_href: str
    articles_href: str
    live_facts_href: str


def share(guide: Guide) -> Known:
    """Give the cars and members of a guide of one chassis."""
    setups = guide.setups()
    return Known(
        tuple(sorted({setup.value.car for setup in setups})),
        tuple(sorted({setup.value.member for setup in setups})),
        tuple(sorted(guide.library.setups)),
    )


def joined(guide: Guide, shares: Sequence[Known]) -> Iterator[Page]:
    """Give the page, which shows none of that itself."""
    del shares
    yield from pages(guide)


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page."""
    at, name, text = filled_in(guide.club.forge)
    head = PageHead(
        "Submit a setup",
        "A form that checks a record while you type, and sends it to the club's records.",
        (Link("Home", urls.HOME),),
    )
    content = Submit(
        tuple(_starters(guide)),
        tuple(_waiting()),
        urls.submit_file("fields.json"),
        rules_file().path,
        urls.submit_file("near.json"),
        urls.submit_file("from"),
        at, name, text, LONGEST_ADDRESS,
        urls.FAULTS, urls.RULES, urls.RECORD_REFERENCE, urls.ARTICLES,
        urls.live("facts"),
    )  # fmt: skip
    yield Page(urls.SUBMIT, "submit", head, content)


def files(guide: Guide, pages: tuple[Page, ...]) -> Iterator[DataFile]:
    """Give what the form loads, and the records to begin with."""
    del pages
    yield from _files([share(part) for part in guide.parts()], traits(guide))
    yield from part_files(guide)
    for filed in guide.setups():
        yield from files_of(guide, filed, {})


def joined_files(joining: Joining) -> Iterator[DataFile]:
    """Give what the form loads of the whole guide, from what each chassis gives to Find."""
    found = newest_first(each for share in joining.shares["find"] for each in share.traits)
    yield from _files(joining.shares["submit"], found)


def part_files(guide: Guide) -> Iterator[DataFile]:
    """Give what the form loads of one chassis, or of several, and the records to begin with."""
    yield from chassis_files(guide)


def files_of(
    guide: Guide, filed: Filed[Setup], replaced: Mapping[str, Filed[Setup]]
) -> Iterator[DataFile]:
    """Give what is fitted in one record, for another that starts from it."""
    del guide, replaced
    yield from start_files(filed)


def _files(known: Sequence[Known], found: tuple[Trait, ...]) -> Iterator[DataFile]:
    yield fields_file(known)
    yield rules_file()
    yield near_file(found)


def _starters(guide: Guide) -> Iterator[Starter]:
    for chassis in guide.chassis():
        yield Starter(
            chassis.id,
            chassis.value.name,
            urls.submit_file(f"{chassis.id}.json"),
            urls.submit_file(f"{chassis.id}.yaml"),
            urls.chassis(chassis.id),
            new_file(guide.club.forge, f"setups/{chassis.id}"),
            urls.live(chassis.id),
        )


def _waiting() -> Iterator[WaitingRule]:
    """Name the rules that need more than a record and its sheet."""
    for module in rule_modules():
        rule = module.RULE
        looks_further = hasattr(module, "check_library") or hasattr(module, "check_dates")
        if looks_further or not rule.is_live:
            yield WaitingRule(rule.code, rule.title, urls.fault(rule.code), rule.is_live)
