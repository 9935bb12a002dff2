"""One setup on three pages of paper: verdict, drawings, gaps, hardware, cautions."""

from collections.abc import Iterator, Mapping

from generator.assessment.assess import Assessment
from generator.evidence.confidence import RecordConfidence
from generator.evidence.verdict import SiteVerdict, Verdict
from generator.frozen import dataclass
from generator.records.axle_sheet import AxleSheet
from generator.records.fitted import AxleSetup
from generator.records.library import Case, Filed
from generator.records.setup import Rub, Setup
from generator.records.words import Axle
from generator.site import cautions, urls
from generator.site.checks_shown import CheckLine, checks_of, failing_words
from generator.site.drawings import SectionSubject
from generator.site.facts import UNKNOWN, Shown, estimated, given, words
from generator.site.field_facts import shown
from generator.site.fit_table import position_rows
from generator.site.gaps_by_side import SidedRow, by_side
from generator.site.gaps_shown import gap_rows
from generator.site.guide import Guide
from generator.site.lifecycle import DISPUTED, REPLACED, WITHDRAWN, Notice, notices, replaced_by
from generator.site.listing import case_of, headline_of, outcome
from generator.site.page import Page
from generator.site.readings import UNKNOWN as UNKNOWN_WORD
from generator.site.readings import Headline, headline, named
from generator.site.section_shown import section_of
from generator.site.shell import Link, PageHead

BY_CHASSIS = True
_CLEARS = "clears"

_POSITIONS = (
    "offset", "effective offset", "backspacing", "overall width", "tyre section width",
    "tyre diameter", "tyre's inboard face", "tyre's outboard face", "poke",
)  # fmt: skip
_COUNTED_FROM = {
    "tyre's inboard face": "inboard face from hub",
    "tyre's outboard face": "outboard face from hub",
    "poke": "poke beyond skin",
}

_FITTED = (
    ("thread fitted", "thread"), ("seat fitted", "seat"), ("nut", "nut"),
    ("length fitted", "length"), ("turns from first catch", "turns"),
    ("engaged thread", "engagement"), ("torque used", "torque"),
    ("first re-torque after", "retorqued_after"),
)  # fmt: skip


@dataclass(frozen=True)
class PairLine:
    """One thing, front and rear."""

    label: str
    front: Shown
    rear: Shown


@dataclass(frozen=True)
class SiteLine:
    """What the next car may expect at one site: the side that is worse."""

    label: str
    side: str
    word: str
    least: Shown
    wanted: Shown
    where: str


@dataclass(frozen=True)
class End:
    """One end of the car."""

    axle: str
    section: SectionSubject | None
    weak: tuple[SiteLine, ...]
    """What is not expected to clear, the weakest first."""
    clear: tuple[SiteLine, ...]
    """What is, the least computed gap first."""
    checks: tuple[CheckLine, ...]


@dataclass(frozen=True)
class SetupSheet:
    """All of the sheet."""

    setup: Setup
    lapsed: str
    page: Link
    chassis: str
    address: str
    notices: tuple[Notice, ...]
    headline: Headline
    failing: tuple[str, ...]
    confidence: RecordConfidence | None
    outcome: str
    key_lines: tuple[PairLine, ...]
    hardware: tuple[PairLine, ...]
    ends: tuple[End, ...]
    whole_car: tuple[CheckLine, ...]
    gaps: tuple[SidedRow, ...]
    rubs: tuple[tuple[str, Rub], ...]
    contact_cautions: tuple[cautions.Caution, ...]
    hardware_cautions: tuple[cautions.Caution, ...]
    law: cautions.Caution
    local_rules: str


def pages(guide: Guide) -> Iterator[Page]:
    """Give the sheet of each setup."""
    replaced = replaced_by(guide.library)
    yield from (page_of(guide, filed, replaced) for filed in guide.setups())


def page_of(guide: Guide, filed: Filed[Setup], replaced: Mapping[str, Filed[Setup]]) -> Page:
    """Give the sheet of one setup. `replaced`: the newer record of each that is replaced."""
    case = case_of(guide, filed)
    name = case.chassis.value.name if case.chassis else filed.value.chassis
    above = [Link("Home", urls.HOME)]
    if case.chassis is not None:
        above.append(Link(name, urls.chassis(case.chassis.id)))
    above.append(Link("Setup", urls.setup(filed.id)))
    head = PageHead(
        f"Sheet: {filed.value.title}",
        f"{name}: {filed.value.title}, for the printer.",
        tuple(above),
        here="Sheet",
    )
    return Page(
        urls.setup_sheet(filed.id),
        "setup_sheet",
        head,
        _view(guide, case, name, replaced.get(filed.id)),
    )


