"""The form for a record: from the address to the file, with and without what a browser may lack."""

import io
import json
from collections.abc import Callable
from typing import TYPE_CHECKING, Any
from urllib.parse import parse_qs, urlsplit

import pytest

from generator.reading.fault import has_error
from generator.reading.reader import read
from generator.reading.source import load
from generator.records.checking import rule_modules
from generator.records.setup import Setup

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

CHASSIS = "ostvane-meridel"
START = f"{CHASSIS}/bellwether-settles-it"
FROM = f"?chassis={CHASSIS}&from={START}"
QUIET = 700
UNFOLD = "for (const each of document.querySelectorAll('.submit-form details')) each.open = true"
RULES = {
    "runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]},
    "resultTypes": ["violations"],  # of the others one element each is told
}
NEEDED = {
    "field-title": "Sevens: with \"quotes\" # and all", "field-car": "some-coupe",
    "field-member": "Somebody", "field-date": "2025-09-21",
}  # fmt: skip


@pytest.fixture
def form(opened: Callable[..., "Page"]) -> Callable[..., "Page"]:
    def open_it(query: str = "", *, unfolded: bool = True, **settings: Any) -> "Page":
        page = opened(f"submit.html{query}", **settings)
        page.wait_for_selector(".submit[data-ready]")
        if unfolded:
            page.evaluate(UNFOLD)
        return page

    return open_it


def told(page: "Page") -> str:
    page.wait_for_timeout(QUIET)
    return page.inner_text("[data-part=faults]")


def fill_needed(page: "Page") -> None:
    for name, value in NEEDED.items():
        page.fill(f"#{name}", value)
    page.select_option("#field-method-springs", "out")
    page.wait_for_timeout(QUIET)


def file_of(page: "Page") -> str:
    return str(page.input_value("[data-part=file]"))


def test_a_record_begun_from_another_becomes_a_file_that_reads(form: Callable[..., "Page"]) -> None:
    page = form(FROM)
    fill_needed(page)
    source, faults = load("record", file_of(page).encode())
    assert source is not None, faults
    reading = read(Setup, source)
    assert not has_error(reading.faults)
    assert reading.value is not None
    assert reading.value.title == NEEDED["field-title"]
    assert reading.value.gaps == ()
    assert page.inner_text("[data-part=path]") == f"setups/{CHASSIS}/some-coupe-2025-09-21.yaml"
    assert page.locator("[data-part=drawings] svg").count() == 2
    assert page.locator("[data-part=near] a").count() == 3


def test_a_comma_is_asked_about_and_never_taken_for_a_point(form: Callable[..., "Page"]) -> None:
    page = form(FROM)
    page.fill("#field-front-wheel-offset", "24,5 mm")
    assert "has a comma" in told(page)
    assert "offset: 24,5 mm" in file_of(page).replace('"', "")
    page.click("#field-front-wheel-offset-faults button")
    page.wait_for_timeout(QUIET)
    assert page.input_value("#field-front-wheel-offset") == "24.5 mm"
    assert "comma" not in told(page)


@pytest.mark.parametrize(
    ("text", "code", "offered"),
    [
        ("5,5", "Q05", ["Write 5.5"]),
        ("5,5 in", "Q05", ["Write 5.5 in"]),
        ("1,234 mm", "Q05", []),
        ("1,234.5", "Q05", []),
        ("5.5", "Q08", ["Write 5.5 in"]),
        ("3/8", "Q08", ["Write 3/8 in"]),
        ("5 1/2 in", "Q06", ["Write 5.5 in"]),
        ("5⅜ in", "Q06", ["Write 5.375 in"]),
        ("5'6", "Q06", []),
        ("3/8 mm", "Q06", []),
    ],
)
def test_what_can_be_read_in_several_ways_is_asked_about(
    form: Callable[..., "Page"], text: str, code: str, offered: list[str]
) -> None:
    page = form(f"?chassis={CHASSIS}")
    page.focus("#field-front-wheel-backspacing")
    page.keyboard.type(text)
    page.wait_for_timeout(QUIET)
    faults = page.locator("#field-front-wheel-backspacing-faults")
    assert faults.locator("a").all_inner_texts() == [code]
    assert faults.locator("button").all_inner_texts() == offered
    # What was typed stays as it was typed, in the field and in the file.
    assert page.input_value("#field-front-wheel-backspacing") == text
    assert text in file_of(page).replace("''", "'")
    for button in faults.locator("button").all()[:1]:
        button.click()
        page.wait_for_timeout(QUIET)
        assert page.input_value("#field-front-wheel-backspacing") == offered[0].removeprefix(
            "Write "
        )


