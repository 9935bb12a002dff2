"""Every kind of page for every reader: axe in both themes, keyboard, zoom, spacing, drawings.

Rules: [web reference, 9.1 and 9.2], WCAG 2.2 A and AA as axe-core tests them; the criterion stands
beside each check that is made here by hand.
"""

import itertools
import re
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import html5lib
import pytest

from generator.site.guide import Guide
from generator.site.plan import plan, view_modules
from tests.browser.conftest import WHOLE_TRIAL

if TYPE_CHECKING:
    from playwright.sync_api import Page

Open = Callable[..., "Page"]
KINDS = tuple(module.__name__.rsplit(".", 1)[1] for module in view_modules())
STAYING = [kind for kind in KINDS if kind != "moved"]
"""All kinds but the page that leads on at once, so that another is looked at by then."""
RULES = {
    "runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]},
    "resultTypes": ["violations"],  # of the others one element each is told
}
# WCAG 2.2, 1.4.12: line height 1.5, paragraphs 2, letters 0.12, words 0.16 times the font size.
SPACING = (
    "*{line-height:1.5!important;letter-spacing:.12em!important;word-spacing:.16em!important}"
    "p{margin-bottom:2em!important}"
)
ADD_STYLE = """(text) => {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(text);
  document.adoptedStyleSheets = [sheet];
}"""
CUT_OFF = """() => [...document.querySelectorAll("main :is(p, li, td, th, dd, dt, h1, h2, h3, a)")]
  .filter((each) => each.checkVisibility() && !each.closest(".hidden, .unseen, thead"))
  .filter((each) => getComputedStyle(each).overflow !== "visible"
    && each.scrollHeight > each.clientHeight + 1)
  .map((each) => each.outerHTML.slice(0, 120))"""
FOCUSED = """() => {
  const it = document.activeElement;
  const style = getComputedStyle(it);
  const mark = it.matches("input[type=radio]") ? getComputedStyle(it.nextElementSibling) : style;
  return {
    name: (it.textContent || it.value || "").trim().replace(/\\s+/g, " ").slice(0, 40),
    tag: it.tagName.toLowerCase(),
    seen: mark.outlineStyle !== "none" && parseFloat(mark.outlineWidth) >= 2,
  };
}"""


@pytest.fixture(scope="session")
def longest(guide: Guide) -> dict[str, str]:
    """Give the page of each kind that says most."""
    found: dict[str, Any] = {}
    for page in plan(guide):
        best = found.get(page.view)
        if best is None or len(repr(page.context)) > len(repr(best.context)):
            found[page.view] = page
    return {view: page.path for view, page in found.items()}


def path_of(longest: dict[str, str], kind: str) -> str:
    assert kind in longest, f"the demo has no page of the kind {kind}"
    return longest[kind]


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("kind", STAYING)
def test_axe_finds_nothing(visited: Open, longest: dict[str, str], kind: str, theme: str) -> None:
    from axe_playwright_python.sync_playwright import Axe

    page = visited(path_of(longest, kind), theme=theme)
    if kind == "try_setup":  # axe sees what is not laid out where it last was, upon other links
        page.set_viewport_size({"width": 1280, "height": WHOLE_TRIAL})
    page.wait_for_load_state("networkidle")
    result = Axe().run(page, options=RULES)
    found = [
        f"{each['id']}: {node['html'][:160]}"
        for each in result.response["violations"]
        for node in each["nodes"][:4]
    ]
    assert result.response["passes"]
    assert not found, "\n".join(found)


@pytest.mark.parametrize("kind", STAYING)
def test_at_400_percent_nothing_scrolls_sideways(
    visited: Open, longest: dict[str, str], kind: str
) -> None:
    """1.4.10: 1280 px at 400 % are 320 px; tables and drawings scroll in their own regions."""
    page = visited(path_of(longest, kind), width=320)
    assert page.evaluate("document.documentElement.scrollWidth") <= 320


@pytest.mark.parametrize("kind", STAYING)
def test_wider_spacing_cuts_nothing_off(visited: Open, longest: dict[str, str], kind: str) -> None:
    """1.4.12."""
    page = visited(path_of(longest, kind), width=390)
    page.evaluate(ADD_STYLE, SPACING)
    assert page.evaluate(CUT_OFF) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


