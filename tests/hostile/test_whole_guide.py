"""Hostile inputs that only a whole guide can show: from the records to every file of the site."""

import datetime
import hashlib
import json
import os
import socket
import subprocess
import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import html5lib
import pytest

from generator import RELEASED, checked, cli
from generator.build import build
from generator.reading.fault import Severity
from generator.records.checks import axles_swapped, gap_told_twice, left_against_right
from generator.records.collect import collect
from generator.records.examples import example_faults, example_files
from generator.site.readings import headline
from tests.pythons import NoLibraries, others, with_libraries

ROOT = Path(__file__).resolve().parents[2]
TODAY = date(2026, 1, 15)
RECORD = "setups/ostvane-meridel/copperbill-seven-inch.yaml"


def write(folder: Path, overlay: str = "setup: {}") -> Path:
    for file in example_files(overlay):
        path = folder / file.path
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(file.content)
    return folder


def hashes(site: Path) -> dict[str, str]:
    return {
        path.relative_to(site).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(site.rglob("*"))
        if path.is_file()
    }


def made(content: Path, out: Path, today: date = TODAY) -> dict[str, str]:
    built = build(content, out, leave_out_faulty=False, today=today)
    assert not built.has_errors, [fault.headline for fault in built.faults]
    return hashes(out)


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, str]]:
    """Give the sample club and the site that is made of it."""
    here = tmp_path_factory.mktemp("plain")
    content = write(here / "content")
    return content, made(content, here / "site")


HOSTILE = (
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    '" onmouseover=alert(1) x="',
    "</script><script>alert(2)</script>",
    "{{ 7*7 }} {% include 'a' %} ${7*7}",
    "&amp;quot; onx=1 &amp;copy;",
    "[x](javascript:alert(1)) [y](data:text/html,z)",
    "=1+1",
    "::error file=x::all good",
    "]]> --> <!-- ' ` \\",
)
FIELDS = (
    "title", "variant", "gap", "when", "remedy", "amount", "spoiled", "unchecked", "confirmed",
    "corrected", "disputed", "settled", "notes", "witness", "studs",
)  # fmt: skip


def said(word: str) -> str:
    text = json.dumps({name: f"{name} {word}" for name in FIELDS})
    it: dict[str, str] = {name: json.dumps(value) for name, value in json.loads(text).items()}
    return f"""setup:
  title: {it["title"]}
  variant: {it["variant"]}
  method: {{witness: {it["witness"]}}}
  front: {{hardware: {{studs_changed: {it["studs"]}}}}}
  gaps:
    - {{site: strut-tube, side: left, state: static, gap: 12 mm, note: {it["gap"]}}}
  rubs:
    - {{site: strut-tube, side: left, grade: 1, when: {it["when"]}, remedy: {it["remedy"]}}}
  remedies:
    - {{kind: lip rolled, axle: front, amount: {it["amount"]}, spoiled: {it["spoiled"]}}}
  not_checked: [{it["unchecked"]}]
  confirmations:
    - {{member: Fernhollow, date: 2025-07-02, how: measured the same car, note: {it["confirmed"]}}}
  corrections: [{{date: 2025-08-20, what: {it["corrected"]}}}]
  disputes:
    - {{date: 2025-08-21, member: Fernhollow, claim: {it["disputed"]}, settled: {it["settled"]}}}
  notes: {it["notes"]}
"""


def elements(page: str) -> Iterator[Any]:
    yield from html5lib.parse(page, namespaceHTMLElements=False).iter()


def assert_tame(path: Path, page: str) -> None:
    for element in elements(page):
        if not isinstance(element.tag, str):
            continue
        assert element.tag not in ("iframe", "object", "embed", "base"), path
        if element.tag == "script" and element.get("type") != "application/json":
            assert element.get("src"), path
            assert not (element.text or "").strip(), path
        for name, value in element.attrib.items():
            assert not str(name).lower().startswith("on"), (path, name)
            if name in ("href", "src", "srcset", "action"):
                assert not value.lower().lstrip().startswith(("javascript:", "vbscript:")), path
                assert "text/html" not in value, path


@pytest.mark.parametrize("word", HOSTILE)
def test_rows_40_to_48_hostile_words_in_every_text_field_are_words_in_every_file(
    tmp_path: Path, word: str
) -> None:
    site = tmp_path / "site"
    made(write(tmp_path / "content", said(word)), site)
    for path in sorted(site.rglob("*")):
        if path.suffix == ".html":
            assert_tame(path, path.read_text("utf-8"))
        elif path.suffix in (".json", ".webmanifest"):
            json.loads(path.read_text("utf-8"))
        elif path.suffix == ".xml":
            ElementTree.parse(path)
    page = (site / RECORD.replace(".yaml", ".html")).read_text("utf-8")
    shown = "".join(html5lib.parse(page, namespaceHTMLElements=False).itertext())
    for name in FIELDS:
        if name != "notes":  # Markdown: its words are shown, its signs are not
            assert f"{name} {word}" in shown, name
    assert "49" not in shown.split("notes {{", 1)[-1][:20]


