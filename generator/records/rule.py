"""A rule that looks across fields or files: what it says of itself, and how it speaks up."""

from dataclasses import replace
from typing import TypeVar

from generator.frozen import dataclass
from generator.reading.fault import Fault, Mark, Place, Severity
from generator.reading.fields import Model
from generator.records.library import Filed

Kind = TypeVar("Kind", bound=Model)


@dataclass(frozen=True)
class Rule:
    """One rule: its code, its texts, and an example that breaks it and one that keeps it.

    `bad` and `good` are YAML laid over the sample records: groups `setup`, `other` (a second
    setup), `chassis`, `other chassis` and `club`, each with only the fields that matter; `left out`
    removes a field, or a file; `photos` lists the photos that lie beside them.
    `is_live` is true where the rule needs nothing but the record and its chassis sheet, so that a
    form can apply it while a member types. `asks`: it asks for what was left out, and contradicts
    nothing that was said.
    """

    code: str
    title: str
    severity: Severity
    why: str
    mend: str
    source: str
    bad: str
    good: str
    is_live: bool = True
    asks: bool = False

    def fault(
        self,
        place: Place,
        headline: str,
        *,
        expected: str = "",
        fix: str = "",
        also: tuple[Mark, ...] = (),
    ) -> Fault:
        """Speak up at a place."""
        why = f"{self.why.split('. ', maxsplit=1)[0].rstrip('.')} [{self.source}]"
        return Fault(self.code, self.severity, headline, place, expected, why, fix, also, self.asks)

    def warning(self, fault: Fault) -> Fault:
        """Give the same fault as a warning: where the rule is broken a little."""
        return replace(fault, severity=Severity.WARNING)

    def note(self, fault: Fault) -> Fault:
        """Give the same fault as a note: where there is something to know and nothing wrong."""
        return replace(fault, severity=Severity.NOTE)


def marked(filed: Filed[Kind], label: str, *route: str | int) -> Mark:
    """Make a second mark at a value of a file."""
    return Mark(filed.place(*route), label)
