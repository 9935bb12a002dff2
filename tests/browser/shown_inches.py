"""Lengths that a page shows in both units: their inches must be those of the millimetres shown."""

import html
import re
from collections.abc import Iterator
from decimal import ROUND_HALF_EVEN, Decimal

INCH = Decimal("25.4")
"""In mm, exactly: yard-pound agreement of 1959, ISO 80000-3."""
_TAG = re.compile(r"<[^>]+>")
_NUMBER = re.compile(r"[+-]?\d+(?:\.\d+)?")
_WORDS = r'[^<]*(?:<span class="pm">[^<]*</span>)?'
_PAIRS = (
    re.compile(
        rf'<span class="metric">({_WORDS} mm)</span><span class="or"> / </span>'
        rf'<span class="inch">({_WORDS} in)</span>'
    ),
    re.compile(
        rf'<span class="inch">(?P<inch>{_WORDS} in)</span><span class="or"> / </span>'
        rf'<span class="metric">(?P<mm>{_WORDS} mm)</span>'
    ),
    re.compile(
        r'<tspan class="dw-first dw-metric">([^<]*\d[^<]*)</tspan>'
        r'<tspan class="dw-second dw-inch">([^<]*)</tspan>'
    ),
    re.compile(r"((?:[+-]?[\d.]+ (?:to|±) )?[+-]?[\d.]+ mm) \(([^()]*? in)\)"),
)
_BAR = re.compile(
    r'<g class="dw-scale [\w-]+ dw-(metric|inch)"[^>]*><path d="M0 -7v7h-([\d.]+)v-7"\s*/?>'
    r"(?:</path>)?<text[^>]*>([^<]*)</text></g>"
)


def _plain(page: str) -> str:
    text = html.unescape(page).replace("\u2212", "-").replace("\u202f", "")
    return text.replace("\u00a0", " ")


def pairs(page: str) -> Iterator[tuple[str, str]]:
    """Give the texts in mm and in inches of each length that stands in both."""
    text = _plain(page)
    for pattern in _PAIRS:
        for found in pattern.finditer(text):
            named = found.groupdict()
            both = (named["mm"], named["inch"]) if named else found.groups()
            yield _TAG.sub("", both[0]), _TAG.sub("", both[1])


def in_inches(mm: str) -> Decimal:
    """Divide the millimetres as they are written, to a hundredth or to one decimal more."""
    places = max(2, len(mm.partition(".")[2]) + 1)
    return (Decimal(mm) / INCH).quantize(Decimal(1).scaleb(-places), ROUND_HALF_EVEN)


def wrong_inches(page: str) -> list[str]:
    """Name the lengths whose inches are not those of the millimetres beside them."""
    found = []
    for mm, inch in pairs(page):
        wanted = [in_inches(each) for each in _NUMBER.findall(mm)]
        told = [Decimal(each) for each in _NUMBER.findall(inch)]
        same_places = [-each.as_tuple().exponent for each in told] == [  # type: ignore[operator]
            -each.as_tuple().exponent
            for each in wanted  # type: ignore[operator]
        ]
        if told != wanted or not same_places:
            found.append(f"{mm} / {inch}")
    return found


def scale_bars(page: str) -> list[tuple[str, float, str]]:
    """Give each scale bar: its unit, how long it is drawn, and its words."""
    return [(unit, float(long), words) for unit, long, words in _BAR.findall(_plain(page))]