def test_row_37_a_gap_known_on_one_side_is_not_known_on_the_other() -> None:
    gaps = "setup: {gaps: [{site: strut-tube, side: left, state: static, gap: 40 mm}]}"
    case = next(collect(example_files(gaps)).library.cases())
    assert headline(case).word != "clears"


def test_row_38_sides_and_ends_that_contradict_are_told_with_both_places() -> None:
    for module in (left_against_right, gap_told_twice):
        code = module.RULE.code
        found = [fault for fault in example_faults(module.RULE.bad) if fault.code == code]
        assert found
        assert all(fault.also for fault in found)
    swapped = axles_swapped.RULE
    assert swapped.code in {fault.code for fault in example_faults(swapped.bad)}
    assert gap_told_twice.RULE.severity is Severity.ERROR


def test_row_86_a_record_that_changes_during_the_build_is_the_one_that_was_read(
    plain: tuple[Path, dict[str, str]], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    content = write(tmp_path / "content")
    looked = checked.photo_files

    def change_when_all_is_read(*given: Any, **named: Any) -> Any:
        (content / RECORD).write_text("title: [cut short by an edi", "utf-8")
        (content / "setups/ostvane-meridel/new.yaml").write_text("title: a\n", "utf-8")
        return looked(*given, **named)

    monkeypatch.setattr(checked, "photo_files", change_when_all_is_read)
    assert made(content, tmp_path / "site") == plain[1]
    monkeypatch.undo()
    again = build(content, tmp_path / "site", leave_out_faulty=False, today=TODAY)
    assert again.has_errors
    assert hashes(tmp_path / "site") == plain[1]


def test_row_89_the_clock_changes_no_byte(
    plain: tuple[Path, dict[str, str]], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Clock(date):
        @classmethod
        def today(cls) -> "Clock":
            return cls(1970, 1, 1)

    monkeypatch.setattr(datetime, "date", Clock)
    assert cli.today() == Clock(*RELEASED)
    monkeypatch.undo()
    for at, day in enumerate((date(*RELEASED), date(2100, 12, 31))):
        assert made(plain[0], tmp_path / f"site{at}", today=day) == plain[1]


def test_row_90_a_club_without_a_record_has_a_guide(tmp_path: Path) -> None:
    files = made(write(tmp_path / "content", "setup: left out"), tmp_path / "site")
    assert "index.html" in files
    assert "no records yet" in (tmp_path / "site/index.html").read_text("utf-8")


def test_row_92_without_a_network_nothing_differs(
    plain: tuple[Path, dict[str, str]], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def cut(*_: object, **__: object) -> None:
        raise AssertionError("the network was asked for")

    for name in ("socket", "create_connection", "getaddrinfo"):
        monkeypatch.setattr(socket, name, cut)
    assert made(plain[0], tmp_path / "site") == plain[1]


def run_by(python: str, content: Path, site: Path, processors: set[int] | None = None) -> Any:
    words = [python, "-m", "generator", "build", str(content), "--out", str(site), "--no-cache"]
    limit = None if processors is None else (lambda: os.sched_setaffinity(0, processors))
    surroundings = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.run(
        words, env=surroundings, preexec_fn=limit, capture_output=True, text=True, check=False
    )


@pytest.mark.skipif(not hasattr(os, "sched_setaffinity"), reason="processors cannot be chosen here")
def test_row_87_one_processor_or_all_make_the_same_bytes(
    plain: tuple[Path, dict[str, str]], tmp_path: Path
) -> None:
    there = os.sched_getaffinity(0)
    for count in {1, len(there)}:
        site = tmp_path / f"site{count}"
        done = run_by(sys.executable, plain[0], site, set(sorted(there)[:count]))
        assert done.returncode == 0, done.stderr
        assert hashes(site) == plain[1]


@pytest.fixture(scope="module")
def another_python(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Give another version of Python with the libraries, in the versions that run here.

    Where there is one, a gate must try it. Elsewhere it needs the registry of packages.
    """
    found, told = others(), []
    if not found:
        pytest.skip("this machine has no other version of Python that Gapbook allows")
    for path in found:
        try:
            return with_libraries(path, tmp_path_factory.mktemp("python") / "environment")
        except NoLibraries as reason:
            told.append(f"{path}: {reason}")
    if "CI" in os.environ:
        pytest.fail("\n".join(told))
    pytest.skip("the libraries cannot be had for another Python: " + "; ".join(told))


def test_row_93_another_python_makes_the_same_bytes(
    plain: tuple[Path, dict[str, str]], another_python: str, tmp_path: Path
) -> None:
    done = run_by(another_python, plain[0], tmp_path / "site")
    assert done.returncode == 0, done.stderr
    assert hashes(tmp_path / "site") == plain[1]
