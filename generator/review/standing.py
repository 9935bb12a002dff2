"""How far records are borne out: flags raised or lowered, records that became doubtful or not."""

from collections.abc import Mapping

from generator.evidence.club import Weighed
from generator.evidence.confidence import RecordConfidence, RecordFlag
from generator.frozen import dataclass
from generator.quantities.units import Mm
from generator.review.edition import Edition

_Entry = tuple[str, str, str, str]
_BEST = tuple(RecordFlag)


@dataclass(frozen=True)
class FlagMove:
    """A record's flag before and after, and the reason in words."""

    setup: str
    old: RecordFlag
    new: RecordFlag
    reason: str

    @property
    def is_lower(self) -> bool:
        """Whether the record is borne out less far than before."""
        return _BEST.index(self.new) > _BEST.index(self.old)


@dataclass(frozen=True)
class Doubt:
    """An entry that looks wrong beside the others, or no longer does.

    `expected_low` to `expected_high` is the gap that the other records expect at `pose`.
    """

    setup: str
    axle: str
    site: str
    label: str
    facing: str
    side: str
    is_new: bool
    off_by: Mm
    expected_low: Mm
    expected_high: Mm
    pose: str


def flag_moves(old: Edition, new: Edition) -> tuple[FlagMove, ...]:
    """Give the records whose flag changed, lowered ones first."""
    before, after = _confidence(old), _confidence(new)
    found = [
        FlagMove(name, before[name].flag, after[name].flag, _reason(before[name], after[name]))
        for name in sorted(before.keys() & after.keys())
        if before[name].flag is not after[name].flag
    ]
    return tuple(sorted(found, key=lambda each: (not each.is_lower, each.setup)))


def doubts(old: Edition, new: Edition) -> tuple[Doubt, ...]:
    """Give the entries that became doubtful, then those that ceased to be."""
    before, after = _doubtful(old), _doubtful(new)
    came = [_doubt(after[key], new, is_new=True) for key in sorted(after.keys() - before.keys())]
    gone = [_doubt(before[key], old, is_new=False) for key in sorted(before.keys() - after.keys())]
    still = [each for each in gone if each.setup in new.setups()]
    return (*came, *still)


def _confidence(edition: Edition) -> Mapping[str, RecordConfidence]:
    return edition.guide.confidence if edition.guide else {}


def _reason(before: RecordConfidence, after: RecordConfidence) -> str:
    """Say what differs: a condition that fails now, else one that holds now."""
    then = {reason.words for reason in before.reasons}
    fresh = [reason for reason in after.reasons if reason.words not in then]
    ordered = sorted(fresh, key=lambda reason: reason.holds)
    return ordered[0].words if ordered else "nothing speaks against it any more"


def _doubtful(edition: Edition) -> dict[_Entry, Weighed]:
    if edition.guide is None:
        return {}
    return {
        (weighed.entry.record, key.axle.value, key.site, key.side.value): weighed
        for evidence in edition.guide.evidence.values()
        for key, limit in evidence.limits.items()
        for weighed in limit.weighed
        if weighed.influence.doubtful
    }


def _doubt(weighed: Weighed, edition: Edition, *, is_new: bool) -> Doubt:
    key, computed = weighed.entry.key, weighed.entry.computed
    setup = edition.setups()[weighed.entry.record]
    evidence = edition.guide.evidence[setup.value.chassis] if edition.guide else None
    limit = evidence.limits.get(key) if evidence else None
    without = weighed.influence.without
    return Doubt(
        setup=weighed.entry.record,
        axle=key.axle.value,
        site=key.site,
        label=limit.site.label if limit else key.site,
        facing=limit.site.facing.value if limit else "",
        side=key.side.value,
        is_new=is_new,
        off_by=weighed.influence.off_by,
        expected_low=computed.gap.value + without.low,
        expected_high=computed.gap.value + without.high,
        pose=computed.words,
    )
