"""The page of one setup: what was fitted, measured, computed, rubbed and driven, and by whom."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from generator.assessment.assess import Assessment, AxleAssessment
from generator.assessment.effects import Effect
from generator.evidence.confidence import RecordConfidence
from generator.evidence.verdict import Verdict
from generator.frozen import dataclass
from generator.quantities.units import Mm, Probability
from generator.records.fitted import AxleSetup
from generator.records.library import Case, Filed
from generator.records.setup import Remedy, Rub, Setup
from generator.site import advice, cautions, urls
from generator.site.changes_shown import EffectRow, RemediesShown, effect_rows, remedies_shown
from generator.site.checks_shown import ChecksOfEnd, checks_of, failing_words
from generator.site.drawings import SectionSubject
from generator.site.expected_shown import ExpectedSites, expected_line, expected_rows, never_certain
from generator.site.facts import (
    Fact,
    Kind,
    Shown,
    estimated,
    given,
    length_and_words,
    words,
    yes_no,
)
from generator.site.field_facts import Group, group
from generator.site.fit_table import (
    PositionRow,
    change_facts,
    position_rows,
    rolling_facts,
)
from generator.site.forge_links import ForgeLinks, forge_links
from generator.site.gaps_shown import GapPart, gap_parts, gap_rows
from generator.site.guide import Guide
from generator.site.lifecycle import (
    Event,
    Kept,
    Notice,
    events,
    has_lapsed,
    kept,
    notices,
    replaced_by,
    standing,
)
from generator.site.listing import case_of, headline_of, outcome
from generator.site.motion_shown import Motion, unjudged
from generator.site.page import Page
from generator.site.photos_shown import PhotoShown, photos_shown
from generator.site.readings import Headline, named
from generator.site.section_shown import section_of
from generator.site.shell import Link, PageHead
from generator.site.sides_shown import side_facts, sides_differ

BY_CHASSIS = True


@dataclass(frozen=True)
class RubNote:
    """A mark, with its site's name for people."""

    label: str
    rub: Rub
    cured: Shown


@dataclass(frozen=True)
class RemedyNote:
    """Something done so that it clears, how much, and the names of the sites it cured."""

    remedy: Remedy
    amount: Shown
    amount_rest: str
    cured: tuple[str, ...]


@dataclass(frozen=True)
class End:
    """One end of the car."""

    axle: str
    differs: str
    headline: tuple[Fact, ...]
    groups: tuple[Group, ...]
    hardware: Group
    section: SectionSubject | None
    motion: Motion | None
    effects: tuple[EffectRow, ...]
    positions: tuple[PositionRow, ...]
    change: tuple[Fact, ...]
    rolling: tuple[Fact, ...]
    expected: ExpectedSites | None
    checks: ChecksOfEnd


