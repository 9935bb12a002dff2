"""How long a filter of the find page takes until it is painted, in Chromium, on a built site."""

from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from math import ceil
from pathlib import Path
from threading import Thread

from tests.chromium import chromium

ACTS = """
async () => {
  const painted = () => new Promise((done) => requestAnimationFrame(() => {
    const channel = new MessageChannel();
    channel.port1.onmessage = () => done(performance.now());
    channel.port2.postMessage(0);
  }));
  const rest = () => new Promise((done) => setTimeout(done, 100));
  const form = document.querySelector(".find form");
  const boxes = [...form.querySelectorAll("input[type=checkbox]")].slice(0, 24);
  const times = [];
  for (const box of [...boxes, ...boxes]) {
    const start = performance.now();
    box.click();
    times.push((await painted()) - start);
    await rest();
  }
  return times;
}
"""


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        """Say nothing."""


def latency(site: Path) -> dict[str, float]:
    """Click through the filters of a site; give the 95th percentile in ms."""
    from playwright.sync_api import sync_playwright

    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(site)))
    Thread(target=server.serve_forever, daemon=True).start()
    try:
        with sync_playwright() as driver:
            browser = driver.chromium.launch(executable_path=chromium())
            page = browser.new_page()
            page.goto(f"http://127.0.0.1:{server.server_port}/find.html")
            page.wait_for_selector(".find form input[type=checkbox]", state="attached")
            times: list[float] = page.evaluate(ACTS)
            browser.close()
    finally:
        server.shutdown()
    return {"acts": len(times), "latency": sorted(times)[ceil(0.95 * len(times)) - 1]}
