"""Every setup: one row for each end of the car."""

from collections.abc import Iterator, Mapping

from generator.assessment.assess import AxleAssessment
from generator.assessment.fit import Fit
from generator.evidence.confidence import RecordFlag
from generator.evidence.verdict import AxleVerdict, SiteVerdict
from generator.frozen import dataclass
from generator.geometry.wheel import PositionChange
from generator.quantities.estimate import Estimate
from generator.records.fitted import AxleSetup
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.records.words import Axle, Outcome, SpacerKind
from generator.site import urls
from generator.site.data.columns import Column, Kind, Table, estimate_columns
from generator.site.guide import Guide
from generator.site.lifecycle import STANDINGS, replaced_by, standing


@dataclass(frozen=True)
class SetupRow:
    """One end of a car as a setup left it; None is not known."""

    address: str
    filed: Filed[Setup]
    chassis_name: str | None
    standing: str
    flag: str | None
    axle: Axle
    fitted: AxleSetup
    computed: AxleAssessment | None
    verdict: AxleVerdict | None

    @property
    def setup(self) -> Setup:
        """Give the record."""
        return self.filed.value

    @property
    def fit(self) -> Fit | None:
        """Give where the fitted wheel and tyre stand."""
        return self.computed.fit.fitted if self.computed else None

    @property
    def weakest(self) -> SiteVerdict | None:
        """Give the site that is likeliest to be short of its wanted gap."""
        return self.verdict.weakest if self.verdict else None


def rows(guide: Guide) -> Iterator[SetupRow]:
    """Give front and rear of every setup, in order of id."""
    replaced = replaced_by(guide.library)
    for name in sorted(guide.library.setups):
        yield from rows_of(guide, name, replaced)


def rows_of(guide: Guide, name: str, replaced: Mapping[str, Filed[Setup]]) -> Iterator[SetupRow]:
    """Give front and rear of one setup."""
    filed = guide.library.setups[name]
    chassis = guide.library.chassis.get(filed.value.chassis)
    confidence = guide.confidence.get(name)
    computed, verdict = guide.assessments.get(name), guide.verdicts.get(name)
    for axle in Axle:
        yield SetupRow(
            address=f"{guide.club.address}/{urls.setup(name)}",
            filed=filed,
            chassis_name=chassis.value.name if chassis else None,
            standing=standing(filed, replaced),
            flag=confidence.flag.value if confidence else None,
            axle=axle,
            fitted=getattr(filed.value, axle.value),
            computed=getattr(computed, axle.value) if computed else None,
            verdict=getattr(verdict, axle.value) if verdict else None,
        )


def _wheel(row: SetupRow, part: str) -> Estimate | None:
    wheel = row.fit.wheel if row.fit else None
    found: Estimate | None = getattr(wheel, part) if wheel else None
    return found


def _tyre(row: SetupRow, part: str) -> Estimate | None:
    tyre = row.fit.tyre if row.fit else None
    found: Estimate | None = getattr(tyre, part) if tyre else None
    return found


def _change(row: SetupRow) -> PositionChange | None:
    return row.computed.fit.change if row.computed else None


def _joint(row: SetupRow) -> float | None:
    joint = row.verdict.joint if row.verdict else None
    return joint.probability if joint else None


_WHO: tuple[Column[SetupRow], ...] = (
    Column("setup", Kind.TEXT, "id of the setup: folder and name of its file",
           "ostvane-meridel/first-try", lambda row: row.filed.id, may_lack=False),
    Column("axle", Kind.TEXT, "end of the car", "front", lambda row: row.axle.value,
           choices=tuple(axle.value for axle in Axle), may_lack=False),
    Column("address", Kind.TEXT, "address of the setup's page",
           "https://guide.example.org/setups/ostvane-meridel/first-try.html",
           lambda row: row.address, may_lack=False),
    Column("title", Kind.TEXT, "what is special about it", "Seven-inch wheels, lips rolled",
           lambda row: row.setup.title, may_lack=False),
    Column("chassis", Kind.TEXT, "id of the chassis sheet", "ostvane-meridel",
           lambda row: row.setup.chassis, may_lack=False),
    Column("chassis_name", Kind.TEXT, "name of the chassis", "Ostvane Meridel",
           lambda row: row.chassis_name),
    Column("variant", Kind.TEXT, "variant of the chassis", "rear drum from 1980 on",
           lambda row: row.setup.variant),
    Column("car", Kind.TEXT, "short name of the one car, the same in all records about it",
           "copperbill-coupe", lambda row: row.setup.car, may_lack=False),
    Column("member", Kind.TEXT, "alias of who reports", "Copperbill",
           lambda row: row.setup.member, may_lack=False),
    Column("date", Kind.DAY, "day of measuring", "2025-06-14", lambda row: row.setup.date,
           may_lack=False),
    Column("standing", Kind.TEXT, "whether the record counts, and if not why", "counts",
           lambda row: row.standing, choices=STANDINGS, may_lack=False),
    Column("flag", Kind.TEXT, "how far the record is borne out", "checked", lambda row: row.flag,
           choices=tuple(flag.value for flag in RecordFlag)),
)  # fmt: skip

