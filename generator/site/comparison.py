"""One setup, or a chassis as stock, as the compare page needs it: facts, gaps and the outline.

Lengths are in mm; u from the sheet's hub face, outboard positive, r from the spin axis. The outline
is that of tyre and rim together, as the gaps are computed with it.
"""

from collections.abc import Mapping

from generator.assessment.assess import AxleAssessment
from generator.assessment.fit import Fit, stock_fit
from generator.evidence.verdict import AxleVerdict, Verdict
from generator.frozen import dataclass
from generator.geometry.outline import section_outline, tyre_section
from generator.published import tables
from generator.quantities.quantity import Quantity
from generator.quantities.rim_size import RimSize
from generator.quantities.units import Mm
from generator.records.axle_sheet import AxleSheet
from generator.records.chassis import Chassis
from generator.records.fitted import AxleSetup
from generator.records.gap_pairs import FLEXIBLE_SPREAD, bends, spread
from generator.records.library import Filed
from generator.records.setup import Gap, Setup
from generator.records.site_sheet import SiteSheet
from generator.records.words import Axle, Liner, Lips, StopState
from generator.site import urls
from generator.site.advice import stock_verdict
from generator.site.data.writing import json_text
from generator.site.facets import days_of
from generator.site.facts import UNKNOWN, Fact, Kind, Shown, chosen, estimated, given, words
from generator.site.guide import Guide
from generator.site.listing import SetupLine, case_of, setup_line
from generator.site.page import DataFile
from generator.site.readings import SiteSummary, named, summaries

VERSION = 2
NO_SPACER = "none written"
_UNKNOWN = frozenset({NO_SPACER})
"""Words that say that something is not known."""
Point = tuple[Mm, Mm]


@dataclass(frozen=True)
class ComparedEnd:
    """One end: facts in a fixed order, and the outline where it is known."""

    axle: str
    facts: tuple[Fact, ...]
    outline: tuple[Point, ...]
    skin: Mm | None


@dataclass(frozen=True)
class Compared:
    """One column of a comparison; `gaps` are the worst of each site."""

    id: str
    title: str
    href: str
    chassis: str
    chassis_id: str
    told: str
    standing: str
    day: int | None
    flag: str
    word: str
    sentence: str
    ends: tuple[ComparedEnd, ...]
    gaps: tuple[SiteSummary, ...]


def comparison_file(
    guide: Guide, filed: Filed[Setup], replaced: Mapping[str, Filed[Setup]]
) -> DataFile:
    """Give the file of a setup. `replaced`: the newer record of each that is replaced."""
    return _file(_setup(guide, filed, setup_line(guide, replaced, filed)))


def stock_file(guide: Guide, chassis: Filed[Chassis]) -> DataFile:
    """Give the file of a chassis as it left the factory, judged as a trial from stock is."""
    return _file(_stock(chassis, stock_verdict(guide, chassis)))


def _setup(guide: Guide, filed: Filed[Setup], line: SetupLine) -> Compared:
    chassis = guide.library.chassis.get(filed.value.chassis)
    computed = guide.assessments.get(filed.id)
    verdict = None if line.has_lapsed else guide.verdicts.get(filed.id)
    return Compared(
        id=filed.id,
        title=line.title,
        href=line.href,
        chassis=line.chassis,
        chassis_id=filed.value.chassis,
        told=line.member,
        standing=line.standing,
        day=days_of(filed.value.date),
        flag=line.flag,
        word=line.headline.word,
        sentence=line.headline.sentence,
        ends=tuple(
            _fitted(
                axle,
                getattr(filed.value, axle.value),
                getattr(chassis.value, axle.value) if chassis else None,
                getattr(computed, axle.value) if computed else None,
                getattr(verdict, axle.value) if verdict else None,
            )
            for axle in Axle
        ),
        gaps=summaries(case_of(guide, filed)),
    )


def _stock(chassis: Filed[Chassis], judged: Verdict | None) -> Compared:
    car = chassis.value
    return Compared(
        id=chassis.id,
        title=f"{car.name} as stock",
        href=urls.chassis(chassis.id),
        chassis=car.name,
        chassis_id=chassis.id,
        told="from the chassis sheet",
        standing="",
        day=None,
        flag="",
        word="",
        sentence="The wheels and tyres the car was sold with.",
        ends=tuple(
            _stock_end(axle, getattr(car, axle.value), getattr(judged, axle.value, None))
            for axle in Axle
        ),
        gaps=(),
    )


def _fitted(
    axle: Axle,
    fitted: AxleSetup,
    sheet: AxleSheet | None,
    computed: AxleAssessment | None,
    verdict: AxleVerdict | None,
) -> ComparedEnd:
    fit = computed.fit.fitted if computed else None
    moved = fitted.face_moved.value if fitted.face_moved else 0.0
    spacer = given(fitted.spacer.thickness) if fitted.spacer else words(NO_SPACER)
    facts = (
        Fact("Wheel", words(str(fitted.wheel.size))),
        Fact("Tyre", words(fitted.tyre.size.designation)),
        Fact("Spacer", spacer),
        *_lengths(fit),
        Fact("Camber", given(fitted.camber, is_signed=True)),
        Fact("Ride height against the sheet", _height(fitted, sheet)),
        Fact("Lips", chosen(fitted.bodywork.lips) if fitted.bodywork else UNKNOWN),
        Fact("Liner", chosen(fitted.bodywork.liner) if fitted.bodywork else UNKNOWN),
        Fact("Bump stop", chosen(fitted.bump_stop.state) if fitted.bump_stop else UNKNOWN),
        Fact("Expected weakest site", words(_weakest(verdict))),
    )
    return ComparedEnd(
        axle.value, facts, _outline(fit, fitted.wheel.size, moved), _skin(sheet)
    )  # fmt: skip


