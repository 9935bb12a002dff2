"""Photos from the records to the pages: what is refused, what is shown, what is left of a file."""

import importlib.util
import io
import re
from collections.abc import Callable
from datetime import date
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from generator import building
from generator.build import build
from generator.cache.store import Store
from generator.reading.trouble import GuideError
from generator.records.examples import sample
from generator.records.inspection import inspect
from generator.verify import verify

_path = Path(__file__).parents[1] / "reading/pictures/planted.py"
_spec = importlib.util.spec_from_file_location("planted", _path)
assert _spec is not None
assert _spec.loader is not None
planted = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(planted)

TODAY = date(2026, 1, 15)
RECORD = "setups/ostvane-meridel/copperbill-seven-inch.yaml"
FOLDER = "photos/ostvane-meridel/copperbill-seven-inch"
ALT = 'Feeler gauge of "6 mm" & tape at the strut, left, full lock'
PHOTOS = f"photos:\n  - {{file: gauge.jpg, alt: '{ALT}', site: strut-tube}}\n"
Write = Callable[[str, bytes], None]


@pytest.fixture
def content(tmp_path: Path) -> Path:
    """Write a small club whose record shows a large photo with things planted in it."""
    folder = tmp_path / "club"
    texts = {
        "club.yaml": sample("club"),
        "chassis/ostvane-meridel.yaml": sample("chassis"),
        RECORD: f"{sample('setup')}\n{PHOTOS}",
    }
    for name, text in texts.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, "utf-8")
    put(folder, "gauge.jpg", photo())
    return folder


def photo(width: int = 1800, height: int = 1200, orientation: int = 6) -> bytes:
    notes = planted.exif(orientation, located=False)
    body: bytes = planted.jpeg(planted.pattern(width, height), notes=notes, located_by_text=False)
    return body


def put(content: Path, name: str, body: bytes) -> Path:
    path = content / FOLDER / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(body)
    return path


def faults(content: Path) -> list[tuple[str, str, int]]:
    found = inspect([content], today=TODAY).faults
    return [
        (f.code, f.place.path.removeprefix(f"{content.as_posix()}/"), f.place.line) for f in found
    ]


def test_a_photo_is_published_in_three_widths_upright_and_bare(
    content: Path, tmp_path: Path
) -> None:
    out = tmp_path / "site"
    built = build(content, out, leave_out_faulty=False, today=TODAY)
    assert not built.has_errors
    files = sorted((out / "photos").iterdir(), key=lambda path: path.stat().st_size)
    shown = [Image.open(io.BytesIO(path.read_bytes())).size for path in files]
    assert shown == [(400, 600), (800, 1200), (1200, 1800)]  # 1800 x 1200, turned by a quarter
    for path in files:
        assert path.stat().st_size <= 300_000
    for path in (path for path in out.rglob("*") if path.is_file()):
        body = path.read_bytes()
        for word in (planted.SERIAL, planted.REMARK, planted.PROFILE, b"an-archive"):
            assert word not in body, path


def test_a_page_shows_a_photo_with_its_words_sizes_and_choices(
    content: Path, tmp_path: Path
) -> None:
    out = tmp_path / "site"
    build(content, out, leave_out_faulty=False, today=TODAY)
    page = (out / RECORD.replace(".yaml", ".html")).read_text("utf-8")
    (tag,) = re.findall(r"<img[^>]*>", page)
    told = dict(re.findall(r'([a-z]+)="([^"]*)"', tag))
    assert unescape(told["alt"]) == ALT
    assert (told["width"], told["height"], told["loading"]) == ("800", "1200", "lazy")
    assert re.fullmatch(
        r"(\S+-400\.jpg) 400w, (\S+-800\.jpg) 800w, (\S+-1200\.jpg) 1200w", told["srcset"]
    )
    assert told["sizes"]
    assert "onerror" not in tag
    for source in told["srcset"].split(", "):
        assert (out / "setups/ostvane-meridel" / source.split()[0]).resolve().is_file()


def test_the_same_photo_gives_the_same_files_and_another_one_other_addresses(
    content: Path, tmp_path: Path
) -> None:
    names = []
    for at, body in enumerate((photo(), photo(), photo(1700))):
        put(content, "gauge.jpg", body)
        out = tmp_path / f"site{at}"
        build(content, out, leave_out_faulty=False, today=TODAY)
        names.append({path.name: path.read_bytes() for path in (out / "photos").iterdir()})
    assert names[0] == names[1]
    assert not set(names[0]) & set(names[2])


def test_a_replaced_photo_is_shown_though_all_else_was_kept(content: Path, tmp_path: Path) -> None:
    cache, out = Store(tmp_path / "cache", bytes(32)), tmp_path / "site"
    page = out / RECORD.replace(".yaml", ".html")
    seen = []
    for body in (photo(), photo(1700)):
        put(content, "gauge.jpg", body)
        build(content, out, leave_out_faulty=False, today=TODAY, cache=cache)
        names = {path.name for path in (out / "photos").iterdir()}
        assert names == set(re.findall(r"photos/([0-9a-f]+-[0-9]+\.jpg)", page.read_text("utf-8")))
        seen.append(names)
    assert not seen[0] & seen[1]


