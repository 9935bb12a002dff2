"""A fault: what an author's mistake is, where, why it matters and what to type. A value."""

from enum import Enum

from generator.frozen import dataclass


class Severity(Enum):
    """How much a fault matters: an error stops the build, a warning asks, a note only tells."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"

    @property
    def rank(self) -> int:
        """Order of gravity, gravest first."""
        return list(Severity).index(self)


@dataclass(frozen=True, order=True)
class Place:
    """Where in a file: lines and columns count from 1, the end column is the first one after."""

    path: str
    line: int = 1
    column: int = 1
    end_line: int = 1
    end_column: int = 1
    excerpt: str = ""
    """The text of the first line, for the caret line; empty where the file cannot be shown."""


@dataclass(frozen=True)
class Mark:
    """A second place that a fault speaks of, with a word on it."""

    place: Place
    label: str


@dataclass(frozen=True)
class Fault:
    """One mistake of an author, placed and explained.

    `asks`: it asks for what was left out, and contradicts nothing that was said.
    """

    code: str
    severity: Severity
    headline: str
    place: Place
    expected: str = ""
    why: str = ""
    fix: str = ""
    also: tuple[Mark, ...] = ()
    asks: bool = False

    @property
    def order(self) -> tuple[str, int, int, int, str, str]:
        """Sort key: by file, line, column, gravity, code."""
        where = self.place
        rank = self.severity.rank
        return (where.path, where.line, where.column, rank, self.code, self.headline)


def has_error(faults: "tuple[Fault, ...] | list[Fault]") -> bool:
    """Tell whether any fault is an error."""
    return any(fault.severity is Severity.ERROR for fault in faults)
