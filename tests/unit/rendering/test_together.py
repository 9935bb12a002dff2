"""What a line must not break is kept together, and is still the text that was typed."""

import html
import re

import pytest

from generator.quantities.units import BY_SPELLING
from generator.rendering.prose import note
from generator.rendering.together import code, ticked, together

KEPT = re.compile(r'<span class="together">(.*?)</span>', re.DOTALL)


def kept(text: str) -> list[str]:
    return [html.unescape(each) for each in KEPT.findall(str(together(text)))]


@pytest.mark.parametrize("spelling", sorted(BY_SPELLING))
def test_a_number_stays_with_every_unit_that_may_be_typed(spelling: str) -> None:
    for number in ("12", "-1.5", "3/8", "1 1/2", "+0.200"):
        assert kept(f"about {number} {spelling}, or so") == [f"{number} {spelling}"]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("at full toe-out lock", ["toe-out"]),
        ("down from standing, 8° toe-in", ["8° toe-in"]),
        ("195/60 R 15 88H on 6.5 x 15", ["195/60 R 15 88H", "6.5 x 15"]),
        ("M12 × 1.25 studs, M14x1.5 nuts", ["M12 × 1.25", "M14x1.5"]),
        ("re-torque after 50\nkm", ["re-torque", "50\nkm"]),
        ("found on 2 November 2025 on a 7-inch wheel", ["2 November 2025", "7-inch"]),
        ("reads to ± 0.5 mm, ±\n1 mm, sometimes ± 2; ±3", ["± 0.5 mm", "±\n1 mm", "± 2", "±3"]),
        ("above 15 °C, at 60 km/h, 73.1 kN", ["15 °C", "60 km/h", "73.1 kN"]),
        ("5 inner tubes, 12 months, 2024-05-11", []),
        ("R01-x, 1e5 mmx, well-known, a--b", []),
    ],
)
def test_sizes_and_short_compounds_stay_together(text: str, wanted: list[str]) -> None:
    assert kept(text) == wanted


@pytest.mark.parametrize(
    "text",
    ["<b>12 mm</b> & toe-in", '"x" onload=y 3/8 in', "1 1 1 1 1/1/1 mm", "a-b-c-d", "9 mm" * 99],
)
def test_only_markup_is_added_and_no_sign_is_lost(text: str) -> None:
    made = str(together(text))
    assert html.unescape(re.sub(r"</?span[^<>]*>", "", made)) == text
    assert not re.search(r"<(?!span class=\"together\">|/span>)", made)


def test_what_is_kept_together_is_short() -> None:
    long = "123456/123456 millimetres" + "-" * 50 + "x" * 400 + " 1" * 200 + " mm"
    assert max(map(len, kept(long))) <= 32


def test_a_number_at_the_end_of_a_typed_line_stays_with_its_unit() -> None:
    assert '<span class="together">12\nmm</span>' in note("It is 12\nmm there.")
    assert "<br" in note("It is 12  \nmm there.")


def test_a_short_command_stays_on_its_line_and_a_long_one_may_break() -> None:
    assert str(code("gapbook try")) == '<code class="together">gapbook try</code>'
    assert "together" not in code("gapbook build content --out a_folder_of_my_own")
    assert '<code class="together">gapbook try</code>' in note("Use `gapbook try`.")
    assert str(ticked("`a <b> c`")) == '<code class="together">a &lt;b&gt; c</code>'
