"""The offset window of one end of a chassis for its page: the drawing, and its numbers in rows."""

from generator.evidence.remedies import ENOUGH
from generator.evidence.window import OffsetWindow, WidthRow
from generator.frozen import dataclass
from generator.quantities.units import Inch
from generator.records.chassis import Chassis
from generator.records.library import Filed
from generator.records.words import Axle
from generator.site import advice
from generator.site.drawings import ChartPoint, WindowSubject
from generator.site.facts import Shown, exact_length
from generator.site.guide import Guide
from generator.site.readings import UNKNOWN


@dataclass(frozen=True)
class StretchShown:
    """A stretch of effective offset, the word for it, and the sites that make it so."""

    word: str
    low: Shown
    high: Shown
    because: tuple[str, ...]


@dataclass(frozen=True)
class WidthShown:
    """One wheel width with the tyre that is thought of."""

    width: str
    tyre: str
    stretches: tuple[StretchShown, ...]
    unknown: str


@dataclass(frozen=True)
class WindowShown:
    """The drawing and its rows."""

    subject: WindowSubject
    rows: tuple[WidthShown, ...]


def window_shown(
    guide: Guide, chassis: Filed[Chassis], axle: Axle, *, points: tuple[ChartPoint, ...]
) -> WindowShown:
    """Give the window of one end with the setups of the page as points."""
    window = advice.window(guide, chassis, axle)
    labels = {site.name: site.label for site in chassis.value.sites if site.axle is axle}
    return WindowShown(
        WindowSubject(f"window-{axle.value}", window, points, _stock(window, labels)),
        tuple(_width(row, labels) for row in rows_shown(window, points)),
    )


_ENOUGH = ENOUGH.replace(" ", "\u00a0")
_STANDS = {
    "clears": "expected to clear",
    "tight": f"tight, less than {_ENOUGH} likely to keep the wanted gap at",
    "touches": "expected to touch",
    "not known": "nothing is known of",
}


def _stock(window: OffsetWindow, labels: dict[str, str]) -> str:
    """Say how the stock wheel stands with the tyre of its row, and because of which sites."""
    rows = [row for row in window.rows if row.stretches]
    if not rows:
        return ""
    row = min(rows, key=lambda each: abs(each.width - window.stock_width))
    held = [each for each in row.stretches if each.low <= window.stock_offset <= each.high]
    if not held:
        return ""
    # Names of sites hold commas.
    names = "; ".join(labels.get(name, name) for name in row.at_stock)
    told = f"Stock width and offset with {row.tyre}: {_STANDS[held[0].word]}"
    return f"{told} {names}." if names else f"{told}."


def rows_shown(window: OffsetWindow, points: tuple[ChartPoint, ...]) -> tuple[WidthRow, ...]:
    """Give the widths worth a row: those with a tyre, and those that somebody fitted."""
    fitted = {_half(point.width) for point in points} | {_half(window.stock_width)}
    return tuple(row for row in window.rows if row.stretches or row.width in fitted)


def _half(width: Inch) -> Inch:
    return round(width * 2.0) / 2.0


def _width(row: WidthRow, labels: dict[str, str]) -> WidthShown:
    stretches = tuple(
        StretchShown(
            UNKNOWN if each.word == "not known" else each.word,
            exact_length(each.low, 0),
            exact_length(each.high, 0),
            tuple(labels.get(name, name) for name in each.because),
        )
        for each in row.stretches
    )
    return WidthShown(f"{row.width:g} in", row.tyre, stretches, row.unknown)
