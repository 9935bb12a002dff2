"""The camera's notes in a picture: which way up it is, and whether they say where it was taken.

Source: [EXIF] 4.6: a TIFF header, then tables of entries of twelve bytes.
"""

import struct
from collections.abc import Iterator

from generator.reading.pictures.parts import Exif

_ORIENTATION = 0x0112
_LOCATION_TABLE = 0x8825
_OF_A_PLACE = frozenset({*range(0x01, 0x05), *range(0x13, 0x17)})
"""Latitude and longitude of the camera and of the thing it looks at."""
_MOST_ENTRIES = 1000
_MARKS = (b"GPSLatitude", b"GPSLongitude", b"GPSDestLatitude")


def read_exif(body: bytes) -> Exif:
    """Read the two things that matter. What cannot be followed counts as telling a place."""
    order = {b"II*\x00": "<", b"MM\x00*": ">"}.get(body[:4])
    if order is None or len(body) < 8:
        return Exif()
    (first,) = struct.unpack_from(f"{order}I", body, 4)
    orientation, is_located = 1, False
    for tag, value in _table(body, first, order):
        if tag == _ORIENTATION:
            (turned,) = struct.unpack(f"{order}H", value[:2])
            orientation = turned if 1 <= turned <= 8 else 1
        elif tag == _LOCATION_TABLE:
            (at,) = struct.unpack(f"{order}I", value)
            is_located = is_located or _tells_a_place(body, at, order)
    return Exif(orientation, is_located)


def names_a_place(content: bytes) -> bool:
    """Tell whether a text anywhere in a file names a place, as the notes of editors do."""
    return any(mark in content for mark in _MARKS)


def _tells_a_place(body: bytes, at: int, order: str) -> bool:
    if at + 2 > len(body):
        return True
    return any(tag in _OF_A_PLACE for tag, _ in _table(body, at, order))


def _table(body: bytes, at: int, order: str) -> Iterator[tuple[int, bytes]]:
    """Give the entries of a table with their four bytes of value, as far as the file goes."""
    if at + 2 > len(body):
        return
    (count,) = struct.unpack_from(f"{order}H", body, at)
    for entry in range(min(count, _MOST_ENTRIES)):
        start = at + 2 + 12 * entry
        if start + 12 > len(body):
            return
        (tag,) = struct.unpack_from(f"{order}H", body, start)
        yield tag, body[start + 8 : start + 12]
