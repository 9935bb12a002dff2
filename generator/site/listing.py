"""Setups in lists: what tells one from another, and whether a newer record replaced it."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from generator.assessment.assess import AxleAssessment
from generator.evidence.confidence import doubts
from generator.evidence.elsewhere import closer_elsewhere
from generator.frozen import dataclass
from generator.quantities.units import Inch, Mm
from generator.records.chassis import Chassis
from generator.records.fitted import AxleSetup
from generator.records.library import Case, Filed
from generator.records.setup import Setup
from generator.records.words import Axle
from generator.site import urls
from generator.site.facts import UNKNOWN, Shown, estimated, given, told_day
from generator.site.guide import Guide
from generator.site.lifecycle import has_lapsed, replaced_by
from generator.site.readings import UNKNOWN as NOT_KNOWN
from generator.site.readings import Headline, headline
from generator.site.sides_shown import sides_listed

ROAD_NOT_TOLD = "not told"
WITHDRAWN = "withdrawn"


@dataclass(frozen=True)
class EndLine:
    """One end of a car in a list; `differs` says what is not alike at its two sides."""

    axle: str
    wheel: str
    width: Inch
    effective_offset: Shown
    sort_offset: Mm | None
    spacer: Shown
    tyre: str
    differs: str


@dataclass(frozen=True)
class SetupLine:
    """One setup in a list.

    `flag` says how far it is borne out, empty where nothing can be computed or the record has
    lapsed: then `standing` says why it no longer counts.
    """

    href: str
    title: str
    chassis: str
    chassis_href: str
    member: str
    day: date
    front: EndLine
    rear: EndLine
    headline: Headline
    flag: str
    outcome: str
    standing: str
    has_lapsed: bool


def case_of(guide: Guide, setup: Filed[Setup]) -> Case:
    """Give a setup with its chassis, what is held against its gaps, and what they leave open."""
    known = guide.evidence.get(setup.value.chassis)
    computed = guide.assessments.get(setup.id)
    case = Case(setup, guide.library.chassis.get(setup.value.chassis))
    return replace(
        case,
        doubts=doubts(known, setup.id) if known else (),
        closer=closer_elsewhere(case, computed) if computed else (),
    )


def outcome(setup: Setup) -> str:
    """Name how the road test ended; withdrawn records say so instead."""
    if setup.withdrawn is not None:
        return WITHDRAWN
    return setup.road.outcome.value if setup.road else ROAD_NOT_TOLD


def headline_of(case: Case, newer: Filed[Setup] | None) -> Headline:
    """Say in one line what a record says; one that a newer record replaced says nothing more."""
    if newer is None or case.setup.value.withdrawn is not None:
        return headline(case)
    told = f"{_replaced(newer)}: it counts no more"
    return Headline(NOT_KNOWN, told[:1].upper() + told[1:], ())


def _replaced(newer: Filed[Setup]) -> str:
    return f"replaced by the record of {told_day(newer.value.date)}"


def setup_lines(guide: Guide, setups: tuple[Filed[Setup], ...]) -> tuple[SetupLine, ...]:
    """Give the lines of a list of setups, in their order."""
    lines: dict[str, SetupLine] = guide.lines
    missing = [filed for filed in setups if filed.id not in lines]
    replaced = replaced_by(guide.library) if missing else {}
    lines |= {filed.id: setup_line(guide, replaced, filed) for filed in missing}
    return tuple(lines[filed.id] for filed in setups)


def setup_line(
    guide: Guide, replaced: Mapping[str, Filed[Setup]], filed: Filed[Setup]
) -> SetupLine:
    """Give the line of one setup. `replaced`: the newer record of each that is replaced."""
    setup = filed.value
    chassis: Filed[Chassis] | None = guide.library.chassis.get(setup.chassis)
    computed = guide.assessments.get(filed.id)
    lapsed = has_lapsed(filed, replaced)
    confidence = None if lapsed else guide.confidence.get(filed.id)
    return SetupLine(
        href=urls.setup(filed.id),
        title=setup.title,
        chassis=chassis.value.name if chassis else setup.chassis,
        chassis_href=urls.chassis(setup.chassis) if chassis else "",
        member=setup.member,
        day=setup.date,
        front=_end(Axle.FRONT, setup.front, chassis, computed.front if computed else None),
        rear=_end(Axle.REAR, setup.rear, chassis, computed.rear if computed else None),
        headline=headline_of(case_of(guide, filed), replaced.get(filed.id)),
        flag=confidence.flag.value if confidence else "",
        outcome=outcome(setup),
        standing=_standing(filed, replaced),
        has_lapsed=lapsed,
    )


def _standing(filed: Filed[Setup], replaced: Mapping[str, Filed[Setup]]) -> str:
    if filed.value.withdrawn is not None:
        return WITHDRAWN
    if filed.id in replaced:
        return _replaced(replaced[filed.id])
    open_disputes = [each for each in filed.value.disputes if each.settled is None]
    return "disputed" if open_disputes else ""


def _end(
    axle: Axle, fitted: AxleSetup, chassis: Filed[Chassis] | None, computed: AxleAssessment | None
) -> EndLine:
    sheet = getattr(chassis.value, axle.value) if chassis else None
    wheel = computed.fit.fitted.wheel if computed else None
    spacer = given(fitted.spacer.thickness) if fitted.spacer else UNKNOWN
    offset = wheel.effective_offset if wheel else None
    tyre = fitted.tyre.size.designation
    return EndLine(
        axle=axle.value,
        wheel=_together(str(fitted.wheel.size)),
        width=fitted.wheel.size.width_code,
        effective_offset=estimated(offset, is_signed=True),
        sort_offset=offset.value if offset else None,
        spacer=spacer,
        tyre=_together(tyre),
        differs=sides_listed(axle, fitted, sheet),
    )


def _together(text: str) -> str:
    """Keep a size on one line."""
    return text.replace(" ", "\u00a0")
