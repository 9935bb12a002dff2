"""What the records say together of each site: by how much true gaps differ from computed ones."""

from collections.abc import Iterator
from datetime import date

from generator.assessment.sites import Condition
from generator.evidence.confidence import LimitFlag, limit_confidence
from generator.evidence.limits import SitePosterior
from generator.frozen import dataclass
from generator.records.site_sheet import SiteSheet
from generator.records.words import Axle, Side
from generator.site.data.columns import Column, Kind, Table
from generator.site.guide import Guide


@dataclass(frozen=True)
class LimitRow:
    """One site on one side in one condition."""

    chassis: str
    site: SiteSheet
    side: Side
    condition: Condition
    posterior: SitePosterior
    newest: date | None


def rows(guide: Guide) -> Iterator[LimitRow]:
    """Give all limits, in order of chassis and site; a site without records by its sheet alone."""
    for name in sorted(guide.evidence):
        evidence = guide.evidence[name]
        sites = guide.library.chassis[name].value.sites
        known = {(key.axle, key.site) for key in evidence.limits}
        for key in sorted(evidence.limits, key=lambda each: each.order):
            limit = evidence.limits[key]
            days = [guide.library.setups[each].value.date for each in limit.posterior.records]
            yield LimitRow(
                name, limit.site, key.side, key.condition, limit.posterior, max(days, default=None)
            )
        for site in sorted(sites, key=lambda each: (each.axle.value, each.name)):
            if (site.axle, site.name) not in known:
                alone = evidence.sheet_alone[f"{site.axle.value}.{site.name}"]
                side = site.only or Side.BOTH
                yield LimitRow(name, site, side, Condition.STOCK, alone, None)


TABLE = Table(
    name="limits",
    title="Limits",
    row="one site on one side in one condition",
    key=("chassis", "axle", "site", "side", "condition"),
    columns=(
        Column("chassis", Kind.TEXT, "id of the chassis sheet", "ostvane-meridel",
               lambda row: row.chassis, may_lack=False),
        Column("axle", Kind.TEXT, "end of the car", "front", lambda row: row.site.axle.value,
               choices=tuple(axle.value for axle in Axle), may_lack=False),
        Column("site", Kind.TEXT, "short name of the site", "strut-tube",
               lambda row: row.site.name, may_lack=False),
        Column("label", Kind.TEXT, "name of the site for people", "strut tube",
               lambda row: row.site.label, may_lack=False),
        Column("side", Kind.TEXT, "side; both where there is no record yet", "left",
               lambda row: row.side.value, choices=tuple(side.value for side in Side),
               may_lack=False),
        Column("condition", Kind.TEXT, "state the site is in; each is learned apart", "stock",
               lambda row: row.condition.value,
               choices=tuple(condition.value for condition in Condition), may_lack=False),
        Column("flag", Kind.TEXT, "how well the limit is known", "bracketed",
               lambda row: limit_confidence(row.posterior).flag.value,
               choices=tuple(flag.value for flag in LimitFlag), may_lack=False),
        Column("low", Kind.NUMBER, "correction that the next car falls short of in 5 of 100 cases; "
               "a correction is true gap less computed gap", "-4.1",
               lambda row: row.posterior.limits.low, "mm", may_lack=False),
        Column("median", Kind.NUMBER, "median of the next car's correction", "1.3",
               lambda row: row.posterior.limits.median, "mm", may_lack=False),
        Column("high", Kind.NUMBER, "correction that the next car falls short of in 95 of 100 "
               "cases", "6.8", lambda row: row.posterior.limits.high, "mm", may_lack=False),
        Column("mean_low", Kind.NUMBER, "5 % point of the average car's correction", "-0.6",
               lambda row: row.posterior.mean.low, "mm", may_lack=False),
        Column("mean", Kind.NUMBER, "median of the average car's correction", "1.3",
               lambda row: row.posterior.mean.median, "mm", may_lack=False),
        Column("mean_high", Kind.NUMBER, "95 % point of the average car's correction", "3.1",
               lambda row: row.posterior.mean.high, "mm", may_lack=False),
        Column("car_spread", Kind.NUMBER, "median of the spread between cars, one sigma", "2.2",
               lambda row: row.posterior.car_spread.median, "mm", may_lack=False),
        Column("cars", Kind.COUNT, "different cars in the records", "3",
               lambda row: row.posterior.cars, may_lack=False),
        Column("members", Kind.COUNT, "different members who reported", "3",
               lambda row: row.posterior.members, may_lack=False),
        Column("exact", Kind.COUNT, "entries that are measured gaps", "4",
               lambda row: row.posterior.exact, may_lack=False),
        Column("at_least", Kind.COUNT, "entries that bound the gap from below", "2",
               lambda row: row.posterior.lower, may_lack=False),
        Column("at_most", Kind.COUNT, "entries that bound the gap from above", "1",
               lambda row: row.posterior.upper, may_lack=False),
        Column("between", Kind.COUNT, "entries that bound it from both sides", "0",
               lambda row: row.posterior.between, may_lack=False),
        Column("newest", Kind.DAY, "day of the newest record among them", "2025-06-14",
               lambda row: row.newest),
        Column("records", Kind.TEXTS, "ids of the setups it rests on",
               "ostvane-meridel/first-try", lambda row: row.posterior.records, may_lack=False),
    ),
    rows=rows,
)  # fmt: skip