def test_rules_speak_before_the_record_is_whole(form: Callable[..., "Page"]) -> None:
    page = form(FROM)
    page.fill("#field-front-wheel-backspacing", "170 mm")
    assert "backspacing" in told(page)
    assert "Still needed" in told(page)
    assert page.locator("#field-front-wheel-backspacing-faults a").first.inner_text() == "R01"


def test_lists_grow_shrink_and_take_the_sites_of_the_sheet(form: Callable[..., "Page"]) -> None:
    page = form(f"?chassis={CHASSIS}")
    page.click("[data-do=sites]")
    before = page.locator("#field-gaps-add").locator("xpath=../..").locator("> ol > li").count()
    assert before > 10
    assert page.input_value("#field-gaps-0-site") == "fender-lip"
    page.click("text=Remove gap 1")
    after = page.locator("#field-gaps-add").locator("xpath=../..").locator("> ol > li").count()
    assert after == before - 1
    page.click("#field-gaps-add")
    assert page.evaluate("document.activeElement.id") == f"field-gaps-{after}-site"


def test_the_rear_takes_what_the_front_has(form: Callable[..., "Page"]) -> None:
    page = form(f"?chassis={CHASSIS}")
    page.fill("#field-front-wheel-size", "7 x 15")
    page.fill("#field-front-tyre-size", "205/60 R15 91V")
    page.click("[data-do=same]")
    assert page.input_value("#field-rear-wheel-size") == "7 x 15"
    assert page.input_value("#field-rear-tyre-size") == "205/60 R15 91V"


@pytest.mark.parametrize(
    "query",
    [
        "?chassis=__proto__", "?chassis=../../x", "?chassis=%3Cscript%3E", "?from=../../../etc",
        "?from=%22onload=", f"?from={'a' * 3000}/b", f"?chassis={CHASSIS}&chassis=b&from=&x=1",
    ],
)  # fmt: skip
def test_a_hostile_address_gives_an_empty_form(form: Callable[..., "Page"], query: str) -> None:
    page = form(query)
    assert page.input_value("#chassis") in ("", CHASSIS)
    assert page.input_value("#field-front-wheel-size") == ""


def test_drafts_are_kept_several_and_come_back(form: Callable[..., "Page"]) -> None:
    page = form(f"?chassis={CHASSIS}")
    page.fill("#field-title", "First")
    page.wait_for_timeout(QUIET)
    page.click("summary:has-text('Drafts')")
    page.click("[data-do=new]")
    page.fill("#field-title", "Second")
    page.wait_for_timeout(QUIET)
    page.reload()
    page.wait_for_selector(".submit[data-ready]")
    page.click("summary:has-text('Drafts')")
    labels = page.locator("[data-part=drafts] option").all_inner_texts()
    assert [label.split(" (")[0] for label in labels][1:] == ["Second", "First"]
    page.select_option("[data-part=drafts]", index=2)
    page.wait_for_timeout(QUIET)
    assert page.input_value("#field-title") == "First"
    page.click("[data-do=delete]")
    page.wait_for_timeout(QUIET)
    assert page.input_value("#field-title") == "Second"


