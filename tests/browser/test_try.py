"""Try a setup: verdict, address, remedies, drawings, print; without script, network or storage."""

import gzip
import json
import re
import sys
from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from generator.evidence.candidate import AxleChange, like_stock, millimetres
from generator.evidence.trial import Trial, try_out
from generator.quantities.rim_size import RimSize
from generator.records.words import Axle
from generator.site.guide import Guide
from generator.site.views import try_setup

sys.path.insert(0, str(Path(__file__).parent))
from conftest import Watched, settled

if TYPE_CHECKING:
    from playwright.sync_api import Page
CHASSIS = "ostvane-meridel"
WIDE = "?f.width=7&f.offset=10"
RIM = 14
"""Diameter of the stock wheel on the sheet of this chassis, in inches."""
BUDGET = 60_000
"""Bytes of a chassis, compressed."""
DAY = datetime(2026, 3, 1, tzinfo=UTC).date()


def lines(page: "Page") -> str:
    return page.locator("[data-part=lines]").inner_text()


def judged(guide: Guide, change: AxleChange) -> Trial:
    candidate = like_stock(guide.library.chassis[CHASSIS], day=date(DAY.year, DAY.month, DAY.day))
    candidate = candidate.changed(Axle.FRONT, change)
    return try_out(candidate, guide.evidence[CHASSIS])


def test_the_verdict_is_that_of_the_command(tried: Callable[..., "Page"], guide: Guide) -> None:
    rim = guide.library.chassis[CHASSIS].value.front.stock_wheel.size
    change = AxleChange(size=RimSize(7.0, rim.diameter_code), offset=millimetres(10.0))
    verdict = judged(guide, change).verdict
    page = tried(WIDE)
    words = page.locator("[data-part=lines] .flag").all_inner_texts()
    assert [text.strip() for text in words] == [each.word for each in verdict.axles()]
    weakest = verdict.front.weakest
    assert weakest is not None
    assert weakest.clearance.site.label in lines(page)
    assert f"{round((weakest.chance or 0.0) * 100)}\u00a0%" in lines(page)
    listed = page.locator("[data-part=sites] tbody th").all_inner_texts()
    labels = {site.clearance.site.label for axle in verdict.axles() for site in axle.sites}
    page.locator("[data-part=sites] summary").click()
    page.wait_for_selector("[data-part=sites] details[open] table")
    listed = page.locator("[data-part=sites] tbody th").all_inner_texts()
    assert labels <= {text.partition(",")[0] for text in listed} | {
        label for label in labels for text in listed if text.startswith(label)
    }


def test_only_what_is_expected_to_clear_is_folded(
    tried: Callable[..., "Page"], guide: Guide
) -> None:
    change = AxleChange(size=RimSize(7.0, RIM), offset=millimetres(10.0))
    sites = [site for each in judged(guide, change).verdict.axles() for site in each.sites]
    page = tried(WIDE)
    seen = "all => all.map((row) => [row.checkVisibility(), row.querySelector('td').textContent])"
    rows = page.locator("[data-part=sites] tbody tr").evaluate_all(seen)
    words = {word.strip() for is_shown, word in rows if is_shown}
    assert words == {site.word for site in sites} - {"clears"}
    assert "clears" in {site.word for site in sites}
    summary = page.locator("[data-part=sites] summary").inner_text()
    least = min(site.chance for site in sites if site.word == "clears" and site.chance)
    assert f"weakest with {round(least * 100)}\u00a0%" in summary
    counts = page.locator("[data-part=sites] > p").inner_text()
    told = [int(each) for each in re.findall(r"\d+", counts)]
    chassis = guide.library.chassis[CHASSIS].value
    assert told[0] == sum(told[1:]) == len(chassis.sites)


def test_a_trial_is_not_too_long_for_a_phone(tried: Callable[..., "Page"]) -> None:
    """12,500 px once, most of it sites that clear; all of it is laid out in so tall a window."""
    page = tried()
    page.set_viewport_size({"width": 390, "height": 14000})
    page.wait_for_function("() => document.querySelector('.foot').getBoundingClientRect().top > 0")
    foot = page.locator(".foot").bounding_box()
    assert foot
    assert foot["y"] <= 9000


