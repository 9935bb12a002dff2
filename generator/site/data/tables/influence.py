"""What each entry of each record does to the limit it speaks of, and whether it looks wrong."""

from collections.abc import Iterator

from generator.assessment.sites import Condition
from generator.evidence.club import Weighed
from generator.evidence.observation import Kind as Statement
from generator.frozen import dataclass
from generator.records.words import Axle, Side
from generator.site.data.columns import Column, Kind, Table
from generator.site.guide import Guide


@dataclass(frozen=True)
class InfluenceRow:
    """One entry of one record, counted from 1 among those of its limit."""

    chassis: str
    number: int
    weighed: Weighed


def rows(guide: Guide) -> Iterator[InfluenceRow]:
    """Give all entries, in order of chassis, limit and the entries' own order."""
    for name in sorted(guide.evidence):
        limits = guide.evidence[name].limits
        for key in sorted(limits, key=lambda each: each.order):
            for number, weighed in enumerate(limits[key].weighed, 1):
                yield InfluenceRow(name, number, weighed)


TABLE = Table(
    name="influence",
    title="Influence",
    row="one entry of one record about one limit",
    key=("chassis", "axle", "site", "side", "condition", "number"),
    columns=(
        Column("chassis", Kind.TEXT, "id of the chassis sheet", "ostvane-meridel",
               lambda row: row.chassis, may_lack=False),
        Column("axle", Kind.TEXT, "end of the car", "front",
               lambda row: row.weighed.entry.key.axle.value,
               choices=tuple(axle.value for axle in Axle), may_lack=False),
        Column("site", Kind.TEXT, "short name of the site", "strut-tube",
               lambda row: row.weighed.entry.key.site, may_lack=False),
        Column("side", Kind.TEXT, "side of the car", "left",
               lambda row: row.weighed.entry.key.side.value,
               choices=tuple(side.value for side in Side), may_lack=False),
        Column("condition", Kind.TEXT, "state the site is in", "stock",
               lambda row: row.weighed.entry.key.condition.value,
               choices=tuple(condition.value for condition in Condition), may_lack=False),
        Column("number", Kind.COUNT, "number of the entry among those of its limit", "1",
               lambda row: row.number, may_lack=False),
        Column("record", Kind.TEXT, "id of the setup that says it", "ostvane-meridel/first-try",
               lambda row: row.weighed.entry.record, may_lack=False),
        Column("says", Kind.TEXT, "form of the statement", "measured",
               lambda row: row.weighed.influence.observation.kind.value,
               choices=tuple(kind.value for kind in Statement), may_lack=False),
        Column("without_low", Kind.NUMBER, "5 % point of the next car's correction without this "
               "record", "-4.4", lambda row: row.weighed.influence.without.low, "mm",
               may_lack=False),
        Column("without_median", Kind.NUMBER, "its median without this record", "1.1",
               lambda row: row.weighed.influence.without.median, "mm", may_lack=False),
        Column("without_high", Kind.NUMBER, "its 95 % point without this record", "7.0",
               lambda row: row.weighed.influence.without.high, "mm", may_lack=False),
        Column("wrong", Kind.NUMBER, "probability that the entry is wrong, all others considered",
               "0.02", lambda row: row.weighed.influence.wrong, "1", may_lack=False),
        Column("off_by", Kind.NUMBER, "how far it lies from what the others say", "0.8",
               lambda row: row.weighed.influence.off_by, "mm", may_lack=False),
    ),
    rows=rows,
)  # fmt: skip
