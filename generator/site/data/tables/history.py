"""When each file of the content was added and last changed, as git tells."""

from collections.abc import Iterator

from generator.frozen import dataclass
from generator.reading.history import FileHistory
from generator.site.data.columns import Column, Kind, Table
from generator.site.guide import Guide


@dataclass(frozen=True)
class HistoryRow:
    """One file of the content; without history where none is known."""

    path: str
    mode: str
    history: FileHistory | None


def rows(guide: Guide) -> Iterator[HistoryRow]:
    """Give all files, in order of path."""
    for each in sorted(guide.inputs, key=lambda found: found.path):
        yield HistoryRow(each.path, guide.history.told, guide.history.of(each.path))


TABLE = Table(
    name="history",
    title="History",
    row="one file of the content",
    key=("path",),
    columns=(
        Column("path", Kind.TEXT, "path below the content folder",
               "setups/ostvane-meridel/first-try.yaml", lambda row: row.path, may_lack=False),
        Column("mode", Kind.TEXT, "where the history is from, or why there is none",
               "from the git repository of the records", lambda row: row.mode, may_lack=False),
        Column("added", Kind.DAY, "day of the commit that added the file, UTC", "2025-06-15",
               lambda row: row.history.first.day if row.history else None),
        Column("added_commit", Kind.TEXT, "that commit", "4f1d", lambda row: (
            row.history.first.commit if row.history else None)),
        Column("changed", Kind.DAY, "day of the last commit that changed it, UTC", "2025-08-21",
               lambda row: row.history.last.day if row.history else None),
        Column("changed_commit", Kind.TEXT, "that commit", "9c02", lambda row: (
            row.history.last.commit if row.history else None)),
        Column("changes", Kind.COUNT, "commits that touched it", "2",
               lambda row: len(row.history.changes) if row.history else None),
        Column("is_committed", Kind.YES, "whether the file is that of the last commit", "yes",
               lambda row: row.history.is_committed if row.history else None),
    ),
    rows=rows,
    depends_on_git=True,
    by_chassis=False,
)  # fmt: skip