def _stock_end(axle: Axle, sheet: AxleSheet, judged: AxleVerdict | None) -> ComparedEnd:
    fit = stock_fit(sheet)
    facts = (
        Fact("Wheel", words(str(sheet.stock_wheel.size))),
        Fact("Tyre", words(sheet.stock_tyre.size.designation)),
        Fact("Spacer", words("none")),
        *_lengths(fit),
        Fact("Camber", given(sheet.suspension.static_camber, is_signed=True)),
        Fact("Ride height against the sheet", Shown(Kind.LENGTH, 0.0, None, 0)),
        Fact("Lips", words(Lips.STOCK.value)),
        Fact("Liner", words(Liner.STOCK.value)),
        Fact("Bump stop", words(StopState.ORIGINAL.value)),
        Fact("Expected weakest site", words(_weakest(judged))),
    )
    return ComparedEnd(
        axle.value, facts, _outline(fit, sheet.stock_wheel.size, 0.0), _skin(sheet)
    )  # fmt: skip


def _lengths(fit: Fit | None) -> tuple[Fact, ...]:
    wheel = fit.wheel if fit else None
    tyre = fit.tyre if fit else None
    faces = fit.faces if fit else None
    return (
        Fact("Effective offset", estimated(wheel.effective_offset if wheel else None,
                                           is_signed=True)),
        Fact("Backspacing", estimated(wheel.backspacing if wheel else None)),
        Fact("Tyre width", estimated(faces.section_width if faces else None)),
        Fact("Tyre diameter", estimated(tyre.diameter if tyre else None)),
        Fact("Outboard face from the hub face",
             estimated(faces.outboard if faces else None, is_signed=True)),
        Fact("Inboard face from the hub face",
             estimated(faces.inboard if faces else None, is_signed=True)),
        Fact("Poke beyond the body skin", estimated(fit.skin if fit else None, is_signed=True)),
    )  # fmt: skip


def _height(fitted: AxleSetup, sheet: AxleSheet | None) -> Shown:
    height = fitted.ride_height
    if height is None:
        return UNKNOWN
    if height.change is not None:
        return given(height.change, is_signed=True)
    if height.hub_to_lip is not None and sheet is not None:
        return _difference(height.hub_to_lip, sheet.ride_height.hub_to_lip)
    return UNKNOWN


def _difference(one: Quantity, other: Quantity) -> Shown:
    return Shown(Kind.LENGTH, one.value - other.value, None, 0, is_signed=True)


def _weakest(verdict: AxleVerdict | None) -> str | None:
    site = verdict.sites[0] if verdict and verdict.sites else None
    return f"{site.clearance.site.label}, {site.side.value}: {site.word}" if site else None


def _outline(fit: Fit | None, size: RimSize, moved: Mm) -> tuple[Point, ...]:
    """Give the outline of tyre and rim; empty where a dimension is missing or makes no tyre."""
    if fit is None or fit.wheel is None or fit.tyre is None:
        return ()
    try:
        bead = tables.bead_seat_diameter(size.diameter_code)
        section = tyre_section(fit.wheel, fit.tyre, bead_seat_diameter=bead)
    except (LookupError, ValueError):
        return ()
    points = section_outline(section).at(moved).points
    return tuple((round(float(u), 1), round(float(r), 1)) for u, r in points)


def _skin(sheet: AxleSheet | None) -> Mm | None:
    if sheet is None or sheet.body_width is None:
        return None
    return (sheet.body_width.value - sheet.face_distance.value) / 2.0


def _file(it: Compared) -> DataFile:
    document = {
        "version": VERSION,
        "id": it.id,
        "title": it.title,
        "href": it.href,
        "chassis": it.chassis,
        "chassisId": it.chassis_id,
        "told": it.told,
        "standing": it.standing,
        "day": it.day,
        "flag": it.flag,
        "word": it.word,
        "sentence": it.sentence,
        "ends": {
            end.axle: {
                "facts": [_fact(fact) for fact in end.facts],
                "outline": end.outline,
                "skin": end.skin,
            }
            for end in it.ends
        },
        "gaps": [_gap(each) for each in it.gaps],
    }
    return DataFile(urls.comparison(it.id), json_text(document))


def _gap(summary: SiteSummary) -> dict[str, object]:
    """Give a gap with the bounds it puts on the true one; both are null where a mark was found."""
    gap = summary.gap
    return {
        "site": named(summary.site),
        "word": summary.word,
        "reason": summary.reason,
        "state": gap.state.value if gap else "",
        "low": gap.gap.low if gap else None,
        "high": gap.gap.high if gap else None,
        "spread": _spread(summary.site, gap) if gap else 0.0,
    }


def _spread(site: SiteSheet, gap: Gap) -> Mm:
    """Give one gap's part of what two of a site may differ by."""
    return spread(gap) + (FLEXIBLE_SPREAD / 2.0 if bends(site) else 0.0)


def _fact(fact: Fact) -> dict[str, object]:
    shown = fact.value
    if shown.kind is Kind.UNKNOWN:
        return {"label": fact.label}
    if shown.kind is Kind.WORDS and shown.text in _UNKNOWN:
        return {"label": fact.label, "words": shown.text, "unknown": True}
    if shown.kind is Kind.WORDS:
        return {"label": fact.label, "words": shown.text}
    return {
        "label": fact.label,
        "value": shown.value,
        "u": shown.u,
        "unit": "mm" if shown.kind is Kind.LENGTH else shown.unit,
        "decimals": shown.decimals,
        "signed": shown.is_signed,
        "typed": shown.typed,
    }