_FITTED: tuple[Column[SetupRow], ...] = (
    Column("wheel", Kind.TEXT, "size of the wheel", "7 x 15",
           lambda row: str(row.fitted.wheel.size), may_lack=False),
    Column("wheel_width", Kind.NUMBER, "width of the rim between the flanges", "7",
           lambda row: row.fitted.wheel.size.width_code, "in", may_lack=False),
    Column("wheel_diameter", Kind.NUMBER, "nominal diameter of the rim", "15",
           lambda row: row.fitted.wheel.size.diameter_code, "in", may_lack=False),
    *estimate_columns("offset", "offset of the wheel itself, positive with the face outboard of "
                      "the rim's centre", lambda row: _wheel(row, "offset"), example="-12"),
    *estimate_columns("effective_offset", "offset with the spacer counted",
                      lambda row: _wheel(row, "effective_offset"), example="-17"),
    *estimate_columns("backspacing", "mounting face to the inboard lip",
                      lambda row: _wheel(row, "backspacing"), example="118.5"),
    Column("spacer", Kind.NUMBER, "thickness of the spacer; empty if none is written", "5",
           lambda row: row.fitted.spacer.thickness.value if row.fitted.spacer else None, "mm"),
    Column("spacer_kind", Kind.TEXT, "how the spacer is made and held", "piloted",
           lambda row: row.fitted.spacer.kind.value if row.fitted.spacer else None,
           choices=tuple(kind.value for kind in SpacerKind)),
    Column("tyre", Kind.TEXT, "designation of the tyre", "205/60 R15 91V",
           lambda row: row.fitted.tyre.size.designation, may_lack=False),
    *estimate_columns("section_width", "section width of the tyre on this rim",
                      lambda row: _tyre(row, "section_width"), example="212"),
    *estimate_columns("tyre_diameter", "diameter of the mounted tyre",
                      lambda row: _tyre(row, "diameter"), example="628"),
)  # fmt: skip

_COMPUTED: tuple[Column[SetupRow], ...] = (
    *estimate_columns("inner_change", "tyre's inner face against stock, further inboard positive",
                      lambda row: change.inner if (change := _change(row)) else None,
                      example="14"),
    *estimate_columns("outer_change", "tyre's outer face against stock, further outboard positive",
                      lambda row: change.outer if (change := _change(row)) else None,
                      example="21"),
    *estimate_columns("track_change", "track against stock",
                      lambda row: change.track if (change := _change(row)) else None,
                      example="24"),
    Column("weakest_site", Kind.TEXT, "site likeliest to be short of its wanted gap on the next "
           "car, or one that is not known", "fender-lip",
           lambda row: row.weakest.clearance.site.name if row.weakest else None),
    Column("weakest_side", Kind.TEXT, "its side", "left",
           lambda row: row.weakest.side.value if row.weakest else None,
           choices=("left", "right")),
    Column("weakest_word", Kind.TEXT, "what is expected there", "tight",
           lambda row: row.weakest.word if row.weakest else None,
           choices=("clears", "tight", "touches", "not known")),
    Column("weakest_chance", Kind.NUMBER, "chance of the wanted gap there on the next car",
           "0.62", lambda row: row.weakest.chance if row.weakest else None, "1", 4),
    Column("chance", Kind.NUMBER, "chance of the wanted gap at all known sites of this end on the "
           "next car", "0.58", _joint, "1", 4),
    Column("outcome", Kind.TEXT, "how the road test ended", "no mark",
           lambda row: row.setup.road.outcome.value if row.setup.road else None,
           choices=tuple(outcome.value for outcome in Outcome)),
    Column("distance", Kind.NUMBER, "driven since", "2400",
           lambda row: row.setup.road.distance.value if row.setup.road else None, "km", 1),
)  # fmt: skip

TABLE = Table(
    name="setups",
    title="Setups",
    row="one end of the car of one setup",
    key=("setup", "axle"),
    columns=(*_WHO, *_FITTED, *_COMPUTED),
    rows=rows,
    rows_of=rows_of,
    endings=("csv", "json", "jsonl"),
)