def test_the_skip_link_comes_first_and_leads_to_the_content(
    visited: Open, longest: dict[str, str]
) -> None:
    page = visited(longest["setup"])
    page.keyboard.press("Tab")
    assert page.evaluate(FOCUSED)["name"] == "Skip to the content"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"


def test_the_order_of_the_keys_is_that_of_the_page(visited: Open, longest: dict[str, str]) -> None:
    """2.4.3 and 2.4.7: skip link, name, ways in, units, breadcrumb, and each focus can be seen."""
    page = visited(longest["setup"])
    page.wait_for_selector("html[data-scripted]")
    told = []
    for _ in range(40):
        page.keyboard.press("Tab")
        told.append(page.evaluate(FOCUSED))
    names = [each["name"] for each in told]
    wanted = ["Skip to the content", "Fallowmere fitment guide", "Chassis", "Find", "Try"]
    assert names[: len(wanted)] == wanted
    assert names.index("Sheet to print") > names.index("Home")
    unseen = [each for each in told if not each["seen"] and each["tag"] != "body"]
    assert not unseen


# What takes the focus, in the order of the page: hidden things and closed parts do not.
REACHABLE = """() => {
  const all = [...document.querySelectorAll(
    "a[href], button, input, select, textarea, summary, [tabindex='0']")];
  const seen = all.filter((it) => it.checkVisibility({ visibilityProperty: true })
    && !it.disabled && it.tabIndex >= 0);
  window.reachable = seen;
  return {
    positive: [...document.querySelectorAll("[tabindex]")]
      .filter((it) => it.tabIndex > 0).length,
    radios: seen.filter((it) => it.type === "radio" && !it.checked).length,
    count: seen.length,
  };
}"""
WHERE = "() => window.reachable.indexOf(document.activeElement)"
MOST_STEPS = 60
REBUILT = ("submit", "try_setup", "offline")
"""Pages whose script makes fields or lists anew while it starts; their own tests walk them."""


@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("kind", STAYING)
def test_the_keys_go_through_every_kind_of_page_in_its_order(
    visited: Open, longest: dict[str, str], kind: str, width: int
) -> None:
    """2.1.1, 2.1.2 and 2.4.3: forward only, nothing skipped but unchosen radios, no trap."""
    page = visited(path_of(longest, kind), width=width)
    page.wait_for_load_state("networkidle")
    found = page.evaluate(REACHABLE)
    assert found["positive"] == 0
    steps = []
    for _ in range(min(found["count"] - found["radios"], MOST_STEPS)):
        page.keyboard.press("Tab")
        steps.append(page.evaluate(WHERE))
    if kind in REBUILT:
        return
    assert -1 not in steps
    assert steps == sorted(set(steps)), steps
    skipped = set(range(max(steps) + 1)) - set(steps)
    assert len(skipped) <= found["radios"]


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "specimen"])
def test_each_drawing_has_words_and_is_followed_by_its_numbers(
    site_folder: Path, longest: dict[str, str], kind: str
) -> None:
    """1.1.1: role img, title and description by ids of this page, and a table in its figure."""
    text = (site_folder / path_of(longest, kind)).read_text("utf-8")
    tree = html5lib.parse(text, namespaceHTMLElements=False)
    ids = {each.get("id"): each for each in tree.iter() if each.get("id")}
    for figure in tree.iter("figure"):
        for svg in (each for each in figure.iter() if str(each.tag).endswith("svg")):
            if svg.get("aria-hidden") == "true":
                continue
            assert svg.get("role") == "img"
            title, description = (ids[name] for name in svg.get("aria-labelledby", "").split())
            assert "".join(title.itertext()).strip()
            assert "".join(description.itertext()).strip()
            # A chart whose numbers fill a table of the page leads there instead.
            follows = figure.iter("table"), (a for a in figure.iter("a") if a.get("href"))
            assert any(next(iter(each), None) is not None for each in follows)


