"""The gaps of a record in rows: each site and state once, with both sides in it."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

from generator.assessment.assess import Assessment
from generator.evidence.entries import computed_in
from generator.frozen import dataclass
from generator.records.library import Case
from generator.records.setup import Gap
from generator.records.site_sheet import SiteSheet
from generator.records.words import Axle, Side
from generator.site.facts import UNKNOWN, Shown, estimated, given, said, words
from generator.site.readings import TOUCHES, Reading, marks_at, named, readings, word_of

_CLEAR = "clears"
_SIDES = ("left", "right", "both")


@dataclass(frozen=True)
class SideGap:
    """A gap as reported on one side, and the word for it."""

    side: str
    shown: Shown
    word: str


@dataclass(frozen=True)
class SideComputed:
    """The gap computed for the same state; `side` is empty where it holds for all of the row."""

    side: str
    shown: Shown


@dataclass(frozen=True)
class GapRow:
    """A site in one state: as reported and as computed, each side where they differ.

    `asides` are the guide's words, `notes` the member's. `only` is the side of the car that has the
    site, where one alone has it.
    """

    axle: str
    label: str
    state: str
    reported: tuple[SideGap, ...]
    wanted: Shown
    computed: tuple[SideComputed, ...]
    tool: str
    asides: tuple[str, ...]
    notes: tuple[str, ...]
    caution: str
    only: str = ""


@dataclass(frozen=True)
class GapPart:
    """The rows of one end: what is not reported clear stands open, the rest may be folded."""

    axle: str
    open: tuple[GapRow, ...]
    clear: tuple[GapRow, ...]


def gap_parts(rows: tuple[GapRow, ...]) -> tuple[GapPart, ...]:
    """Part rows by end and by whether all that was reported in them is clear."""
    parts = []
    ends = (Axle.FRONT.value, Axle.REAR.value, "")
    for axle in (end for end in ends if any(row.axle == end for row in rows)):
        here = [row for row in rows if row.axle == axle]
        is_clear = [all(each.word == _CLEAR for each in row.reported) for row in here]
        parts.append(
            GapPart(
                axle=axle or "end not named",
                open=tuple(row for row, clear in zip(here, is_clear, strict=True) if not clear),
                clear=tuple(row for row, clear in zip(here, is_clear, strict=True) if clear),
            )
        )
    return tuple(parts)


def gap_rows(case: Case, computed: Assessment | None) -> tuple[GapRow, ...]:
    """Give the gaps of a record in its order; neighbours that differ by side alone share a row.

    Before them stand the marks of sides of which no gap says already that they touch.
    """
    return (*_marked(case), *_of_gaps(case, computed))


def _marked(case: Case) -> Iterator[GapRow]:
    said_to_touch = [
        (case.site(gap.site, gap.axle), gap.side)
        for gap in case.setup.value.gaps
        if word_of(case, gap) == TOUCHES
    ]
    for site in case.chassis.value.sites if case.chassis else ():
        told = {side for other, side in said_to_touch if other is site}
        told |= {Side.LEFT, Side.RIGHT} if Side.BOTH in told else set()
        told |= {Side.BOTH} if told >= {Side.LEFT, Side.RIGHT} else set()
        for rub in marks_at(case, site):
            if rub.side not in told:
                yield GapRow(
                    axle=site.axle.value,
                    label=named(site),
                    state="on the road",
                    reported=(SideGap(rub.side.value, words(TOUCHES), TOUCHES),),
                    wanted=given(site.wanted),
                    computed=(SideComputed("", UNKNOWN),),
                    tool=f"a mark of grade {rub.grade}",
                    asides=(),
                    notes=(),
                    caution=site.caution or "",
                    only=_only(site),
                )


def _of_gaps(case: Case, computed: Assessment | None) -> tuple[GapRow, ...]:
    pairs = zip(case.setup.value.gaps, readings(case), strict=True)
    together = groupby(pairs, key=lambda pair: _alike(pair[1]))
    return tuple(
        replace(row, only=_only(case.site(gap.site, gap.axle)))
        for _, group in together
        for row, gap in _rows(list(group), computed)
    )


def _only(site: SiteSheet | None) -> str:
    return site.only.value if site and site.only else ""


def _alike(reading: Reading) -> tuple[str, ...]:
    return (reading.axle, reading.label, reading.state, reading.tool)


_Pair = tuple[Gap, Reading]


def _rows(pairs: list[_Pair], computed: Assessment | None) -> Iterator[tuple[GapRow, Gap]]:
    """Give one row for readings of different sides; the same side told twice gets rows apart.

    Each comes with one of its gaps.
    """
    sides = [reading.side for _, reading in pairs]
    if len(set(sides)) < len(sides):
        for pair in pairs:
            yield _row([pair], computed), pair[0]
    else:
        yield (
            _row(sorted(pairs, key=lambda pair: _SIDES.index(pair[1].side)), computed),
            pairs[0][0],
        )


def _row(pairs: list[_Pair], computed: Assessment | None) -> GapRow:
    first = pairs[0][1]
    asides = dict.fromkeys(aside for _, reading in pairs for aside in reading.asides)
    notes = dict.fromkeys(reading.note for _, reading in pairs if reading.note)
    return GapRow(
        axle=first.axle,
        label=first.label,
        state=first.state,
        reported=tuple(SideGap(each.side, said(each.said), each.word) for _, each in pairs),
        wanted=given(first.wanted),
        computed=_computed(pairs, computed),
        tool=first.tool,
        asides=tuple(asides),
        notes=tuple(notes),
        caution=first.caution,
    )


def _computed(pairs: list[_Pair], computed: Assessment | None) -> tuple[SideComputed, ...]:
    found = []
    for gap, reading in pairs:
        end = getattr(computed, reading.axle, None) if computed and reading.axle else None
        clearance = end.clearance(gap.site, gap.side) if end else None
        at = computed_in(clearance, gap.state) if clearance else None
        found.append(SideComputed(reading.side, estimated(at.gap if at else None)))
    if len({each.shown for each in found}) == 1:
        return (SideComputed("", found[0].shown),)
    return tuple(found)