def _view(guide: Guide, case: Case, name: str, newer: Filed[Setup] | None) -> SetupSheet:
    filed, setup = case.setup, case.setup.value
    computed = guide.assessments.get(filed.id)
    counts = setup.withdrawn is None and newer is None
    verdict = guide.verdicts.get(filed.id) if counts else None
    spaced = any(end.spacer is not None for end in (setup.front, setup.rear))
    return SetupSheet(
        setup=setup,
        lapsed="" if counts else WITHDRAWN if setup.withdrawn else REPLACED,
        page=Link(setup.title, urls.setup(filed.id)),
        chassis=name,
        address=f"{guide.club.address}/{urls.setup(filed.id)}",
        notices=tuple(_notices(case, newer)),
        headline=headline_of(case, newer),
        failing=failing_words(computed) if counts else (),
        confidence=guide.confidence.get(filed.id) if counts else None,
        outcome=outcome(setup),
        key_lines=(*_written(setup), *_positions(computed)),
        hardware=tuple(_hardware(case)),
        ends=tuple(_ends(case, computed, verdict, counts=counts)),
        whole_car=checks_of(computed, None).open if counts else (),
        gaps=by_side(gap_rows(case, computed)),
        rubs=tuple(_rubs(case)),
        contact_cautions=(cautions.YOUR_CAR, cautions.HOSES, cautions.STEERING),
        hardware_cautions=(
            cautions.FASTENERS,
            *((cautions.SPACERS,) if spaced else ()),
            cautions.LOADS,
        ),
        law=cautions.LAW,
        local_rules=guide.club.local_rules,
    )


def _notices(case: Case, newer: Filed[Setup] | None) -> Iterator[Notice]:
    """Say what the verdict does not: that a newer record goes first, and who doubts this one."""
    told = headline(case).sentence
    for each in notices(case, newer):
        if each.word == REPLACED or (each.word == DISPUTED and not told.startswith("Disputed")):
            yield each


def _written(setup: Setup) -> Iterator[PairLine]:
    both = (setup.front, setup.rear)

    def spacer(end: AxleSetup) -> Shown:
        return given(end.spacer.thickness) if end.spacer else words("none written")

    def height(end: AxleSetup) -> Shown:
        change = end.ride_height.change if end.ride_height else None
        return given(change, is_signed=True)

    yield PairLine("wheel", *(words(str(end.wheel.size)) for end in both))
    yield PairLine("spacer", *(spacer(end) for end in both))
    yield PairLine("tyre", *(words(str(end.tyre.size)) for end in both))
    yield PairLine("pressure", *(given(end.tyre.pressure) for end in both))
    yield PairLine("camber", *(given(end.camber, is_signed=True) for end in both))
    yield PairLine("ride height against the sheet", *(height(end) for end in both))


def _positions(computed: Assessment | None) -> Iterator[PairLine]:
    if computed is None:
        return
    front, rear = ({row.label: row for row in position_rows(end.fit)} for end in computed.axles())
    for label in _POSITIONS:
        if label in front and label in rear:
            told = _COUNTED_FROM.get(label, label)
            yield PairLine(told, front[label].fitted, rear[label].fitted)


def _hardware(case: Case) -> Iterator[PairLine]:
    sheets = [sheet for _, _, sheet in case.axles()]
    fitted = [end.hardware for _, end, _ in case.axles()]

    def of_sheet(sheet: AxleSheet | None, name: str) -> Shown:
        return shown(getattr(sheet.fastening, name)) if sheet else UNKNOWN

    yield PairLine("thread on the sheet", *(of_sheet(sheet, "thread") for sheet in sheets))
    yield PairLine("seat on the sheet", *(of_sheet(sheet, "seat") for sheet in sheets))
    yield PairLine("vehicle maker's torque", *(of_sheet(sheet, "torque") for sheet in sheets))
    for label, name in _FITTED:
        yield PairLine(label, *(shown(getattr(end, name, None)) for end in fitted))


def _ends(
    case: Case, computed: Assessment | None, verdict: Verdict | None, *, counts: bool
) -> Iterator[End]:
    for axle, fitted, sheet in case.axles():
        section = None
        if computed is not None and sheet is not None and case.chassis is not None:
            section = section_of(case, getattr(computed, axle.value), fitted, sheet, counts=counts)
        sites = tuple(_sites(verdict, axle))
        clear = (site for site in sites if site.word == _CLEARS)
        yield End(
            axle=axle.value,
            section=section,
            weak=tuple(site for site in sites if site.word != _CLEARS),
            clear=tuple(sorted(clear, key=lambda site: site.least.value or 0.0)),
            checks=checks_of(computed, axle).open if case.setup.value.withdrawn is None else (),
        )


def _sites(verdict: Verdict | None, axle: Axle) -> Iterator[SiteLine]:
    """Give each site once, the weaker side where they differ, the weakest first."""
    if verdict is None:
        return
    seen: dict[str, list[SiteVerdict]] = {}
    for site in getattr(verdict, axle.value).sites:
        seen.setdefault(site.clearance.site.name, []).append(site)
    for sides in seen.values():
        yield _site(sides[0])


def _site(site: SiteVerdict) -> SiteLine:
    clearance, least = site.clearance, site.clearance.least
    return SiteLine(
        label=clearance.site.label,
        side=site.side.value,
        word=UNKNOWN_WORD if site.chance is None else site.word,
        least=estimated(least.gap if least else None),
        wanted=given(clearance.site.wanted),
        where=least.words if least else site.refused,
    )


def _rubs(case: Case) -> Iterator[tuple[str, Rub]]:
    for rub in case.setup.value.rubs:
        site = case.site(rub.site, rub.axle)
        yield (named(site) if site else rub.site, rub)
