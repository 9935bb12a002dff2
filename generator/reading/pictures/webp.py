"""Takes a WebP file apart without decoding it.

Source: [WEBP] chunks of a name, a length and a body; [RFC6386] 9.1 for the size of a lossy picture.
"""

import struct

from generator.frozen import dataclass
from generator.reading.pictures.exif import read_exif
from generator.reading.pictures.parts import Exif, NoPicture, Parts, PictureKind, broken

START = b"RIFF"
NAME = b"WEBP"
_MOST_CHUNKS = 100
_ALPHA = 0x10
_NAMED = {b"EXIF": "the camera's notes", b"XMP ": "an editor's notes", b"ICCP": "a colour profile"}


@dataclass(frozen=True)
class _Chunk:
    name: bytes
    body: bytes


def webp_parts(content: bytes) -> Parts:
    """Walk through a WebP file. Raises NoPicture where it does not hold together."""
    end = 8 + int.from_bytes(content[4:8], "little")
    if end > len(content):
        raise broken(PictureKind.WEBP, "the picture ends before its last line")
    chunks = _chunks(content[12:end])
    names = {chunk.name for chunk in chunks}
    if names & {b"ANIM", b"ANMF"}:
        raise NoPicture(
            "P03", "this picture moves", "one picture that stands still",
            "save one frame of it as a picture of its own",
        )  # fmt: skip
    pictures = [chunk for chunk in chunks if chunk.name in (b"VP8 ", b"VP8L")]
    if len(pictures) != 1:
        raise broken(PictureKind.WEBP, "this file does not hold one picture")
    picture = pictures[0]
    width, height = _lossy(picture.body) if picture.name == b"VP8 " else _lossless(picture.body)
    alpha = [chunk for chunk in chunks if chunk.name == b"ALPH"][:1]
    bare = _file(picture, alpha, width, height)
    notes = [chunk.body for chunk in chunks if chunk.name == b"EXIF"]
    exif = read_exif(notes[0].removeprefix(b"Exif\x00\x00")) if notes else Exif()
    other = names - {b"VP8 ", b"VP8L", b"VP8X", b"ALPH"}
    carried = sorted({_NAMED.get(name, "a program's notes") for name in other})
    if content[end:]:
        carried.append("bytes after the picture")
    return Parts(PictureKind.WEBP, width, height, exif, bare, tuple(carried))


def _chunks(body: bytes) -> list[_Chunk]:
    at = 0
    found: list[_Chunk] = []
    while at + 8 <= len(body):
        name, length = struct.unpack_from("<4sI", body, at)
        if at + 8 + length > len(body) or len(found) >= _MOST_CHUNKS:
            raise broken(PictureKind.WEBP, "a part of the picture ends before its beginning says")
        found.append(_Chunk(name, body[at + 8 : at + 8 + length]))
        at += 8 + length + length % 2
    return found


def _lossy(body: bytes) -> tuple[int, int]:
    if len(body) < 10 or body[3:6] != b"\x9d\x01\x2a":
        raise broken(PictureKind.WEBP, "the picture does not give its size")
    width, height = struct.unpack_from("<HH", body, 6)
    return width & 0x3FFF, height & 0x3FFF


def _lossless(body: bytes) -> tuple[int, int]:
    if len(body) < 5 or body[0] != 0x2F:
        raise broken(PictureKind.WEBP, "the picture does not give its size")
    bits = int.from_bytes(body[1:5], "little")
    return (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1


def _file(picture: _Chunk, alpha: list[_Chunk], width: int, height: int) -> bytes:
    chunks = [picture]
    if alpha and picture.name == b"VP8 ":
        size = (width - 1).to_bytes(3, "little") + (height - 1).to_bytes(3, "little")
        chunks = [_Chunk(b"VP8X", bytes([_ALPHA, 0, 0, 0]) + size), *alpha, picture]
    body = b"".join(
        struct.pack("<4sI", chunk.name, len(chunk.body))
        + chunk.body
        + b"\0" * (len(chunk.body) % 2)
        for chunk in chunks
    )
    return START + struct.pack("<I", 4 + len(body)) + NAME + body