@pytest.mark.parametrize("end", ["front", "rear"])
def test_every_site_is_told_with_chance_and_range_the_weakest_first(
    tried: Callable[..., "Page"], guide: Guide, end: str
) -> None:
    axle = Axle(end)
    change = AxleChange(size=RimSize(7.0, RIM), offset=millimetres(10.0))
    candidate = like_stock(guide.library.chassis[CHASSIS], day=DAY).changed(axle, change)
    verdict = try_out(candidate, guide.evidence[CHASSIS]).verdict
    page = tried(f"?{end[0]}.width=7&{end[0]}.offset=10")
    page.locator("[data-part=sites] summary").click()
    page.wait_for_selector("[data-part=sites] details[open] tbody tr")
    rows = page.evaluate(TOLD_SITES)
    chances = [number(each["chance"]) for each in rows if each["chance"] != "not known"]
    assert chances == sorted(chances)
    told = {(each["name"], each["sides"]): each for each in rows}
    for site in (site for each in verdict.axles() for site in each.sites):
        label = f"{site.clearance.site.label}, {site.clearance.site.axle.value}"
        each = told.get((label, site.side.value)) or told[label, "both sides"]
        assert each["word"] == site.word
        if site.gap is None or site.chance is None:
            assert each["chance"] == "not known"
            continue
        assert number(each["chance"]) == pytest.approx(100.0 * site.chance, abs=0.5 + 1e-4)
        # In mm and, to a hundredth, in inches of 25.4 mm: those of the millimetres shown.
        for text, gap in zip(each["gap"], (site.gap.low, site.gap.high), strict=True):
            assert number(text[0]) == pytest.approx(gap, abs=0.5 + 1e-4)
            assert number(text[1]) == pytest.approx(number(text[0]) / 25.4, abs=0.005 + 1e-6)


def number(text: str) -> float:
    """Give the number at the head of a text of the page; below 1 % and above 99 % its bound."""
    plain = text.replace("\u2212", "-").replace("\u00a0", " ")
    found = re.search(r"[+-]?\d+(\.\d+)?", plain)
    assert found is not None, text
    return float(found[0]) + (0.5 if plain[0] == ">" else -0.5 if plain[0] == "<" else 0.0)


TOLD_SITES = """
() => {
  const said = (element) => element.textContent;
  const ends = (range) => said(range).split(" to ");
  const rows = [...document.querySelectorAll("[data-part=sites] tbody tr")];
  return rows.filter((row) => !row.hidden).map((row) => {
    const [word, chance, gap] = row.querySelectorAll("td");
    const head = row.querySelector("th").firstChild.data;
    const [, name, sides] = head.match(/^(.*), ([a-z ]+)$/);
    const [metric, inch] = [...gap.querySelectorAll(".pair > :not(.or)")].map(ends);
    const pairs = metric.map((text, end) => [text, inch[end]]);
    return { name, sides, word: said(word).trim(), chance: said(chance), gap: pairs };
  });
}
"""


def test_what_is_typed_is_judged_and_kept_in_the_address(tried: Callable[..., "Page"]) -> None:
    page = tried()
    before = lines(page)
    page.fill("#front-offset", "-20")
    page.wait_for_url(re.compile(r"f.offset=-20"))
    settled(page)
    after = lines(page)
    assert after != before
    page.reload()
    settled(page)
    assert lines(page) == after
    assert page.input_value("#front-offset") == "-20"


def test_keys_and_buttons_step_in_the_unit_of_the_reader(tried: Callable[..., "Page"]) -> None:
    page = tried("?f.offset=10")
    page.focus("#front-offset")
    page.keyboard.press("ArrowUp")
    assert page.input_value("#front-offset") == "11"
    page.click("[data-for=front-offset][data-step='-1']")
    assert page.input_value("#front-offset") == "10"
    page.focus("#front-width")
    page.keyboard.press("ArrowUp")
    assert page.input_value("#front-width") == "6.5"
    page.evaluate("document.documentElement.dataset.units = 'inch'")
    page.evaluate("document.dispatchEvent(new CustomEvent('gapbook:units'))")
    assert page.input_value("#front-offset") == "0.394"
    page.focus("#front-offset")
    page.keyboard.press("ArrowUp")
    # a press adds a twentieth of an inch: (10 + 1.27) / 25.4
    assert page.input_value("#front-offset") == "0.444"
    page.focus("#front-tyre")
    page.keyboard.press("ArrowDown")
    assert page.input_value("#front-tyre").startswith("185/")


def test_a_comma_and_nonsense_are_asked_about_and_never_guessed(
    tried: Callable[..., "Page"],
) -> None:
    page = tried()
    before = lines(page)
    for field, text, told in (
        ("offset", "1,5", "with a point"),
        ("offset", "5000", "outside"),
        ("offset", "NaN", "write a number"),
        ("tyre", "205/57 R 16", "tyre size"),
    ):
        page.fill(f"#front-{field}", text)
        assert told in page.locator(f"#front-{field}-error").inner_text()
        assert page.get_attribute(f"#front-{field}", "aria-invalid") == "true"
        page.click("button[type=reset]")
    settled(page)
    assert lines(page) == before


