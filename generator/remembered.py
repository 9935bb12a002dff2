"""What was read of each file and ruled of each setup, kept on disk by the texts."""

from typing import Any

from generator.cache.digests import digest
from generator.cache.program import program
from generator.cache.store import Store
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
