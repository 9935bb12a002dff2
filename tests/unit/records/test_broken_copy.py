"""A copy of a good guide with twenty faults planted: all are told in one run, and no site changes.

The line of each fault is where it was planted, found by looking for the planted text.
"""

import re
import shutil
from dataclasses import dataclass
from pathlib import Path

import pytest

from generator.cli import CANNOT_RUN, FAULTS_FOUND, main
from generator.records.examples import sample

DEMO = Path(__file__).resolve().parents[3] / "content_demo"
SETUPS = "setups/ostvane-meridel"
GOOD = {
    "club.yaml": sample("club"),
    "chassis/ostvane-meridel.yaml": sample("chassis"),
    f"{SETUPS}/good.yaml": sample("setup"),
    "articles/gaps.md": "---\ntitle: Gaps\nsummary: measuring\norder: 10\n---\nText.\n",
}


@dataclass(frozen=True)
class Planted:
    """One fault: the file it is put into, what it replaces there and by what, and its code."""

    code: str
    path: str
    old: str
    new: str
    begins: str = ""
    """How the line of the fault begins, where it is not the first one planted."""


def in_setup(code: str, name: str, old: str, new: str, begins: str = "") -> Planted:
    return Planted(code, f"{SETUPS}/{name}.yaml", old, new, begins)


PLANTED = (
    in_setup("Q03", "words", "overall_width: 203 mm", "overall_width: 203 MM"),
    in_setup("F04", "words", "lips: rolled", "lips: shaved"),
    in_setup("F03", "words", "  camber: -1 deg", "  cambr: -1 deg"),
    in_setup("Q05", "words", "diameter: 612 mm", "diameter: 612,5 mm"),
    in_setup("Q08", "words", "pressure: 2.0 bar", "pressure: 2.0"),
    in_setup("N303", "words", "thread: M12x1.5", "thread: M12x1.6"),
    in_setup("R35", "words", '["0825", "0825"]', '["0899", "0899"]'),
    in_setup("L03", "words", "site: strut-tube", "site: strut-tub"),
    in_setup("F01", "needs", "member: Copperbill\n", "", "title:"),
    in_setup("F10", "needs", "bore: 61.6 mm", "bore: 616 mm"),
    in_setup("Y04", "colon", "title: Seven-inch", "title: Seven: inch"),
    in_setup("Y08", "twice", "car: copperbill-coupe", "car: a\ncar: b", "car: b"),
    in_setup("Y05", "tab", "  springs: out", "\tsprings: out"),
    in_setup("Y06", "anchor", "member: Copperbill", "member: &me Copperbill"),
    in_setup("R01", "sums", "backspacing: 123.5 mm", "backspacing: 143.5 mm"),
    in_setup("R27", "sums", "rims: 5.5 to 7 in", "rims: 5.5 to 6.5 in", "size: 7 x 15"),
    in_setup("L22", "sums", "date: 2025-06-14", "date: 2099-06-14"),
    in_setup("L01", "lost", "chassis: ostvane-meridel", "chassis: ostvane-meridal"),
    Planted("L08", "chassis/ostvane-other.yaml", "name: Ostvane Meridel", "name: ostvane meridel"),
    Planted("F12", "articles/headless.md", "---\ntitle", "title"),
)


def base_of(path: str) -> str:
    if path.startswith("chassis/"):
        return GOOD["chassis/ostvane-meridel.yaml"]
    return GOOD["articles/gaps.md"] if path.startswith("articles/") else sample("setup")


def broken() -> tuple[dict[str, str], set[tuple[str, str, int]]]:
    """Give the files of the broken guide, and where each fault has to be told."""
    files = dict(GOOD)
    for fault in PLANTED:
        text = files.get(fault.path, base_of(fault.path))
        assert fault.old in text, fault
        files[fault.path] = text.replace(fault.old, fault.new, 1)
    places = set()
    for fault in PLANTED:
        begins = fault.begins or fault.new.strip().split("\n")[0]
        lines = files[fault.path].split("\n")
        line = next(n for n, text in enumerate(lines, 1) if begins in text)
        places.add((fault.code, fault.path, line))
    return files, places


def write(folder: Path, files: dict[str, str]) -> Path:
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return folder


def told(output: str) -> set[tuple[str, str, int]]:
    found = re.findall(r"^(\S+):(\d+):\d+: \w+\[(\w+)\]", output, re.MULTILINE)
    return {(code, path, int(line)) for path, line, code in found}


def state(folder: Path) -> dict[str, tuple[bytes, int]]:
    files = [path for path in sorted(folder.rglob("*")) if path.is_file()]
    return {str(path): (path.read_bytes(), path.stat().st_mtime_ns) for path in files}


def test_the_good_guide_has_no_fault(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(write(tmp_path, GOOD))
    assert main(["check", "."]) == 0
    assert capsys.readouterr().out == "4 files read: no faults\n"


def test_twenty_faults_are_told_at_their_lines_in_one_run_of_check(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    files, places = broken()
    assert len(places) == 20
    monkeypatch.chdir(write(tmp_path, files))
    assert main(["check", "."]) == FAULTS_FOUND
    found = told(capsys.readouterr().out)
    assert places - found == set()
    good = {path for _, path, _ in found} & set(GOOD)
    assert good <= {"chassis/ostvane-meridel.yaml", f"{SETUPS}/good.yaml"}


def test_twenty_faults_are_told_by_a_build_that_writes_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    files, places = broken()
    content, site = write(tmp_path / "content", files), tmp_path / "site"
    assert main(["build", str(content), "--out", str(site)]) == FAULTS_FOUND
    output = capsys.readouterr()
    assert places - told(output.err) == set()
    assert "nothing was written" in output.err
    assert not site.exists()


def test_a_site_that_is_there_stays_as_it_is_byte_for_byte(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    good, site = write(tmp_path / "good", GOOD), tmp_path / "site"
    assert main(["build", str(good), "--out", str(site)]) == 0
    before = state(site)
    assert len(before) > 5
    bad = write(tmp_path / "bad", broken()[0])
    assert main(["build", str(bad), "--out", str(site)]) == FAULTS_FOUND
    assert state(site) == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["bad", "good", "site"]
    capsys.readouterr()


def test_twenty_faults_in_a_copy_of_the_demo_are_told_in_one_run_and_the_old_site_stays(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    good, site = write(tmp_path / "good", GOOD), tmp_path / "site"
    assert main(["build", str(good), "--out", str(site)]) == 0
    before = state(site)
    shutil.copytree(DEMO, tmp_path / "demo")
    files, places = broken()
    planted = {path: text for path, text in files.items() if path not in GOOD}
    copy = write(tmp_path / "demo", planted)
    capsys.readouterr()
    assert main(["build", str(copy), "--out", str(site)]) == FAULTS_FOUND
    assert places - told(capsys.readouterr().err) == set()
    assert state(site) == before


def test_a_folder_of_someone_else_stays_as_it_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    site = write(tmp_path / "site", {"index.html": "mine", "a/b.txt": "mine too"})
    before = state(site)
    for name, files in (("bad", broken()[0]), ("good", GOOD)):
        content = write(tmp_path / name, files)
        status = main(["build", str(content), "--out", str(site)])
        assert status == (FAULTS_FOUND if name == "bad" else CANNOT_RUN)
    assert state(site) == before
    capsys.readouterr()
