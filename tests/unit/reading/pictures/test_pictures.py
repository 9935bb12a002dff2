"""Photo files: what is refused by the header, what is published, and that nothing else is.

Expected values: the EXIF orientations as [EXIF] 4.6.4 lists them, written out below; sizes and
colours of pictures made on the spot with Pillow.
"""

import importlib.util
import io
import struct
import subprocess
import sys
import time
import zlib
from pathlib import Path

import pytest
from PIL import Image

from generator.reading.pictures.picture import (
    LARGEST_PHOTO,
    MOST_PIXELS,
    MOST_PIXELS_OF_WEBP,
    NoPicture,
    look,
)
from generator.reading.pictures.pixels import BUDGETS, WIDTHS, check_pixels, files, sizes

_spec = importlib.util.spec_from_file_location("planted", Path(__file__).with_name("planted.py"))
assert _spec is not None
assert _spec.loader is not None
planted = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(planted)

KINDS = {".jpg": planted.jpeg, ".png": planted.png, ".webp": planted.webp}


def made(content: bytes, ending: str = ".jpg") -> list[bytes]:
    return list(files(look(content, ending)))


def code_of(content: bytes, ending: str = ".jpg") -> str:
    with pytest.raises(NoPicture) as caught:
        check_pixels(look(content, ending))
    assert caught.value.expected
    return caught.value.code


