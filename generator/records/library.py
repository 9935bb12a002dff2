"""All that a club has written, by id, each value with the file it came from."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, replace
from functools import cached_property
from typing import Any, Generic, TypeVar

from generator.cache.digests import digest
from generator.frozen import dataclass
from generator.quantities.units import Mm
from generator.reading.fault import Place
from generator.reading.fields import Model, without_prose
from generator.reading.folder import PHOTOS
from generator.reading.photos import PhotoFile
from generator.reading.source import Route, SourceFile
from generator.records.article import ArticleHead
from generator.records.axle_sheet import AxleSheet
from generator.records.chassis import Chassis
from generator.records.club import Club
from generator.records.fitted import AxleSetup
from generator.records.setup import Gap, Setup
from generator.records.shelf import Listed, Shelf, listed
from generator.records.site_sheet import SiteSheet
from generator.records.words import Axle

Kind = TypeVar("Kind", bound=Model)


@dataclass(frozen=True)
class Filed(Generic[Kind]):
    """A value with its id and its file. The id is the path without ending, below its folder."""

    id: str
    value: Kind
    source: SourceFile
    is_complete: bool = True
    """False where fields with faults were left out to read the rest."""

    @cached_property
    def bearing(self) -> str:
        """A name for all that a number can follow from: the value without its longer texts."""
        return digest(self.id, repr(without_prose(self.value)))

    def __getstate__(self) -> dict[str, Any]:
        """Give what is kept of it: the fields, whatever was asked of it before."""
        return {each.name: getattr(self, each.name) for each in fields(self)}

    def place(self, *route: str | int) -> Place:
        """Give the place of a value in the file."""
        return self.source.place(route)

    def key_place(self, *route: str | int) -> Place:
        """Give the place of a key in the file."""
        return self.source.key_place(route)

    def has(self, route: Route) -> bool:
        """Tell whether the file has something at a route."""
        return self.source.node(route) is not None


def setup_path(setup: str) -> str:
    """Give the path of the file of a setup, by its id."""
    return f"setups/{setup}.yaml"


def sheet_path(chassis: str) -> str:
    """Give the path of the file of a chassis sheet, by its id."""
    return f"chassis/{chassis}.yaml"


def photo_path(setup: str, name: str) -> str:
    """Give the path of a photo of a setup, by the setup's id and the name of the file.

    >>> photo_path("ostvane-meridel/first-try", "gauge.jpg")
    'photos/ostvane-meridel/first-try/gauge.jpg'
    """
    return f"{PHOTOS}/{setup}/{name}"


@dataclass(frozen=True)
class Article:
    """An article: its id, head, text and file."""

    id: str
    head: ArticleHead
    text: str
    path: str


@dataclass(frozen=True)
class Doubt:
    """What speaks against a record's gaps at one site, in words, and by how much."""

    axle: Axle
    site: str
    words: str
    by: str


@dataclass(frozen=True)
class Closer:
    """By how much the site of a gap comes closer in another position than that of the gap."""

    gap: Gap
    by: Mm
    where: str


@dataclass(frozen=True)
class Case:
    """A setup with its chassis sheet, if the club has one: what most rules look at.

    `doubts` are what the club's records and the sheet hold against it, `closer` which of its gaps
    were not taken where their sites are closest: both where that was asked.
    """

    setup: Filed[Setup]
    chassis: Filed[Chassis] | None
    doubts: tuple[Doubt, ...] = ()
    closer: tuple[Closer, ...] = ()

    def axles(self) -> Iterator[tuple[Axle, AxleSetup, AxleSheet | None]]:
        """Give front and rear, each with what is fitted and what the sheet says."""
        for axle in Axle:
            fitted = getattr(self.setup.value, axle.value)
            sheet = getattr(self.chassis.value, axle.value) if self.chassis else None
            yield axle, fitted, sheet

    def sites(self, name: str) -> tuple[SiteSheet, ...]:
        """Give the sites of the sheet with a short name (one at each end of the car at most)."""
        if self.chassis is None:
            return ()
        return tuple(site for site in self.chassis.value.sites if site.name == name)

    def site(self, name: str, axle: Axle | None) -> SiteSheet | None:
        """Give the one site that a gap or rub speaks of; None if unknown or not clear which."""
        found = [site for site in self.sites(name) if axle is None or site.axle is axle]
        return found[0] if len(found) == 1 else None


@dataclass(frozen=True)
class Library:
    """Everything of one club."""

    club: Filed[Club] | None
    chassis: Mapping[str, Filed[Chassis]]
    setups: Mapping[str, Filed[Setup]]
    articles: Mapping[str, Article]
    unread: frozenset[str] = frozenset()
    """Paths of files that are there but not among the above: what they say is unknown."""
    photos: Mapping[str, PhotoFile] | None = None
    """The photos that are there, by path; None where nobody looked."""

    def cases(self) -> Iterator[Case]:
        """Give each setup with its chassis, in order of id."""
        for setup in self.setups.values():
            yield Case(setup, self.chassis.get(setup.value.chassis))

    def of_chassis(self, chassis: str) -> tuple[Filed[Setup], ...]:
        """Give the setups of one chassis, in order of id."""
        return tuple(
            self.setups[name] for name, each in self.listed.items() if each.chassis == chassis
        )

    @cached_property
    def listed(self) -> Mapping[str, Listed]:
        """What is asked of each setup; those that stand on a shelf are not read for it."""
        if isinstance(self.setups, Shelf):
            return self.setups.listed
        return {name: listed(filed.value) for name, filed in self.setups.items()}

    def with_setups(self, names: Iterable[str]) -> "Library":
        """Give the library with some of its setups; none is read for it."""
        kept = {name: self.listed[name] for name in names}
        if isinstance(self.setups, Shelf):
            return replace(self, setups=Shelf(kept, self.setups.__getitem__))
        return replace(self, setups={name: self.setups[name] for name in kept})