@pytest.mark.parametrize(
    "query",
    [
        "?f.offset=NaN&r.width=Infinity&f.spacer=1e99",
        "?f.offset=99999&r.camber=-80",
        "?start=%3Cimg%20src%3Dx%20onerror%3Dalert(1)%3E&f.tyre=%3Cscript%3E",
        "?start=../../etc/passwd&r.shim=3",
        "?__proto__.offset=3&f.__proto__=1&f.constructor=2&constructor=1",
        "?f.lips=gone&f.stop=toString&f.camberBy=",
        "?f.tyre=" + "9" * 300,
    ],
)
def test_a_hostile_address_is_left_out_and_said_so(
    tried: Callable[..., "Page"], query: str
) -> None:
    plain = lines(tried())
    page = tried(query)
    assert "left out" in page.locator("[data-part=notes]").inner_text()
    assert lines(page) == plain
    assert page.locator("[data-part=lines] img").count() == 0


def test_an_endless_address_is_not_read(tried: Callable[..., "Page"]) -> None:
    page = tried("?f.offset=10&x=" + "x" * 9000)
    assert "longer than any" in page.locator("[data-part=notes]").inner_text()


def test_what_is_not_known_is_never_shown_as_clear(tried: Callable[..., "Page"]) -> None:
    page = tried("?f.stop=removed&r.tyre=E70-14")
    words = page.locator("[data-part=lines] .flag").all_inner_texts()
    assert [text.strip() for text in words] == ["not known", "not known"]
    assert "bump stop was removed" in page.locator("[data-part=sites]").inner_text()
    assert page.locator("[data-part=car]").inner_text() == ""
    assert "Not known at the front and rear" in page.locator("#verdict-head").inner_text()


def test_a_tyre_for_another_rim_is_told_in_words(tried: Callable[..., "Page"]) -> None:
    page = tried("?f.tyre=205/55%20R%2016")
    assert "is for a rim of 16" in lines(page)
    assert page.locator("[data-part=lines] .flag").first.inner_text().strip() == "not known"


def test_from_nothing_it_asks_for_wheel_and_tyre(tried: Callable[..., "Page"]) -> None:
    page = tried("?start=nothing")
    assert "no wheel size is given" in lines(page)


def test_a_setup_of_the_club_is_a_start(tried: Callable[..., "Page"], guide: Guide) -> None:
    setup = guide.setups_of(CHASSIS)[0]
    page = tried("?start=" + setup.id.rsplit("/", 1)[-1])
    shown = page.input_value("#front-tyre")
    assert shown == str(setup.value.front.tyre.size)
    word = guide.verdicts[setup.id].front.word
    assert page.locator("[data-part=lines] .flag").first.inner_text().strip() == word


def test_a_remedy_is_applied_with_one_press_and_taken_back(tried: Callable[..., "Page"]) -> None:
    page = tried(WIDE)
    before = lines(page)
    remedy = page.locator("[data-part=mend] .try-list button").first
    assert "then" in page.locator("[data-part=mend] .try-list li").first.inner_text()
    remedy.click()
    settled(page)
    assert lines(page) != before
    page.click("[data-do=undo]")
    settled(page)
    assert lines(page) == before


@pytest.mark.parametrize("end", ["front", "rear"])
def test_remedies_are_those_of_the_command(
    tried: Callable[..., "Page"], guide: Guide, end: str
) -> None:
    axle = Axle(end)
    change = AxleChange(size=RimSize(8.0, RIM), offset=millimetres(-15.0))
    candidate = like_stock(guide.library.chassis[CHASSIS], day=DAY).changed(axle, change)
    expected = [
        each for each in try_out(candidate, guide.evidence[CHASSIS]).remedies if each.axle is axle
    ]
    assert (
        any(len(remedy.steps) == 2 for site in expected for remedy in site.remedies)
        or end == "rear"
    )
    page = tried(f"?{end[0]}.width=8&{end[0]}.offset=-15")
    told = page.evaluate(TOLD_REMEDIES, end)
    heads = [(f"{capital(each.site.label)}, {end}: {each.word}", each) for each in expected]
    mended = [(head, each) for head, each in heads if each.remedies]
    assert [each["head"] for each in told] == [head for head, _ in mended]
    wanted = [
        [capital(", and ".join(step.words for step in remedy.steps)) for remedy in site.remedies]
        for _, site in mended
    ]
    assert [sorted(each["words"]) for each in told] == [sorted(each) for each in wanted]
    # Where nothing makes it likely, that is said and nothing is offered.
    said = page.locator("[data-part=mend]").inner_text()
    without = [head for head, each in heads if not each.remedies]
    assert without
    assert "90\u00a0% likely" in said
    assert all(head in said for head in without)


def capital(text: str) -> str:
    return text[0].upper() + text[1:]