@pytest.mark.parametrize("ending", KINDS)
def test_row_72_no_planted_byte_is_left_in_a_published_file(ending: str) -> None:
    content = KINDS[ending](planted.pattern(), notes=planted.exif())
    assert sum(word in content for word in planted.PLANTED) >= 5
    (body,) = made(content, ending)
    for word in planted.PLANTED:
        assert word not in body
    left = Image.open(io.BytesIO(body))
    assert left.format == "JPEG"
    assert set(left.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    assert not left.getexif()


def test_a_published_file_holds_no_segment_but_those_of_pixels() -> None:
    """The segments are walked by hand, by [T81] table B.1: tables, frame, scan, and JFIF alone."""
    (body,) = made(planted.jpeg(planted.pattern(), notes=planted.exif()))
    at, markers = 2, []
    while body[at + 1] != 0xDA:
        assert body[at] == 0xFF
        markers.append(body[at + 1])
        at += 2 + int.from_bytes(body[at + 2 : at + 4], "big")
    assert set(markers) <= {0xE0, 0xDB, 0xC0, 0xC4}
    assert body.endswith(b"\xff\xd9")
    assert body.count(b"\xff\xd9") == 1


@pytest.mark.parametrize("ending", KINDS)
def test_row_72_a_place_is_noticed(ending: str) -> None:
    for notes, is_located in ((planted.exif(), True), (planted.exif(located=False), True)):
        content = KINDS[ending](planted.pattern(), notes=notes)
        assert look(content, ending).is_located is is_located  # the editor's text tells it too
    plain = planted.jpeg(
        planted.pattern(), notes=planted.exif(located=False), located_by_text=False
    )
    assert not look(plain, ".jpg").is_located
    assert look(plain, ".jpg").parts.carried


def test_row_72_a_place_in_a_second_picture_is_noticed() -> None:
    first = planted.saved(planted.pattern())
    second = planted.saved(planted.pattern())
    second = second[:2] + planted.segment(0xE1, b"Exif\x00\x00" + planted.exif()) + second[2:]
    found = look(first + second, ".jpg")
    assert found.is_located
    assert found.parts.carried == ("bytes after the picture",)
    assert planted.PLACE not in found.parts.bare


@pytest.mark.parametrize("cut", range(0, 260, 7))
def test_notes_cut_short_at_any_byte_are_read_without_harm(cut: int) -> None:
    look(planted.jpeg(planted.pattern(), notes=planted.exif(6)[:cut]), ".jpg")


CORNERS = {
    "red": (220, 20, 20), "green": (20, 200, 20), "blue": (20, 20, 220), "yellow": (230, 220, 20),
}  # fmt: skip
UPRIGHT = {
    1: ("red", "green", "blue", "yellow"),
    2: ("green", "red", "yellow", "blue"),
    3: ("yellow", "blue", "green", "red"),
    4: ("blue", "yellow", "red", "green"),
    5: ("red", "blue", "green", "yellow"),
    6: ("blue", "red", "yellow", "green"),
    7: ("yellow", "green", "blue", "red"),
    8: ("green", "yellow", "red", "blue"),
}
"""Corners of the upright picture, row by row, for each orientation: [EXIF] 4.6.4, tag 274, says
where the stored first row and column lie (6: row 0 is the right side, column 0 the top)."""


@pytest.mark.parametrize("orientation", UPRIGHT)
def test_row_73_a_turned_picture_is_published_upright(orientation: int) -> None:
    content = planted.jpeg(planted.pattern(), notes=planted.exif(orientation))
    (body,) = made(content)
    image = Image.open(io.BytesIO(body)).convert("RGB")
    assert image.size == ((240, 160) if orientation < 5 else (160, 240))
    spots = [(x, y) for y in (0.25, 0.75) for x in (0.25, 0.75)]
    seen = []
    for x, y in spots:
        colour = image.getpixel((int(x * image.width), int(y * image.height)))
        assert isinstance(colour, tuple)
        near = {
            n: sum(abs(a - b) for a, b in zip(colour, c, strict=True)) for n, c in CORNERS.items()
        }
        seen.append(min(near, key=lambda name: near[name]))
    assert tuple(seen) == UPRIGHT[orientation]


def test_row_70_a_bomb_of_pixels_is_refused_by_its_header_before_decoding() -> None:
    begin = time.process_time()
    packed = zlib.compress(b"\0" * 17_000)
    for width, height in ((12_000, 12_000), (60_000, 1), (0, 0), (2**31 - 1, 2**31 - 1)):
        assert code_of(planted.header_only_png(width, height, packed), ".png") == "P01"
    tall = bytearray(planted.saved(planted.pattern()))
    frame = tall.index(b"\xff\xc0") + 5
    tall[frame : frame + 4] = struct.pack(">HH", 65_500, 65_500)
    assert code_of(bytes(tall)) == "P01"
    assert time.process_time() - begin < 0.2


def test_row_71_a_bomb_in_a_text_or_profile_never_reaches_the_decoder() -> None:
    plain = planted.saved(planted.pattern(), "PNG")
    bomb = zlib.compress(b"\0" * 100_000_000)
    for name, head in ((b"zTXt", b"Comment\x00\x00"), (b"iCCP", b"p\x00\x00")):
        content = plain[:33] + planted.chunk(name, head + bomb) + plain[33:]
        begin = time.process_time()
        (body,) = made(content, ".png")
        assert time.process_time() - begin < 1.0
        assert len(body) <= BUDGETS[0]


def test_row_71_a_moving_picture_is_refused() -> None:
    frames = [planted.pattern().rotate(turn) for turn in (0, 90, 180)]
    moving = {"save_all": True, "append_images": frames[1:]}
    assert code_of(planted.saved(frames[0], "GIF", **moving)) == "P02"
    assert code_of(planted.saved(frames[0], "WEBP", **moving), ".webp") == "P03"
    assert code_of(planted.saved(frames[0], "PNG", **moving), ".png") == "P03"


def test_row_74_a_file_is_what_its_bytes_say() -> None:
    picture = planted.saved(planted.pattern())
    assert code_of(picture, ".png") == "P02"
    assert code_of(b"<!doctype html><script>alert(1)</script>" + b" " * 500) == "P02"
    (body,) = made(picture + planted.TRAILER + b"<script>alert(1)</script>")
    assert b"script" not in body
    assert b"archive" not in body


OTHERS = {
    "SVG": b"<svg xmlns='http://www.w3.org/2000/svg'/>", "SVGZ": b"\x1f\x8b\x08" + b"\0" * 40,
    "PDF": b"%PDF-1.7\n", "EPS": b"%!PS-Adobe-3.0 EPSF-3.0\n", "TIFF": b"II*\x00" + b"\0" * 40,
    "HEIC": b"\0\0\0\x18ftypheic" + b"\0" * 40, "BMP": b"BM" + b"\0" * 40, "empty": b"",
    "GIF": b"GIF89a" + b"\0" * 40, "text": b"title: a\n",
}  # fmt: skip


@pytest.mark.parametrize("name", OTHERS)
def test_row_75_other_kinds_are_refused_and_the_allowed_ones_named(name: str) -> None:
    with pytest.raises(NoPicture) as caught:
        look(OTHERS[name], ".jpg")
    assert (caught.value.code, caught.value.expected) == ("P02", "a JPEG, PNG or WebP picture")


@pytest.mark.parametrize("ending", KINDS)
def test_row_76_a_picture_cut_anywhere_is_refused_or_shown_and_raises_nothing_else(
    ending: str,
) -> None:
    whole = planted.saved(planted.pattern(), {".jpg": "JPEG", ".png": "PNG"}.get(ending, "WEBP"))
    for cut in range(0, len(whole) - 1, max(1, len(whole) // 60)):
        assert code_of(whole[:cut], ending) in ("P01", "P02", "P03")


MODES = {
    "CMYK": (planted.saved(planted.pattern().convert("CMYK")), ".jpg"),
    "grey": (planted.saved(planted.pattern().convert("L")), ".jpg"),
    "16-bit": (planted.saved(Image.new("I;16", (200, 200), 40_000), "PNG"), ".png"),
    "palette": (planted.saved(planted.pattern().quantize(16), "PNG"), ".png"),
    "palette with alpha": (
        planted.saved(planted.pattern().quantize(16), "PNG", transparency=0), ".png",
    ),
    "alpha": (planted.saved(Image.new("RGBA", (200, 200), (9, 9, 9, 0)), "PNG"), ".png"),
    "one bit": (planted.saved(planted.pattern().convert("1"), "PNG"), ".png"),
    "progressive": (planted.saved(planted.pattern(), progressive=True), ".jpg"),
    "lossless": (planted.saved(planted.pattern(), "WEBP", lossless=True), ".webp"),
    "alpha, lossy": (planted.saved(planted.pattern().convert("RGBA"), "WEBP"), ".webp"),
}  # fmt: skip


@pytest.mark.parametrize("mode", MODES)
def test_row_76_rare_kinds_of_pixels_are_converted(mode: str) -> None:
    content, ending = MODES[mode]
    for body in made(content, ending):
        assert Image.open(io.BytesIO(body)).mode == "RGB"


def test_a_clear_picture_stands_on_white_and_16_bits_keep_their_grey() -> None:
    (clear,) = made(*MODES["alpha"])
    assert min(Image.open(io.BytesIO(clear)).getpixel((50, 50))) >= 250
    (grey,) = made(*MODES["16-bit"])
    assert Image.open(io.BytesIO(grey)).getpixel((50, 50))[0] == pytest.approx(40_000 / 257, abs=3)


@pytest.mark.parametrize(
    ("size", "expected"),
    [
        ((2000, 1500), [(400, 300), (800, 600), (1600, 1200)]),
        ((1600, 1200), [(400, 300), (800, 600), (1600, 1200)]),
        ((1000, 500), [(400, 200), (800, 400), (1000, 500)]),
        ((800, 600), [(400, 300), (800, 600)]),
        ((300, 300), [(300, 300)]),
        ((1000, 6000), [(400, 2400), (500, 3000)]),
    ],
)
def test_three_widths_and_none_larger_than_the_picture(
    size: tuple[int, int], expected: list[tuple[int, int]]
) -> None:
    assert [(each.width, each.height) for each in sizes(*size)] == expected
    bodies = made(planted.saved(planted.pattern(*size)))
    assert [Image.open(io.BytesIO(body)).size for body in bodies] == expected


def test_files_keep_to_their_budgets_even_for_noise() -> None:
    noise = Image.effect_noise((1700, 1300), 120).convert("RGB")
    bodies = made(planted.saved(noise, quality=90))
    assert [len(body) <= budget for body, budget in zip(bodies, BUDGETS, strict=True)] == [True] * 3
    assert WIDTHS == (400, 800, 1600)


def test_the_same_photo_gives_the_same_bytes() -> None:
    content = planted.jpeg(planted.pattern(900, 700), notes=planted.exif(6))
    assert made(content) == made(content)


def test_a_file_over_the_limit_is_refused_unread() -> None:
    assert code_of(planted.saved(planted.pattern()) + b"\0" * LARGEST_PHOTO) == "P01"


MEASURE = """
import sys, time
from pathlib import Path
from generator.reading.photos import photo_of
before = time.process_time()
photo, faults = photo_of(sys.argv[1], Path(sys.argv[1]).read_bytes())
took = time.process_time() - before
peak = next(line for line in open("/proc/self/status") if line.startswith("VmHWM"))
print(took, peak.split()[1], photo.is_sound)
"""


@pytest.mark.parametrize("kind", ["progressive", "alpha", "webp"])
def test_the_largest_photos_that_are_read_stay_within_two_seconds_and_256_mb(
    kind: str, tmp_path: Path
) -> None:
    side = int((MOST_PIXELS_OF_WEBP if kind == "webp" else MOST_PIXELS) ** 0.5)
    image = Image.effect_noise((side // 8, side // 8), 80).resize((side, side)).convert("RGB")
    path = tmp_path / {"progressive": "a.jpg", "alpha": "a.png", "webp": "a.webp"}[kind]
    if kind == "progressive":
        image.save(path, quality=60, progressive=True)
    elif kind == "alpha":
        Image.new("RGBA", (side, side), (9, 9, 9, 100)).save(path, compress_level=1)
    else:
        image.save(path, quality=30, method=0)
    assert path.stat().st_size <= LARGEST_PHOTO
    if not Path("/proc/self/status").exists():
        pytest.skip("peak memory is read from /proc")
    done = subprocess.run(
        [sys.executable, "-c", MEASURE, str(path)], capture_output=True, text=True, check=True
    )
    took, peak, is_sound = done.stdout.split()
    assert is_sound == "True"
    assert float(took) < 2.0
    assert int(peak) < 256 * 1024, (kind, took, peak)
