"""The page of one chassis: its hub, brakes, suspension, sites, and what members fitted to it."""

from collections.abc import Iterator

from generator.assessment.fit import AxleFit, stock_fit
from generator.assessment.sites import Condition
from generator.evidence.club import ChassisEvidence
from generator.evidence.confidence import limit_confidence
from generator.evidence.entries import SiteKey
from generator.evidence.limits import SitePosterior
from generator.frozen import dataclass
from generator.quantities.units import Mm
from generator.records.axle_sheet import AxleSheet
from generator.records.chassis import Chassis
from generator.records.library import Filed
from generator.records.site_sheet import SiteSheet
from generator.records.words import Attachment, Axle, Side
from generator.site import advice, cautions, urls
from generator.site.drawings import ChartPoint, LimitChart, LimitRow, SectionSubject
from generator.site.facts import Shown, given
from generator.site.field_facts import Group, group
from generator.site.forge_links import ForgeLinks, forge_links, new_file
from generator.site.guide import Guide
from generator.site.limit_entries import Influences, influences_shown
from generator.site.listing import SetupLine, setup_lines
from generator.site.page import Page
from generator.site.shell import Link, PageHead
from generator.site.trim_table import TrimLine, trim_lines
from generator.site.window_shown import WindowShown, window_shown
from generator.site.worth_shown import WorthLine, worth_lines

BY_CHASSIS = True

_MOVES = {
    Attachment.BODY: "moves against the wheel in travel and steer",
    Attachment.KNUCKLE: "moves with the wheel; its gap stays",
    Attachment.UPRIGHT: "moves with the wheel; its gap stays",
    Attachment.STRUT: "moves with the wheel but for camber; its gap hardly changes",
    Attachment.AXLE: "moves with the wheel; its gap stays",
}
_MOVES_OTHERWISE = "moves with part of the wheel's travel"


@dataclass(frozen=True)
class SiteLine:
    """One site in the table of sites."""

    name: str
    label: str
    facing: str
    moves_with: str
    moves: str
    wanted: Shown
    where: str
    evidence: str
    caution: str


@dataclass(frozen=True)
class LimitLine:
    """What the records have taught of one site on one side, against its sheet.

    `low` and `high`: the next car's gap is the computed one and this much more (5 to 95 %).
    `influences`: what those would be without the entries that move them most.
    """

    label: str
    side: str
    condition: str
    word: str
    words: str
    raise_by: str
    low: Mm
    high: Mm
    cars: int
    influences: Influences


@dataclass(frozen=True)
class NumberedSetup:
    """A setup and the number it has in the charts."""

    number: int
    line: SetupLine


@dataclass(frozen=True)
class End:
    """One end of the car."""

    axle: str
    groups: tuple[Group, ...]
    sites: tuple[SiteLine, ...]
    limits: tuple[LimitLine, ...]
    section: SectionSubject
    window: WindowShown