TOLD_REMEDIES = """
(end) => {
  const found = [];
  for (const each of document.querySelectorAll("[data-part=mend] > *")) {
    if (each.tagName === "H3") found.push({ head: each.textContent, words: [] });
    for (const item of each.querySelectorAll(".try-list > li > strong:first-child")) {
      const words = item.cloneNode(true);
      for (const other of words.querySelectorAll(".or, .inch")) other.remove();
      const typed = words.textContent.replaceAll("\u2212", "-").replaceAll("\u00a0", " ");
      found.at(-1).words.push(typed);
    }
  }
  return found.filter(({ head }) => head.includes(`, ${end}: `));
}
"""


def test_the_wheel_is_moved_by_keys_alone(tried: Callable[..., "Page"]) -> None:
    page = tried(WIDE)
    before = page.locator("#try-section-desc").text_content()
    page.focus("#look-travel")
    for _ in range(5):
        page.keyboard.press("ArrowLeft")
    assert page.locator("#try-section-desc").text_content() != before
    page.click("[data-do=worst]")
    assert page.locator("#try-section-desc").text_content() == before
    told = re.search(r"gap ([+-]?[\d.]+) mm \(([+-]?[\d.]+) in\)", tame(before or ""))
    assert told
    assert float(told[1]) < 5.0
    assert float(told[2]) == pytest.approx(float(told[1]) / 25.4, abs=0.0051)


def tame(text: str) -> str:
    return text.replace("\u2212", "-").replace("\u00a0", " ")


def test_the_offsets_around_this_one_say_where_it_is(tried: Callable[..., "Page"]) -> None:
    """20 mm to either side of the 10 mm typed; the word of its stretch is the verdict's."""
    page = tried(f"{WIDE}&units=metric")
    front = page.locator(".try-window").first
    heads = [tame(text) for text in front.locator("tbody th").all_inner_texts()]
    assert heads[0].startswith("-10.0 ")
    assert "+30.0 mm" in heads[-1]
    here = front.locator("tr", has=page.locator(".try-here"))
    assert here.count() == 1
    assert "this one is +10.0 mm" in tame(here.inner_text())
    word = page.locator("[data-part=lines] .flag").first.inner_text().strip()
    assert here.locator(".flag").inner_text().strip() == word


def test_words_of_a_trial_follow_the_unit(tried: Callable[..., "Page"]) -> None:
    page = tried(f"{WIDE}&units=inch")
    for part in ("sites", "mend", "first", "window", "pose"):
        for text in page.locator(f"[data-part={part}]").all_inner_texts():
            assert not re.search(r"\bmm\b", text), (part, text)
    said = page.locator("[data-part=mend]").inner_text()
    remedy = re.search(r"Wheels of offset (\S+)\sin instead of (\S+)\sin", said)
    assert remedy, said
    page = tried(f"{WIDE}&units=metric")
    said = page.locator("[data-part=mend]").inner_text()
    again = re.search(r"Wheels of offset (\S+)\smm instead of (\S+)\smm", said)
    assert again, said
    for inch, mm in zip(remedy.groups(), again.groups(), strict=True):
        wanted = float(mm.replace("\u2212", "-")) / 25.4
        assert abs(float(inch.replace("\u2212", "-")) - wanted) < 0.006


def test_without_a_script_the_command_is_told(tried: Callable[..., "Page"]) -> None:
    page = tried(wait=False, java_script_enabled=False)
    assert f"gapbook try {CHASSIS}" in page.locator(".try-file").inner_text()
    assert not page.locator(".try-form").is_visible()


def test_blocked_storage_changes_nothing(tried: Callable[..., "Page"]) -> None:
    blocked = "Object.defineProperty(window, 'localStorage', { get() { throw new Error('no'); } });"
    assert lines(tried(WIDE, before=blocked)) == lines(tried(WIDE))


def test_a_loaded_page_needs_no_network(tried: Callable[..., "Page"]) -> None:
    page = tried()
    before = lines(page)
    page.context.set_offline(True)
    page.fill("#rear-offset", "-30")
    page.wait_for_url(re.compile(r"r.offset=-30"))
    settled(page)
    assert lines(page) != before


def test_data_that_cannot_be_loaded_is_told(tried: Callable[..., "Page"], watched: Watched) -> None:
    page = tried()
    page.route("**/try/*.json", lambda route: route.abort())
    page.reload()
    page.get_by_text("could not be loaded").wait_for()
    watched.told.clear()


def test_a_chassis_is_small_enough_to_send(guide: Guide) -> None:
    for file in try_setup.files(guide, ()):
        assert len(gzip.compress(file.text.encode(), 9)) <= BUDGET, file.path
        json.loads(file.text, parse_constant=pytest.fail)
