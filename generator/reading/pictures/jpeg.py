"""Takes a JPEG file apart without decoding it.

Source: [T81] Annex B: markers, and segments with their length in two bytes.
"""

import re
from dataclasses import dataclass, field

from generator.reading.pictures.exif import read_exif
from generator.reading.pictures.parts import Exif, NoPicture, Parts, PictureKind, broken

START = b"\xff\xd8\xff"
_END, _SCAN, _REMARK, _ADOBE = 0xD9, 0xDA, 0xFE, 0xEE
_FRAMES = frozenset({0xC0, 0xC1, 0xC2})
_OTHER_FRAMES = frozenset({*range(0xC3, 0xD0)} - {0xC4, 0xC8, 0xCC})
_KEPT = frozenset({0xC4, 0xDB, 0xDD})
"""Tables of codes and of steps, and the interval of restarts."""
_NOTES = frozenset(range(0xE0, 0xF0))
_MOST_SCANS = 40
_EXIF, _XMP, _ICC = b"Exif\x00\x00", b"http://ns.adobe.com/", b"ICC_PROFILE\x00"
_NEXT_MARKER = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]")


@dataclass
class _Found:
    kept: list[bytes] = field(default_factory=lambda: [b"\xff\xd8"])
    carried: list[str] = field(default_factory=list)
    exif: Exif = field(default_factory=Exif)
    size: tuple[int, int] | None = None
    scans: int = 0


def jpeg_parts(content: bytes) -> Parts:
    """Walk through a JPEG file. Raises NoPicture where it does not hold together."""
    found = _Found()
    at = 2
    while True:
        while content[at : at + 2] == b"\xff\xff":
            at += 1
        if len(content) < at + 2 or content[at] != 0xFF:
            raise broken(PictureKind.JPEG, "the picture ends before its last line")
        marker = content[at + 1]
        if marker == _END:
            break
        end = at + 2 + int.from_bytes(content[at + 2 : at + 4], "big")
        if end < at + 4 or end > len(content):
            raise broken(PictureKind.JPEG, "a part of the picture ends before its beginning says")
        if marker == _SCAN:
            end = _end_of_scan(content, end, found)
        _take(found, marker, content[at:end])
        at = end
    found.kept.append(b"\xff\xd9")
    if content[at + 2 :].strip(b"\x00"):
        found.carried.append("bytes after the picture")
    if found.size is None or not found.scans:
        raise broken(PictureKind.JPEG, "this file holds no picture")
    width, height = found.size
    carried = tuple(dict.fromkeys(found.carried))
    return Parts(PictureKind.JPEG, width, height, found.exif, b"".join(found.kept), carried)


def _end_of_scan(content: bytes, start: int, found: _Found) -> int:
    found.scans += 1
    if found.scans > _MOST_SCANS or found.size is None:
        raise broken(PictureKind.JPEG, "the picture is stored in more passes than any camera makes")
    after = _NEXT_MARKER.search(content, start)
    return after.start() if after else len(content)


def _take(found: _Found, marker: int, segment: bytes) -> None:
    """Keep a segment if the pixels need it, and remember what it was if not."""
    body = segment[4:]
    if marker in _FRAMES:
        if found.size is not None or len(body) < 6:
            raise broken(PictureKind.JPEG, "the picture gives its size twice, or not at all")
        found.size = int.from_bytes(body[3:5], "big"), int.from_bytes(body[1:3], "big")
        found.kept.append(segment)
    elif marker in _OTHER_FRAMES:
        raise NoPicture(
            "P02", "this JPEG picture is stored in a rare way", "an ordinary JPEG picture",
            "open the picture in any viewer and save it anew",
        )  # fmt: skip
    elif marker in _KEPT or marker == _SCAN or (marker == _ADOBE and body[:5] == b"Adobe"):
        # The Adobe segment says how colours are stored; its twelve bytes hold nothing else.
        found.kept.append(segment[:16] if marker == _ADOBE and len(segment) == 16 else segment)
    elif marker in _NOTES:
        _read_notes(found, marker, body)
    elif marker == _REMARK:
        found.carried.append("a remark")
    else:
        raise broken(PictureKind.JPEG, f"the picture has a part of the unknown kind {marker:02X}")


def _read_notes(found: _Found, marker: int, body: bytes) -> None:
    if body.startswith(_EXIF):
        told = read_exif(body[len(_EXIF) :])
        is_located = told.is_located or found.exif.is_located
        found.exif = Exif(told.orientation, is_located)
        found.carried.append("the camera's notes")
    elif body.startswith(_XMP):
        found.carried.append("an editor's notes")
    elif body.startswith(_ICC):
        found.carried.append("a colour profile")
    elif marker != 0xE0:
        found.carried.append("a program's notes")
