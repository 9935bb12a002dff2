"""One computation, two languages: the browser's modules give what Python gives, to a millionth.

Python is no oracle of the formulas here; their own tests hold them against published sources.
"""

import json
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from generator.evidence.levers import COSTS
from generator.rendering.environment import template_folder
from generator.rendering.scripts import scripts
from generator.site.guide import Guide
from generator.site.live.chassis import chassis_json
from generator.site.live.facts import facts_json
from tests.browser.cases import Case
from tests.browser.check_cases import SHOWN, check_cases
from tests.browser.live_cases import candidate_cases, kernel_cases, motion_cases, record_cases
from tests.browser.remedy_cases import remedy_cases

if TYPE_CHECKING:
    from playwright.sync_api import Browser
CANDIDATES = 180
CARS = 600
MENDED = 102
"""Ends with a site that fails, and all that would help there."""
LEAST_CASES = 5_000
EXACT = 1e-6
"""Of a millimetre, of a degree, of certainty."""


@pytest.fixture(scope="session")
def cases(guide: Guide) -> tuple[Case, ...]:
    return (
        *kernel_cases(),
        *motion_cases(guide),
        *record_cases(guide),
        *candidate_cases(guide, CANDIDATES),
        *check_cases(guide, CARS),
        *remedy_cases(guide, MENDED),
    )


@pytest.fixture(scope="session")
def told(
    guide: Guide,
    cases: tuple[Case, ...],
    browser: "Browser",
    serve: Callable[[Path], Iterator[str]],
    tmp_path_factory: pytest.TempPathFactory,
) -> Iterator[Any]:
    folder = tmp_path_factory.mktemp("same")
    (folder / "assets").mkdir()
    published = scripts(template_folder())
    for asset in published.values():
        (folder / "assets" / asset.name).write_bytes(asset.body)
    asked = {
        "modules": {name: asset.name for name, asset in published.items()},
        "facts": facts_json(),
        "chassis": [chassis_json(each, guide.evidence[each.id]) for each in guide.chassis()],
        "cases": [asdict(each) for each in cases],
    }
    (folder / "cases.json").write_text(json.dumps(asked, allow_nan=False), "utf-8")
    (folder / "index.html").write_text("<!DOCTYPE html><title>cases</title>", "utf-8")
    here = Path(__file__).with_name("same_numbers.js")
    (folder / "same_numbers.js").write_bytes(here.read_bytes())
    for address in serve(folder):
        page = browser.new_page()
        page.goto(address)
        yield page.evaluate("async () => (await import('./same_numbers.js')).compare()")
        page.close()


def test_there_are_cases_enough_and_every_kind_is_among_them(cases: tuple[Case, ...]) -> None:
    counted = Counter(each.kind for each in cases)
    assert sum(counted.values()) >= LEAST_CASES, counted
    wanted = "tyreSize nominal wheel section range above joint normal positions motion changed end"
    assert set(counted) == {*wanted.split(), "checks", "remedies"}


def test_the_browser_gives_what_python_gives(told: Any) -> None:
    assert not told["wrong"], "\n".join(map(str, told["wrong"]))
    assert max(each["off"] for each in told["worst"].values()) <= EXACT, told["worst"]


def test_every_word_of_a_verdict_is_met(cases: tuple[Case, ...]) -> None:
    words = {part for each in cases if each.kind == "end" for part in each.answer}
    assert {"clears", "tight", "touches", "not known", "rolled", "pulled", "cut"} <= words


# Of each check how it can end, by its source: no uncertainty, no "too close"; no bound, no failing.
_ENDS = {
    "holds": "H01 H02 H03 H04 H05 H06 H07 H08 H09 H10 H14 H15 H16 H17 H20 H21 H22 H23 H24 H25 H30",
    "fails": "H01 H02 H03 H04 H05 H06 H07 H08 H09 H10 H14 H15 H16 H17 H20 H21 H22 H23 H24 H25 H30",
    "too close to say": "H01 H02 H03 H05 H06 H07 H08 H09 H10 H14 H21 H22 H23 H24 H25",
    "not known": "H01 H02 H03 H04 H05 H06 H07 H08 H09 H10 H14 H15 H16 H17 H18 H19 H20 H21 H22 "
    "H23 H24 H25 H30",
    "for information": "H06 H18 H19",
}


def test_every_check_is_met_with_every_end_it_can_have(cases: tuple[Case, ...]) -> None:
    met = {
        (each.answer[at], each.answer[at + 3])
        for each in cases
        if each.kind == "checks"
        for at in range(0, len(each.answer), 7)
    }
    wanted = {(code, end) for end, codes in _ENDS.items() for code in codes.split()}
    assert met >= wanted, sorted(wanted - met)
    assert {code for code, _ in met} == set(SHOWN)


def test_every_kind_of_remedy_and_all_that_it_spoils_is_met(
    cases: tuple[Case, ...], guide: Guide
) -> None:
    mended = [each for each in cases if each.kind == "remedies"]
    assert {each.given["chassis"] for each in mended} == {each.id for each in guide.chassis()}
    met = {part for each in mended for part in each.answer}
    assert {kind.value for kind in COSTS} <= met
    assert met >= set(COSTS.values())
    assert {"clears", "tight", "touches", "mends", "left", "right"} <= met
    after = [each.answer.index("checks") for each in mended if "checks" in each.answer]
    assert len(after) > MENDED // 2


def test_sides_that_differ_are_met(cases: tuple[Case, ...]) -> None:
    sides = {part for each in cases if each.kind == "checks" for part in each.answer[2::7]}
    assert sides == {"both", "left", "right"}
