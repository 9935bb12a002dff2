"""Reading without a network: what is kept, that editions never mix, and how all of it is ended.

The host is one of ours whose files can be changed and which can be cut off in the middle. Rules:
[web reference, 7.8 and 8, rows 103 and 104]: network first, nothing of an error, no mixed page.
"""

import hashlib
import json
import re
import threading
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import TYPE_CHECKING, Any

import pytest

from generator.computing import guide_of
from generator.reading.folder import Found
from generator.records.collect import collect
from generator.records.examples import example_files
from generator.rendering.environment import template_folder
from generator.rendering.manifest import Artifact
from generator.rendering.offline import worker_files
from generator.rendering.render import render
from generator.site.guide import Guide
from generator.site.plan import plan, plan_files

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

Files = Mapping[str, bytes]
OVERLAY = """
other:
  car: copperbill-coupe
  member: Copperbill
  date: 2025-07-20
  title: "A second setup"
"""
ARTICLE = (
    b"---\ntitle: Measuring\nsummary: How to measure\norder: 10\n---\nText.\n\n## First\n\nMore.\n"
)
HOME, CHASSIS = "index.html", "chassis/ostvane-meridel.html"
SETUP = "setups/ostvane-meridel/copperbill-seven-inch.html"
TYPES = {
    "html": "text/html", "css": "text/css", "js": "text/javascript", "svg": "image/svg+xml",
    "json": "application/json", "webmanifest": "application/manifest+json",
}  # fmt: skip
WORKER_FILES = re.compile(r"sw\.js|worker\.json|offline/.*")
LIMIT = 5_000_000
CACHED = """async () => {
  const found = {};
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {
      const answer = await cache.match(request);
      const isPacked = answer.headers.has("x-kept-bytes");
      const gunzip = () => answer.body.pipeThrough(new DecompressionStream("gzip"));
      const body = isPacked ? gunzip() : answer.body;
      const bytes = await new Response(body).arrayBuffer();
      const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
      const path = new URL(request.url).pathname.slice(1);
      found[`${name.split(" ").pop()} ${path}`] =
        [...hash].map((byte) => byte.toString(16).padStart(2, "0")).join("");
    }
  }
  return found;
}"""


@cache
def sample() -> Guide:
    files = (*example_files(OVERLAY), Found("articles/measuring.md", ARTICLE))
    return guide_of(collect(files), ())


@cache
def first_edition() -> Files:
    pages = plan(sample())
    made = render(sample(), pages, plan_files(sample(), pages))
    return {str(each.path): each.content for each in made}


def with_worker(files: Files) -> Files:
    bare = {path: body for path, body in files.items() if not WORKER_FILES.fullmatch(path)}
    artifacts = [Artifact(path, body) for path, body in bare.items()]
    beside = worker_files(sample(), artifacts, template_folder())
    return {**bare, **{str(each.path): each.content for each in beside}}


def second_edition() -> Files:
    """Give an edition in which the style sheet and the words of every page differ."""
    files = dict(first_edition())
    style = next(path for path in files if path.endswith(".css"))
    changed = style.replace("guide.", "guide.2")
    for path, body in files.items():
        if path.endswith(".html"):
            led = body.replace(style.encode(), changed.encode())
            files[path] = led.replace(b"</h1>", b" (second)</h1>", 1)
    files[changed] = files.pop(style) + b"h1{letter-spacing:3px}"
    return with_worker(files)


@dataclass
class Host:
    files: Files
    is_down: bool = False
    status: dict[str, int] = field(default_factory=dict)
    address: str = ""


@pytest.fixture
def host() -> Iterator[Host]:
    it = Host(first_edition())

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            if it.is_down:
                self.close_connection = True
                return
            path = self.path.partition("?")[0].removeprefix("/") or HOME
            body = it.files.get(path, b"<h1>nothing here</h1>")
            status = it.status.get(path, 200 if path in it.files else 404)
            self.send_response(status)
            self.send_header("content-type", TYPES.get(path.rsplit(".", 1)[-1], "text/html"))
            self.send_header("content-length", str(len(body)))
            self.send_header("cache-control", "no-cache")
            self.end_headers()
            self.wfile.write(body)

        def log_message(self, format: str, *args: object) -> None:  # noqa: A002
            """Keep requests out of the tests' report."""

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    it.address = f"http://127.0.0.1:{server.server_port}/"
    yield it
    server.shutdown()
    server.server_close()
    thread.join()


@pytest.fixture
def page(browser: "Browser", host: Host) -> "Iterator[Page]":
    """Give a page of the guide with its worker in charge."""
    context = browser.new_context()
    opened = context.new_page()
    opened.set_default_timeout(15000)
    opened.goto(host.address)
    opened.wait_for_function("() => navigator.serviceWorker.controller")
    yield opened
    context.close()


