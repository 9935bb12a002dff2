"""`gapbook serve` over real HTTP on the loopback, as a browser and as a stranger would ask."""

import http.client
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import pytest

from generator.records.examples import sample
from tests.chromium import chromium

ROOT = Path(__file__).resolve().parents[2]
RECORD = "setups/ostvane-meridel/copperbill-seven-inch.yaml"
PAGE = "/setups/ostvane-meridel/copperbill-seven-inch.html"
PATIENCE = 90.0


@dataclass
class Served:
    """A running program, and the folder it looks at."""

    content: Path
    scratch: Path
    port: int
    process: "subprocess.Popen[str]"

    def ask(
        self, path: str, method: str = "GET", host: str | None = None
    ) -> tuple[int, dict[str, str], bytes]:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        connection.putrequest(method, path, skip_host=True)
        connection.putheader("Host", host or f"127.0.0.1:{self.port}")
        connection.endheaders()
        reply = connection.getresponse()
        headers = {name.lower(): value for name, value in reply.getheaders()}
        found = reply.status, headers, reply.read()
        connection.close()
        return found

    def version(self, after: str = "") -> str:
        return self.ask(f"/-/version?after={after}")[2].decode()

    def next(self, after: str) -> str:
        """Wait as the page does until there is another version."""
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            now = self.version(after)
            if now != after:
                return now
        raise AssertionError("no new version")

    def edit(self, path: str, old: str, new: str) -> None:
        target = self.content / path
        text = target.read_text("utf-8")
        assert old in text
        target.write_text(text.replace(old, new), "utf-8")


def write_sample(folder: Path) -> None:
    for path, kind in (
        ("club.yaml", "club"),
        ("chassis/ostvane-meridel.yaml", "chassis"),
        (RECORD, "setup"),
    ):
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        # A guide that is kept on the reader's device has a worker, which serve leaves out.
        text = sample(kind) + ("offline: no\n" if kind == "club" else "")
        (folder / path).write_text(text, "utf-8")


def start(content: Path, scratch: Path) -> Served:
    environment = {**os.environ, "TMPDIR": str(scratch), "PYTHONPATH": str(ROOT)}
    process = subprocess.Popen(
        [sys.executable, "-m", "generator", "serve", str(content), "--port", "0"],
        cwd=scratch, env=environment, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
    )  # fmt: skip
    assert process.stdout is not None
    line = process.stdout.readline()
    match = re.search(r"http://127\.0\.0\.1:(\d+)/", line)
    assert match, line
    return Served(content, scratch, int(match[1]), process)


def ready(folder: Path) -> Iterator[Served]:
    content, scratch = folder / "guide", folder / "scratch"
    scratch.mkdir()
    write_sample(content)
    running = start(content, scratch)
    try:
        first = running.version()
        running.next(first if first.endswith("-0") else "")
        yield running
    finally:
        if running.process.poll() is None:
            running.process.kill()
        running.process.communicate()


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    """A program whose records a test may change."""
    yield from ready(tmp_path)


