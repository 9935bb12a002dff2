"""Everything the views may show: the library, what was computed from it, and its faults."""

from collections.abc import Iterable, Mapping
from dataclasses import field, replace
from functools import cached_property
from typing import Any, TypeVar

from generator.assessment.assess import Assessment
from generator.evidence.club import ChassisEvidence
from generator.evidence.confidence import RecordConfidence
from generator.evidence.verdict import Verdict
from generator.frozen import dataclass
from generator.reading.fault import Fault
from generator.reading.history import History
from generator.reading.photos import PhotoFile
from generator.records.chassis import Chassis
from generator.records.club import Club
from generator.records.library import Article, Filed, Library, setup_path, sheet_path
from generator.records.setup import Setup
from generator.records.words import Subject
from generator.site import urls
from generator.site.shell import Link

_Value = TypeVar("_Value")


@dataclass(frozen=True)
class Input:
    """A file that the guide was made from: its path below the content folder, and its digest."""

    path: str
    size: int
    sha256: str


@dataclass(frozen=True)
class Guide:
    """One guide, ready to be shown.

    `assessments`, `verdicts` and `confidence` are by id of the setup, `evidence` by id of the
    chassis. `data_as_of` says in words which state of the records it shows. `left_out` are the
    files that could not be used; `faults` are all faults, theirs among them. `inputs` are the files
    it was made from, `history` is what git knows of them. `records` counts the setups of the whole
    guide, also in a part of it.
    """

    club: Club
    library: Library
    assessments: Mapping[str, Assessment]
    evidence: Mapping[str, ChassisEvidence]
    verdicts: Mapping[str, Verdict]
    confidence: Mapping[str, RecordConfidence]
    faults: tuple[Fault, ...]
    left_out: tuple[str, ...]
    data_as_of: str
    inputs: tuple[Input, ...] = ()
    history: History = field(default_factory=History)
    records: int = 0

    def chassis(self) -> tuple[Filed[Chassis], ...]:
        """Give all chassis, in order of name."""
        return tuple(
            sorted(self.library.chassis.values(), key=lambda each: (each.value.name, each.id))
        )

    def setups(self) -> tuple[Filed[Setup], ...]:
        """Give all setups, the newest first, then by id."""
        return self._newest_first

    def setups_of(self, chassis: str) -> tuple[Filed[Setup], ...]:
        """Give the setups of one chassis, the newest first; no other is read for it."""
        return tuple(map(self.library.setups.__getitem__, self.ids_of(chassis)))

    def ids_of(self, chassis: str) -> tuple[str, ...]:
        """Give the ids of the setups of one chassis, in the same order; none is read for it."""
        return self._by_chassis.get(chassis, ())

    @cached_property
    def lines(self) -> dict[str, Any]:
        """The lines of setups in lists, as far as they were made, by id: several views have all."""
        return {}

    def part(self, chassis: str) -> "Guide":
        """Give the guide of one chassis alone: all that its own pages show, and no more."""
        whole = self.library
        setups = {setup.id: setup for setup in self.setups_of(chassis)}
        sheets = {chassis: whole.chassis[chassis]} if chassis in whole.chassis else {}
        heads = {name: replace(each, text="") for name, each in whole.articles.items()}
        paths = [sheet_path(chassis), *map(setup_path, setups)]
        return replace(
            self,
            library=replace(
                whole,
                chassis=sheets,
                setups=setups,
                articles=heads,
                unread=frozenset(),
                photos=None if whole.photos is None else self.photos_of(chassis),
            ),
            history=replace(self.history, files=_of(self.history.files, paths), gone=()),
            assessments=_of(self.assessments, setups),
            evidence=_of(self.evidence, sheets),
            verdicts=_of(self.verdicts, setups),
            confidence=_of(self.confidence, setups),
            faults=(),
            left_out=(),
            inputs=(),
        )

    def parts(self) -> tuple["Guide", ...]:
        """Give the guide of each chassis, in order of id; setups without a sheet come in one too.

        What is said of the whole guide is put together from what each part says of itself.
        """
        return tuple(self.part(chassis) for chassis in self.part_names())

    def part_names(self) -> tuple[str, ...]:
        """Name the chassis that have a sheet or a setup, in order of id."""
        return tuple(sorted({*self.library.chassis, *self._by_chassis}))

    @cached_property
    def _photos(self) -> Mapping[str, list[tuple[str, PhotoFile]]]:
        """Photos with their paths, by the folder of their setups."""
        found: dict[str, list[tuple[str, PhotoFile]]] = {}
        for path, photo in (self.library.photos or {}).items():
            found.setdefault(path.split("/")[1], []).append((path, photo))
        return found

    @cached_property
    def _newest_first(self) -> tuple[Filed[Setup], ...]:
        return tuple(map(self.library.setups.__getitem__, self._ids))

    @cached_property
    def _ids(self) -> tuple[str, ...]:
        """The ids of all setups, the newest first, then by id."""
        listed = self.library.listed
        return tuple(sorted(listed, key=lambda name: (-listed[name].day.toordinal(), name)))

    @cached_property
    def _by_chassis(self) -> Mapping[str, tuple[str, ...]]:
        found: dict[str, list[str]] = {}
        for name in self._ids:
            found.setdefault(self.library.listed[name].chassis, []).append(name)
        return {chassis: tuple(names) for chassis, names in found.items()}

    def photos_of(self, chassis: str) -> Mapping[str, PhotoFile]:
        """Give the photos beside the setups of one chassis, by path; no setup is read for it."""
        folders = sorted({name.split("/")[0] for name in self.ids_of(chassis)})
        return dict(each for name in folders for each in self._photos.get(name, ()))

    def articles(self) -> tuple[Article, ...]:
        """Give all articles in their order."""
        found = self.library.articles.values()
        return tuple(sorted(found, key=lambda each: (each.head.order, each.id)))

    @cached_property
    def reading(self) -> Mapping[Subject, tuple[Link, ...]]:
        """The articles that explain something, as they say themselves; all subjects are there."""
        links = [(Link(each.head.title, urls.article(each.id)), each) for each in self.articles()]
        return {
            subject: tuple(link for link, each in links if subject in each.head.explains)
            for subject in Subject
        }


def _of(values: Mapping[str, _Value], names: Iterable[str]) -> dict[str, _Value]:
    return {name: values[name] for name in names if name in values}
