"""More than one spacer at a wheel."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Case
from generator.records.rule import Rule

RULE = Rule(
    code="R45",
    title="spacers on top of one another",
    severity=Severity.WARNING,
    why="Each joint between two pieces settles and slips, and only the first is held by the hub's "
    "pilot. The thickness must be that of all pieces together.",
    mend="Use one full-face spacer of the thickness that is needed; check that the number written "
    "is the sum.",
    source="common practice",
    bad="setup: {front: {spacer: {thickness: 5 mm, kind: slip-on, count: 2}}}",
    good="setup: {front: {spacer: {thickness: 5 mm, kind: slip-on, count: 1}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Count the spacers of both ends."""
    for axle, fitted, _ in case.axles():
        spacer = fitted.spacer
        if spacer is None or spacer.count is None or spacer.count < 2:
            continue
        yield RULE.fault(
            case.setup.place(axle.value, "spacer", "count"),
            f"{spacer.count} spacers make {spacer.thickness.typed}",
            expected="one spacer at each wheel",
            fix=f"use one spacer of {spacer.thickness.typed}, if that is their sum",
        )
