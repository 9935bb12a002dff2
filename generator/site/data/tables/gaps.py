"""Every gap that was reported, beside the gap computed for the same place and position."""

from collections.abc import Iterator, Mapping

from generator.assessment.clearances import GapAt
from generator.evidence.entries import computed_in
from generator.frozen import dataclass
from generator.quantities.span import Said
from generator.records.library import Case, Filed
from generator.records.setup import Gap, Setup
from generator.records.site_sheet import SiteSheet
from generator.records.words import Axle, Side, State, Tool
from generator.site.data.columns import Column, Kind, Table, estimate_columns
from generator.site.guide import Guide
from generator.site.lifecycle import STANDINGS, replaced_by, standing
from generator.site.listing import case_of
from generator.site.readings import CLEARS, FREE_HERE, TIGHT, TOUCHES, UNKNOWN, word_of


@dataclass(frozen=True)
class GapRow:
    """One reported gap; None is not known."""

    case: Case
    number: int
    gap: Gap
    site: SiteSheet | None
    computed: GapAt | None
    standing: str

    @property
    def axle(self) -> str | None:
        """Give the end of the car, where it is certain which."""
        if self.gap.axle is not None:
            return self.gap.axle.value
        return self.site.axle.value if self.site else None


def rows(guide: Guide) -> Iterator[GapRow]:
    """Give all reported gaps, in order of setup, then as written."""
    replaced = replaced_by(guide.library)
    for name in sorted(guide.library.setups):
        yield from rows_of(guide, name, replaced)


def rows_of(guide: Guide, name: str, replaced: Mapping[str, Filed[Setup]]) -> Iterator[GapRow]:
    """Give the reported gaps of one setup, as written."""
    case = case_of(guide, guide.library.setups[name])
    computed = guide.assessments.get(name)
    for number, gap in enumerate(case.setup.value.gaps, 1):
        site = case.site(gap.site, gap.axle)
        end = getattr(computed, site.axle.value) if computed and site else None
        clearance = end.clearance(gap.site, gap.side) if end else None
        at = computed_in(clearance, gap.state) if clearance else None
        yield GapRow(case, number, gap, site, at, standing(case.setup, replaced))


def _word(row: GapRow) -> str:
    word = word_of(row.case, row.gap)
    return UNKNOWN if word == FREE_HERE else word


TABLE = Table(
    name="gaps",
    title="Reported gaps",
    row="one gap as a member reported it",
    key=("setup", "number"),
    columns=(
        Column("setup", Kind.TEXT, "id of the setup", "ostvane-meridel/first-try",
               lambda row: row.case.setup.id, may_lack=False),
        Column("number", Kind.COUNT, "place in the record's list, from 1", "3",
               lambda row: row.number, may_lack=False),
        Column("chassis", Kind.TEXT, "id of the chassis sheet", "ostvane-meridel",
               lambda row: row.case.setup.value.chassis, may_lack=False),
        Column("axle", Kind.TEXT, "end of the car", "front", lambda row: row.axle,
               choices=tuple(axle.value for axle in Axle)),
        Column("site", Kind.TEXT, "short name of the site", "strut-tube",
               lambda row: row.gap.site, may_lack=False),
        Column("label", Kind.TEXT, "name of the site for people", "strut tube",
               lambda row: row.site.label if row.site else None),
        Column("side", Kind.TEXT, "side; both where no difference was found", "left",
               lambda row: row.gap.side.value, choices=tuple(side.value for side in Side),
               may_lack=False),
        Column("state", Kind.TEXT, "position of the wheel", "toe-out lock",
               lambda row: row.gap.state.value, choices=tuple(state.value for state in State),
               may_lack=False),
        Column("said", Kind.TEXT, "what kind of statement it is", "measured",
               lambda row: row.gap.gap.said.value, choices=tuple(said.value for said in Said),
               may_lack=False),
        Column("low", Kind.NUMBER, "the gap is at least this; empty without such a bound", "6",
               lambda row: row.gap.gap.low, "mm"),
        Column("high", Kind.NUMBER, "the gap is at most this; empty without such a bound", "6",
               lambda row: row.gap.gap.high, "mm"),
        Column("typed", Kind.TEXT, "the words of the record", "6 mm",
               lambda row: row.gap.gap.typed, may_lack=False),
        Column("tool", Kind.TEXT, "what it was measured with", "feeler gauge",
               lambda row: row.gap.tool.value if row.gap.tool else None,
               choices=tuple(tool.value for tool in Tool)),
        *estimate_columns("computed", "gap computed from sheet, wheel and tyre in the same "
                          "position, nothing learned counted; negative is overlap",
                          lambda row: row.computed.gap if row.computed else None, example="8.4"),
        Column("wanted", Kind.NUMBER, "gap the sheet wants there", "8",
               lambda row: row.site.wanted.value if row.site and row.site.wanted else None, "mm"),
        Column("word", Kind.TEXT, "what the statement says of the gap; "
               "unknown where it clears and its site as a whole does not", "tight",
               _word,
               choices=(CLEARS, TIGHT, TOUCHES, UNKNOWN), may_lack=False),
        Column("note", Kind.TEXT, "remark", "at the seam, with the liner in",
               lambda row: row.gap.note),
        Column("standing", Kind.TEXT, "whether the record counts, and if not why", "counts",
               lambda row: row.standing, choices=STANDINGS, may_lack=False),
    ),
    rows=rows,
    rows_of=rows_of,
)  # fmt: skip
