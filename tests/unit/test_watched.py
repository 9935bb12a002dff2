"""A folder under watch: a change is taken in within a second, a photo among the rest."""

import importlib.util
import re
from datetime import date
from pathlib import Path
from time import process_time

import pytest

from generator.records.examples import example_files
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