def test_a_draft_leaves_as_a_file_and_comes_back(form: Callable[..., "Page"]) -> None:
    page = form(FROM)
    page.fill("#field-title", "Taken along")
    page.wait_for_timeout(QUIET)
    page.click("summary:has-text('Drafts')")
    with page.expect_download() as waiting:
        page.click("[data-do=export]")
    path = waiting.value.path()
    page.click("[data-do=new]")
    page.set_input_files("[data-part=importer]", str(path))
    page.wait_for_timeout(QUIET)
    assert page.input_value("#field-title") == "Taken along"
    hostile = {
        "record": {"title": {"x": 1}, "front": "x", "gaps": [1, {"site": "<b>"}], "__proto__": 1}
    }
    for body in (json.dumps(hostile), "not json", "[]", '{"record": null}'):
        content = {"name": "a.json", "mimeType": "application/json", "buffer": body.encode()}
        page.set_input_files("[data-part=importer]", files=[content])  # type: ignore[list-item]
        page.wait_for_timeout(QUIET)
    assert page.locator("b:has-text('<')").count() == 0


FULL = """Storage.prototype.setItem = function (key) {
  if (key.includes(":try")) return;
  throw new DOMException("full", "QuotaExceededError");
};"""
BLOCKED = """Object.defineProperty(window, "localStorage", {
  get() { throw new DOMException("no", "SecurityError"); },
});"""


NO_LIMITS = """
globalThis.isAway = true;
const asked = globalThis.fetch;
globalThis.fetch = (address, ...rest) =>
  isAway && String(address).includes("try/")
    ? Promise.reject(new TypeError("away"))
    : asked(address, ...rest);
"""


@pytest.mark.parametrize(("before", "words"), [(FULL, "no room"), (BLOCKED, "keeps no drafts")])
def test_a_device_that_keeps_nothing_is_told_of(
    form: Callable[..., "Page"], before: str, words: str
) -> None:
    page = form(FROM, before=before)
    fill_needed(page)
    assert words in page.inner_text("[data-part=kept]")
    assert "title:" in file_of(page)


def test_without_a_network_the_form_works_on(form: Callable[..., "Page"]) -> None:
    page = form(FROM)
    page.wait_for_selector("[data-part=plan] svg")
    page.context.set_offline(True)
    fill_needed(page)
    page.fill("#field-front-camber", "-1.5")
    assert "has no unit" in told(page)
    with page.expect_download() as waiting:
        page.click("[data-do=save]")
    assert waiting.value.suggested_filename == "some-coupe-2025-09-21.yaml"


def test_without_scripts_the_way_by_file_is_there(
    browser: "Browser", site: str, opened: Callable[..., "Page"]
) -> None:
    page = opened("submit.html", java_script_enabled=False)
    assert page.is_visible("#by-file")
    assert not page.is_visible(".submit")
    assert page.locator("#by-file a[download]").count() >= 6


def test_the_forge_gets_name_and_text_or_the_name_alone(form: Callable[..., "Page"]) -> None:
    page = form(FROM)
    fill_needed(page)
    page.evaluate("() => { globalThis.went = []; globalThis.open = (href) => went.push(href); }")
    page.click("[data-do=forge]")
    page.wait_for_timeout(QUIET)
    page.fill("#field-notes", "Nothing touched. " * 240)
    page.wait_for_timeout(QUIET)
    page.click("[data-do=forge]")
    page.wait_for_timeout(QUIET)
    short, long = (parse_qs(urlsplit(href).query) for href in page.evaluate("went"))
    assert short["value"][0].startswith("title:")
    assert short["filename"] == [f"setups/{CHASSIS}/some-coupe-2025-09-21.yaml"]
    assert "value" not in long
    assert "too long" in page.inner_text("[data-part=sent]")


def test_a_photo_leaves_its_place_behind(form: Callable[..., "Page"]) -> None:
    from PIL import Image

    picture = Image.new("RGB", (2000, 1000), "red")
    notes = picture.getexif()
    notes[0x010F] = "SECRETMAKER"
    notes.get_ifd(0x8825)[1] = "N"
    held = io.BytesIO()
    picture.save(held, "JPEG", exif=notes, comment=b"SECRETPLACE")
    assert b"SECRET" in held.getvalue()
    page = form(f"?chassis={CHASSIS}")
    content = {"name": "My House.JPG", "mimeType": "image/jpeg", "buffer": held.getvalue()}
    page.set_input_files("[data-part=photos]", files=[content])  # type: ignore[list-item]
    page.wait_for_selector("[data-part=photo-list] button")
    with page.expect_download() as waiting:
        page.click("[data-part=photo-list] button")
    assert waiting.value.suggested_filename == "my-house.jpg"
    sent = waiting.value.path().read_bytes()
    assert b"SECRET" not in sent
    assert b"Exif" not in sent
    assert Image.open(io.BytesIO(sent)).size == (1600, 800)
    page.set_input_files(
        "[data-part=photos]",
        files=[{"name": "x.jpg", "mimeType": "image/jpeg", "buffer": b"<html>"}],  # type: ignore[list-item]
    )
    page.wait_for_selector("[data-part=notes] p:has-text('cannot be read as a photo')")


