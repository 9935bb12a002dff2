"""A folder under watch: a change is taken in within a second, a photo among the rest."""

import importlib.util
import os
import re
import shutil
from datetime import date
from pathlib import Path
from time import process_time

import pytest
from jinja2 import Environment

from generator import computing, lazy_site
from generator.build import build
from generator.cache.store import Borrowed, Store
from generator.records.examples import example_files
from generator.records.library import Case
from generator.rendering import environment, render
from generator.site import advice
from generator.site.plan import view_modules
from generator.watched import Watched

_path = Path(__file__).parent / "reading/pictures/planted.py"
_spec = importlib.util.spec_from_file_location("planted", _path)
assert _spec is not None
assert _spec.loader is not None
planted = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(planted)

RECORD = "setups/ostvane-meridel/copperbill-seven-inch"
PHOTO = "photos/ostvane-meridel/copperbill-seven-inch/gauge.jpg"
OVERLAY = "other: {}\nsetup: {photos: [{file: gauge.jpg, alt: a gauge at the strut}]}"


@pytest.fixture
def content(tmp_path: Path) -> Path:
    for file in example_files(OVERLAY):
        path = tmp_path / file.path
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(file.content)
    (tmp_path / PHOTO).parent.mkdir(parents=True)
    (tmp_path / PHOTO).write_bytes(planted.saved(planted.pattern(900, 600)))
    return tmp_path


def page(watched: Watched) -> str:
    assert watched.version.site is not None
    body = watched.version.site.file(f"{RECORD}.html")
    assert body is not None
    return body.decode("utf-8")


def pages(watched: Watched, paths: list[str]) -> list[bytes | None]:
    assert watched.version.is_good
    assert watched.version.site is not None
    return [watched.version.site.file(path) for path in paths]


def test_a_change_is_taken_in_within_a_second_of_the_processor(content: Path) -> None:
    watched = Watched(content, lambda: date(2026, 1, 15))
    watched.look()
    page(watched)
    record = content / f"{RECORD}.yaml"
    for old, new in (("Seven-inch wheels", "Changed words"), ("22 mm", "21 mm")):
        record.write_text(record.read_text("utf-8").replace(old, new, 1), "utf-8")
        begin = process_time()
        assert watched.look()
        assert watched.version.is_good
        page(watched)
        assert process_time() - begin < 1.0
    assert "Changed words" in page(watched)


def test_a_changed_gap_compiles_no_template_and_traces_no_site_again(
    content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    watched = Watched(content, lambda: date(2026, 1, 15))
    watched.look()
    shown = [f"{RECORD}.html", "chassis/ostvane-meridel.html"]
    before = pages(watched, shown)

    def again(*_: object) -> None:
        raise AssertionError("made again, though neither templates nor the sheet have changed")

    monkeypatch.setattr(Environment, "compile", again)
    monkeypatch.setattr(advice, "reach_of", again)
    record = content / f"{RECORD}.yaml"
    record.write_text(record.read_text("utf-8").replace("gap: 9 mm", "gap: 14 mm", 1), "utf-8")
    assert watched.look()
    after = pages(watched, shown)
    monkeypatch.undo()
    assert all(one != two for one, two in zip(before, after, strict=True))
    anew = Watched(content, lambda: date(2026, 1, 15))
    anew.look()
    assert pages(anew, shown) == after


def test_a_changed_template_is_taken_in_with_the_next_change(
    content: Path, tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path_factory.mktemp("own") / "templates"
    shutil.copytree(environment.template_folder(), folder)
    for module in (environment, render, lazy_site):
        monkeypatch.setattr(module, "template_folder", lambda: folder)
    watched = Watched(content, lambda: date(2026, 1, 15))
    watched.look()
    assert "Changed heading" not in page(watched)
    template = folder / "pages/setup.html"
    text = template.read_text("utf-8")
    template.write_text(text.replace("<h1>", "<h1>Changed heading ", 1), "utf-8")
    os.utime(template, ns=(1, 1))
    record = content / f"{RECORD}.yaml"
    record.write_text(record.read_text("utf-8").replace("22 mm", "21 mm", 1), "utf-8")
    watched.look()
    assert "Changed heading" in page(watched)


def test_what_a_build_has_kept_is_taken_and_nothing_is_added(
    content: Path, tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> None:
    alone = Watched(content, lambda: date(2026, 1, 15))
    alone.look()
    folder, key = tmp_path_factory.mktemp("kept"), bytes(32)
    assert Borrowed.found(folder, lambda: key) is None
    kept = Store.opened(folder, key)
    day = date(2026, 1, 15)
    build(
        content,
        tmp_path_factory.mktemp("built") / "site",
        leave_out_faulty=False,
        today=day,
        cache=kept,
    )
    before = {path: path.stat().st_mtime_ns for path in folder.rglob("*")}

    def again(case: Case) -> None:
        raise AssertionError(f"{case.setup.id} was computed again")

    monkeypatch.setattr(computing, "assess", again)
    borrowed = Watched(content, lambda: day, Borrowed.found(folder, lambda: key))
    borrowed.look()
    assert page(borrowed) == page(alone)
    monkeypatch.undo()
    record = content / f"{RECORD}.yaml"
    record.write_text(record.read_text("utf-8").replace("22 mm", "21 mm", 1), "utf-8")
    assert borrowed.look()
    assert alone.look()
    assert page(borrowed) == page(alone)
    assert {path: path.stat().st_mtime_ns for path in folder.rglob("*")} == before


def test_a_guide_is_there_before_any_of_its_pages_is_made(
    content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def made(*_: object) -> None:
        raise AssertionError("a page was made that nobody asked for")

    for module in view_modules():
        monkeypatch.setattr(module, "pages", lambda _: map(made, [None]))
    watched = Watched(content, lambda: date(2026, 1, 15))
    watched.look()
    assert watched.version.is_good
    assert "Seven-inch wheels" in page(watched)


def test_a_photo_is_shown_and_a_replaced_one_too(content: Path) -> None:
    watched = Watched(content, lambda: date(2026, 1, 15))
    seen = []
    for width in (900, 700):
        (content / PHOTO).write_bytes(planted.saved(planted.pattern(width, 600)))
        watched.look()
        (address,) = re.findall(r'<img src="[./]*(photos/[^"]*)"', page(watched))
        assert watched.version.site is not None
        body = watched.version.site.file(address)
        assert body is not None
        assert body.startswith(b"\xff\xd8")
        seen.append(address)
    assert seen[0] != seen[1]
    assert watched.version.site is not None
    assert watched.version.site.file(seen[0]) is None


def test_a_broken_photo_is_a_fault_over_the_last_good_version(content: Path) -> None:
    watched = Watched(content, lambda: date(2026, 1, 15))
    watched.look()
    (content / PHOTO).write_bytes(b"<svg onload=alert(1)>")
    watched.look()
    assert not watched.version.is_good
    assert "P02" in {fault.code for fault in watched.version.faults}
    assert "<img" in page(watched)
