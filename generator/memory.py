"""What was computed for the last state of the records, kept by content for the next one.

Nothing here decides anything: a key holds all that its value follows from, so a guide made with a
memory is the guide made without one. It lives as long as its program, or with a store on disk.
"""

from collections.abc import Callable, Mapping
from functools import partial
from typing import TypeVar

from generator.assessment.assess import Assessment
from generator.cache.digests import digest
from generator.cache.program import program
from generator.cache.store import Store
from generator.evidence.club import ChassisEvidence
from generator.evidence.verdict import Numbers, Verdict
from generator.reading.fault import Fault
from generator.records.chassis import Chassis
from generator.records.checking import check_case
from generator.records.library import Case, Filed
from generator.records.setup import Setup

Kept = TypeVar("Kept")
_Texts = tuple[str, ...]


class Memory:
    """Values by content. Only what the last state needed is handed on to the next memory."""

    def __init__(self, earlier: "Memory | None" = None) -> None:
        self._faults: dict[_Texts, tuple[Fault, ...]] = {}
        self._assessments: dict[_Texts, Assessment] = {}
        self._evidence: dict[_Texts, ChassisEvidence] = {}
        self._verdicts: dict[_Texts, Verdict] = {}
        self._earlier = earlier

    def faults(self, case: Case) -> tuple[Fault, ...]:
        """Give what the rules say of a setup on its chassis."""
        before = self._earlier._faults if self._earlier else {}
        return _kept(_texts_of(case), self._faults, before, partial(check_case, case))

    def assessment(self, case: Case, make: Callable[[], Assessment]) -> Assessment:
        """Give what was computed for a setup on its chassis, or compute it."""
        before = self._earlier._assessments if self._earlier else {}
        return _kept(_of_case(case), self._assessments, before, make)

    def evidence(
        self,
        chassis: Filed[Chassis],
        setups: Mapping[str, Filed[Setup]],
        make: Callable[[], ChassisEvidence],
    ) -> ChassisEvidence:
        """Give what was learned of a chassis from these setups, or learn it."""
        before = self._earlier._evidence if self._earlier else {}
        return _kept(_of_chassis(chassis, setups), self._evidence, before, make)

    def verdict(
        self, case: Case, setups: Mapping[str, Filed[Setup]], make: Callable[[], Verdict]
    ) -> Verdict:
        """Give the verdict on a setup beside all setups of its chassis, or judge it."""
        if case.chassis is None:
            return make()
        key = (*_of_case(case), *_of_chassis(case.chassis, setups))
        before = self._earlier._verdicts if self._earlier else {}
        return _kept(key, self._verdicts, before, make)

    def numbers(
        self, case: Case, known: str, make: Callable[[], tuple[Numbers, Numbers]]
    ) -> tuple[Numbers, Numbers]:
        """Give the numbers of a verdict, where `known` names what is known of the chassis."""
        return make()

    def forget_earlier(self) -> "Memory":
        """Let go of what this state of the records did not need."""
        self._earlier = None
        return self


class StoredMemory(Memory):
    """What was computed for single setups, kept on disk by what setup and sheet say.

    A verdict is kept by what is known of the chassis beside: as its numbers, since the rest is
    quicker put together than read.
    """

    def __init__(self, store: Store, earlier: Memory | None = None) -> None:
        super().__init__(earlier)
        self._store = store

    def assessment(self, case: Case, make: Callable[[], Assessment]) -> Assessment:
        """Give what was computed for a setup on its chassis, or compute it."""
        return super().assessment(case, partial(self._assessment, case, make))

    def _assessment(self, case: Case, make: Callable[[], Assessment]) -> Assessment:
        beside = case.chassis.bearing if case.chassis else ""
        key = digest("assessment", program(), case.setup.bearing, beside)
        kept: Assessment | None = self._store.get(key)
        if kept is None:
            kept = make()
            self._store.put(key, kept)
        return kept

    def numbers(
        self, case: Case, known: str, make: Callable[[], tuple[Numbers, Numbers]]
    ) -> tuple[Numbers, Numbers]:
        """Give the numbers of a verdict, where `known` names what is known of the chassis."""
        beside = case.chassis.bearing if case.chassis else ""
        key = digest("verdict", program(), case.setup.bearing, beside, known)
        kept: tuple[Numbers, Numbers] | None = self._store.get(key)
        if kept is None:
            kept = make()
            self._store.put(key, kept)
        return kept


def _kept(
    key: _Texts, now: dict[_Texts, Kept], before: Mapping[_Texts, Kept], make: Callable[[], Kept]
) -> Kept:
    if key not in now:
        found = before.get(key)
        now[key] = make() if found is None else found
    return now[key]


def _texts_of(case: Case) -> _Texts:
    sheet, setup = case.chassis, case.setup
    beside = (sheet.id, sheet.source.text) if sheet else ("", "")
    return (setup.id, setup.source.text, *beside)


def _of_case(case: Case) -> _Texts:
    return (case.setup.bearing, case.chassis.bearing if case.chassis else "")


def _of_chassis(chassis: Filed[Chassis], setups: Mapping[str, Filed[Setup]]) -> _Texts:
    return (chassis.bearing, *(setups[name].bearing for name in sorted(setups)))