@dataclass(frozen=True)
class SetupPage:
    """All of the page; `lapsed` says withdrawn or replaced where nothing follows any more."""

    setup: Setup
    lapsed: str
    odometer: Shown
    chassis: Link | None
    notices: tuple[Notice, ...]
    headline: Headline
    next_car: Headline | None
    confidence: RecordConfidence | None
    chance: Probability | None
    outcome: str
    failing: tuple[str, ...]
    whole_car: ChecksOfEnd
    ends: tuple[End, ...]
    gaps: tuple[GapPart, ...]
    photos: tuple[PhotoShown, ...]
    rubs: tuple[RubNote, ...]
    remedies: tuple[RemedyNote, ...]
    mending: tuple[RemediesShown, ...]
    road: Group
    method: Group
    older: Link | None
    hardware_cautions: tuple[cautions.Caution, ...]
    load_caution: cautions.Caution
    contact_cautions: tuple[cautions.Caution, ...]
    cutting: cautions.Caution
    law: cautions.Caution
    local_rules: str
    method_href: str
    sheet_href: str
    compare: tuple[Link, ...]
    try_href: str
    forge: ForgeLinks
    events: tuple[Event, ...]
    kept: Kept


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page of each setup."""
    replaced = replaced_by(guide.library)
    for filed in guide.setups():
        yield page_of(guide, filed, replaced)


def addresses(guide: Guide) -> Iterator[str]:
    """Give the address of the page of each setup."""
    yield from (urls.setup(filed.id) for filed in guide.setups())


def page_at(guide: Guide, path: str) -> Page | None:
    """Give the one page at an address, without the others; None where no setup has it."""
    found = [filed for filed in guide.setups() if urls.setup(filed.id) == path]
    return page_of(guide, found[0], replaced_by(guide.library)) if found else None


def page_of(guide: Guide, filed: Filed[Setup], replaced: Mapping[str, Filed[Setup]]) -> Page:
    """Give the page of one setup. `replaced`: the newer record of each that is replaced."""
    case = case_of(guide, filed)
    above = [Link("Home", urls.HOME)]
    if case.chassis is not None:
        above.append(Link(case.chassis.value.name, urls.chassis(case.chassis.id)))
    name = case.chassis.value.name if case.chassis else filed.value.chassis
    description = f"{name}: {filed.value.title}. Measured by {filed.value.member}."
    head = PageHead(filed.value.title, description, tuple(above))
    return Page(urls.setup(filed.id), "setup", head, _view(guide, case, replaced))


def _view(guide: Guide, case: Case, replaced: Mapping[str, Filed[Setup]]) -> SetupPage:
    filed, setup = case.setup, case.setup.value
    computed = guide.assessments.get(filed.id)
    counts = not has_lapsed(filed, replaced)
    verdict = guide.verdicts.get(filed.id) if counts else None
    spaced = any(end.spacer is not None for end in (setup.front, setup.rear))
    chassis = case.chassis
    older = guide.library.setups.get(f"{setup.chassis}/{setup.supersedes}")
    return SetupPage(
        setup=setup,
        lapsed="" if counts else standing(filed, replaced),
        odometer=given(setup.odometer),
        chassis=Link(chassis.value.name, urls.chassis(chassis.id)) if chassis else None,
        notices=tuple(notices(case, replaced.get(filed.id))),
        headline=headline_of(case, replaced.get(filed.id)),
        next_car=expected_line(verdict) if verdict else None,
        confidence=guide.confidence.get(filed.id) if counts else None,
        chance=never_certain(verdict.chance if verdict else None),
        outcome=outcome(setup),
        failing=failing_words(computed) if counts else (),
        whole_car=checks_of(computed, None),
        ends=tuple(_ends(case, computed, verdict, advice.effects(guide, case), counts=counts)),
        gaps=gap_parts(gap_rows(case, computed)),
        photos=photos_shown(guide, case),
        rubs=tuple(RubNote(_site_label(case, rub), rub, _cured(rub)) for rub in setup.rubs),
        remedies=tuple(_remedy(case, remedy) for remedy in setup.remedies),
        mending=remedies_shown(advice.weakest_remedies(guide, case) if counts else ()),
        road=group("Road since", setup.road),
        method=group("How it was measured", setup.method),
        older=Link(older.value.title, urls.setup(older.id)) if older else None,
        hardware_cautions=(
            (cautions.FASTENERS, cautions.SPACERS) if spaced else (cautions.FASTENERS,)
        ),
        load_caution=cautions.LOADS,
        contact_cautions=(cautions.YOUR_CAR, cautions.HOSES),
        cutting=cautions.CUTTING,
        law=cautions.LAW,
        local_rules=guide.club.local_rules,
        method_href=urls.METHOD,
        sheet_href=urls.setup_sheet(filed.id),
        compare=tuple(_compare(filed, chassis is not None, older)),
        try_href=urls.trial(*filed.id.split("/")) if chassis and not setup.withdrawn else "",
        forge=forge_links(guide.club.forge, filed.source.path),
        events=events(filed, guide.library, replaced),
        kept=kept(filed.source.path, guide.history),
    )


def _compare(filed: Filed[Setup], has_stock: bool, older: Filed[Setup] | None) -> Iterator[Link]:
    """Give ways to lay the setup beside others: beside stock, what it replaced, and any."""
    setup = filed.value
    if has_stock:
        yield Link("with stock", urls.compare(setup.chassis, filed.id))
    if older is not None:
        yield Link("with the older record", urls.compare(older.id, filed.id))
    yield Link("with another setup", f"{urls.FIND}?pick={filed.id}")


def _ends(
    case: Case,
    computed: Assessment | None,
    verdict: Verdict | None,
    effects: tuple[Effect, ...],
    *,
    counts: bool,
) -> Iterator[End]:
    for axle, fitted, sheet in case.axles():
        result: AxleAssessment | None = getattr(computed, axle.value) if computed else None
        section = motion = None
        if result is not None and sheet is not None and case.chassis is not None:
            section = section_of(case, result, fitted, sheet, counts=counts)
            motion = advice.motion(case, result)
            motion = unjudged(motion) if motion and not counts else motion
        yield End(
            axle=axle.value,
            differs=sides_differ(fitted),
            headline=(*_headline(fitted, result), *side_facts(axle, fitted, sheet)),
            groups=_groups(fitted, sheet.brake.part if sheet else "caliper"),
            hardware=group("Hardware", fitted.hardware),
            section=section,
            motion=motion,
            effects=effect_rows(effects, axle.value),
            positions=position_rows(result.fit) if result else (),
            change=change_facts(result.fit.change) if result else (),
            rolling=rolling_facts(result.fit.rolling) if result else (),
            expected=expected_rows(getattr(verdict, axle.value)) if verdict else None,
            checks=checks_of(computed, axle),
        )


def _headline(fitted: AxleSetup, result: AxleAssessment | None) -> Iterator[Fact]:
    wheel = fitted.wheel
    yield Fact("wheel", Shown(Kind.WORDS, text=str(wheel.size), typed=wheel.size.typed))
    placed = result.fit.fitted.wheel if result else None
    if wheel.offset_measured is not None:
        yield Fact("offset", given(wheel.offset_measured, is_signed=True), "as measured")
    elif wheel.offset is not None:
        yield Fact("offset", given(wheel.offset, is_signed=True), "as stamped or ordered")
    else:
        offset = estimated(placed.offset if placed else None, is_signed=True)
        yield Fact("offset", offset, "from backspacing and width")
    if fitted.spacer is not None:
        yield Fact("spacer", given(fitted.spacer.thickness), fitted.spacer.kind.value)
    else:
        yield Fact("spacer", words("none written"))
    effective = estimated(placed.effective_offset if placed else None, is_signed=True)
    yield Fact("effective offset", effective, _weighed(fitted, effective.value))
    size = fitted.tyre.size
    yield Fact("tyre", Shown(Kind.WORDS, text=str(size), typed=size.typed))


def _weighed(fitted: AxleSetup, effective: Mm | None) -> str:
    """Say why the effective offset is not the offset shown less the spacer, where it is not."""
    wheel = fitted.wheel
    offset = wheel.offset_measured or wheel.offset
    if offset is None or effective is None:
        return ""
    plain = offset.value - (fitted.spacer.thickness.value if fitted.spacer else 0.0)
    return "" if abs(effective - plain) < 0.05 else "weighed with the backspacing"


def _groups(fitted: AxleSetup, brake: str) -> tuple[Group, ...]:
    found = [
        group("Wheel", fitted.wheel),
        group("Tyre", fitted.tyre),
        group("Spacer", fitted.spacer),
        _of_brake(group("Alignment, stops and brake", fitted), brake),
        group("Ride height", fitted.ride_height),
        group("Bump stop", fitted.bump_stop),
        group("Bodywork", fitted.bodywork),
    ]
    for title, side in (("Left side only", fitted.left), ("Right side only", fitted.right)):
        if side is not None:
            found.append(group(title, side))
    return tuple(found)


def _of_brake(told: Group, part: str) -> Group:
    """Name what is asked of a brake by what it has: a caliper, or a drum."""
    return replace(
        told,
        facts=tuple(
            replace(each, label=each.label.replace("caliper", part)) for each in told.facts
        ),
        not_given=tuple(each.replace("caliper", part) for each in told.not_given),
    )


def _site_label(case: Case, rub: Rub) -> str:
    site = case.site(rub.site, rub.axle)
    return named(site) if site else rub.site


def _cured(rub: Rub) -> Shown:
    return words("nothing to cure") if rub.grade == 0 else yes_no(rub.cured)


def _remedy(case: Case, remedy: Remedy) -> RemedyNote:
    names = []
    for name in remedy.cured:
        site = case.site(name, remedy.axle)
        names.append(site.label if site else name)
    return RemedyNote(remedy, *length_and_words(remedy.amount), tuple(names))
