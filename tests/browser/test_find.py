"""Find in a browser: what is found agrees with the records, and the address keeps it."""

import math
from collections.abc import Callable
from typing import TYPE_CHECKING
from urllib.parse import quote

import pytest

from generator.records.setup import Setup
from generator.site.guide import Guide
from generator.site.views.find import SHOWN

if TYPE_CHECKING:
    from playwright.sync_api import Page

Found = Callable[..., "Page"]


def caption(page: "Page") -> str:
    page.wait_for_selector("[data-part=results][aria-busy=false]", state="attached")
    return page.locator("[data-part=caption]").inner_text().replace("\u00a0", " ")


def count(page: "Page") -> int:
    return int(caption(page).split(" ")[0])


def having(guide: Guide, test: Callable[[Setup], bool]) -> int:
    """Count the records that pass a test: the expected value, from the records themselves."""
    return sum(test(filed.value) for filed in guide.library.setups.values())


def at_one_end(setup: Setup, test: Callable[[float], bool]) -> bool:
    return any(test(end.wheel.size.width_code) for end in (setup.front, setup.rear))


def test_a_choice_finds_the_records_that_have_it(found: Found, guide: Guide) -> None:
    page = found()
    page.locator("summary", has_text="Road test").click()
    page.get_by_role("checkbox", name="mark found").check()
    expected = having(guide, lambda it: bool(it.road and it.road.outcome.value == "mark found"
                                             and not it.withdrawn))  # fmt: skip
    assert 0 < expected == count(page)


def test_limits_find_the_records_within_them(found: Found, guide: Guide) -> None:
    page = found()
    page.locator("#width-from").fill("8")
    expected = having(guide, lambda it: at_one_end(it, lambda width: width >= 8))
    assert 0 < expected == count(page)
    page.locator("#width-to").fill("8")
    expected = having(guide, lambda it: at_one_end(it, lambda width: width == 8))
    assert 0 < expected == count(page)
    page.locator("#end").select_option("both")
    expected = having(
        guide, lambda it: it.front.wheel.size.width_code == 8 == it.rear.wheel.size.width_code
    )
    assert expected == count(page)


def test_limits_are_in_the_readers_unit(found: Found, guide: Guide) -> None:
    page = found("?units=inch")
    page.locator("summary", has_text="Spacer").last.click()
    assert page.locator("#spacer-from + .field-unit").inner_text() == "in"
    page.locator("#spacer-from").fill("0.5")
    expected = having(
        guide,
        lambda it: any(
            end.spacer is not None and end.spacer.thickness.value >= 12.7
            for end in (it.front, it.rear)
        ),
    )
    assert 0 < expected == count(page)
    page.wait_for_url("**spacer=12.7..**")
    page.get_by_role("radio", name="mm", exact=True).check()
    assert page.locator("#spacer-from").input_value() == "12.7"


def test_counts_tell_what_a_click_would_find(found: Found) -> None:
    page = found("?flag=proven")
    before = count(page)
    option = page.locator("label", has=page.locator("input[name=flag][value=checked]"))
    told = int(option.locator(".choices-count").inner_text().strip("()"))
    option.click()
    assert count(page) == before + told


def test_a_synonym_finds_the_other_word(found: Found) -> None:
    page = found()
    page.locator("#words").fill("wing")
    page.wait_for_selector("[data-part=results][aria-busy=false]", state="attached")
    page.wait_for_function("() => document.querySelector('[data-part=caption]').textContent"
                           ".includes(' of ')")  # fmt: skip
    by_wing = count(page)
    page.locator("#words").fill("fender")
    assert count(page) == by_wing > 0


def test_every_word_counts(found: Found, guide: Guide) -> None:
    title = next(iter(guide.setups())).value.title
    page = found(f"?words={quote(title)}")
    page.wait_for_function("() => document.querySelectorAll('[data-part=rows] tr').length === 1")
    assert page.locator("[data-part=rows] th a").inner_text() == title


def test_the_order_is_that_of_the_numbers(found: Found, guide: Guide) -> None:
    page = found("?sort=front-width")
    caption(page)
    first = page.locator("[data-part=rows] td[data-label=Front]").first.inner_text()
    widest = max(it.value.front.wheel.size.width_code for it in guide.library.setups.values())
    assert first.startswith(f"{widest:g}")


def test_back_undoes_step_by_step(found: Found) -> None:
    page = found()
    box = page.locator("input[name=reported][value=tight]")
    box.check()
    tight = count(page)
    page.locator("#words").press_sequentially("lips")
    page.wait_for_url("**words=lips**")
    page.go_back()
    assert count(page) == tight
    assert page.locator("#words").input_value() == ""
    assert box.is_checked()
    page.go_back()
    assert not box.is_checked()
    page.go_forward()
    assert count(page) == tight


def test_the_address_can_be_shared(found: Found) -> None:
    page = found()
    page.get_by_role("checkbox", name="tight").check()
    page.locator("#offset-to").fill("30")
    page.wait_for_url("**offset=..30**")
    told, address = caption(page), page.url
    other = found("?" + address.partition("?")[2])
    assert caption(other) == told
    assert other.locator("#offset-to").input_value() == "30"