@pytest.fixture(scope="module")
def standing(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A program that is only asked."""
    yield from ready(tmp_path_factory.mktemp("standing"))


def test_pages_have_their_type_and_follow_the_records(standing: Served) -> None:
    status, headers, body = standing.ask(PAGE)
    assert status == 200
    assert headers["content-type"] == "text/html; charset=utf-8"
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["cache-control"] == "no-store"
    assert b'<script src="/-/follow.js"' in body
    assert standing.ask("/")[2].startswith(b"<!DOCTYPE html>")
    style = re.search(rb'href="(?:\.\./)*(assets/[^"]+\.css)"', body)
    assert style
    assert standing.ask("/" + style[1].decode())[1]["content-type"] == "text/css; charset=utf-8"


def test_what_is_served_is_what_is_built(standing: Served, tmp_path: Path) -> None:
    out = tmp_path / "built"
    command = [sys.executable, "-m", "generator", "build", str(standing.content), "--out", str(out)]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    subprocess.run(command, cwd=tmp_path, env=environment, check=True, capture_output=True)
    added = re.compile(rb'<script src="/-/follow.js" data-version="[0-9a-f]+-\d+"></script>')
    files = [path for path in out.rglob("*") if path.is_file() and path.name[0] != "."]
    assert len(files) > 10
    for path in files:
        name = path.relative_to(out).as_posix()
        if name in ("sw.js", "worker.json") or name.startswith("offline/"):
            # The worker's own files: a page that is being worked on is not kept on the device.
            assert standing.ask(f"/{name}")[0] == 404
            continue
        body = standing.ask(f"/{name}")[2]
        assert added.sub(b"", body) == path.read_bytes(), path


def test_a_changed_record_changes_its_page(served: Served) -> None:
    before = served.version()
    served.edit(RECORD, "title: Seven-inch wheels", "title: Marvellous wheels")
    after = served.next(before)
    assert after != before
    assert b"Marvellous wheels" in served.ask(PAGE)[2]
    assert b"Marvellous wheels" in served.ask("/find.html")[2]


def test_faults_stand_over_the_last_good_page(served: Served) -> None:
    before = served.version()
    served.edit(RECORD, "offset: 22 mm", "offset: <b>22</b>")
    broken = served.next(before)
    status, _, body = served.ask(PAGE)
    assert status == 200
    assert b'id="gapbook-faults"' in body
    assert b"&lt;b&gt;22" in body
    assert b"<b>22" not in body
    assert b"Seven-inch wheels" in body
    assert b"copperbill-seven-inch.yaml:" in body
    served.edit(RECORD, "offset: <b>22</b>", "offset: 22 mm")
    served.next(broken)
    assert b"gapbook-faults" not in served.ask(PAGE)[2]


def test_a_folder_that_goes_away_is_told_and_comes_back(served: Served) -> None:
    before = served.version()
    away = served.content.with_name("away")
    served.content.rename(away)
    gone = served.next(before)
    assert b"there is no folder" in served.ask(PAGE)[2]
    away.rename(served.content)
    served.next(gone)
    assert b"gapbook-faults" not in served.ask(PAGE)[2]


@pytest.mark.parametrize(
    "path",
    ["/../club.yaml", "/%2e%2e/club.yaml", "/..%2f..%2fetc/passwd", "//etc/passwd", "/assets/",
     "/setups/", "/setups", "/-/", "/-/../club.yaml", "/club.yaml", "/index.html/", "/%00",
     "/a\\..\\b", "/" + "a" * 5000, "/index.html%0d%0aX-Odd:%20yes"],
)  # fmt: skip
def test_no_other_file_is_served_and_no_folder_listed(standing: Served, path: str) -> None:
    status, headers, body = standing.ask(path)
    assert status in (400, 404)
    assert "x-odd" not in headers
    assert b"root:" not in body
    assert b"Copperbill" not in body


def test_only_this_machine_by_its_own_name_is_answered(standing: Served) -> None:
    for host in ("evil.example.org", f"evil.example.org:{standing.port}", "127.0.0.1", ""):
        status, _, body = standing.ask("/", host=host or " ")
        assert status == 421
        assert b"<" not in body
    assert standing.ask("/", host=f"localhost:{standing.port}")[0] == 200


def test_only_the_loopback_listens(standing: Served) -> None:
    listening = Path("/proc/net/tcp")
    if not listening.exists():
        pytest.skip("no list of sockets on this system")
    port = f"{standing.port:04X}"
    rows = [line.split() for line in listening.read_text().splitlines()[1:]]
    own = [row[1] for row in rows if row[1].endswith(f":{port}") and row[3] == "0A"]
    assert own == [f"0100007F:{port}"]  # 127.0.0.1, bytes reversed


def test_other_methods_are_refused(standing: Served) -> None:
    for method in ("POST", "PUT", "DELETE", "OPTIONS", "TRACE"):
        assert standing.ask("/", method)[0] == 501
    status, headers, body = standing.ask("/", "HEAD")
    assert (status, body) == (200, b"")
    assert int(headers["content-length"]) > 100


def test_a_reader_that_says_nothing_stops_nobody(standing: Served) -> None:
    with socket.create_connection(("127.0.0.1", standing.port)) as silent:
        silent.sendall(b"GET / HT")
        assert standing.ask("/")[0] == 200


@pytest.mark.parametrize("end", [signal.SIGINT, signal.SIGTERM, signal.SIGKILL])
def test_a_full_stop_leaves_nothing_behind(served: Served, end: signal.Signals) -> None:
    before = sorted(path.relative_to(served.content) for path in served.content.rglob("*"))
    served.process.send_signal(end)
    told, _ = served.process.communicate(timeout=20)
    assert served.process.returncode == (-9 if end is signal.SIGKILL else 0)
    if end is not signal.SIGKILL:
        assert told.splitlines()[-1] == "stopped"
        assert "Traceback" not in told
    assert sorted(path.relative_to(served.content) for path in served.content.rglob("*")) == before
    assert not list(served.scratch.iterdir())
    with pytest.raises(ConnectionError), socket.create_connection(("127.0.0.1", served.port)):
        pass


def test_it_stops_while_it_computes(tmp_path: Path) -> None:
    content, scratch = tmp_path / "guide", tmp_path / "scratch"
    scratch.mkdir()
    shutil.copytree(ROOT / "content_demo", content)
    running = start(content, scratch)
    assert running.ask("/")[0] == 200
    assert b"being computed" in running.ask("/")[2]
    begin = time.monotonic()
    running.process.terminate()
    told, _ = running.process.communicate(timeout=20)
    assert time.monotonic() - begin < 10.0
    assert running.process.returncode == 0, told


def test_a_taken_port_is_told_in_one_line(standing: Served) -> None:
    command = [sys.executable, "-m", "generator", "serve", str(standing.content),
               "--port", str(standing.port)]  # fmt: skip
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(
        command, cwd=tempfile.gettempdir(), env=environment, capture_output=True, text=True,
        timeout=60, check=False,
    )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr.startswith("gapbook: cannot listen at 127.0.0.1:")
    assert len(done.stderr.splitlines()) == 1


def test_a_browser_follows_the_records_under_the_policy_of_the_page(served: Served) -> None:
    """Chromium holds the page to its Content-Security-Policy: a refusal would be in its console."""
    browser = chromium()
    if browser is None and not os.environ.get("CI"):
        pytest.skip("no Chromium on this machine")
    assert browser, "CI has a Chromium"
    # In a thread of its own: the browser tests of the same run keep their driver in this one.
    with ThreadPoolExecutor(max_workers=1) as alone:
        assert alone.submit(what_the_browser_told, browser, served).result() == []


def what_the_browser_told(executable: str, served: Served) -> list[str]:
    """Follow one record through a change and a fault, and give all that the console printed."""
    from playwright.sync_api import sync_playwright

    told: list[str] = []
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=executable, args=["--no-sandbox"])
        page = browser.new_page()
        page.on("console", lambda message: told.append(message.text))
        page.on("pageerror", lambda error: told.append(str(error)))
        page.goto(f"http://127.0.0.1:{served.port}{PAGE}")
        served.edit(RECORD, "title: Seven-inch wheels", "title: Marvellous wheels")
        page.wait_for_selector("h1:has-text('Marvellous')", timeout=PATIENCE * 1000)
        served.edit(RECORD, "offset: 22 mm", "offset: <i>22</i>")
        page.wait_for_selector("#gapbook-faults:has-text('<i>22</i>')", timeout=PATIENCE * 1000)
        assert page.locator("h1:has-text('Marvellous')").count() == 1
        browser.close()
    return told
