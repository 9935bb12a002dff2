"""The guide on this machine alone, computed anew when a record changes, the browser following.

Nothing is written anywhere: the site lives in memory, so that whatever ends the program leaves
nothing behind. What a build has kept is read from its cache. Only addresses of the guide are
answered, and only to a browser on this machine that asked for this machine: another site cannot
have its own name point here.
"""

import signal
import sys
import threading
from collections.abc import Callable
from datetime import date
from functools import partial
from html import escape
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from types import FrameType
from typing import Any
from urllib.parse import unquote, urlsplit

from generator.cache.store import Store
from generator.frozen import dataclass
from generator.reading.report import as_text
from generator.reading.trouble import GuideError, shown
from generator.watched import Version, Watched

HOST = "127.0.0.1"
LOOK_EVERY = 0.1
"""Seconds between two looks at the folder."""
WAIT_AT_MOST = 20.0
"""Seconds that a browser's question for a newer version is left open."""

_OWN = "/-/"
_TYPES = {
    "html": "text/html; charset=utf-8",
    "css": "text/css; charset=utf-8",
    "js": "text/javascript; charset=utf-8",
    "json": "application/json",
    "jsonl": "application/jsonl; charset=utf-8",
    "csv": "text/csv; charset=utf-8",
    "svg": "image/svg+xml",
    "xml": "application/xml",
    "webmanifest": "application/manifest+json",
    "atom": "application/atom+xml",
    "txt": "text/plain; charset=utf-8",
    "yaml": "application/yaml",
    "png": "image/png",
    "jpg": "image/jpeg",
    "webp": "image/webp",
}
_HEADERS = (
    ("Cache-Control", "no-store"),
    ("X-Content-Type-Options", "nosniff"),
    ("Referrer-Policy", "no-referrer"),
    ("Cross-Origin-Resource-Policy", "same-origin"),
    ("X-Frame-Options", "DENY"),
)

_SCRIPT = """\
const from = document.currentScript.dataset.version;
async function follow() {
  for (;;) {
    try {
      const reply = await fetch("/-/version?after=" + from, { cache: "no-store" });
      const now = await reply.text();
      if (reply.ok && now !== from) {
        location.reload();
        return;
      }
    } catch {
      await new Promise((done) => setTimeout(done, 1000));
    }
  }
}
follow();
"""
_STYLE = """\
#gapbook-faults { background: #fff; border: 0.4rem solid #a40000; box-sizing: border-box;
  color: #111; inset: 0 0 auto; max-height: 70vh; overflow: auto; padding: 1rem;
  position: fixed; z-index: 1000; }
#gapbook-faults pre { white-space: pre-wrap; }
"""
_EMPTY_PAGE = (
    "<!DOCTYPE html>\n<html lang=\"en\">\n<head><meta charset=\"utf-8\"><title>{title}</title>"
    "</head>\n<body><main><p>{title}</p></main></body>\n</html>\n"
)  # fmt: skip


class _Shown:
    """The version that is shown, and those who wait for the next one."""

    def __init__(self) -> None:
        self.version = Version(0, None)
        self.is_ending = False
        self.port = 0
        self._changed = threading.Condition()
        self._start = f"{id(self):x}"

    def token(self, version: Version) -> str:
        """Name a version of this run of the program."""
        return f"{self._start}-{version.number}"

    def show(self, version: Version) -> None:
        with self._changed:
            self.version = version
            self._changed.notify_all()

    def end(self) -> None:
        with self._changed:
            self.is_ending = True
            self._changed.notify_all()

    def after(self, token: str) -> Version:
        """Wait for a version other than the named one, and give the one that is shown then."""
        with self._changed:
            self._changed.wait_for(
                lambda: self.is_ending or self.token(self.version) != token, WAIT_AT_MOST
            )
            return self.version


@dataclass(frozen=True)
class _Answer:
    status: HTTPStatus
    kind: str
    body: bytes


