"""What a maintainer is to do with a change, and why: the first lines of a report."""

from collections import Counter
from collections.abc import Iterable, Iterator
from enum import Enum

from generator.frozen import dataclass
from generator.quantities.units import Mm
from generator.reading.fault import Severity
from generator.records.names import named_list
from generator.review.edition import setup_id
from generator.review.figures import both
from generator.review.movement import LimitMove
from generator.review.review import Review
from generator.review.standing import Doubt

_MOST_PLACES = 4
_MOST_ASKS = 4
_WORSE: Mm = 1.0
"""How much further from its sheet a limit must come to lie for the new sheet to be asked about."""


class Call(Enum):
    """What to do; the gravest first."""

    MEND = "Not yet: errors have to be mended first"
    ASK = "Ask the member before merging"
    LOOK = "Look at this before merging"
    MERGE = "Nothing speaks against merging"


_ORDER = tuple(Call)


@dataclass(frozen=True)
class Decision:
    """What to do, the reasons for it with the gravest first, and what to ask the member first.

    Members' words come in the texts as written: who shows them escapes them.
    """

    call: Call
    reasons: tuple[str, ...]
    asks: tuple[str, ...]


def decision(review: Review) -> Decision:
    """Judge a review by what a reader of the guide would be told wrongly if it were merged."""
    found = sorted(_reasons(review), key=lambda each: _ORDER.index(each[0]))
    call = found[0][0] if found else Call.MERGE
    told = tuple(text for _, text in found)
    asks = tuple(_asks(review)) if call is Call.ASK else ()
    return Decision(call, (*told, *_borne_out(review), *_nothing(review, told)), asks)


def _reasons(review: Review) -> Iterator[tuple[Call, str]]:
    if review.errors:
        count = len(review.errors)
        yield Call.MEND, f"{_count(count, 'error')}, told below with what to type instead"
    if review.outside:
        files = _count(len(review.outside), "file")
        yield Call.LOOK, f"{files} outside of the records: read as code, by who may change code"
    yield from _doubts(review)
    yield from _sheets(review)
    yield from _verdicts(review)
    yield from _copies(review)
    warnings = [fault for fault in review.remarks if fault.severity is Severity.WARNING]
    if warnings:
        first = f"{warnings[0].place.path} line {warnings[0].place.line}"
        yield Call.ASK, f"{_count(len(warnings), 'warning')} of the rules, the first at {first}"


def _doubts(review: Review) -> Iterator[tuple[Call, str]]:
    changed = {setup_id(each.path) for each in review.files}
    for setup in dict.fromkeys(each.setup for each in review.doubts if each.is_new):
        entries = [each for each in review.doubts if each.is_new and each.setup == setup]
        most = both(max(abs(each.off_by) for each in entries))
        where = _places(entries)
        if setup in changed:
            yield Call.ASK, f"{setup} disagrees with the other records by up to {most}, at {where}"
        else:
            yield (
                Call.LOOK,
                f"{setup}, which is published, would look wrong by up to {most}, at {where}",
            )


def _copies(review: Review) -> Iterator[tuple[Call, str]]:
    """Name the record that a new one is most like, and count the others."""
    counts = Counter(each.setup for each in review.duplicates)
    for setup, count in counts.items():
        first = next(each for each in review.duplicates if each.setup == setup)
        car = "the same car" if first.same_car else "another car"
        more = f" and {_count(count - 1, 'more record')}" if count > 1 else ""
        yield (
            Call.ASK,
            f"{setup} says nearly the same as {first.other}, of {car}{more}: sent twice?",
        )


def _sheets(review: Review) -> Iterator[tuple[Call, str]]:
    sheets = [each.path for each in review.files if each.path.startswith("chassis/")]
    if sheets and review.recomputed:
        records = _count(len(review.recomputed), "record")
        yield (
            Call.ASK,
            f"{records} computed anew from a changed sheet: ask where its figures are from",
        )
    worse = [move for move in review.limits if move.by_sheet and _fits_worse(move)]
    if worse:
        first = worse[0]
        assert first.old is not None
        assert first.new is not None
        before, after = (both(each.median, is_signed=True) for each in (first.old, first.new))
        yield (
            Call.ASK,
            f"the records fit the changed sheet worse than before at {_of_limits(worse)}: they "
            f"found {before} of room beyond the old sheet, and {after} beyond the new one",
        )


def _fits_worse(move: LimitMove) -> bool:
    if move.old is None or move.new is None or not move.causes:
        return False
    return abs(move.new.median) - abs(move.old.median) >= _WORSE


def _verdicts(review: Review) -> Iterator[tuple[Call, str]]:
    graver = [flip for flip in review.flips if flip.is_worse]
    if graver:
        first = graver[0]
        where = f" at {first.label} ({first.axle}, {first.side})" if first.label else ""
        told = f"the first: {first.setup}{where}, from {first.old} to {first.new}"
        count = _count(len(graver), "verdict")
        yield Call.LOOK, f"{count} graver than before, rightly if the change is right; {told}"
    for each in review.flags:
        if each.is_lower:
            flags = f"{each.old.value} before and {each.new.value} now"
            yield Call.LOOK, f"{each.setup} is {flags}: {each.reason}"
    lost = [each for each in review.coverage if not each.is_gained]
    if lost:
        yield Call.LOOK, f"{_count(len(lost), 'site')} without any record any more"


def _borne_out(review: Review) -> Iterator[str]:
    """Say how new and changed records stand beside the others, whatever is to be done."""
    for each in review.files:
        if each.compared:
            fit = len([gap for gap in each.compared if gap.is_expected])
            yield (
                f"{setup_id(each.path)}: {fit} of {_count(len(each.compared), 'gap')} that others "
                "speak of too lie where those expect them"
            )


def _nothing(review: Review, told: tuple[str, ...]) -> Iterator[str]:
    if not review.changes_numbers:
        yield "no published number changes"
    elif not told:
        yield "no error, no doubt, and no verdict graver than before"


def _asks(review: Review) -> Iterator[str]:
    asked = [(setup_id(each.path), ask) for each in review.files for ask in each.asks[:3]]
    for setup, ask in asked[:_MOST_ASKS]:
        yield f"{setup}: {ask}"


def _places(entries: Iterable[Doubt]) -> str:
    return _joined((each.label, each.axle, each.side) for each in entries)


def _of_limits(moves: Iterable[LimitMove]) -> str:
    return _joined((each.label, each.key.axle.value, each.key.side.value) for each in moves)


def _joined(places: Iterable[tuple[str, str, str]]) -> str:
    """Name places of a car, both sides of one together; a long list is cut with its count."""
    sides: dict[tuple[str, str], list[str]] = {}
    for label, axle, side in places:
        sides.setdefault((label, axle), []).append(side)
    told = [
        f"{label} ({axle}, {' and '.join(dict.fromkeys(names))})"
        for (label, axle), names in sides.items()
    ]
    more = [f"{len(told) - _MOST_PLACES} more"] if len(told) > _MOST_PLACES else []
    return named_list([*told[:_MOST_PLACES], *more])


def _count(count: int, noun: str) -> str:
    return f"{count} {noun}{'' if count == 1 else 's'}"
