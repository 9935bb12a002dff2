"""The pixels of a photo, and nothing else of it: decoded within limits, turned, scaled, re-encoded.

The decoder gets the bare picture only, so that no profile, note or second picture is ever read. A
colour profile is not applied: it is a small program for one more library, and what a gauge shows in
a gap does not depend on it. The finished files are baseline JPEG, from a new image that was given
pixels and nothing more.
"""

import io
import warnings
from collections.abc import Iterator
from typing import TYPE_CHECKING

from generator.frozen import dataclass
from generator.reading.pictures.parts import broken
from generator.reading.pictures.picture import Picture

if TYPE_CHECKING:
    from PIL.Image import Image

WIDTHS = (400, 800, 1600)
BUDGETS = (40_000, 120_000, 300_000)
"""Bytes that the file of each width may have."""
_QUALITIES = (82, 74, 66, 56, 46, 36, 26, 16, 8, 3)
_TALLEST = 3_000
_DEEP = 256


@dataclass(frozen=True)
class Size:
    """Width and height of one file that is made of a photo."""

    width: int
    height: int
    budget: int


def sizes(width: int, height: int) -> tuple[Size, ...]:
    """Say which sizes are made of an upright picture: none is larger than the picture itself.

    >>> [(size.width, size.height) for size in sizes(1200, 900)]
    [(400, 300), (800, 600), (1200, 900)]
    """
    widest = min(width, max(1, width * _TALLEST // height))
    found = []
    for wanted, budget in zip(WIDTHS, BUDGETS, strict=True):
        fitting = min(wanted, widest)
        found.append(Size(fitting, max(1, round(height * fitting / width)), budget))
        if fitting == widest:
            break
    return tuple(found)


def check_pixels(picture: Picture) -> None:
    """Decode a picture once, to know that it can be. Raises NoPicture if it cannot."""
    _decoded(picture)


def files(picture: Picture) -> Iterator[bytes]:
    """Make the files of all sizes, the smallest first. Raises NoPicture if that cannot be."""
    from PIL.Image import Resampling

    decoded = _decoded(picture)
    largest = sizes(picture.width, picture.height)[-1]
    surplus = max(decoded.size) // max(largest.width, largest.height)
    if surplus > 1 and decoded.mode in ("L", "RGB", "RGBA"):
        decoded = decoded.reduce(surplus)
    image = _upright(decoded, picture.parts.exif.orientation)
    try:
        for size in sizes(picture.width, picture.height):
            pair = (size.width, size.height)
            yield _encoded(image.resize(pair, Resampling.LANCZOS, reducing_gap=3.0), size.budget)
    except (OSError, ValueError) as error:
        raise broken(picture.parts.kind, "the picture cannot be scaled") from error


def _decoded(picture: Picture) -> "Image":
    from PIL import Image

    parts = picture.parts
    largest = sizes(picture.width, picture.height)[-1]
    wanted = (largest.width, largest.height)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            image = Image.open(io.BytesIO(parts.bare), formats=(parts.kind.value.upper(),))
            if image.size != (parts.width, parts.height):
                raise broken(parts.kind, "the picture gives two different sizes")
            # A large JPEG picture is decoded at a half, a quarter or an eighth of its size.
            image.draft(None, wanted if picture.width == parts.width else wanted[::-1])
            image.load()
    except (OSError, ValueError, SyntaxError, EOFError, ArithmeticError, LookupError) as error:
        raise broken(parts.kind, "the picture cannot be decoded") from error
    return image


def _upright(image: "Image", orientation: int) -> "Image":
    """Give the picture the right way up, in plain red, green and blue, on white where clear."""
    from PIL import Image
    from PIL.Image import Transpose

    turns = {
        2: Transpose.FLIP_LEFT_RIGHT, 3: Transpose.ROTATE_180, 4: Transpose.FLIP_TOP_BOTTOM,
        5: Transpose.TRANSPOSE, 6: Transpose.ROTATE_270, 7: Transpose.TRANSVERSE,
        8: Transpose.ROTATE_90,
    }  # fmt: skip
    if image.mode.startswith("I"):
        levels = [value // _DEEP for value in range(_DEEP * _DEEP)]
        image = image.convert("I").point(levels, "L")
    elif image.mode in ("PA", "LA", "RGBA", "La", "RGBa") or "transparency" in image.info:
        clear = image.convert("RGBA")
        image = Image.new("RGB", clear.size, "white")
        image.paste(clear, mask=clear.getchannel("A"))
    image = image.convert("RGB")
    return image.transpose(turns[orientation]) if orientation in turns else image


def _encoded(image: "Image", budget: int) -> bytes:
    """Encode a new image made of the pixels alone, as well as its budget allows."""
    from PIL import Image

    bare = Image.frombytes("RGB", image.size, image.tobytes())
    body = b""
    for quality in _QUALITIES:
        made = io.BytesIO()
        bare.save(made, "JPEG", quality=quality, optimize=True, subsampling="4:2:0")
        body = made.getvalue()
        if len(body) <= budget:
            break
    return body