class _Handler(BaseHTTPRequestHandler):
    """Answers GET and HEAD for the addresses of the guide."""

    server_version = "gapbook"
    sys_version = ""
    timeout = 30.0

    def __init__(self, shown_now: _Shown, *arguments: object) -> None:
        self._shown = shown_now
        super().__init__(*arguments)  # type: ignore[arg-type]

    def do_GET(self) -> None:
        self._send(self._answer(), has_body=True)

    def do_HEAD(self) -> None:
        self._send(self._answer(), has_body=False)

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - its own name
        """Say nothing: the terminal is for the faults of the records."""

    def _answer(self) -> _Answer:
        port = self._shown.port
        if self.headers.get("Host") not in (f"{HOST}:{port}", f"localhost:{port}"):
            return _plain(HTTPStatus.MISDIRECTED_REQUEST, "this guide is for this machine alone")
        parts = urlsplit(self.path)
        if parts.path.startswith(_OWN):
            return self._own(parts.path, parts.query)
        return self._page(unquote(parts.path, errors="replace"))

    def _own(self, path: str, query: str) -> _Answer:
        if path == "/-/version":
            version = self._shown.after(query.removeprefix("after="))
            return _plain(HTTPStatus.OK, self._shown.token(version))
        own = {"/-/follow.js": ("js", _SCRIPT), "/-/faults.css": ("css", _STYLE)}.get(path)
        if own is None:
            return _plain(HTTPStatus.NOT_FOUND, "there is no such file")
        return _Answer(HTTPStatus.OK, _TYPES[own[0]], own[1].encode())

    def _page(self, path: str) -> _Answer:
        version = self._shown.version
        name = path.removeprefix("/")
        if not name or name.endswith("/"):
            name += "index.html"
        suffix = name.rsplit(".", 1)[-1]
        try:
            body = version.site.file(name) if version.site else None
        except (GuideError, ValueError, LookupError) as trouble:
            version = Version(version.number, version.site, version.faults, str(trouble))
            body = None
        is_page = suffix == "html"
        if body is None and version.is_good:
            return _plain(HTTPStatus.NOT_FOUND, "the guide has no such page")
        if body is None:
            title = "The guide is being computed." if version.number == 0 else "No page to show yet"
            status = HTTPStatus.OK if is_page else HTTPStatus.NOT_FOUND
            empty = _EMPTY_PAGE.format(title=title).encode()
            return _Answer(status, _TYPES["html"], self._dressed(empty, version))
        kind = _TYPES.get(suffix, "application/octet-stream")
        return _Answer(HTTPStatus.OK, kind, self._dressed(body, version) if is_page else body)

    def _dressed(self, body: bytes, version: Version) -> bytes:
        """Put the script that follows the records into a page, and the faults over it."""
        token = self._shown.token(version)
        head = f'<script src="/-/follow.js" data-version="{token}"></script>'
        told = _told(version)
        if told:
            head += '<link rel="stylesheet" href="/-/faults.css">'
        body = body.replace(b"</head>", head.encode() + b"</head>", 1)
        return body.replace(b"<body>", b"<body>" + told.encode(), 1) if told else body

    def _send(self, answer: _Answer, *, has_body: bool) -> None:
        self.send_response(answer.status)
        self.send_header("Content-Type", answer.kind)
        self.send_header("Content-Length", str(len(answer.body)))
        for name, value in _HEADERS:
            self.send_header(name, value)
        self.end_headers()
        if has_body:
            try:
                self.wfile.write(answer.body)
            except ConnectionError:
                # The reader has gone on to another page.
                self.close_connection = True


def _plain(status: HTTPStatus, text: str) -> _Answer:
    return _Answer(status, _TYPES["txt"], text.encode())


def _told(version: Version) -> str:
    """Write what is wrong as a box over the page; nothing where all is well."""
    if version.number == 0 or version.is_good:
        return ""
    words = version.trouble or as_text(version.faults)
    below = "Below is the last guide without an error." if version.site else ""
    return (
        '<div id="gapbook-faults" role="alert"><h2>The records as they are make no guide</h2>'
        f"<p>{below}</p><pre>{escape(shown_lines(words))}</pre></div>"
    )


def shown_lines(text: str) -> str:
    """Give text of several lines that is safe to show."""
    return "\n".join(shown(line) for line in text.split("\n"))


class _Server(ThreadingHTTPServer):
    daemon_threads = True
    allow_reuse_address = True

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Say nothing of a reader that went away; anything else is a fault of the program."""
        if not isinstance(sys.exception(), (ConnectionError, TimeoutError)):
            super().handle_error(request, client_address)


def serve(
    content: Path,
    port: int,
    *,
    today: Callable[[], date],
    tell: Callable[[str], None],
    store: Store | None = None,
) -> None:
    """Serve the guide of a folder until the program is told to stop. Raises GuideError.

    `tell` is given one line at the start, and one for each new version. `store` is a cache of
    builds to read from.
    """
    shown_now = _Shown()
    try:
        server = _Server((HOST, port), partial(_Handler, shown_now))
    except (OSError, OverflowError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise GuideError(f"cannot listen at {HOST}:{port}: {reason}") from error
    shown_now.port = server.server_port
    stopping = threading.Event()
    before = signal.signal(signal.SIGTERM, partial(_stop, stopping))
    thread = threading.Thread(target=server.serve_forever, args=(0.1,), daemon=True)
    thread.start()
    try:
        tell(f"the guide is at http://{HOST}:{shown_now.port}/ until you press Ctrl+C")
        _watch(Watched(content, today, store), shown_now, stopping, tell=tell)
    except KeyboardInterrupt:
        stopping.set()
    finally:
        shown_now.end()
        server.shutdown()
        server.server_close()
        signal.signal(signal.SIGTERM, before)
    tell("stopped")


def _stop(stopping: threading.Event, number: int, frame: FrameType | None) -> None:
    """End the watch at once, whatever is being computed."""
    del number, frame
    stopping.set()
    raise KeyboardInterrupt


def _watch(
    watched: Watched, shown_now: _Shown, stopping: threading.Event, *, tell: Callable[[str], None]
) -> None:
    while not stopping.is_set():
        if watched.look():
            version = watched.version
            shown_now.show(version)
            took = f"{version.took.total_seconds():.2f} s"
            if version.is_good:
                tell(f"version {version.number} in {took}")
            else:
                tell(f"version {version.number} in {took}: the records make no guide")
                tell(shown_lines(version.trouble or as_text(version.faults)))
        stopping.wait(LOOK_EVERY)
