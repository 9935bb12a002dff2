"""Try a setup: what fails and is not known of hardware and loads stands in the verdict."""

import re
from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING

from generator.assessment.finding import Finding, Gravity, Outcome
from generator.assessment.hazards import hazards
from generator.evidence.candidate import AxleChange, like_record, like_stock, millimetres
from generator.evidence.trial import try_out
from generator.records.words import Axle
from generator.site.guide import Guide
from tests.browser.check_cases import SHOWN

if TYPE_CHECKING:
    from playwright.sync_api import Page
CHASSIS = "ostvane-meridel"
DAY = date(2026, 3, 1)
SPACED = "ostvane-meridel/copperbill-lips-rolled"
HAZARDS = {each.code: each for each in hazards()}


def test_what_fails_of_the_hardware_is_named_in_the_verdict_and_never_reads_as_good(
    tried: Callable[..., "Page"], guide: Guide
) -> None:
    """A spacer of 25 mm on studs that have no room for it: no thread is engaged, by hand too."""
    setup = guide.library.setups[SPACED]
    before, spacer = setup.value.front, 25.0
    hardware, pad = before.hardware, before.wheel.pad_thickness
    assert hardware is not None
    assert hardware.length is not None
    assert pad is not None
    # The stud ends before the nut: M12 wants 12 mm.
    assert hardware.length.value - pad.value - spacer <= 0.0
    candidate = like_record(guide.library.chassis[CHASSIS], setup).changed(
        Axle.FRONT, AxleChange(spacer=millimetres(spacer))
    )
    found = try_out(candidate, guide.evidence[CHASSIS]).assessment.findings
    failing = [each for each in found if is_failing(each) and each.code in SHOWN]
    assert "H01" in {each.code for each in failing}
    page = tried(f"?start={SPACED.rsplit('/', 1)[-1]}&f.spacer={spacer:g}")
    said = page.locator("[data-part=checked]").inner_text()
    assert all(each.hazard in said for each in failing), (failing, said)
    assert page.locator("[data-part=checked] .flag").inner_text().strip() == "fails"
    assert "do not drive" in page.locator("#verdict-head").inner_text()
    assert "fail" in page.locator("[data-part=bar]").inner_text()
    told = page.locator("[data-part=checks]").inner_text()
    assert "Thread engagement, front: fails, do not drive." in told


def is_failing(found: Finding) -> bool:
    """A danger that is too close to say counts as failing, as the assessment has it."""
    danger = HAZARDS[found.code].gravity is Gravity.DANGER
    return found.outcome is Outcome.FAILS or (danger and found.outcome is Outcome.TOO_CLOSE_TO_SAY)


def test_what_is_not_known_of_the_hardware_is_named_in_the_verdict(
    tried: Callable[..., "Page"], guide: Guide
) -> None:
    stock = like_stock(guide.library.chassis[CHASSIS], day=DAY)
    found = try_out(stock, guide.evidence[CHASSIS]).assessment.findings
    unknown = [each for each in found if each.outcome is Outcome.NOT_KNOWN and each.code in SHOWN]
    assert "H01" in {each.code for each in unknown}
    said = tried().locator("[data-part=unknown]").inner_text()
    assert all(each.hazard in said for each in unknown)
    # The names add up to what is counted: two for both ends where no number stands.
    total, names = re.findall(r"(\d+) of \d+ checks: (.*)\.", said.replace("\u00a0", " "))[0]
    ends = re.findall(r"\((front|rear|both ends)(?:, (\d+) checks)?\)", names)
    assert int(total) == sum(int(many or (2 if end == "both ends" else 1)) for end, many in ends)