def test_keys_alone_fill_the_form(form: Callable[..., "Page"]) -> None:
    page = form("")
    page.focus("#chassis")
    page.keyboard.press("O")
    page.keyboard.press("Tab")
    page.wait_for_timeout(QUIET)
    page.focus("#field-title")
    page.keyboard.type("By keys")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.id") == "field-car"
    page.wait_for_timeout(QUIET)
    page.focus(".submit-go")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id").startswith("field-")


@pytest.mark.parametrize("width", [390, 1280])
def test_nothing_is_wider_than_the_page(form: Callable[..., "Page"], width: int) -> None:
    page = form(FROM, width=width)
    page.fill("#field-front-wheel-offset", "x" * 40)
    page.wait_for_timeout(QUIET)
    assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1280])
def test_axe_finds_nothing_in_a_form_with_faults(
    form: Callable[..., "Page"], theme: str, width: int
) -> None:
    from axe_playwright_python.sync_playwright import Axe

    page = form(FROM, theme=theme, width=width)
    page.click("summary:has-text('Drafts')")
    page.click("[data-do=sites]")
    page.fill("#field-front-wheel-offset", "24,5 mm")
    page.fill("#field-front-wheel-backspacing", "170 mm")
    page.fill("#field-front-tyre-section_width", "400 mm")
    page.fill("#field-rear-camber", "3 deg")
    page.wait_for_timeout(QUIET)
    found = Axe().run(page, options=RULES).response["violations"]
    assert not found, [(each["id"], [n["html"] for n in each["nodes"]][:3]) for each in found]


def test_what_is_needed_comes_first_and_the_rest_is_folded(form: Callable[..., "Page"]) -> None:
    page = form(f"?chassis={CHASSIS}", width=320, unfolded=False)
    for name in ("title", "date", "front-wheel-size", "front-tyre-size", "front-wheel-backspacing"):
        assert page.locator(f"#field-{name}").is_visible()
    # Of each end the sizes of wheel and tyre are needed, and both are counted.
    for end in ("front", "rear"):
        assert counted(page, end) == "2 needed"
    rare = page.locator("#field-front-wheel-barrel_radius")
    assert not rare.is_visible()
    # WCAG 2.2, 1.4.10: no scrolling sideways at 320 px.
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    page.click("summary:has-text('barrel radius') >> nth=0")
    rare.fill("15 carrots")
    page.click("summary:has-text('barrel radius') >> nth=0")
    page.wait_for_timeout(QUIET)
    assert not rare.is_visible()
    page.locator("[data-part=faults] button:has-text('barrel')").first.click()
    assert rare.is_visible()


def counted(page: "Page", part: str) -> str:
    return page.locator(f"#part-{part}").locator("xpath=..").locator(".submit-count").inner_text()


def test_a_folded_part_says_what_is_in_it_and_what_is_wrong(form: Callable[..., "Page"]) -> None:
    page = form(FROM, width=390, unfolded=False)
    page.wait_for_timeout(QUIET)
    assert "filled" in counted(page, "rear")
    assert counted(page, "about").endswith("4 needed")
    assert counted(page, "rubs") == "empty"
    assert not page.is_visible("#field-rear-tyre-size")
    page.focus("#part-rear >> xpath=..")
    page.keyboard.press("Enter")
    page.fill("#field-rear-tyre-size", "205/57 R 14")
    page.keyboard.press("Tab")
    page.wait_for_timeout(QUIET)
    assert "1 to mend" in counted(page, "rear")
    # What is open stays open when the form is drawn anew, and no value is lost by folding.
    page.focus("#part-gaps >> xpath=..")
    page.keyboard.press("Enter")
    page.click("#field-gaps-add")
    assert page.input_value("#field-rear-tyre-size") == "205/57 R 14"
    assert page.is_visible("#field-rear-tyre-size")
    assert page.is_visible("#field-gaps-0-site")
    assert "205/57 R 14" in file_of(page)


