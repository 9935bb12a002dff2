"""Takes a PNG file apart without decoding it.

Source: [PNG] 5.3, 11: chunks of length, name, body and checksum.
"""

import struct

from generator.reading.pictures.exif import read_exif
from generator.reading.pictures.parts import Exif, NoPicture, Parts, PictureKind, broken

START = b"\x89PNG\r\n\x1a\n"
_KEPT = frozenset({b"IHDR", b"PLTE", b"tRNS", b"IDAT", b"IEND"})
_NAMED = {
    b"tEXt": "a remark", b"zTXt": "a remark", b"iTXt": "an editor's notes",
    b"iCCP": "a colour profile", b"eXIf": "the camera's notes", b"tIME": "a date",
}  # fmt: skip
_PLAIN = frozenset({b"gAMA", b"cHRM", b"sRGB", b"pHYs", b"bKGD", b"sBIT", b"hIST", b"cICP"})
"""How the pixels are meant to look; nothing about where they come from."""
_MOST_CHUNKS = 100_000


def png_parts(content: bytes) -> Parts:
    """Walk through a PNG file. Raises NoPicture where it does not hold together."""
    at, kept, carried, exif = len(START), [START], [], Exif()
    size = None
    for _ in range(_MOST_CHUNKS):
        head = content[at : at + 8]
        if len(head) < 8:
            raise broken(PictureKind.PNG, "the picture ends before its last line")
        length, name = struct.unpack(">I4s", head)
        end = at + 12 + length
        if end > len(content):
            raise broken(PictureKind.PNG, "the picture ends before its last line")
        body = content[at + 8 : end - 4]
        if (name == b"IHDR") != (size is None):
            raise broken(PictureKind.PNG, "the picture gives its size twice, or too late")
        if name == b"IHDR":
            size = _size(body)
        elif name == b"acTL":
            raise NoPicture(
                "P03", "this picture moves", "one picture that stands still",
                "save one frame of it as a picture of its own",
            )  # fmt: skip
        elif name == b"eXIf":
            exif = read_exif(body)
        if name in _KEPT:
            kept.append(content[at:end])
        elif name not in _PLAIN:
            carried.append(_NAMED.get(name, "a program's notes"))
        at = end
        if name == b"IEND":
            break
    else:
        raise broken(PictureKind.PNG, "the picture is in more pieces than any program makes")
    if content[at:]:
        carried.append("bytes after the picture")
    width, height = size or (0, 0)
    parts = tuple(dict.fromkeys(carried))
    return Parts(PictureKind.PNG, width, height, exif, b"".join(kept), parts)


def _size(body: bytes) -> tuple[int, int]:
    if len(body) != 13:
        raise broken(PictureKind.PNG, "the picture does not give its size")
    width, height = struct.unpack_from(">II", body)
    return width, height
