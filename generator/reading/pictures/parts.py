"""What a walk through a picture file finds, and how it ends where the file cannot be shown."""

from enum import Enum

from generator.frozen import dataclass


class PictureKind(Enum):
    """The kinds of picture that are read; the value is how people and the decoder call each."""

    JPEG = "JPEG"
    PNG = "PNG"
    WEBP = "WebP"


ENDINGS = {PictureKind.JPEG: ".jpg", PictureKind.PNG: ".png", PictureKind.WEBP: ".webp"}


@dataclass(frozen=True)
class Exif:
    """The two things in a camera's notes that matter here.

    `orientation` is 1 to 8 as the standard counts them, 1 for upright. `is_located` says that the
    notes tell where the picture was taken.
    """

    orientation: int = 1
    is_located: bool = False


@dataclass(frozen=True)
class Parts:
    """A picture file taken apart.

    `width` and `height` are those of the stored pixels, before turning. `bare` is the same picture
    with nothing in it but what the decoder of the pixels needs. `carried` names what was left out.
    """

    kind: PictureKind
    width: int
    height: int
    exif: Exif
    bare: bytes
    carried: tuple[str, ...]


class NoPicture(Exception):
    """A file cannot be shown as a photo; says why, with a fault code."""

    def __init__(self, code: str, headline: str, expected: str, fix: str = "") -> None:
        super().__init__(headline)
        self.code, self.headline, self.expected, self.fix = code, headline, expected, fix


def broken(kind: PictureKind, headline: str) -> NoPicture:
    """Say that a file does not hold together."""
    return NoPicture(
        "P03", headline, f"a whole {kind.value} picture",
        "open the picture in any viewer and save it anew",
    )  # fmt: skip
