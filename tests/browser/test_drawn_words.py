"""Words of drawings, laid out: none on another, none on a part or a line, none over the edge."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import pytest

from generator.site.guide import Guide
from generator.site.plan import plan

if TYPE_CHECKING:
    from playwright.sync_api import Page

Open = Callable[..., "Page"]
WITH_DRAWINGS = ("home", "method", "chassis", "setup", "article", "specimen")
# Each line of words as it stands, a box as high as its letters; each part by points of its outline.
# Numbers that stand within a ring of their own lie on nothing. What is nearer than two pixels to
# either end of its words looks as if it touched them.
CLASHES = """() => {
  document.querySelectorAll("main details").forEach((each) => { each.open = true; });
  return [...document.querySelectorAll("main svg.dw")].flatMap((sheet) => {
  const frame = sheet.getBoundingClientRect();
  const unit = frame.width / sheet.viewBox.baseVal.width;
  if (!frame.width) return [];
  const named = sheet.querySelector("title").id;
  const lines = [...sheet.querySelectorAll("text")].flatMap((text) => {
    const parts = [...text.querySelectorAll(":scope > tspan[x]")];
    return (parts.length ? parts : [text]).map((part) => {
      const { left, right, top, bottom } = part.getBoundingClientRect();
      const half = parseFloat(getComputedStyle(text).fontSize) * unit * 0.36;
      const level = (top + bottom) / 2;
      return { text, told: part.textContent, left, right, top: level - half, bottom: level + half };
    });
  }).filter((each) => each.right > each.left);
  const out = lines.filter((each) => each.left < frame.left - 1 || each.right > frame.right + 1
    || each.top < frame.top - 1 || each.bottom > frame.bottom + 1)
    .map((each) => `${named}: over the edge: ${each.told}`);
  const both = lines.flatMap((one, at) => lines.slice(at + 1)
    .filter((other) => other.text !== one.text
      && Math.min(one.right, other.right) - Math.max(one.left, other.left) > 1
      && Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top) > 1)
    .map((other) => `${named}: ${one.told} on ${other.told}`));
  const pointsOf = (path) => {
    const to = path.getScreenCTM();
    const points = [];
    for (let at = 0; at <= path.getTotalLength(); at += 2) {
      const { x, y } = path.getPointAtLength(at);
      points.push([x * to.a + to.e, y * to.d + to.f]);
    }
    return points;
  };
  const under = (points, line, beside) => points.some(([x, y]) => x > line.left - beside
    && x < line.right + beside && y > line.top + 1 && y < line.bottom - 1);
  const rings = [...sheet.querySelectorAll(".dw-ring")].map((it) => it.getBoundingClientRect());
  const bare = lines.filter((line) => !rings.some((it) => it.left < line.left
    && it.right > line.right));
  const crossed = [...sheet.querySelectorAll(".dw-edge, .dw-stock, .dw-hidden-edge, .dw-axis, "
    + ".dw-thin, .dw-dim path, .dw-scale path")]
    .filter((path) => path.getTotalLength)
    .flatMap((path) => {
      const points = pointsOf(path);
      return bare.filter((line) => under(points, line, 2))
        .map((line) => `${named}: ${line.told} on ${path.getAttribute("class")}`);
    });
  const led = [...sheet.querySelectorAll("path.dw-leader")].flatMap((leader) => {
    const points = pointsOf(leader);
    return lines.filter((line) => line.text !== leader.nextElementSibling)
      .filter((line) => under(points, line, -1))
      .map((line) => `${named}: a leader through ${line.told}`);
  });
  return [...out, ...both, ...crossed, ...led];
  });
}"""
SPOILT = """() => {
  const sheet = document.querySelector("main svg.dw:has(.dw-leader)");
  const [first, second] = sheet.querySelectorAll(".dw-leader + text");
  second.replaceWith(first.cloneNode(true));
  for (const look of ["dw-edge", "dw-axis"]) {
    const part = sheet.querySelector(`.${look}`);
    const at = part.getPointAtLength(4);
    const words = first.cloneNode(false);
    words.textContent = `astray at ${look}`;
    words.setAttribute("text-anchor", "middle");
    words.setAttribute("x", at.x);
    words.setAttribute("y", at.y + 6);
    part.after(words);
  }
}"""


@pytest.mark.parametrize(("width", "every"), [(390, 1), (1280, 4)])
def test_no_words_of_any_drawing_lie_on_each_other_on_a_part_or_on_a_line(
    visited: Open, site: str, guide: Guide, width: int, every: int
) -> None:
    """On a phone of all pages, where words are largest against the drawing; on a desk of some."""
    paths = [page.path for page in plan(guide) if page.view in WITH_DRAWINGS]
    page = visited(paths[0], width=width)
    found: dict[str, Any] = {}
    for path in paths[::every]:
        page.goto(site + path, wait_until="domcontentloaded")
        clashes = page.evaluate(CLASHES)
        if clashes:
            found[path] = clashes
    assert len(paths) > 70
    assert not found


def test_words_that_lie_astray_are_found(visited: Open, guide: Guide) -> None:
    path = next(page.path for page in plan(guide) if page.view == "setup")
    page = visited(path)
    page.evaluate(SPOILT)
    told = " ".join(page.evaluate(CLASHES))
    assert "astray at dw-edge on" in told
    assert "astray at dw-axis on dw-axis" in told
    assert told.count(" on ") > 2