def ask(page: "Page", **question: str) -> dict[str, Any]:
    told: dict[str, Any] = page.evaluate(
        """(question) => new Promise((resolve) => {
          const line = new MessageChannel();
          line.port1.onmessage = (event) => resolve(event.data);
          navigator.serviceWorker.controller.postMessage(question, [line.port2]);
        })""",
        question,
    )
    return told


def visit(page: "Page", host: Host, path: str) -> None:
    page.goto(host.address + path)
    page.wait_for_load_state("networkidle")
    page.wait_for_function(
        "async (path) => { for (const n of await caches.keys()) { const c = await caches.open(n);"
        " if (await c.match(path)) return true; } return false; }",
        arg=host.address + path,
    )


def cached(page: "Page") -> dict[str, str]:
    found: dict[str, str] = page.evaluate(CACHED)
    return found


def assert_of_one_edition(page: "Page", files: Files) -> None:
    for key, digest in cached(page).items():
        path = key.split(" ", 1)[1]
        if not path.startswith("kept/"):
            assert digest == hashlib.sha256(files[path]).hexdigest(), key


def styled(page: "Page") -> bool:
    border = page.evaluate("getComputedStyle(document.querySelector('h2')).borderTopWidth")
    return bool(border == "2px")


def test_a_page_that_was_visited_reloads_without_a_network(page: "Page", host: Host) -> None:
    visit(page, host, SETUP)
    host.is_down = True
    page.reload()
    assert page.locator("h1").count() == 1
    assert styled(page)
    assert "Data as of" in page.locator(".foot-stamp").inner_text()
    page.locator("[data-part=kept]").wait_for(state="visible")


def test_the_first_page_of_all_is_kept_too(browser: "Browser", host: Host) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.goto(host.address + SETUP)
    page.wait_for_function("() => navigator.serviceWorker.controller")
    visit(page, host, SETUP)
    host.is_down = True
    page.goto(host.address + SETUP + "?units=inch")
    assert styled(page)
    context.close()


def test_a_page_that_is_not_kept_leads_to_what_is(page: "Page", host: Host) -> None:
    host.is_down = True
    page.goto(host.address + SETUP)
    assert page.url.startswith(host.address + "offline.html")
    page.locator("[data-part=again] a").get_by_text(SETUP, exact=True).wait_for()
    page.locator("[data-part=list] li").first.wait_for(state="visible")


def test_a_chassis_that_was_saved_can_be_read_whole(page: "Page", host: Host) -> None:
    page.goto(host.address + CHASSIS)
    button = page.get_by_role("button", name="Keep this chassis for the garage")
    button.click()
    page.get_by_text("It can be read without a network").wait_for()
    assert "data as of" in page.locator(".keep [role=status]").inner_text()
    host.is_down = True
    wanted = [path for path in host.files if path.endswith(".html")]
    wanted = [path for path in wanted if path.startswith(("setups/", "chassis/", "articles/"))]
    assert len(wanted) >= 4
    for path in wanted:
        page.goto(host.address + path)
        assert page.url == host.address + path
        assert styled(page) or path.startswith("articles/")
    assert_of_one_edition(page, host.files)


def test_saving_is_all_or_nothing_and_can_be_undone(page: "Page", host: Host) -> None:
    host.status[SETUP] = 503
    before = cached(page)
    assert "503" in ask(page, ask="keep", chassis="ostvane-meridel")["trouble"]
    after = cached(page)
    assert {key for key in after if "setups/" in key} == {key for key in before if "setups/" in key}
    assert ask(page, ask="state")["kept"] == []
    host.status.clear()
    assert ask(page, ask="keep", chassis="ostvane-meridel")["kept"] == ["ostvane-meridel"]
    assert ask(page, ask="drop", chassis="ostvane-meridel")["kept"] == []
    assert not [key for key in cached(page) if "setups/" in key]


@pytest.mark.parametrize("status", [404, 500])
def test_an_error_is_never_kept(page: "Page", host: Host, status: int) -> None:
    host.status[SETUP] = status
    page.goto(host.address + SETUP)
    page.wait_for_timeout(400)
    assert not [key for key in cached(page) if key.endswith(SETUP)]


def test_a_kept_page_stands_in_for_a_failing_host(page: "Page", host: Host) -> None:
    visit(page, host, SETUP)
    host.status[SETUP] = 500
    page.goto(host.address + SETUP)
    assert styled(page)


def test_a_new_edition_takes_the_place_of_the_old_whole(page: "Page", host: Host) -> None:
    visit(page, host, SETUP)
    ask(page, ask="keep", chassis="ostvane-meridel")
    old, host.files = host.files, second_edition()
    page.goto(host.address + SETUP)
    page.get_by_role("button", name="Show the newer guide").wait_for()
    # Until the reader agrees, the old worker keeps nothing of the new edition.
    state = ask(page, ask="state")
    assert "(second)" in page.locator("h1").inner_text()
    names = {key.split(" ", 1)[0] for key in cached(page)}
    assert len(names) == 2
    for key, digest in cached(page).items():
        name, path = key.split(" ", 1)
        edition = old if name == state["version"] else host.files
        if not path.startswith("kept/"):
            assert digest == hashlib.sha256(edition[path]).hexdigest(), key
    with page.expect_navigation():
        page.get_by_role("button", name="Show the newer guide").click()
    page.wait_for_load_state("networkidle")
    page.wait_for_function("async () => (await caches.keys()).length === 1")
    assert_of_one_edition(page, host.files)
    assert ask(page, ask="state")["kept"] == ["ostvane-meridel"]
    host.is_down = True
    for path in (HOME, SETUP, CHASSIS):
        page.goto(host.address + path)
        assert "(second)" in page.locator("h1").inner_text()
        spacing = page.evaluate("getComputedStyle(document.querySelector('h1')).letterSpacing")
        assert spacing == "3px"


