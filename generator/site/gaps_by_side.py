"""The gaps of a record for paper: each site and position once, left beside right."""

from generator.frozen import dataclass
from generator.records.words import Side
from generator.site.facts import Shown, words
from generator.site.gaps_shown import GapRow, SideGap

_LEFT, _RIGHT = Side.LEFT.value, Side.RIGHT.value
NOT_LOOKED_AT = words("not looked at")


@dataclass(frozen=True)
class SidedRow:
    """A site in one position; `found` has each word, with the sides it is of where they differ."""

    label: str
    state: str
    left: Shown
    right: Shown
    wanted: Shown
    found: tuple[tuple[str, str], ...]


def by_side(rows: tuple[GapRow, ...]) -> tuple[SidedRow, ...]:
    """Lay rows together whose sides were looked at apart, such as with two tools."""
    groups: list[list[GapRow]] = []
    for row in rows:
        group = next((each for each in groups if _fits(each, row)), None)
        if group is None:
            groups.append([row])
        else:
            group.append(row)
    return tuple(_row(group) for group in groups)


def _fits(group: list[GapRow], row: GapRow) -> bool:
    first = group[0]
    is_same = (first.axle, first.label, first.state) == (row.axle, row.label, row.state)
    return is_same and not _sides(row) & frozenset().union(*map(_sides, group))


def _sides(row: GapRow) -> frozenset[str]:
    return frozenset(side for each in row.reported for side in _sides_of(each))


def _sides_of(gap: SideGap) -> tuple[str, ...]:
    return (_LEFT, _RIGHT) if gap.side == Side.BOTH.value else (gap.side,)


def _row(group: list[GapRow]) -> SidedRow:
    first = group[0]
    found = {side: each for row in group for each in row.reported for side in _sides_of(each)}
    nothing = words(f"{first.only} only") if first.only else NOT_LOOKED_AT
    told = {side: found[side].word for side in (_LEFT, _RIGHT) if side in found}
    same = tuple(dict.fromkeys(told.values()))
    return SidedRow(
        label=first.label,
        state=first.state,
        left=found[_LEFT].shown if _LEFT in found else nothing,
        right=found[_RIGHT].shown if _RIGHT in found else nothing,
        wanted=first.wanted,
        found=((same[0], ""),) if len(same) == 1 else tuple((told[side], side) for side in told),
    )
