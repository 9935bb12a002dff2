"""One state of the records: its files, its faults, and the guide that follows from it."""

from collections.abc import Mapping

from generator.frozen import dataclass
from generator.reading.fault import Fault, Severity
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.site.guide import Guide
from generator.site.planned import Planned


@dataclass(frozen=True)
class Edition:
    """A state of the content folder. `guide` is None where nothing can be computed.

    `name` is how the state is called in a report, `texts` holds the bytes of each file by path.
    """

    name: str
    texts: Mapping[str, bytes]
    faults: tuple[Fault, ...]
    guide: Guide | None
    pages: Planned

    def setups(self) -> Mapping[str, Filed[Setup]]:
        """Give the setups that could be used, by id."""
        return self.guide.library.setups if self.guide else {}

    def errors(self) -> tuple[Fault, ...]:
        """Give the faults that keep the guide from being published."""
        return tuple(fault for fault in self.faults if fault.severity is Severity.ERROR)


def setup_id(path: str) -> str | None:
    """Give the id of the setup in a file; None for other files.

    >>> setup_id("setups/ostvane-meridel/first-try.yaml")
    'ostvane-meridel/first-try'
    """
    parts = path.split("/")
    if parts[0] != "setups" or len(parts) != 3 or not path.endswith(".yaml"):
        return None
    return path.removeprefix("setups/").removesuffix(".yaml")
