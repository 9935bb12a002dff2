"""Picture files made on the spot, with things planted in them that must never be published."""

import io
import struct
import zlib

from PIL import Image

PLACE = b"GPS-of-a-garage"
SERIAL = b"SERIAL-4711-0815"
EDITOR = b"<x:xmpmeta exif:GPSLatitude='61,30.5N'/>"
REMARK = b"REMARK-OF-A-PHONE"
PROFILE = b"ICC-PROFILE-OF-A-SCREEN"
TRAILER = b"PK\x03\x04-an-archive-behind-the-picture"
PLANTED = (
    PLACE,
    SERIAL,
    b"xmpmeta",
    REMARK,
    PROFILE,
    b"an-archive",
    b"Exif",
    b"GPS",
    b"ICC_PROFILE",
)


def pattern(width: int = 240, height: int = 160) -> Image.Image:
    """Give a picture with four corners of different colours, so that turning it shows."""
    image = Image.new("RGB", (width, height), (128, 128, 128))
    for x, y, colour in (
        (0, 0, (220, 20, 20)),
        (width // 2, 0, (20, 200, 20)),
        (0, height // 2, (20, 20, 220)),
        (width // 2, height // 2, (230, 220, 20)),
    ):
        image.paste(colour, (x, y, x + width // 2, y + height // 2))
    return image


def saved(image: Image.Image, kind: str = "JPEG", **options: object) -> bytes:
    body = io.BytesIO()
    image.save(body, kind, **options)
    return body.getvalue()


def exif(orientation: int = 1, *, located: bool = True) -> bytes:
    """Write camera's notes by hand: orientation, a serial number, and a table of the place."""
    entries = [
        struct.pack("<HHIHH", 0x0112, 3, 1, orientation, 0),
        struct.pack("<HHII", 0xA431, 2, len(SERIAL), 200),
    ]
    if located:
        entries.append(struct.pack("<HHII", 0x8825, 4, 1, 100))
    body = b"II*\x00" + struct.pack("<I", 8) + struct.pack("<H", len(entries))
    body += b"".join(entries) + struct.pack("<I", 0)
    places = struct.pack("<H", 2) + struct.pack("<HHI4s", 1, 2, 2, b"N\x00\x00\x00")
    places += struct.pack("<HHII", 2, 2, len(PLACE), 220) + struct.pack("<I", 0)
    body = body.ljust(100, b"\0") + places
    return body.ljust(200, b"\0") + SERIAL.ljust(20, b"\0") + PLACE


def segment(marker: int, body: bytes) -> bytes:
    return struct.pack(">BBH", 0xFF, marker, len(body) + 2) + body


def jpeg(image: Image.Image, *, notes: bytes, located_by_text: bool = True) -> bytes:
    """Plant the camera's notes, an editor's, a remark, a profile and a trailer in a JPEG file."""
    plain = saved(image)
    planted = segment(0xE1, b"Exif\x00\x00" + notes)
    if located_by_text:
        planted += segment(0xE1, b"http://ns.adobe.com/xap/1.0/\x00" + EDITOR)
    planted += segment(0xE2, b"ICC_PROFILE\x00\x01\x01" + PROFILE)
    planted += segment(0xED, b"Photoshop 3.0\x00" + SERIAL) + segment(0xFE, REMARK)
    return plain[:2] + planted + plain[2:] + TRAILER


def chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def png(image: Image.Image, *, notes: bytes) -> bytes:
    """Plant the same things in a PNG file, behind its header."""
    plain = saved(image, "PNG")
    at = 8 + 25
    planted = chunk(b"eXIf", notes) + chunk(b"tEXt", b"Comment\x00" + REMARK)
    planted += chunk(b"iCCP", b"p\x00\x00" + zlib.compress(PROFILE))
    planted += chunk(b"iTXt", b"XML:com.adobe.xmp\x00\x00\x00\x00\x00" + EDITOR)
    return plain[:at] + planted + plain[at:] + TRAILER


def webp(image: Image.Image, *, notes: bytes) -> bytes:
    """Plant the same things in a WebP file."""
    plain = saved(image, "WEBP")[12:]
    size = (image.width - 1).to_bytes(3, "little") + (image.height - 1).to_bytes(3, "little")

    def part(name: bytes, body: bytes) -> bytes:
        return name + struct.pack("<I", len(body)) + body + b"\0" * (len(body) % 2)

    body = part(b"VP8X", bytes([0x2C, 0, 0, 0]) + size) + part(b"ICCP", PROFILE) + plain
    body += part(b"EXIF", notes) + part(b"XMP ", EDITOR)
    return b"RIFF" + struct.pack("<I", 4 + len(body)) + b"WEBP" + body + TRAILER


def header_only_png(width: int, height: int, data: bytes = b"") -> bytes:
    """Write a PNG file that promises a size and holds next to nothing."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    idat = chunk(b"IDAT", data or zlib.compress(b"\0" * 100))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + idat + chunk(b"IEND", b"")
