"""A record from an empty form, by keys alone, to a page of a guide that has it.

What is typed is what a member types: a comma, fractions, inches, and what the checks propose for
them. The file goes into a copy of the demo, where `check` and `build` have the last word.
"""

import io
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from generator.build import build
from generator.cache.store import Store
from generator.cli import main
from generator.reading.source import load
from tests.browser.conftest import DEMO, TODAY

if TYPE_CHECKING:
    from playwright.sync_api import Page

CHASSIS = "ostvane-meridel"
NAME = "quince-coupe-2026-05-02"
RECORD = f"setups/{CHASSIS}/{NAME}.yaml"
PHOTO = f"photos/{CHASSIS}/{NAME}/lip-at-full-bump.jpg"
QUIET = 700

# By the part of the form that is open then: field, what is typed.
ABOUT = {
    "title": "Six and a half, a wider tyre behind: nothing touched",
    "car": "quince-coupe",
    "member": "Quince",
    "date": "2026-05-02",
}
FRONT = {
    "wheel-size": "6.5 x 14",
    "wheel-backspacing": "5 1/8 in",
    "wheel-bolt_circle": "4x118",
    "wheel-bore": "61.6 mm",
    "wheel-seat": "cone 60 deg",
    "tyre-size": "185/65 R14 86H",
    "tyre-section_width": "192,5 mm",
    "spacer-thickness": "3/16",
    "spacer-kind": "slip-on",
    "camber": "-0.5 deg",
    "bump_stop-state": "original",
    "bodywork-lips": "rolled",
    "bodywork-lips_gained": "5 mm",
}
REAR = {
    "tyre-size": "195/65 R14 89H",
    "tyre-section_width": "7 7/8 in",
    "bodywork-lips": "stock",
}
PROPOSED = {
    "front-wheel-backspacing": "5.125 in",
    "front-tyre-section_width": "192.5 mm",
    "front-spacer-thickness": "3/16 in",
    "rear-wheel-backspacing": "5.125 in",
    "rear-tyre-section_width": "7.875 in",
    "rear-spacer-thickness": "3/16 in",
}
"""What the checks offer in place of what was typed, taken with one press."""
GAPS = (
    {"site": "fender-lip", "side": "left", "state": "full bump", "gap": "9 mm", "tool": "clay"},
    {"site": "quarter-lip", "side": "both", "state": "full bump", "gap": "more than 0.5 in"},
)
RUB = {"site": "liner-front", "side": "left", "grade": "1", "when": "full lock over a kerb"}


def reach(page: "Page", field: str) -> None:
    """Open by keys all folds around a field, from the outside in, and go to it."""
    for fold in page.locator(f"#field-{field}").locator("xpath=ancestor::details").all():
        if fold.get_attribute("open") is None:
            fold.locator("> summary").focus()
            page.keyboard.press("Enter")
    page.focus(f"#field-{field}")


def typed(page: "Page", field: str, text: str) -> None:
    """Type into a field, or the first letters of a choice, and see that it took them."""
    reach(page, field)
    page.keyboard.type(text)
    page.keyboard.press("Tab")
    assert page.input_value(f"#field-{field}") == text


def pressed(page: "Page", button: str) -> None:
    page.focus(button)
    page.keyboard.press("Enter")


def fill(page: "Page") -> None:
    page.focus("#chassis")
    page.keyboard.type("Ostv")
    page.wait_for_function("document.querySelector('[data-part=status]').textContent")
    for name, text in ABOUT.items():
        typed(page, name, text)
    typed(page, "method-springs", "out")
    page.focus("[id^=field-method-tools][value=clay]")
    page.keyboard.press("Space")
    for name, text in FRONT.items():
        typed(page, f"front-{name}", text)
    reach(page, "rear-tyre-size")
    pressed(page, "[data-do=same]")
    for name, text in REAR.items():
        page.fill(f"#field-rear-{name}", "") if "tyre" in name else None
        typed(page, f"rear-{name}", text)
    for place, gap in enumerate(GAPS):
        reach(page, "gaps-add")
        pressed(page, "#field-gaps-add")
        for name, text in gap.items():
            typed(page, f"gaps-{place}-{name}", text)
    reach(page, "rubs-add")
    pressed(page, "#field-rubs-add")
    for name, text in RUB.items():
        typed(page, f"rubs-0-{name}", text)
    reach(page, "not_checked-add")
    pressed(page, "#field-not_checked-add")
    page.keyboard.type("everything behind the axle")


def photo() -> bytes:
    from PIL import Image

    held = io.BytesIO()
    Image.linear_gradient("L").resize((900, 600)).save(held, "JPEG")
    return held.getvalue()


@pytest.fixture(scope="module")
def content(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return Path(shutil.copytree(DEMO, tmp_path_factory.mktemp("whole") / "content"))


def take(page: "Page", button: str, path: Path) -> None:
    with page.expect_download() as waiting:
        pressed(page, button)
    assert waiting.value.suggested_filename == path.name
    path.parent.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(waiting.value.path(), path)


def test_what_is_typed_into_an_empty_form_is_checked_and_built(
    opened: Callable[..., "Page"],
    content: Path,
    kept: Store | None,
    capsys: pytest.CaptureFixture[str],
) -> None:
    page = opened("submit.html")
    page.wait_for_selector(".submit[data-ready]")
    fill(page)
    page.wait_for_timeout(QUIET)
    for field, text in PROPOSED.items():
        before = page.input_value(f"#field-{field}")
        reach(page, field)
        pressed(page, f"#field-{field}-faults button")
        page.wait_for_timeout(QUIET)
        assert page.input_value(f"#field-{field}") == text != before
    offered = {"name": "Lip at full bump.JPG", "mimeType": "image/jpeg", "buffer": photo()}
    page.set_input_files("[data-part=photos]", files=[offered])  # type: ignore[list-item]
    page.wait_for_selector("[data-part=photo-list] button")
    assert page.inner_text("[data-part=photo-path]") == PHOTO.rpartition("/")[0] + "/"
    typed(page, "photos-0-alt", "Lip and tyre at full bump, a finger's width of clay between")
    page.wait_for_timeout(QUIET)
    assert "to mend" not in page.inner_text("[data-part=faults]").lower()
    assert "still needed" not in page.inner_text("[data-part=faults]").lower()
    assert page.inner_text("[data-part=path]") == RECORD
    take(page, "[data-do=save]", content / RECORD)
    take(page, "[data-part=photo-list] button", content / PHOTO)
    source, faults = load("record", (content / RECORD).read_bytes())
    assert source is not None, faults
    # One record, its file and its photo; then the whole guide with it.
    assert main(["check", str(content / RECORD)]) == 0
    told = capsys.readouterr().out
    assert told.endswith("1 file read: 2 notes\n"), told
    assert "To know (2)" in page.inner_text("[data-part=faults]")
    site = content.parent / "site"
    done = build(content, site, leave_out_faulty=False, today=TODAY, cache=kept, workers=None)
    assert not done.has_errors, done.told
    made = (site / "setups" / CHASSIS / f"{NAME}.html").read_text("utf-8")
    assert ABOUT["title"] in made