def test_pages_follow_each_other(found: Found, guide: Guide) -> None:
    page = found("?sort=oldest")
    pages = math.ceil(len(guide.library.setups) / SHOWN)
    for number in range(1, pages + 1):
        assert caption(page).endswith(f"page {number} of {pages}")
        if number < pages:
            page.get_by_role("link", name="Next").click()
            page.wait_for_url(f"**page={number + 1}**")
    newest = guide.setups()[0].value.title
    assert page.locator("[data-part=rows] th a").last.inner_text() == newest


def test_older_ones_follow_by_a_link_and_words_are_no_filter(found: Found) -> None:
    page = found()
    page.get_by_role("link", name="The next older ones").click()
    page.wait_for_url("**page=2**")
    assert "page 2 of" in caption(page)
    page.get_by_label("Words").fill("zzzz")
    page.locator("[data-part=help]").wait_for()
    assert page.locator("[data-part=set]").text_content() == ""


def test_nothing_found_names_the_filter_to_drop(found: Found) -> None:
    page = found("?flag=proven&width=20..")
    help_text = page.locator("[data-part=help]")
    help_text.wait_for()
    assert "No setup has all of this" in help_text.inner_text()
    button = help_text.get_by_role("button", name="Wheel width from 20 in")
    leaves = int(help_text.locator("li").inner_text().split("leaves")[1].split()[0])
    button.click()
    assert count(page) == leaves > 0
    assert page.locator("#width-from").input_value() == ""


def test_a_comma_is_asked_about(found: Found) -> None:
    page = found()
    field = page.locator("#width-from")
    field.fill("7,5")
    assert "7.5" in page.locator("#width-from-error").inner_text()
    assert field.get_attribute("aria-invalid") is not None
    field.fill("7.5")
    assert not page.locator("#width-from-error").is_visible()


def test_the_number_found_is_announced_politely(found: Found) -> None:
    page = found()
    page.get_by_role("checkbox", name="proven").check()
    told = caption(page)
    status = page.locator("[role=status][data-part=status]")
    page.wait_for_function("() => document.querySelector('[data-part=status]').textContent")
    assert status.inner_text().replace("\u00a0", " ") == told


def test_the_keyboard_is_enough(found: Found) -> None:
    page = found()
    page.locator("#words").focus()
    for _ in range(20):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.name") == "flag":
            break
    page.keyboard.press("Space")
    page.wait_for_url("**flag=**")
    assert page.evaluate("document.activeElement.name") == "flag"


def test_it_stays_small(found: Found) -> None:
    """[web reference, 6.2]: at most 1,500 elements."""
    page = found("?sort=oldest")
    caption(page)
    assert page.evaluate("document.querySelectorAll('*').length") <= 1500


HOSTILE = {
    "markup": "?words=" + quote("<img src=x onerror=alert(1)><script>alert(1)</script>"),
    "unknown": "?hack=1&__proto__=x&constructor=y&toString=z",
    "not a number": "?width=NaN..NaN&offset=Infinity..&section=1e9..",
    "unknown words": "?flag=%3Cb%3E&chassis=../../etc/passwd&sort=evil&end=%00&page=-1",
    "pick": "?pick=javascript:alert(1)&pick=//evil.example/x",
    "broken": "?%E0%A4%A&=&&&words=%FF",
}


@pytest.mark.parametrize("query", HOSTILE.values(), ids=HOSTILE)
def test_hostile_addresses_do_nothing(found: Found, guide: Guide, query: str) -> None:
    page = found(query)
    caption(page)
    assert page.locator("main img, main script").count() == 0
    assert page.evaluate("Object.prototype.x") is None
    if "words" not in query:
        assert count(page) == len(guide.library.setups)
        assert "not understood" in page.locator("[data-part=notes]").inner_text()


def test_a_very_long_address_is_not_read(found: Found, guide: Guide) -> None:
    page = found("?words=" + "a" * 20_000)
    assert "longer" in page.locator("[data-part=notes]").inner_text()
    assert count(page) == len(guide.library.setups)


def test_a_reversed_range_is_swapped_with_a_note(found: Found) -> None:
    page = found("?offset=30..10")
    assert "swapped" in page.locator("[data-part=notes]").inner_text()
    assert page.locator("#offset-from").input_value() == "10"
    right = found("?offset=10..30")
    assert caption(page) == caption(right)


def test_setups_are_picked_for_comparison(found: Found) -> None:
    page = found()
    picks = page.locator("input[name=pick]")
    picks.nth(0).check()
    picks.nth(1).check()
    page.get_by_role("link", name="Compare these 2").click()
    page.wait_for_selector(".laid-page[data-ready]")
    assert page.locator(".laid").count() == 2


def test_without_a_script_the_newest_and_every_chassis_are_there(
    opened: Found, guide: Guide
) -> None:
    page = opened("find.html", java_script_enabled=False)
    assert page.locator("[data-part=rows] tr").count() == 20
    assert not page.locator("form").is_visible()
    for chassis in guide.chassis():
        assert page.get_by_role("link", name=chassis.value.name, exact=True).count() == 1
