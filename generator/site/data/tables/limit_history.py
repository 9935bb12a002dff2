"""When each limit can have moved: the commits that touched a record it rests on, or its sheet."""

from collections.abc import Iterator

from generator.frozen import dataclass
from generator.reading.history import Change
from generator.records.library import sheet_path
from generator.site.data.columns import Column, Kind, Table
from generator.site.data.tables import limits
from generator.site.data.tables.limits import LimitRow
from generator.site.guide import Guide


@dataclass(frozen=True)
class LimitHistoryRow:
    """One limit with its commits, the newest first; none where git knows nothing."""

    limit: LimitRow
    mode: str
    changes: tuple[Change, ...]


def rows(guide: Guide) -> Iterator[LimitHistoryRow]:
    """Give all limits, in the order of the limits table."""
    for limit in limits.rows(guide):
        records = (f"setups/{each}.yaml" for each in limit.posterior.records)
        found: dict[str, Change] = {}
        for path in (sheet_path(limit.chassis), *records):
            file = guide.history.of(path)
            found |= {change.commit: change for change in file.changes} if file else {}
        newest = sorted(sorted(found.values(), key=_commit), key=_day, reverse=True)
        yield LimitHistoryRow(limit, guide.history.told, tuple(newest))


def _commit(change: Change) -> str:
    return change.commit


def _day(change: Change) -> str:
    return change.day.isoformat()


TABLE = Table(
    name="limit_history",
    title="History of limits",
    row="one limit, with the commits that can have moved it",
    key=("chassis", "axle", "site", "side", "condition"),
    columns=(
        Column("chassis", Kind.TEXT, "id of the chassis sheet", "ostvane-meridel",
               lambda row: row.limit.chassis, may_lack=False),
        Column("axle", Kind.TEXT, "end of the car", "front",
               lambda row: row.limit.site.axle.value, may_lack=False),
        Column("site", Kind.TEXT, "short name of the site", "strut-tube",
               lambda row: row.limit.site.name, may_lack=False),
        Column("side", Kind.TEXT, "side; both where there is no record yet", "left",
               lambda row: row.limit.side.value, may_lack=False),
        Column("condition", Kind.TEXT, "state the site is in", "stock",
               lambda row: row.limit.condition.value, may_lack=False),
        Column("mode", Kind.TEXT, "where the history is from, or why there is none",
               "from the git repository of the records", lambda row: row.mode, may_lack=False),
        Column("first", Kind.DAY, "day of the first commit to the sheet or a record of it, UTC",
               "2025-06-15", lambda row: row.changes[-1].day if row.changes else None),
        Column("last", Kind.DAY, "day of the last such commit, UTC", "2025-08-21",
               lambda row: row.changes[0].day if row.changes else None),
        Column("commits", Kind.TEXTS, "all such commits, the newest first", "9c02; 4f1d",
               lambda row: tuple(change.commit for change in row.changes), may_lack=False),
    ),
    rows=rows,
    depends_on_git=True,
)  # fmt: skip