def test_a_record_taken_over_is_not_a_long_way_to_scroll(form: Callable[..., "Page"]) -> None:
    page = form(FROM, width=390, unfolded=False)
    page.wait_for_timeout(QUIET)
    folded = page.locator("[data-part=fields]").bounding_box()
    page.evaluate(UNFOLD)
    whole = page.locator("[data-part=fields]").bounding_box()
    assert folded is not None
    assert whole is not None
    # Less than six screens of 900 px, and less than a third of it unfolded.
    assert folded["height"] < 6 * 900
    assert folded["height"] < whole["height"] / 3


PLACES = """
[...document.querySelectorAll("[data-part=plan] .try-place")]
  .map((each) => each.getAttribute("d"))
"""
TYRES = """
[...document.querySelectorAll("[data-part=plan] path.dw-edge")]
  .map((each) => each.getAttribute("d"))
"""


def test_the_steered_wheel_is_drawn_from_above_at_both_locks(form: Callable[..., "Page"]) -> None:
    page = form(FROM)
    page.wait_for_selector("[data-part=plan] svg >> nth=1")
    told = page.locator("[data-part=plan] figcaption").all_inner_texts()
    assert ["toe-out" in told[0], "toe-in" in told[1]] == [True, True]
    out, into = page.evaluate(TYRES)
    assert out != into
    page.fill("#field-front-wheel-offset", "-10 mm")
    page.wait_for_timeout(QUIET)
    assert page.evaluate(TYRES)[0] != out
    page.fill("#field-front-tyre-size", "")
    page.wait_for_timeout(QUIET)
    assert page.locator("[data-part=plan] svg").count() == 0


def test_rules_that_need_more_than_the_record_say_so(form: Callable[..., "Page"]) -> None:
    page = form("")
    page.click("a[href='#waiting-rules']")
    told = page.locator("#waiting-rules li").all_inner_texts()
    said = {text.split()[0]: "once it is sent" in text for text in told}
    asking = {
        module.RULE.code: module.RULE.is_live
        for module in rule_modules()
        if hasattr(module, "check_library") or hasattr(module, "check_dates")
    }
    assert said == asking
    assert {"R17", "R13", "R49", "L22"} <= set(said)


FRONT = {"wheel-size": "6 x 14", "wheel-offset": "24 mm", "tyre-size": "185/65 R14"}


def fill_front(page: "Page") -> None:
    for name, text in FRONT.items():
        page.fill(f"#field-front-{name}", text)


def test_the_wheel_from_above_needs_no_network_once_the_chassis_is_there(
    form: Callable[..., "Page"],
) -> None:
    page = form(f"?chassis={CHASSIS}")
    page.wait_for_load_state("networkidle")
    page.context.set_offline(True)
    fill_front(page)
    page.wait_for_selector("[data-part=plan] svg >> nth=1")
    places = page.evaluate(PLACES)
    assert places
    # The sheet's stop is the original one: saying so of this car's moves no place and loses none.
    page.select_option("#field-front-bump_stop-state", "original")
    page.wait_for_timeout(QUIET)
    assert page.evaluate(PLACES) == places


def test_the_wheel_from_above_comes_when_the_network_does(form: Callable[..., "Page"]) -> None:
    page = form(f"?chassis={CHASSIS}", before=NO_LIMITS)
    fill_front(page)
    page.wait_for_timeout(QUIET)
    assert page.locator("[data-part=drawings] svg").count() == 1
    assert page.locator("[data-part=plan] svg").count() == 0
    page.evaluate("() => { globalThis.isAway = false; dispatchEvent(new Event('online')); }")
    page.wait_for_selector("[data-part=plan] svg >> nth=1")
