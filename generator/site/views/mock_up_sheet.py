"""The mock-up sheet of a chassis: bench, car and road in order, with boxes to write in."""

from collections.abc import Iterator

from generator.frozen import dataclass
from generator.records.chassis import Chassis
from generator.records.library import Filed
from generator.site import urls
from generator.site.guide import Guide
from generator.site.page import Page
from generator.site.procedure import Procedure, procedure
from generator.site.shell import Link, PageHead

BY_CHASSIS = True


@dataclass(frozen=True)
class MockUpSheet:
    """All of the sheet."""

    chassis: Link
    address: str
    procedure: Procedure
    new_record_href: str


def pages(guide: Guide) -> Iterator[Page]:
    """Give the sheet of each chassis."""
    for filed in guide.chassis():
        name = filed.value.name
        above = (Link("Home", urls.HOME), Link(name, urls.chassis(filed.id)))
        head = PageHead(
            f"Mock-up sheet: {name}",
            f"{name}: every state to take a wheel through before the road does, with boxes.",
            above,
            here="Mock-up sheet",
        )
        yield Page(urls.mock_up(filed.id), "mock_up_sheet", head, _view(guide, filed))


def _view(guide: Guide, filed: Filed[Chassis]) -> MockUpSheet:
    return MockUpSheet(
        chassis=Link(filed.value.name, urls.chassis(filed.id)),
        address=f"{guide.club.address}/{urls.mock_up(filed.id)}",
        procedure=procedure(guide, filed),
        new_record_href=urls.RECORD_REFERENCE,
    )