@dataclass(frozen=True)
class ChassisPage:
    """All of the page."""

    chassis: Chassis
    overview: Group
    ends: tuple[End, ...]
    limit_chart: LimitChart | None
    steering: Group
    setups: tuple[NumberedSetup, ...]
    trims: tuple[TrimLine, ...]
    worth: tuple[WorthLine, ...]
    build_changes: str
    cautions_text: str
    notes: str
    hub_cautions: tuple[cautions.Caution, ...]
    site_cautions: tuple[cautions.Caution, ...]
    local_rules: str
    new_setup_href: str
    mock_up_href: str
    limit_history_href: str
    try_href: str
    keep_id: str
    glossary_href: str
    reference_href: str
    submit_href: str
    forge: ForgeLinks


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page of each chassis."""
    for filed in guide.chassis():
        yield _page(guide, filed)


def addresses(guide: Guide) -> Iterator[str]:
    """Give the address of the page of each chassis."""
    yield from (urls.chassis(filed.id) for filed in guide.chassis())


def page_at(guide: Guide, path: str) -> Page | None:
    """Give the one page at an address, without the others; None where no chassis has it."""
    found = (filed for filed in guide.chassis() if urls.chassis(filed.id) == path)
    return next((_page(guide, filed) for filed in found), None)


def _page(guide: Guide, filed: Filed[Chassis]) -> Page:
    name = filed.value.name
    words = f"{name}: what wheels and tyres fit, hub, brakes, sites and setups."
    head = PageHead(name, words, (Link("Home", urls.HOME),))
    return Page(urls.chassis(filed.id), "chassis", head, _view(guide, filed))


def _view(guide: Guide, filed: Filed[Chassis]) -> ChassisPage:
    chassis = filed.value
    lines = setup_lines(guide, guide.setups_of(filed.id))
    setups = tuple(NumberedSetup(at, line) for at, line in enumerate(lines, 1))
    return ChassisPage(
        chassis=chassis,
        overview=group("The car", chassis, ("name", "summary", "also_called", "variants",
                                            "build_changes", "cautions", "notes")),
        ends=tuple(_end(axle, filed, setups, guide) for axle in Axle),
        limit_chart=_limit_chart(guide.evidence.get(filed.id), chassis),
        steering=group("Steering", chassis.steering),
        setups=setups,
        trims=trim_lines(guide, filed),
        worth=worth_lines(guide, advice.measurements(guide, filed)),
        build_changes=chassis.build_changes or "",
        cautions_text=chassis.cautions or "",
        notes=chassis.notes or "",
        hub_cautions=(cautions.FASTENERS, cautions.SPACERS),
        site_cautions=(cautions.STEERING, cautions.HOSES, cautions.YOUR_CAR),
        local_rules=guide.club.local_rules,
        new_setup_href=new_file(guide.club.forge, f"setups/{filed.id}"),
        mock_up_href=urls.mock_up(filed.id),
        limit_history_href=urls.limit_history(filed.id),
        try_href=urls.trial(filed.id),
        keep_id=filed.id,
        glossary_href=urls.GLOSSARY,
        reference_href=urls.RECORD_REFERENCE,
        submit_href=f"{urls.SUBMIT}?chassis={filed.id}",
        forge=forge_links(guide.club.forge, filed.source.path),
    )  # fmt: skip


def _end(axle: Axle, filed: Filed[Chassis], setups: tuple[NumberedSetup, ...], guide: Guide) -> End:
    chassis = filed.value
    sheet: AxleSheet = chassis.front if axle is Axle.FRONT else chassis.rear
    sites = tuple(site for site in chassis.sites if site.axle is axle)
    stock = stock_fit(sheet)
    fit = AxleFit(axle, stock, stock, None, None)
    return End(
        axle=axle.value,
        groups=_groups(sheet),
        sites=tuple(_site(site) for site in sites),
        limits=_limits(guide, filed.id, axle, sites),
        section=SectionSubject(f"stock-{axle.value}", fit, sheet, None, sites),
        window=window_shown(guide, filed, axle, points=_points(axle, setups)),
    )


def _groups(sheet: AxleSheet) -> tuple[Group, ...]:
    found = [
        group("Hub", sheet),
        group("Fasteners", sheet.fastening),
        group("Cap", sheet.cap),
        group("Brake", sheet.brake),
        group("Stock wheel", sheet.stock_wheel),
        group("Stock tyre", sheet.stock_tyre),
        group("Suspension", sheet.suspension),
        group("Reference ride height", sheet.ride_height),
    ]
    for title, inner in (
        ("Bump stop", sheet.suspension.stop),
        ("Panhard rod", sheet.suspension.rod),
        ("Watt linkage", sheet.suspension.watt),
    ):
        if inner is not None:
            found.append(group(title, inner))
    return tuple(found)


def _site(site: SiteSheet) -> SiteLine:
    shaped = site.arc or site.block or site.line
    where = "place known" if shaped else "place not known"
    if site.reach is not None:
        where = "only its radius is known"
    return SiteLine(
        name=site.name,
        label=site.label + (f", {site.only.value} side only" if site.only else ""),
        facing=site.facing.value,
        moves_with=site.moves_with.value,
        moves=_MOVES.get(site.moves_with, _MOVES_OTHERWISE),
        wanted=given(site.wanted),
        where=where,
        evidence=site.evidence or "",
        caution=site.caution or "",
    )


def _limits(
    guide: Guide, chassis: str, axle: Axle, sites: tuple[SiteSheet, ...]
) -> tuple[LimitLine, ...]:
    """Give all limits of one end that records speak of, and each other site by its sheet alone."""
    evidence = guide.evidence.get(chassis)
    if evidence is None:
        return ()
    found = []
    for site in sites:
        known = [
            limit
            for key, limit in evidence.limits.items()
            if key.axle is axle and key.site == site.name
        ]
        for limit in known:
            words = (limit.key.side.value, limit.key.condition.value)
            told = influences_shown(limit, guide.library.setups)
            found.append(_limit(site, words, limit.posterior, told))
        if not known:
            alone = evidence.sheet_alone[f"{axle.value}.{site.name}"]
            found.append(_limit(site, ("both", "stock"), alone, Influences()))
    return tuple(found)


def _limit_chart(evidence: ChassisEvidence | None, chassis: Chassis) -> LimitChart | None:
    """Give the chart of what is known of each site as built; the side that is known worse."""
    if evidence is None or not chassis.sites:
        return None
    rows = []
    for axle in Axle:
        for site in chassis.sites:
            if site.axle is axle:
                rows.append(_limit_row(evidence, site))
    return LimitChart("limits-chart", f"{chassis.name}: room at each site", tuple(rows))


def _limit_row(evidence: ChassisEvidence, site: SiteSheet) -> LimitRow:
    keys = [
        SiteKey(site.axle, site.name, side, Condition.STOCK) for side in (Side.LEFT, Side.RIGHT)
    ]
    found = [evidence.limits[key].posterior for key in keys if key in evidence.limits]
    alone = evidence.sheet_alone[f"{site.axle.value}.{site.name}"]
    worst = max(found, key=lambda each: each.limits.spread, default=alone)
    limits = worst.limits
    return LimitRow(site.axle.value, site.label, limits.low, limits.median, limits.high, worst.cars)


def _limit(
    site: SiteSheet, words: tuple[str, str], posterior: SitePosterior, told: Influences
) -> LimitLine:
    known = limit_confidence(posterior)
    return LimitLine(
        label=site.label,
        side=words[0],
        condition=words[1],
        word=known.flag.value,
        words=known.words,
        raise_by=known.raise_by,
        low=posterior.limits.low,
        high=posterior.limits.high,
        cars=posterior.cars,
        influences=told,
    )


def _points(axle: Axle, setups: tuple[NumberedSetup, ...]) -> tuple[ChartPoint, ...]:
    """Give the setups that count and whose wheels have a known place."""
    points = []
    for each in setups:
        end = each.line.front if axle is Axle.FRONT else each.line.rear
        if end.sort_offset is not None and not each.line.has_lapsed:
            points.append(ChartPoint(each.number, end.width, end.sort_offset))
    return tuple(points)
