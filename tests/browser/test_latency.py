"""Ten thousand setups: how long from a filter to its painted result, and how much is loaded."""

import gzip
import shutil
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from generator.rendering.render import Renderer
from generator.site.facets import FindData, find_data
from generator.site.guide import Guide
from generator.site.views.find import find_page, share

sys.path.insert(0, str(Path(__file__).parent))
from many_setups import many_setups

if TYPE_CHECKING:
    from playwright.sync_api import Browser
KILOBYTE = 1000
FACETS_OF_TEN_THOUSAND = 200 * KILOBYTE
# [web reference, 6.2], at 2,000 records.
FACETS_OF_TWO_THOUSAND = 40 * KILOBYTE
TEXTS_OF_TWO_THOUSAND = 250 * KILOBYTE
SLOWER = 4
LIMIT_MS = 100
"""From a filter to its painted result, in 95 of 100 cases, at four-fold slowdown.

It is the processor time of the page, so that other work of the machine does not count.
"""

PREPARE = """
() => {
  const painted = () => new Promise((done) => {
    requestAnimationFrame(() => {
      const channel = new MessageChannel();
      channel.port1.onmessage = () => done(performance.now());
      channel.port2.postMessage(0);
    });
  });
  const form = document.querySelector(".find form");
  const typed = (id, text) => () => {
    const field = form.querySelector("#" + id);
    field.value = text;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  };
  const boxes = [...form.querySelectorAll("input[type=checkbox]")];
  const acts = [];
  for (let at = 0; at < boxes.length; at += 2) acts.push(() => boxes[at].click());
  for (const word of ["l", "li", "lip", "lips", "lips r", "lips rolled", "wing", "tyre", ""]) {
    acts.push(typed("words", word));
  }
  for (const box of boxes.slice(0, 20)) acts.push(() => box.checked && box.click());
  for (const low of ["5", "7", "8"]) acts.push(typed("width-from", low));
  for (const high of ["9", "8", ""]) acts.push(typed("width-to", high));
  for (const low of ["-10", "0", "20", ""]) acts.push(typed("offset-from", low));
  acts.push(typed("words", "clay"), typed("words", "measured clay"), typed("words", ""));
  window.acts = acts;
  window.painted = painted;
  return acts.length;
}
"""
# What follows the first painted result waits until the time was taken.
LATER = """
const real = window.setTimeout;
window.setTimeout = (act, ms, ...rest) => real(act, ms || 60, ...rest);
"""
SETTLED_MS = 160


@pytest.fixture(scope="module")
def many() -> FindData:
    return find_data(many_setups(), "today")


@pytest.fixture(scope="module")
def large_site(
    guide: Guide,
    site_folder: Path,
    many: FindData,
    serve: Callable[[Path], Iterator[str]],
    tmp_path_factory: pytest.TempPathFactory,
) -> Iterator[str]:
    folder = tmp_path_factory.mktemp("large") / "site"
    shutil.copytree(site_folder, folder)
    page = find_page([replace(share(guide), traits=many_setups())], many)
    (folder / "find.html").write_text(Renderer(guide).text(page), "utf-8")
    for file in (many.facets, many.rows, many.texts):
        (folder / file.path).write_text(file.text, "utf-8")
    yield from serve(folder)


def packed(text: str) -> int:
    return len(gzip.compress(text.encode(), 9))


def test_facets_of_ten_thousand_setups_are_small(many: FindData) -> None:
    assert packed(many.facets.text) <= FACETS_OF_TEN_THOUSAND


def test_facets_and_texts_of_two_thousand_setups_are_small() -> None:
    data = find_data(many_setups(2000), "today")
    assert packed(data.facets.text) <= FACETS_OF_TWO_THOUSAND
    assert packed(data.texts.text) <= TEXTS_OF_TWO_THOUSAND


def test_a_filter_is_painted_within_a_tenth_of_a_second(
    browser: "Browser", large_site: str, record_property: Any
) -> None:
    page = browser.new_page()
    page.add_init_script(LATER)
    page.goto(large_site + "find.html")
    page.wait_for_selector(".find[data-ready]")
    page.locator("#words").focus()
    page.wait_for_load_state("networkidle")
    session = page.context.new_cdp_session(page)
    session.send("Performance.enable", {"timeDomain": "threadTicks"})

    def spent() -> float:
        metrics = session.send("Performance.getMetrics")["metrics"]
        return next(float(each["value"]) for each in metrics if each["name"] == "TaskDuration")

    times = []
    for at in range(page.evaluate(PREPARE)):
        before = spent()
        page.evaluate("async (at) => { window.acts[at](); await window.painted(); }", at)
        times.append(SLOWER * 1000.0 * (spent() - before))
        page.wait_for_timeout(SETTLED_MS)
    times.sort()
    record_property("p50_ms", times[len(times) // 2])
    record_property("p95_ms", times[int(len(times) * 0.95)])
    assert len(times) > 40
    assert times[len(times) // 2] > 1.0
    assert times[int(len(times) * 0.95)] < LIMIT_MS, times[-10:]
    assert page.evaluate("document.querySelectorAll('*').length") <= 1500
    page.close()


def test_the_words_are_not_loaded_before_they_are_needed(
    browser: "Browser", large_site: str
) -> None:
    page = browser.new_page()
    loaded: list[str] = []
    page.on("request", lambda request: loaded.append(request.url))
    page.goto(large_site + "find.html")
    page.wait_for_selector(".find[data-ready]")
    assert any("/facets." in url for url in loaded)
    assert not any("/texts." in url or "/rows." in url for url in loaded)
    page.locator("#words").focus()
    page.wait_for_load_state("networkidle")
    assert any("/texts." in url for url in loaded)
    page.close()
