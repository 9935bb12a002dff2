"""What was read of each file, and ruled and computed of each setup, kept on disk by the texts."""

from collections.abc import Callable
from functools import partial
from typing import Any

from generator.assessment.assess import Assessment
from generator.cache.digests import digest
from generator.cache.program import program
from generator.cache.store import Store
from generator.evidence.verdict import Numbers
from generator.memory import Memory
from generator.quantities.units import disagreements
from generator.reading.fault import Fault
from generator.reading.folder import Found
from generator.records.checking import check_case
from generator.records.collect import FileRead, file_of
from generator.records.library import Case


class Remembered:
    """Reads and checks with a store at hand. What is kept is what would be made."""

    def __init__(self, store: Store) -> None:
        self._store = store

    def file(self, model: type[Any], name: str, file: Found) -> FileRead:
        """Read one file, or give what was read of it."""
        key = digest("file", program(), model.__name__, name, file.path, file.content)
        kept: FileRead | None = self._store.get(key)
        if kept is not None:
            return kept
        filed, faults = file_of(model, name, file)
        # A record of which fields were left out has nodes that do not follow from its text.
        if filed is not None and filed.is_complete:
            self._store.put(key, (filed, faults))
        return filed, faults

    def faults(self, case: Case) -> tuple[Fault, ...]:
        """Say what the rules say of a setup on its chassis."""
        sheet = case.chassis
        if not case.setup.is_complete or (sheet and not sheet.is_complete):
            return check_case(case)
        beside = (sheet.id, sheet.source.text) if sheet else ("", "")
        own = (case.setup.id, case.setup.source.path, case.setup.source.text)
        key = digest("case", program(), *own, *beside)
        kept: tuple[Fault, ...] | None = self._store.get(key)
        if kept is None:
            kept = check_case(case)
            self._store.put(key, kept)
        return kept

    def disagreements(self) -> tuple[str, ...]:
        """Name the units whose factors are not those of pint: asked once of a program."""
        key = digest("units", program())
        if self._store.get(key) is not None:
            return ()
        found = tuple(disagreements())
        if not found:
            self._store.put(key, True)
        return found


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
