"""Which limits moved, which came to be known, and which records moved them.

A limit is the correction that the next car of a chassis brings to a computed gap: positive where
there is more room than the sheet says.
"""

from collections.abc import Iterator

from generator.evidence.club import ChassisEvidence
from generator.evidence.confidence import LimitFlag, limit_confidence
from generator.evidence.distribution import Range
from generator.evidence.entries import SiteKey
from generator.evidence.limits import SitePosterior
from generator.evidence.observation import Origin
from generator.frozen import dataclass
from generator.quantities.units import Mm
from generator.review.edition import Edition

SHOWN: Mm = 0.1
"""Limits are shown to this step; a smaller move changes no number that a reader sees."""

LITTLE: Mm = 1.0
"""A move below the division of a steel rule: a report counts such moves and lists the others."""


@dataclass(frozen=True)
class LimitMove:
    """One limit before and after; None where the sheet had no such site.

    `causes` are the ids of the records that moved it; `by_sheet` where the chassis sheet changed.
    """

    chassis: str
    key: SiteKey
    label: str
    old: Range | None
    new: Range | None
    old_flag: LimitFlag
    new_flag: LimitFlag
    causes: tuple[str, ...]
    by_sheet: bool

    @property
    def shift(self) -> Mm:
        """How far the middle moved; 0 where there is no before or no after."""
        return self.new.median - self.old.median if self.old and self.new else 0.0

    @property
    def size(self) -> Mm:
        """How much of the limit is new to a reader: the largest move of its three numbers."""
        if self.old is None or self.new is None:
            return float("inf")
        pairs = zip(_three(self.old), _three(self.new), strict=True)
        return max(abs(after - before) for before, after in pairs)

    @property
    def is_large(self) -> bool:
        """Whether it is worth a line of its own: by its size, or because its flag changed."""
        return self.size >= LITTLE or self.old_flag is not self.new_flag


@dataclass(frozen=True)
class Coverage:
    """A site that has its first record, or has lost its last one."""

    chassis: str
    axle: str
    label: str
    is_gained: bool
    records: tuple[str, ...]


def limit_moves(old: Edition, new: Edition) -> tuple[LimitMove, ...]:
    """Give the limits that moved by what a reader can see, the largest move first."""
    found = [
        move
        for chassis in sorted(_chassis(old) | _chassis(new))
        for move in _moves(chassis, old, new)
    ]
    return tuple(sorted(found, key=lambda each: (-each.size, each.chassis, each.key.order)))


def coverage(old: Edition, new: Edition) -> tuple[Coverage, ...]:
    """Give the sites that have a record now and had none, and the reverse."""
    found = []
    for chassis in sorted(_chassis(old) | _chassis(new)):
        before, after = _covered(old, chassis), _covered(new, chassis)
        for site in sorted(set(before) ^ set(after)):
            is_gained = site in after
            records = (after if is_gained else before)[site]
            label = _label(new, old, chassis, site)
            found.append(Coverage(chassis, site[0], label, is_gained, records))
    return tuple(found)


def _three(limits: Range) -> tuple[Mm, Mm, Mm]:
    return (limits.low, limits.median, limits.high)


def _chassis(edition: Edition) -> set[str]:
    return set(edition.guide.evidence) if edition.guide else set()


def _evidence(edition: Edition, chassis: str) -> ChassisEvidence | None:
    return edition.guide.evidence.get(chassis) if edition.guide else None


def _moves(chassis: str, old: Edition, new: Edition) -> Iterator[LimitMove]:
    before, after = _evidence(old, chassis), _evidence(new, chassis)
    keys = {key for each in (before, after) if each for key in each.limits}
    by_sheet = _sheet(old, chassis) != _sheet(new, chassis)
    for key in sorted(keys, key=lambda each: each.order):
        first, second = _posterior(before, key), _posterior(after, key)
        move = LimitMove(
            chassis=chassis,
            key=key,
            label=_label(new, old, chassis, (key.axle.value, key.site)),
            old=first.limits if first else None,
            new=second.limits if second else None,
            old_flag=_flag(first),
            new_flag=_flag(second),
            causes=_causes(before, after, key),
            by_sheet=by_sheet,
        )
        if _is_seen(move):
            yield move


def _posterior(evidence: ChassisEvidence | None, key: SiteKey) -> SitePosterior | None:
    if evidence is None:
        return None
    is_known = key in evidence.limits or f"{key.axle.value}.{key.site}" in evidence.sheet_alone
    return evidence.posterior(key) if is_known else None


def _flag(posterior: SitePosterior | None) -> LimitFlag:
    return limit_confidence(posterior).flag if posterior else LimitFlag.UNKNOWN


def _is_seen(move: LimitMove) -> bool:
    if move.old is None or move.new is None:
        return move.old is not move.new
    steps = [[round(each / SHOWN) for each in _three(limits)] for limits in (move.old, move.new)]
    return steps[0] != steps[1] or move.old_flag is not move.new_flag


def _causes(
    first: ChassisEvidence | None, second: ChassisEvidence | None, key: SiteKey
) -> tuple[str, ...]:
    """Name the records that say something else of a limit than before."""
    before, after = _statements(first, key), _statements(second, key)
    names = before.keys() | after.keys()
    return tuple(sorted(name for name in names if before.get(name) != after.get(name)))


def _statements(
    evidence: ChassisEvidence | None, key: SiteKey
) -> dict[str, tuple[tuple[Origin, Mm, Mm, Mm], ...]]:
    limit = evidence.limits.get(key) if evidence else None
    found: dict[str, list[tuple[Origin, Mm, Mm, Mm]]] = {}
    for weighed in limit.weighed if limit else ():
        found.setdefault(weighed.entry.record, []).append(weighed.entry.observation.sort_key)
    return {name: tuple(sorted(said)) for name, said in found.items()}


def _sheet(edition: Edition, chassis: str) -> str:
    filed = edition.guide.library.chassis.get(chassis) if edition.guide else None
    return filed.source.text if filed else ""


def _covered(edition: Edition, chassis: str) -> dict[tuple[str, str], tuple[str, ...]]:
    evidence = _evidence(edition, chassis)
    found: dict[tuple[str, str], set[str]] = {}
    for key, limit in evidence.limits.items() if evidence else ():
        if limit.posterior.records:
            site = (key.axle.value, key.site)
            found.setdefault(site, set()).update(limit.posterior.records)
    return {site: tuple(sorted(records)) for site, records in found.items()}


def _label(new: Edition, old: Edition, chassis: str, site: tuple[str, str]) -> str:
    for edition in (new, old):
        sheet = edition.guide.library.chassis.get(chassis) if edition.guide else None
        for each in sheet.value.sites if sheet else ():
            if (each.axle.value, each.name) == site:
                return each.label
    return site[1]
