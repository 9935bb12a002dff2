"""The demo guide, served on this machine, in Chromium; a page that complains fails its test."""

import functools
import os
import sys
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import date
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from generator.build import build
from generator.cache.key import default_folder, key_for
from generator.cache.store import Store
from generator.computing import guide_of
from generator.memory import StoredMemory
from generator.reading.folder import content_files
from generator.reading.photos import photo_files
from generator.records.collect import collect
from generator.rendering.render import Renderer
from generator.site import urls
from generator.site.guide import Guide
from generator.site.views import try_setup
from tests.chromium import chromium

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, Page

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "content_demo"
TODAY = date(2026, 11, 25)
FLAGS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip
LANGUAGE = "en-GB"
PATIENCE_MS = 60_000
"""How long a page may take that others keep from the processor; none needs a tenth of it."""
TRIAL = urls.trial("ostvane-meridel")
WHOLE_TRIAL = 9000
"""A height in pixels at which all of a trial is in sight: what is not is not laid out."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Without a browser these tests are skipped; the gate has one, and there they must run.

    A page that others kept from the processor is looked at once more; the report counts it.
    """
    here = Path(__file__).parent
    for item in items:
        if here in item.path.parents:
            item.add_marker(pytest.mark.browser)
            item.add_marker(pytest.mark.flaky(reruns=1))
            if chromium() is None and not os.environ.get("CI"):
                item.add_marker(pytest.mark.skip(reason="there is no Chromium here"))


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:  # noqa: A002
        """Keep requests out of the tests' report."""


class _Patient(ThreadingHTTPServer):
    def handle_error(self, request: Any, client_address: Any) -> None:
        """Say nothing of a page that went before it had all that it asked for."""
        if not isinstance(sys.exc_info()[1], ConnectionError):
            super().handle_error(request, client_address)


def served(folder: Path) -> Iterator[str]:
    """Serve a folder on this machine until the generator is closed."""
    server = _Patient(("127.0.0.1", 0), functools.partial(_Quiet, directory=str(folder)))
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    server.server_close()
    thread.join()


@pytest.fixture(scope="session")
def serve() -> Callable[[Path], Iterator[str]]:
    return served


@pytest.fixture(scope="session")
def kept() -> Store | None:
    folder = default_folder(os.environ)
    return Store.opened(folder, key_for(os.environ)) if folder else None


def build_demo(folder: Path, kept: Store | None) -> None:
    done = build(DEMO, folder, leave_out_faulty=False, today=TODAY, cache=kept, workers=None)
    assert not done.has_errors, done.told


@pytest.fixture(scope="session")
def site_folder(once: Callable[[str, Callable[[Path], object]], Path], kept: Store | None) -> Path:
    return once("demo", lambda folder: build_demo(folder, kept))


@pytest.fixture(scope="session")
def guide(site_folder: Path, kept: Store | None) -> Guide:
    """Compute the demo as the pages show it; what was computed for them is at hand."""
    assert site_folder.is_dir()
    collected = collect(content_files(DEMO)[0], photo_files(DEMO)[0])
    return guide_of(collected, (), StoredMemory(kept) if kept else None)


@pytest.fixture(scope="session")
def site(site_folder: Path) -> Iterator[str]:
    """Give the address of the demo guide."""
    yield from served(site_folder)


@pytest.fixture(scope="session")
def browser() -> "Iterator[Browser]":
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        started = driver.chromium.launch(executable_path=chromium(), args=list(FLAGS))
        yield started
        started.close()


@dataclass
class Watched:
    """What pages complained of: errors, refusals of the policy, requests to elsewhere."""

    told: list[str] = field(default_factory=list)

    def follow(self, page: "Page", host: str) -> None:
        def on_console(message: Any) -> None:
            if message.type in ("error", "warning"):
                self.told.append(f"{message.type}: {message.text}")

        def on_request(request: Any) -> None:
            if not request.url.startswith((host, "data:", "about:")):
                self.told.append(f"a request to {request.url}")

        def on_response(response: Any) -> None:
            if response.status >= 400:
                self.told.append(f"{response.status}: {response.url}")

        page.on("console", on_console)
        page.on("pageerror", lambda error: self.told.append(f"thrown: {error}"))
        page.on("request", on_request)
        page.on("response", on_response)


@dataclass
class Opener:
    """Opens pages of the guide; all of them are watched."""

    browser: "Browser"
    site: str
    watched: Watched
    contexts: "list[BrowserContext]" = field(default_factory=list)

    def __call__(
        self,
        path: str,
        *,
        width: int = 1280,
        theme: str = "light",
        before: str = "",
        **settings: Any,
    ) -> "Page":
        """Open a page; `before` is a script that runs ahead of all others."""
        context = self.browser.new_context(
            viewport={"width": width, "height": 900},
            color_scheme=theme,
            locale=LANGUAGE,
            **settings,
        )
        self.contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(PATIENCE_MS)
        self.watched.follow(page, self.site)
        if before:
            page.add_init_script(before)
        page.goto(self.site + path)
        return page


