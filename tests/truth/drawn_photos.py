"""Draws the two pictures that stand for photos in the demo, since there are no cars to photograph.

Run with the folder of the demo to write them anew:
    python tests/truth/drawn_photos.py content_demo
"""

import io
import math
import sys
from collections.abc import Callable
from pathlib import Path
from random import Random

from PIL import Image, ImageDraw, ImageFilter, ImageFont

SIZE = (1200, 900)
FINE = 2
"""Drawn at twice the size and scaled down, so that edges are smooth."""
SETUP = "ostvane-meridel/copperbill-lips-rolled"
LIP_GAP, SHANK = 72.0, 16.5
"""Millimetres, as the record has them: front left, standing."""

Drawn = Callable[[ImageDraw.ImageDraw, Random], None]


def picture(draw_it: Drawn, seed: int) -> bytes:
    """Give a drawing as a JPEG file."""
    chance = Random(seed)
    image = Image.new("RGB", (SIZE[0] * FINE, SIZE[1] * FINE), (62, 64, 66))
    draw = ImageDraw.Draw(image)
    draw_it(draw, chance)
    image = image.resize(SIZE, Image.Resampling.LANCZOS).filter(ImageFilter.GaussianBlur(0.6))
    _note(ImageDraw.Draw(image))
    body = io.BytesIO()
    image.save(body, "JPEG", quality=72, optimize=True)
    return body.getvalue()


def rule_at_the_lip(draw: ImageDraw.ImageDraw, chance: Random) -> None:
    """Draw a steel rule that stands on the tyre and is read at the lip of the fender."""
    per_mm = 10.0 * FINE
    lip, tread = 300 * FINE, 300 * FINE + LIP_GAP * per_mm * 0.62
    scale = (tread - lip) / LIP_GAP
    _wall(draw, (0, 0, SIZE[0] * FINE, lip), (126, 46, 38), (164, 66, 52))
    draw.rectangle((0, lip - 26 * FINE, SIZE[0] * FINE, lip - 20 * FINE), fill=(190, 96, 80))
    draw.rectangle((0, lip - 4 * FINE, SIZE[0] * FINE, lip), fill=(84, 28, 24))
    draw.rectangle((0, lip, SIZE[0] * FINE, tread), fill=(34, 34, 36))
    _tread(draw, tread, chance)
    left, right = 520 * FINE, 600 * FINE
    draw.rectangle((left, 60 * FINE, right, tread), fill=(186, 190, 194))
    for mm in range(int((tread - 60 * FINE) / scale)):
        at = tread - mm * scale
        length = (36 if mm % 10 == 0 else 24 if mm % 5 == 0 else 14) * FINE
        draw.line((right - length, at, right, at), fill=(20, 20, 22), width=FINE)
        if mm % 10 == 0 and mm:
            _words(draw, (left + 6 * FINE, at - 11 * FINE), str(mm), 20)
    _tape(draw, (680, 110), f"FRONT LEFT\nSTANDING\nLIP {LIP_GAP:.0f} MM")


def shank_at_the_strut(draw: ImageDraw.ImageDraw, chance: Random) -> None:
    """Draw the shank of a drill, seen from its end, between the strut tube and the tyre."""
    scale = 11.0 * FINE
    tube, wall = 400 * FINE, 400 * FINE + SHANK * scale
    for x in range(120 * FINE, int(tube)):
        part = (x - 120 * FINE) / (tube - 120 * FINE)
        light = int(58 + 118 * math.sin(math.pi * part) ** 1.4)
        draw.line((x, 0, x, SIZE[1] * FINE), fill=(light, light, light - 12))
    for y in range(0, SIZE[1] * FINE, 6 * FINE):
        bulge = 60 * FINE * (1 - math.cos((y / (SIZE[1] * FINE) - 0.5) * 2.4))
        shade = 30 + chance.randrange(6)
        box = (wall + bulge, y, SIZE[0] * FINE, y + 6 * FINE)
        draw.rectangle(box, fill=(shade, shade, shade + 2))
    for rib in range(5):
        x = wall + (70 + 46 * rib) * FINE
        draw.arc((x, -300 * FINE, x + 900 * FINE, 1200 * FINE), 120, 240, (52, 52, 54), 8 * FINE)
    middle, radius = SIZE[1] * FINE / 2, SHANK * scale / 2
    for ring in range(int(radius), 0, -2):
        light = int(120 + 90 * (1 - ring / radius))
        box = (tube + radius - ring, middle - ring, tube + radius + ring, middle + ring)
        draw.ellipse(box, fill=(light, light, light + 6))
    _words(draw, (tube + radius - 42 * FINE, middle - 16 * FINE), f"{SHANK}", 34)
    _tape(draw, (720, 640), f"FRONT LEFT\nSTANDING\nSTRUT {SHANK} MM")


def _wall(
    draw: ImageDraw.ImageDraw, box: tuple[float, ...], dark: tuple[int, ...], light: tuple[int, ...]
) -> None:
    left, top, right, bottom = box
    for y in range(int(top), int(bottom)):
        part = (y - top) / (bottom - top)
        colour = tuple(round(d + (b - d) * part) for d, b in zip(dark, light, strict=True))
        draw.line((left, y, right, y), fill=colour)


def _tread(draw: ImageDraw.ImageDraw, top: float, chance: Random) -> None:
    draw.rectangle((0, top, SIZE[0] * FINE, SIZE[1] * FINE), fill=(40, 40, 42))
    for row in range(4):
        for block in range(13):
            x = (block * 96 + (48 if row % 2 else 0) - 40) * FINE
            y = top + row * 62 * FINE
            shade = 52 + chance.randrange(10)
            box = (x, y, x + 84 * FINE, y + 54 * FINE)
            draw.rounded_rectangle(box, 6 * FINE, fill=(shade, shade, shade + 2))


def _tape(draw: ImageDraw.ImageDraw, at: tuple[int, int], text: str) -> None:
    x, y = at[0] * FINE, at[1] * FINE
    draw.rectangle((x, y, x + 330 * FINE, y + 150 * FINE), fill=(224, 208, 160))
    _words(draw, (x + 18 * FINE, y + 12 * FINE), text, 36)


def _words(draw: ImageDraw.ImageDraw, at: tuple[float, float], text: str, size: int) -> None:
    draw.multiline_text(at, text, fill=(22, 22, 26), font=ImageFont.load_default(size * FINE))


def _note(draw: ImageDraw.ImageDraw) -> None:
    draw.rectangle((0, SIZE[1] - 40, 330, SIZE[1]), fill=(250, 250, 246))
    draw.text(
        (12, SIZE[1] - 34), "drawn by a program, no photo", (20, 20, 20), ImageFont.load_default(22)
    )


def pictures() -> dict[str, bytes]:
    """Give both pictures by their paths below the content folder."""
    return {
        f"photos/{SETUP}/rule-at-the-lip.jpg": picture(rule_at_the_lip, 1),
        f"photos/{SETUP}/shank-at-the-strut.jpg": picture(shank_at_the_strut, 2),
    }


if __name__ == "__main__":
    for path, body in pictures().items():
        target = Path(sys.argv[1]) / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(body)
