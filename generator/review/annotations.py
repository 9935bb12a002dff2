"""Faults as marks on the lines of a pull request: the few that a forge shows, chosen well.

A forge shows ten of each gravity and does not say that there are more, so faults on lines that the
request changed come first. The report has them all.
"""

from dataclasses import replace

from generator.reading.fault import Fault, Place, Severity
from generator.reading.report import as_annotations
from generator.review.review import Review

MOST_OF_A_KIND = 10


def annotations(review: Review, prefix: str) -> str:
    """Write the marks, one a line. `prefix` leads from the repository's top to the records."""
    lines = {each.path: each.lines for each in review.files}
    found = []
    for severity in Severity:
        faults = [
            fault for fault in (*review.errors, *review.remarks) if fault.severity is severity
        ]
        ordered = sorted(faults, key=lambda fault: (not _is_on(fault.place, lines), fault.order))
        found += [_below(prefix, fault) for fault in ordered[:MOST_OF_A_KIND]]
    return "\n".join(as_annotations([fault]) for fault in found)


def _is_on(place: Place, lines: dict[str, tuple[tuple[int, int], ...]]) -> bool:
    return any(low <= place.line <= high for low, high in lines.get(place.path, ()))


def _below(prefix: str, fault: Fault) -> Fault:
    return replace(fault, place=replace(fault.place, path=f"{prefix}{fault.place.path}"))
