"""One member's alias is spelled in two ways."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Mark, Severity
from generator.records.library import Filed, Library
from generator.records.names import folded
from generator.records.rule import Rule
from generator.records.setup import Setup

RULE = Rule(
    code="L09",
    title="an alias spelled in two ways",
    severity=Severity.WARNING,
    why="Aliases that differ only in case, blanks or hyphens look like one member and would be "
    "counted as two. Whether a second person agrees decides how far a record is trusted.",
    mend="Spell the alias alike everywhere; two members need two names.",
    source="Unicode NFKC and case folding",
    bad="other: {member: copper-bill}",
    good="other: {member: Fernhollow}",
    is_live=False,
)


def ties(library: Library) -> Iterator[tuple[str, str]]:
    """Give each alias as it counts and as it is spelled."""
    for setup in library.setups.values():
        yield from ((folded(alias), alias) for alias, _ in aliases(setup))


def check_library(library: Library) -> Iterator[Fault]:
    """Compare all aliases of all records."""
    first: dict[str, tuple[str, Filed[Setup], tuple[str | int, ...]]] = {}
    for setup in library.setups.values():
        for alias, route in aliases(setup):
            spelled, where, there = first.setdefault(folded(alias), (alias, setup, route))
            if spelled != alias:
                mark = Mark(where.place(*there), "spelled here")
                yield RULE.fault(
                    setup.place(*route),
                    f"`{alias}` is spelled `{spelled}` elsewhere",
                    expected=f"`{spelled}`, or a name that differs",
                    fix=f"write `{spelled}` if it is the same member",
                    also=(mark,),
                )


def aliases(setup: Filed[Setup]) -> Iterator[tuple[str, tuple[str | int, ...]]]:
    """Give the aliases of a record, each with its place."""
    value = setup.value
    yield value.member, ("member",)
    if value.method.witness is not None:
        yield value.method.witness, ("method", "witness")
    for index, confirmation in enumerate(value.confirmations):
        yield confirmation.member, ("confirmations", index, "member")
    for index, correction in enumerate(value.corrections):
        if correction.by is not None:
            yield correction.by, ("corrections", index, "by")
    for index, dispute in enumerate(value.disputes):
        yield dispute.member, ("disputes", index, "member")