class Window:
    """One page that is kept from test to test; it forgets all between them."""

    def __init__(self, browser: "Browser", site: str, *, scripts: bool) -> None:
        self._origin, self.watched = site.rstrip("/"), Watched()
        self.context = browser.new_context(locale=LANGUAGE, java_script_enabled=scripts)
        self.page = self.context.new_page()
        self.page.set_default_timeout(PATIENCE_MS)
        self.watched.follow(self.page, site)
        self._session = self.context.new_cdp_session(self.page)
        self._session.send("Network.enable")
        self._session.send("Network.setCacheDisabled", {"cacheDisabled": True})

    def leave(self) -> list[str]:
        """Leave the page and all that it stored; give what it complained of."""
        self.page.goto("about:blank")
        everything = {"origin": self._origin, "storageTypes": "all"}
        self._session.send("Storage.clearDataForOrigin", everything)
        told, self.watched.told = self.watched.told, []
        return told


@dataclass
class Visits:
    """Opens pages for tests that only look and type: a window costs three times what a page does.

    What else a test does to a window, such as scripts ahead of all others, would stay: for that,
    `opened` gives each test windows of its own.
    """

    browser: "Browser"
    site: str
    windows: dict[bool, Window] = field(default_factory=dict)

    def __call__(
        self, path: str, *, width: int = 1280, theme: Any = "light", scripts: bool = True
    ) -> "Page":
        if scripts not in self.windows:
            self.windows[scripts] = Window(self.browser, self.site, scripts=scripts)
        page = self.windows[scripts].page
        page.set_viewport_size({"width": width, "height": 900})
        page.emulate_media(color_scheme=theme)
        page.goto(self.site + path)
        return page


@pytest.fixture(scope="session")
def _visits(browser: "Browser", site: str) -> Iterator[Visits]:
    visits = Visits(browser, site)
    yield visits
    for window in visits.windows.values():
        window.context.close()


@pytest.fixture
def visited(_visits: Visits) -> Iterator[Visits]:
    """Open pages in windows that many tests use in turn; fail the test if one complained."""
    yield _visits
    told = [each for window in _visits.windows.values() for each in window.leave()]
    assert not told, told


@pytest.fixture
def watched() -> Iterator[Watched]:
    """Fail the test if a page complained and the test did not expect it."""
    seen = Watched()
    yield seen
    assert not seen.told, seen.told


@pytest.fixture
def opened(browser: "Browser", site: str, watched: Watched) -> Iterator[Opener]:
    opener = Opener(browser, site, watched)
    yield opener
    for context in opener.contexts:
        context.close()


@pytest.fixture
def found(opened: Opener) -> "Callable[..., Page]":
    """Open the find page and wait until its script has started."""

    def open_it(query: str = "", **settings: Any) -> "Page":
        page = opened(f"find.html{query}", **settings)
        page.wait_for_selector(".find[data-ready]")
        return page

    return open_it


@pytest.fixture(scope="session")
def trial_site(guide: Guide, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Serve the pages for trials alone, as they are published."""
    folder, renderer = tmp_path_factory.mktemp("try"), Renderer(guide)
    texts = {page.path: renderer.text(page) for page in try_setup.pages(guide)}
    texts |= {file.path: file.text for file in try_setup.files(guide, ())}
    for path, text in texts.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_text(text, "utf-8")
    for asset in renderer.assets():
        (folder / str(asset.path)).parent.mkdir(parents=True, exist_ok=True)
        (folder / str(asset.path)).write_bytes(asset.content)
    yield from served(folder)


def settled(page: "Page") -> None:
    """Wait until a trial has shown all there is to show."""
    page.wait_for_selector(".try[data-ready][data-settled]", timeout=PATIENCE_MS)


@pytest.fixture
def tried(browser: "Browser", trial_site: str, watched: Watched) -> "Iterator[Callable[..., Page]]":
    """Open the page for trials of a chassis, and wait until all is shown."""
    opener = Opener(browser, trial_site, watched)

    def open_it(
        query: str = "",
        *,
        path: str = TRIAL,
        wait: bool = True,
        height: int = WHOLE_TRIAL,
        **settings: Any,
    ) -> "Page":
        page = opener(path + query, **settings)
        page.set_viewport_size({"width": settings.get("width", 1280), "height": height})
        if wait:
            settled(page)
        return page

    yield open_it
    for context in opener.contexts:
        context.close()