@pytest.mark.parametrize("kind", KINDS)
def test_a_page_is_strict_html_with_whole_labels(
    site_folder: Path, longest: dict[str, str], kind: str
) -> None:
    """html5lib refuses what the HTML standard calls a parse error, doubled attributes among it."""
    text = (site_folder / path_of(longest, kind)).read_text("utf-8")
    tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(text)
    ids = [each.get("id") for each in tree.iter() if each.get("id")]
    assert len(set(ids)) == len(ids)
    for each in tree.iter():
        for name in ("for", "aria-labelledby", "aria-describedby", "aria-controls"):
            assert set((each.get(name) or "").split()) <= set(ids), (name, each.get(name))
    levels = [int(found) for found in re.findall(r"<h([1-6])[ >]", text)]
    assert levels.count(1) == 1
    assert all(b - a <= 1 for a, b in itertools.pairwise(levels))


# The HTML standard's content models, where a parser finds no fault: parent, and what it may hold.
CHILDREN = {
    "ul": {"li", "template", "script"},
    "ol": {"li", "template", "script"},
    "dl": {"dt", "dd", "div", "template", "script"},
    "table": {"caption", "colgroup", "thead", "tbody", "tfoot"},
    "tr": {"th", "td"},
    "select": {"option", "optgroup", "hr"},
}
PRESSED = {"a", "button", "label", "summary"}
INTERACTIVE = {"a", "button", "input", "select", "textarea", "details"}
PHRASING_ONLY = {"p", "h1", "h2", "h3", "h4", "h5", "h6", "button", "label", "dt", "caption"}
BLOCKS = {
    "p", "div", "ul", "ol", "dl", "table", "section", "article", "nav", "header", "footer",
    "figure", "fieldset", "details", "h1", "h2", "h3", "h4", "h5", "h6", "blockquote", "pre",
}  # fmt: skip


def misplaced(tree: Any) -> list[tuple[str, str]]:
    """Give what lies where the HTML standard does not allow it: parent and child."""
    found = []
    for parent in (each for each in tree.iter() if isinstance(each.tag, str)):
        children = [each.tag for each in parent if isinstance(each.tag, str)]
        allowed = CHILDREN.get(parent.tag)
        found += [(parent.tag, tag) for tag in children if allowed and tag not in allowed]
        if parent.tag == "details" and children[:1] != ["summary"]:
            found.append(("details", "no summary first"))
        if parent.tag == "figure" and children.count("figcaption") > 1:
            found.append(("figure", "two captions"))
        inside = [each.tag for each in parent.iter() if each is not parent]
        if parent.tag in PRESSED - {"label"}:
            found += [(parent.tag, tag) for tag in inside if tag in INTERACTIVE]
        if parent.tag in PHRASING_ONLY - {"dt", "caption"}:
            found += [(parent.tag, tag) for tag in inside if tag in BLOCKS]
    return found


def test_what_is_misplaced_is_found() -> None:
    page = "<ul><p>x</p></ul><a href=x><button>y</button></a><details><p>z</p></details>"
    tree = html5lib.parse(page, namespaceHTMLElements=False)
    assert misplaced(tree) == [
        ("ul", "p"), ("a", "button"), ("details", "no summary first"),
    ]  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_elements_lie_where_the_standard_allows_them(
    site_folder: Path, longest: dict[str, str], kind: str
) -> None:
    """Source: HTML Living Standard, content models of the elements named above (from memory)."""
    text = (site_folder / path_of(longest, kind)).read_text("utf-8")
    assert misplaced(html5lib.parse(text, namespaceHTMLElements=False)) == []


def test_motion_is_reduced_where_the_reader_asks(opened: Open, longest: dict[str, str]) -> None:
    page = opened(longest["setup"], reduced_motion="reduce")
    assert page.evaluate("getComputedStyle(document.documentElement).scrollBehavior") == "auto"
    moving = page.evaluate("document.getAnimations().length")
    assert moving == 0


def test_in_forced_colours_words_and_lines_stay(opened: Open, longest: dict[str, str]) -> None:
    """Drawn lines and text take the system's colours: none is that of the ground."""
    page = opened(longest["setup"], forced_colors="active")
    same = page.evaluate(
        """() => [...document.querySelectorAll("main svg :is(path, text), main p")]
          .filter((each) => each.checkVisibility())
          .filter((each) => {
            const style = getComputedStyle(each);
            const ground = getComputedStyle(document.body).backgroundColor;
            const ink = each.matches("text") ? style.fill : style.color;
            return ink === ground;
          }).length"""
    )
    assert same == 0
