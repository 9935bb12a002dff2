"""Every computed number of every setup, by its stable name: what `gapbook assess` shows."""

from collections.abc import Iterator, Mapping

from generator.assessment.numbers import Named, numbers
from generator.frozen import dataclass
from generator.quantities.estimate import Basis
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.site.data.columns import Column, Kind, Table, estimate_columns
from generator.site.guide import Guide


@dataclass(frozen=True)
class NumberRow:
    """One number of one setup."""

    setup: str
    named: Named


def rows(guide: Guide) -> Iterator[NumberRow]:
    """Give all numbers, in order of setup, then in reading order."""
    for name in sorted(guide.assessments):
        yield from rows_of(guide, name, {})


def rows_of(guide: Guide, name: str, replaced: Mapping[str, Filed[Setup]]) -> Iterator[NumberRow]:
    """Give the numbers of one setup; they are the same whether or not it was replaced."""
    del replaced
    if name in guide.assessments:
        yield from (NumberRow(name, named) for named in numbers(guide.assessments[name]))


TABLE = Table(
    name="numbers",
    title="Computed numbers",
    row="one computed number of one setup",
    key=("setup", "name"),
    columns=(
        Column("setup", Kind.TEXT, "id of the setup", "ostvane-meridel/first-try",
               lambda row: row.setup, may_lack=False),
        Column("name", Kind.TEXT, "stable name, end of the car first", "front.fitted.wheel.offset",
               lambda row: row.named.name, may_lack=False),
        Column("label", Kind.TEXT, "what it is, for people", "offset",
               lambda row: row.named.label, may_lack=False),
        Column("unit", Kind.TEXT, "unit of value and uncertainty", "mm",
               lambda row: row.named.unit, may_lack=False),
        *estimate_columns("value", "the number; empty if it is not known",
                          lambda row: row.named.estimate, example="21.5", unit="as in unit"),
        Column("basis", Kind.TEXT, "weakest ground it stands on", "measured",
               lambda row: row.named.estimate.basis.value if row.named.estimate else None,
               choices=tuple(basis.value for basis in Basis)),
        Column("remark", Kind.TEXT, "why a number is not known", "the chassis sheet gives no place",
               lambda row: row.named.remark, may_lack=False),
    ),
    rows=rows,
    rows_of=rows_of,
    endings=("csv",),
)  # fmt: skip
