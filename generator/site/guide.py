"""Everything the views may show: the library, what was computed from it, and its faults."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from generator.assessment.assess import Assessment
from generator.evidence.club import ChassisEvidence
from generator.evidence.confidence import RecordConfidence
from generator.evidence.verdict import Verdict
from generator.reading.fault import Fault
from generator.reading.history import History
from generator.records.chassis import Chassis
from generator.records.club import Club
from generator.records.library import Article, Filed, Library
from generator.records.setup import Setup


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
    it was made from, `history` is what git knows of them.
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

    def chassis(self) -> tuple[Filed[Chassis], ...]:
        """Give all chassis, in order of name."""
        return tuple(
            sorted(self.library.chassis.values(), key=lambda each: (each.value.name, each.id))
        )

    def setups(self) -> tuple[Filed[Setup], ...]:
        """Give all setups, the newest first, then by id."""
        ordered = sorted(self.library.setups.values(), key=lambda each: each.id)
        return tuple(sorted(ordered, key=lambda each: each.value.date, reverse=True))

    def setups_of(self, chassis: str) -> tuple[Filed[Setup], ...]:
        """Give the setups of one chassis, the newest first."""
        return tuple(setup for setup in self.setups() if setup.value.chassis == chassis)

    def articles(self) -> tuple[Article, ...]:
        """Give all articles in their order."""
        found = self.library.articles.values()
        return tuple(sorted(found, key=lambda each: (each.head.order, each.id)))
