"""The mock-up sheet that a trial prints: of exactly what is tried, step by step."""

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from generator.evidence.candidate import AxleChange, millimetres
from generator.quantities.rim_size import RimSize
from generator.site import urls
from generator.site.guide import Guide
from generator.site.mock_up import mock_up

sys.path.insert(0, str(Path(__file__).parent))
from test_try import CHASSIS, RIM, WIDE, judged, number

if TYPE_CHECKING:
    from playwright.sync_api import Page


def test_it_prints_as_the_mock_up_sheet_of_this_setup(
    tried: Callable[..., "Page"], guide: Guide
) -> None:
    page = tried(WIDE)
    assert not page.locator("[data-part=sheet]").is_visible()
    page.emulate_media(media="print")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    assert page.locator("[data-part=sheet]").is_visible()
    assert not page.locator(".try-form").is_visible()
    asked = page.locator("[data-part=asked-front]").inner_text()
    assert asked.startswith(f"wheel 7 x {RIM}; offset +10.0")
    asked_for = page.locator("[data-part=sheet] tr:not([hidden]) [data-part=expected]")
    expected = asked_for.all_inner_texts()
    assert expected
    assert all(expected)
    steps = page.locator("[data-part=sheet] h5").all_inner_texts()
    numbers = [int(text.partition(".")[0]) for text in steps]
    assert numbers == list(range(1, len(steps) + 1))
    text = page.locator("[data-part=sheet]").inner_text()
    assert text.index("1. Bench") < text.index("2. Car") < text.index("3. Road")
    sweep = page.locator("table[data-end=front][data-sweep] tr[data-site=fender-lip]").first
    rim = guide.library.chassis[CHASSIS].value.front.stock_wheel.size
    change = AxleChange(size=RimSize(7.0, rim.diameter_code), offset=millimetres(10.0))
    found = [
        site.clearance.least.gap.value
        for site in judged(guide, change).verdict.front.sites
        if site.clearance.site.name == "fender-lip" and site.clearance.least
    ]
    pose = page.locator("table[data-end=front][data-sweep] [data-part=pose]:has(.metric)").first
    metric, inch = (number(pose.locator(kind).inner_text()) for kind in (".metric", ".inch"))
    assert inch == pytest.approx(metric / 25.4, abs=0.0051)
    shown = sweep.locator("[data-part=expected] .metric").inner_text()
    assert shown.replace("\u2212", "-").startswith(f"{min(found):+.0f}".replace("+0", "0"))


@pytest.mark.parametrize("chassis", [CHASSIS, "veltharn-orsey"])
def test_of_the_stock_wheels_the_sheet_asks_what_that_of_the_chassis_asks(
    tried: Callable[..., "Page"], guide: Guide, chassis: str
) -> None:
    page = tried(path=urls.trial(chassis))
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    rows = page.evaluate(TOLD_ROWS)
    told = {(each["step"], each["site"]): number(each["gap"]) for each in rows}
    wanted = {
        (step.number, row.site): row.stock.value
        for end in mock_up(guide.library.chassis[chassis].value)
        for step in end.steps
        for row in step.rows
        if row.is_asked
    }
    assert list(told) == list(wanted)
    for place, gap in wanted.items():
        assert gap is not None
        assert told[place] == pytest.approx(gap, abs=0.5 + 1e-4)
    # What must be said of a site is said once at each end, where it first stands.
    said = [(each["end"], each["site"]) for each in rows if each["caution"]]
    assert len(said) == len(set(said)) > 0


TOLD_ROWS = """
() => [...document.querySelectorAll("[data-part=sheet] tr[data-site]")]
  .filter((row) => !row.hidden)
  .map((row) => ({
    step: parseInt(row.closest(".step").querySelector("h5").textContent),
    end: row.closest("table").dataset.end,
    site: row.dataset.site,
    gap: row.querySelector("[data-part=expected]").textContent,
    caution: row.querySelector("[data-part=caution]:not([hidden])") !== null,
  }))
"""
