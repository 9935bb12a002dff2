"""Looks at a photo file before anything decodes it: its kind, its size, what it carries along."""

from generator.frozen import dataclass
from generator.reading.pictures import jpeg, png, webp
from generator.reading.pictures.exif import names_a_place, read_exif
from generator.reading.pictures.parts import ENDINGS, NoPicture, Parts, PictureKind

LARGEST_PHOTO = 8 * 1024 * 1024
MOST_PIXELS = 26_000_000
"""Somewhat more than the largest of the ordinary modes of phones, 24 million."""
MOST_PIXELS_OF_WEBP = 10_000_000
"""Its decoder needs three times the memory of the others for a pixel."""
LONGEST_SIDE = 8_000
SHORTEST_SIDE = 100
_TURNED = frozenset({5, 6, 7, 8})
_FORBIDDEN = (
    (b"GIF8", "a GIF picture"), (b"%PDF", "a PDF document"), (b"%!PS", "an EPS drawing"),
    (b"II*\x00", "a TIFF picture"), (b"MM\x00*", "a TIFF picture"), (b"BM", "a BMP picture"),
    (b"\x1f\x8b", "a packed file"), (b"PK\x03\x04", "an archive"),
)  # fmt: skip
_EXIF = b"Exif\x00\x00"
_MOST_NOTES = 50


@dataclass(frozen=True)
class Picture:
    """A photo file that may be decoded. `width` and `height` are those of the upright picture."""

    parts: Parts
    width: int
    height: int
    is_located: bool


def look(content: bytes, ending: str | None = None) -> Picture:
    """Look at a photo file. `ending` is that of its name; None where the name does not matter.

    Raises NoPicture where it is no picture of a kind that is read, larger than may be decoded, or
    not whole.
    """
    if len(content) > LARGEST_PHOTO:
        raise NoPicture(
            "P01", f"this photo has more than {LARGEST_PHOTO} bytes", f"at most {LARGEST_PHOTO}",
            "scale it to 1600 pixels in width",
        )  # fmt: skip
    parts = _parts(content)
    _check_size(parts)
    if ending not in (None, ENDINGS[parts.kind]):
        raise NoPicture(
            "P02", f"this is a {parts.kind.value} picture, and its name ends in `{ending}`",
            f"a name ending in `{ENDINGS[parts.kind]}`", "rename it, here and in the record",
        )  # fmt: skip
    is_turned = parts.exif.orientation in _TURNED
    width, height = (parts.height, parts.width) if is_turned else (parts.width, parts.height)
    return Picture(parts, width, height, _is_located(parts, content))


def _parts(content: bytes) -> Parts:
    if content.startswith(jpeg.START):
        return jpeg.jpeg_parts(content)
    if content.startswith(png.START):
        return png.png_parts(content)
    if content.startswith(webp.START) and content[8:12] == webp.NAME:
        return webp.webp_parts(content)
    raise NoPicture(
        "P02", f"this is {_told(content)}", "a JPEG, PNG or WebP picture",
        "save it as a JPEG picture",
    )  # fmt: skip


def _told(content: bytes) -> str:
    """Say what a file is that is none of the pictures, as far as its beginning tells."""
    for start, name in _FORBIDDEN:
        if content.startswith(start):
            return name
    if content[4:8] == b"ftyp":
        return "a HEIC or AVIF picture, or a film"
    text = content[:200].lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    if text.startswith((b"<svg", b"<?xml")):
        return "an SVG drawing or another XML file"
    if text.startswith(b"<"):
        return "a page, not a picture"
    return "no picture" if content else "an empty file"


def _check_size(parts: Parts) -> None:
    width, height = parts.width, parts.height
    sides = f"this picture has {width} × {height} pixels"
    most = MOST_PIXELS_OF_WEBP if parts.kind is PictureKind.WEBP else MOST_PIXELS
    if width * height > most or max(width, height) > LONGEST_SIDE:
        expected = f"at most {most} pixels, and {LONGEST_SIDE} on a side"
        raise NoPicture("P01", sides, expected, "scale it to 1600 pixels in width")
    if min(width, height) < SHORTEST_SIDE:
        expected = f"at least {SHORTEST_SIDE} pixels on each side"
        raise NoPicture("P01", sides, expected, "take the picture as the camera made it")


def _is_located(parts: Parts, content: bytes) -> bool:
    """Tell whether anything in a file names a place; a second picture in it has notes too."""
    if parts.exif.is_located or names_a_place(content):
        return True
    at = content.find(_EXIF)
    for _ in range(_MOST_NOTES):
        if at < 0:
            return False
        if read_exif(content[at + len(_EXIF) : at + 65_536]).is_located:
            return True
        at = content.find(_EXIF, at + 1)
    return True


__all__ = ["ENDINGS", "LARGEST_PHOTO", "NoPicture", "Picture", "PictureKind", "look"]
