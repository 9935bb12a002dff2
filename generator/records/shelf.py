"""Setups by id, each read when somebody asks for it; what every build asks of each stands beside.

A large club's build looks at the few records that changed, and at the day, the chassis and the
photos of all others.
"""

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from typing import TypeVar

from generator.frozen import dataclass
from generator.records.setup import Setup

Value = TypeVar("Value")


@dataclass(frozen=True)
class Listed:
    """What is asked of a setup before it is read; `photos` are the names of their files."""

    chassis: str
    day: date
    photos: tuple[str, ...]


def listed(setup: Setup) -> Listed:
    """Say what is asked of a setup."""
    return Listed(setup.chassis, setup.date, tuple(photo.file for photo in setup.photos))


class Unread(Mapping[str, Value]):
    """Values by id, in the order of the ids. `read` gives the value of an id, and may hold it."""

    def __init__(self, ids: Mapping[str, object], read: Callable[[str], Value]) -> None:
        self._ids = ids
        self._read = read

    def __getitem__(self, name: str) -> Value:
        """Read a value."""
        if name not in self._ids:
            raise KeyError(name)
        return self._read(name)

    def __iter__(self) -> Iterator[str]:
        """Give the ids."""
        return iter(self._ids)

    def __len__(self) -> int:
        """Count the values without reading any."""
        return len(self._ids)

    def __contains__(self, name: object) -> bool:
        """Tell whether there is a value, without reading it."""
        return name in self._ids


class Shelf(Unread[Value]):
    """Setups by id, in a given order, with what is asked of each before it is read."""

    def __init__(self, known: Mapping[str, Listed], read: Callable[[str], Value]) -> None:
        super().__init__(known, read)
        self.listed = known
