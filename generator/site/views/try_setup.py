"""The page on which a setup nobody has tried is judged, one for each chassis."""

from collections.abc import Iterator

from generator.assessment.finding import Hazard
from generator.assessment.hazards import hazard_modules
from generator.evidence.remedies import ENOUGH
from generator.frozen import dataclass
from generator.records.chassis import Chassis
from generator.records.library import Filed
from generator.site import urls
from generator.site.guide import Guide
from generator.site.joining import Joining
from generator.site.live.chassis import chassis_json, starts_json, text_of
from generator.site.live.facts import facts_json
from generator.site.live.fields import FIRST, MORE, TrialField
from generator.site.page import DataFile, Page
from generator.site.procedure import Procedure, procedure
from generator.site.shell import Link, PageHead

BY_CHASSIS = True


@dataclass(frozen=True)
class Start:
    """A setup that a trial may start from, by its short name."""

    name: str
    title: str


@dataclass(frozen=True)
class TrySetup:
    """All of the page."""

    name: str
    chassis: Link
    command: str
    starts: tuple[Start, ...]
    first: tuple[TrialField, ...]
    more: tuple[TrialField, ...]
    facts_href: str
    data_href: str
    starts_href: str
    mock_up_href: str
    window_href: str
    worth_href: str
    enough: str
    procedure: Procedure


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page of each chassis."""
    for filed in guide.chassis():
        name = filed.value.name
        above = (Link("Home", urls.HOME), Link(name, urls.chassis(filed.id)))
        head = PageHead(
            f"Try a setup: {name}",
            f"{name}: the chance of every gap with wheels and tyres that nobody has tried.",
            above,
            here="Try a setup",
        )
        yield Page(urls.trial(filed.id), "try_setup", head, _view(guide, filed))


def _view(guide: Guide, filed: Filed[Chassis]) -> TrySetup:
    chassis = filed.value
    return TrySetup(
        name=filed.id,
        chassis=Link(chassis.name, urls.chassis(filed.id)),
        command=f"gapbook try {filed.id} --front-wheel '7 J x "
        f"{chassis.front.stock_wheel.size.diameter_code:g}' --front-offset '20 mm'",
        starts=tuple(
            Start(each.id.rsplit("/", 1)[-1], each.value.title)
            for each in guide.setups_of(filed.id)
        ),
        first=FIRST,
        more=MORE,
        facts_href=urls.live("facts"),
        data_href=urls.live(filed.id),
        starts_href=urls.live(f"{filed.id}.starts"),
        mock_up_href=urls.mock_up(filed.id),
        window_href=f"{urls.chassis(filed.id)}#window",
        worth_href=f"{urls.chassis(filed.id)}#worth",
        enough=ENOUGH.replace(" ", "\u00a0"),
        procedure=procedure(guide, filed),
    )


def files(guide: Guide, every_page: tuple[Page, ...]) -> Iterator[DataFile]:
    """Give what the page's script loads."""
    yield _facts()
    yield from part_files(guide)


def joined_files(joining: Joining) -> Iterator[DataFile]:
    """Give what the scripts of all these pages load."""
    yield _facts()


def _facts() -> DataFile:
    told = {
        **facts_json(),
        "hazards": {
            module.HAZARD.code: {
                **_words(module.HAZARD),
                "gravity": module.HAZARD.gravity.value,
                **({"drum": _words(module.AT_DRUM)} if hasattr(module, "AT_DRUM") else {}),
            }
            for module in hazard_modules()
        },
    }
    return DataFile(urls.live("facts"), text_of(told))


def _words(hazard: Hazard) -> dict[str, str]:
    return {"title": hazard.title, "why": hazard.why}


def part_files(guide: Guide) -> Iterator[DataFile]:
    """Give what the page's script loads of one chassis, or of several."""
    for filed in guide.chassis():
        evidence = guide.evidence.get(filed.id)
        if evidence is None:
            continue
        yield DataFile(urls.live(filed.id), text_of(chassis_json(filed, evidence)))
        starts = starts_json(guide.setups_of(filed.id))
        yield DataFile(urls.live(f"{filed.id}.starts"), text_of(starts))