def test_before_the_change_a_kept_page_is_old_in_all_its_parts(page: "Page", host: Host) -> None:
    visit(page, host, SETUP)
    host.files = second_edition()
    host.status["sw.js"] = 503
    page.goto(host.address + SETUP)
    assert "(second)" in page.locator("h1").inner_text()
    page.wait_for_timeout(400)
    host.is_down = True
    page.goto(host.address + SETUP)
    assert "(second)" not in page.locator("h1").inner_text()
    assert styled(page)


def test_an_edition_that_is_not_there_whole_is_not_taken(page: "Page", host: Host) -> None:
    visit(page, host, SETUP)
    half = dict(second_edition())
    del half[next(path for path in half if path.endswith(".css"))]
    host.files = half
    failed = page.evaluate(
        "async () => { const r = await navigator.serviceWorker.getRegistration(); await r.update();"
        " await new Promise((go) => setTimeout(go, 1500)); return !r.waiting; }"
    )
    assert failed
    host.is_down = True
    page.goto(host.address + SETUP)
    assert styled(page)
    assert_of_one_edition(page, first_edition())


def test_the_switch_ends_the_worker_and_all_it_kept(page: "Page", host: Host) -> None:
    visit(page, host, SETUP)
    host.files = {**host.files, "worker.json": b'{"worker": "off"}'}
    page.goto(host.address + HOME)
    page.wait_for_function(
        "async () => !(await caches.keys()).length"
        " && !(await navigator.serviceWorker.getRegistration())"
    )


def test_a_club_that_wants_no_worker_sends_one_that_clears_up(page: "Page", host: Host) -> None:
    visit(page, host, SETUP)
    off = host.files["sw.js"].replace(b"const IS_ON = true;", b"const IS_ON = false;")
    assert off != host.files["sw.js"]
    host.files = {**host.files, "sw.js": off}
    page.evaluate("async () => (await navigator.serviceWorker.getRegistration()).update()")
    page.wait_for_function(
        "async () => !(await caches.keys()).length"
        " && !(await navigator.serviceWorker.getRegistration())"
    )


def test_no_more_is_kept_than_the_limit(page: "Page", host: Host) -> None:
    """[web reference, 6.2]: 5 MB. Bytes that cannot be pressed stand for a large chassis."""
    noise = b"".join(hashlib.sha512(str(at).encode()).digest() for at in range(90_000))
    big = dict(first_edition())
    big["compare/ostvane-meridel/large.json"] = noise
    host.files = with_worker(big)
    page.evaluate("async () => (await navigator.serviceWorker.getRegistration()).update()")
    page.wait_for_function("async () => (await navigator.serviceWorker.getRegistration()).waiting")
    page.goto(host.address + CHASSIS)
    with page.expect_navigation():
        page.get_by_role("button", name="Show the newer guide").click()
    page.wait_for_load_state("networkidle")
    page.wait_for_function("async () => (await caches.keys()).length === 1")
    told = ask(page, ask="keep", chassis="ostvane-meridel")
    assert told["trouble"] == "full"
    state = ask(page, ask="state")
    assert state["kept"] == []
    assert state["size"] <= LIMIT


def test_without_worker_or_storage_a_page_is_whole(browser: "Browser", host: Host) -> None:
    context = browser.new_context(service_workers="block")
    page = context.new_page()
    told: list[str] = []
    page.on("pageerror", lambda error: told.append(str(error)))
    page.goto(host.address + CHASSIS)
    page.wait_for_load_state("networkidle")
    assert styled(page)
    assert not told
    context.close()


def test_the_web_manifest_names_files_that_are_there() -> None:
    manifest = json.loads(first_edition()["manifest.webmanifest"])
    assert manifest["start_url"] in first_edition()
    assert [icon for icon in manifest["icons"] if icon["src"] in first_edition()]


def test_the_demo_chassis_fit_into_the_limit_together(guide: Guide, site_folder: Any) -> None:
    """All six at once, pressed as the worker presses them."""
    import gzip

    sizes = [
        len(gzip.compress(path.read_bytes()))
        for folder in ("setups", "chassis", "articles", "compare", "assets")
        for path in (site_folder / folder).rglob("*")
        if path.is_file()
    ]
    assert 0 < sum(sizes) <= LIMIT