def test_row_77_a_photo_without_words_is_refused(content: Path) -> None:
    record = content / RECORD
    line = record.read_text("utf-8").split("\n").index("photos:") + 2
    record.write_text(record.read_text("utf-8").replace(f" alt: '{ALT}',", ""), "utf-8")
    assert ("F01", RECORD, line) in faults(content)
    for alt in ("IMG_1234", "gauge.jpg", "photo", "DSC00012.JPG"):
        text = sample("setup") + f"\nphotos:\n  - {{file: gauge.jpg, alt: {alt}}}\n"
        record.write_text(text, "utf-8")
        assert ("R51", RECORD, line) in faults(content)


def test_row_78_a_photo_that_is_missing_or_unused_is_told(content: Path) -> None:
    put(content, "other.jpg", planted.saved(planted.pattern()))
    assert ("L29", f"{FOLDER}/other.jpg", 1) in faults(content)
    (content / FOLDER / "gauge.jpg").unlink()
    line = (content / RECORD).read_text("utf-8").split("\n").index("photos:") + 2
    assert ("L28", RECORD, line) in faults(content)


BROKEN = {
    "P01": planted.header_only_png(12_000, 12_000),
    "P02": b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
    "P03": planted.saved(planted.pattern(600, 400))[:-900],
    "P04": planted.jpeg(planted.pattern(), notes=planted.exif()),
}


@pytest.mark.parametrize("code", BROKEN)
def test_a_photo_that_cannot_be_shown_is_one_fault_and_stops_the_build(
    content: Path, tmp_path: Path, code: str
) -> None:
    put(content, "gauge.jpg", BROKEN[code])
    assert faults(content) == [(code, f"{FOLDER}/gauge.jpg", 1)]
    assert build(content, tmp_path / "site", leave_out_faulty=False, today=TODAY).has_errors
    assert not (tmp_path / "site").exists()
    build(content, tmp_path / "site", leave_out_faulty=True, today=TODAY)
    assert "<img" not in (tmp_path / "site" / RECORD.replace(".yaml", ".html")).read_text("utf-8")
    assert not (tmp_path / "site/photos").exists()


@pytest.mark.parametrize(
    "name",
    [
        "../gauge.jpg",
        "/etc/gauge.jpg",
        "a\\b.jpg",
        "%2e%2e.jpg",
        "gauge.svg",
        "GAUGE.jpg",
        "a b.jpg",
    ],
)
def test_row_63_a_photo_is_named_and_never_pointed_at(content: Path, name: str) -> None:
    text = sample("setup") + f"\nphotos:\n  - {{file: '{name}', alt: a gauge at the strut}}\n"
    (content / RECORD).write_text(text, "utf-8")
    assert "F08" in {code for code, path, _ in faults(content) if path == RECORD}


def test_row_64_a_photo_that_is_a_link_is_refused(content: Path, tmp_path: Path) -> None:
    secret = tmp_path / "secret.jpg"
    secret.write_bytes(planted.saved(planted.pattern()))
    (content / FOLDER / "gauge.jpg").unlink()
    (content / FOLDER / "gauge.jpg").symlink_to(secret)
    assert ("Y16", f"{FOLDER}/gauge.jpg", 1) in faults(content)
    assert build(content, tmp_path / "site", leave_out_faulty=False, today=TODAY).has_errors


def test_row_64_a_photo_folder_that_is_a_link_is_refused(content: Path, tmp_path: Path) -> None:
    (content / "photos").rename(tmp_path / "elsewhere")
    (content / "photos").symlink_to(tmp_path / "elsewhere")
    assert ("Y16", "photos", 1) in faults(content)


def test_row_86_a_photo_that_changes_during_the_build_stops_it(
    content: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "site"
    build(content, out, leave_out_faulty=False, today=TODAY)
    before = {path: path.read_bytes() for path in out.rglob("*") if path.is_file()}
    framed = building.frame_of

    def frame_while_it_changes(*given: Any) -> Any:
        put(content, "gauge.jpg", planted.saved(planted.pattern()))
        return framed(*given)

    monkeypatch.setattr(building, "frame_of", frame_while_it_changes)
    with pytest.raises(GuideError, match="changed while the guide was made"):
        build(content, out, leave_out_faulty=False, today=TODAY)
    assert {path: path.read_bytes() for path in out.rglob("*") if path.is_file()} == before


def test_a_changed_photo_is_named_by_verify(content: Path, tmp_path: Path) -> None:
    out = tmp_path / "site"
    build(content, out, leave_out_faulty=False, today=TODAY)
    manifest = out / "data/v1/manifest.json"
    assert not verify(manifest, content, today=TODAY).differing
    put(content, "gauge.jpg", photo(1900))
    differing = verify(manifest, content, today=TODAY).differing
    assert [each for each in differing if f"{FOLDER}/gauge.jpg" in each]


def test_the_demos_drawn_photos_are_those_of_their_script() -> None:
    path = Path(__file__).parents[2] / "truth/drawn_photos.py"
    spec = importlib.util.spec_from_file_location("drawn_photos", path)
    assert spec is not None
    assert spec.loader is not None
    drawn = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(drawn)
    demo = Path(__file__).parents[3] / "content_demo"
    for name, body in drawn.pictures().items():
        kept = (demo / name).read_bytes()
        assert len(kept) < 60_000
        # Fonts and encoders of other versions draw other bytes: the pictures are compared.
        made, there = (Image.open(io.BytesIO(each)).resize((60, 45)) for each in (body, kept))
        pairs = zip(made.tobytes(), there.tobytes(), strict=True)
        assert sum(abs(one - other) for one, other in pairs) / (60 * 45 * 3) < 4
