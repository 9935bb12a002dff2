"""A member confirms a record of their own."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Case
from generator.records.names import folded
from generator.records.rule import Rule, marked

RULE = Rule(
    code="L19",
    title="a confirmation of one's own record",
    severity=Severity.WARNING,
    why="A confirmation counts because somebody else looked. One by the record's own member is "
    "left out of the count.",
    mend="Ask another member to look, or file your second measurement as a record of its own.",
    source="own rule of the guide",
    bad="setup: {confirmations: [{member: Copperbill, date: 2025-07-02,"
    " how: measured the same car}]}",
    good="setup: {confirmations: [{member: Fernhollow, date: 2025-07-02,"
    " how: measured the same car}]}",
)


def check(case: Case) -> Iterator[Fault]:
    """Compare each confirming member with the one who reports."""
    for index, confirmation in enumerate(case.setup.value.confirmations):
        if folded(confirmation.member) == folded(case.setup.value.member):
            yield RULE.fault(
                case.setup.place("confirmations", index, "member"),
                f"`{confirmation.member}` confirms a record of `{case.setup.value.member}`",
                expected="another member",
                fix="leave this confirmation out",
                also=(marked(case.setup, "who reports", "member"),),
            )
