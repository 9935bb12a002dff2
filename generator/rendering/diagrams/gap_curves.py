"""Gap against travel, and against steer where the wheel steers, one row for each of a few sites.

All rows have one scale of gaps. Below the line of no gap the ground is that of "touches", up to
the wanted gap that of "tight". A gap too large to matter leaves the row at its upper edge.
"""

from collections.abc import Iterator
from itertools import pairwise
from math import ceil, floor

from generator.assessment.clearances import Clearance, Curve
from generator.frozen import dataclass
from generator.quantities.units import Mm, Ratio
from generator.rendering.filters import mm
from generator.rendering.layout import SHEET_WIDTH, Units, simplified
from generator.site.drawings import CurvesSubject
from generator.site.facts import Fact, Shown, below, estimated
from generator.site.readings import SHEET, TIGHT, TOUCHES

_LEFT: Units = 58.0
_BETWEEN: Units = 44.0
_RIGHT: Units = 14.0
_TITLE: Units = 34.0
_PLOT: Units = 118.0
_FOOT: Units = 44.0
_SEEN: Units = 34.0
_LEAST_TOP: Mm = 40.0
_MOST_TOP: Mm = 60.0
_LEAST_BOTTOM: Mm = -10.0
_STEP: Mm = 10.0
_SMOOTH: Units = 0.5


@dataclass(frozen=True)
class Panel:
    """One gap curve with its grounds, its marks, and the words below its ends."""

    x: Units
    width: Units
    curve: str
    rest: str
    low: str
    high: str
    beyond: bool


@dataclass(frozen=True)
class Row:
    """One site: its name, its least gap, and its panels."""

    name: str
    told: str
    least: Shown
    word: str
    says: str
    title_y: Units
    top: Units
    zero_y: Units
    wanted_y: Units
    bottom: Units
    foot_y: Units
    panels: tuple[Panel, ...]


@dataclass(frozen=True)
class Scene:
    """All coordinates of the drawing, in sheet units, and its words."""

    id: str
    title: str
    desc: str
    caption: str
    height: Units
    scale_top: Mm
    rows: tuple[Row, ...]
    numbers: tuple[Fact, ...] = ()


@dataclass(frozen=True)
class _Gaps:
    """The scale of gaps that all rows share."""

    bottom: Mm
    top: Mm

    def y(self, gap: Mm, top: Units) -> Units:
        share = (self.top - gap) / (self.top - self.bottom)
        return round(top + _PLOT * share, 1)


@dataclass(frozen=True)
class _Frame:
    """Where one curve is drawn."""

    x: Units
    width: Units
    top: Units
    gaps: _Gaps


def scene(subject: CurvesSubject) -> Scene:
    """Lay the drawing out."""
    gaps = _gaps(subject.sites)
    row = _TITLE + _PLOT + _FOOT
    rows = tuple(
        _row(each, _word(each) if subject.is_judged else SHEET, at * row, gaps)
        for at, each in enumerate(subject.sites)
    )
    told = "; ".join(f"{each.name}: {each.told}" for each in rows)
    steers = any(each.by_steer for each in subject.sites)
    what = "travel and steer" if steers else "travel"
    return Scene(
        id=subject.id,
        title=f"Gap against {what}, {subject.axle}: {told}",
        desc=f"{len(rows)} sites, the tightest first.",
        caption=f"{subject.axle.capitalize()}. " + _caption(steers=steers),
        height=round(len(rows) * row + _SEEN, 1),
        scale_top=gaps.top,
        rows=rows,
    )


def _gaps(sites: tuple[Clearance, ...]) -> _Gaps:
    """Take the scale so that the least gaps show, and gaps of no concern do not."""
    lowest, leasts = _LEAST_BOTTOM, [_LEAST_TOP]
    for each in sites:
        curves = [curve for curve in (each.by_travel, each.by_steer) if curve]
        lowest = min([lowest, *(min(curve.gaps) for curve in curves)])
        leasts.append(max(min(curve.gaps) for curve in curves) + _STEP)
        leasts.append(each.wanted + _STEP)
    top = min(_STEP * ceil(max(leasts) / _STEP), _MOST_TOP)
    return _Gaps(_STEP * floor(lowest / _STEP), top)


def _row(clearance: Clearance, word: str, y: Units, gaps: _Gaps) -> Row:
    top = y + _TITLE
    return Row(
        name=_named(clearance),
        told=_told(clearance),
        least=below(estimated(clearance.least.gap if clearance.least else None), clearance.wanted),
        word=word,
        says=word if word in (TIGHT, TOUCHES) else "least",
        title_y=round(y + 25.0, 1),
        top=round(top, 1),
        zero_y=gaps.y(0.0, top),
        wanted_y=gaps.y(clearance.wanted, top),
        bottom=round(top + _PLOT, 1),
        foot_y=round(top + _PLOT + 24.0, 1),
        panels=tuple(_panels(clearance, top, gaps)),
    )


def _named(clearance: Clearance) -> str:
    label, side = clearance.site.label.split(",")[0], clearance.side.value
    return label if side == "both" else f"{label}, {side}"


def _told(clearance: Clearance) -> str:
    return f"least {mm(clearance.least.gap.value)}" if clearance.least else "not known"


def _word(clearance: Clearance) -> str:
    if clearance.least is None:
        return "unknown"
    if not clearance.least.gap.value > 0.0:
        return TOUCHES
    return SHEET if clearance.has_wanted else TIGHT


def _panels(clearance: Clearance, top: Units, gaps: _Gaps) -> Iterator[Panel]:
    whole = SHEET_WIDTH - _LEFT - _RIGHT
    both = clearance.by_steer is not None
    width = (whole - _BETWEEN) / 2.0 if both else whole
    rest = clearance.standing.position.travel if clearance.standing else None
    if clearance.by_travel is not None:
        frame = _Frame(_LEFT, width, top, gaps)
        yield _panel(clearance.by_travel, frame, rest=rest, ends=("droop", "bump"))
    if clearance.by_steer is not None:
        frame = _Frame(_LEFT + width + _BETWEEN, width, top, gaps)
        yield _panel(clearance.by_steer, frame, rest=0.0, ends=("toe-in", "toe-out"))


def _panel(curve: Curve, frame: _Frame, *, rest: Ratio | None, ends: tuple[str, str]) -> Panel:
    low, high = curve.at[0], curve.at[-1]
    stands = ""
    if rest is not None:
        x = frame.x + frame.width * (rest - low) / (high - low)
        stands = f"M{x:.1f} {frame.top:g}v{_PLOT:g}"
    path = "".join(_written(piece) for piece in _pieces(curve, frame))
    return Panel(
        x=round(frame.x, 1),
        width=round(frame.width, 1),
        curve=path,
        rest=stands,
        low=ends[0],
        high=ends[1],
        beyond=not path,
    )


def _written(piece: list[tuple[Units, Units]]) -> str:
    return "M" + " ".join(f"{x:.1f} {y:g}" for x, y in simplified(piece, _SMOOTH))


def _pieces(curve: Curve, frame: _Frame) -> Iterator[list[tuple[Units, Units]]]:
    """Give the parts of a curve that lie within the row, cut where they leave it."""
    span, top = curve.at[-1] - curve.at[0], frame.gaps.top
    piece: list[tuple[Units, Units]] = []
    drawing = False
    for before, after in pairwise(zip(curve.at, curve.gaps, strict=True)):
        inside = [each for each in (before, after) if each[1] <= top]
        if not inside:
            drawing = False
            continue
        ends = [before, after]
        if len(inside) == 1:
            share = (top - before[1]) / (after[1] - before[1])
            edge = (before[0] + share * (after[0] - before[0]), top)
            ends = [before, edge] if before[1] <= top else [edge, after]
            drawing = drawing and before[1] <= top
        placed = [
            (frame.x + frame.width * (at - curve.at[0]) / span, frame.gaps.y(gap, frame.top))
            for at, gap in ends
        ]
        if not drawing:
            if piece:
                yield piece
            piece = placed[:1]
        piece.append(placed[1])
        drawing = after[1] <= top
    if piece:
        yield piece


def _caption(*, steers: bool) -> str:
    travel = "full droop to full bump" + (", steered straight" if steers else "")
    steer = "; right: from toe-in to toe-out lock, standing" if steers else ""
    where = "Left: from" if steers else "From"
    beyond = (
        "where travel and steer meet, beyond both lines"
        if steers
        else "beyond the line, with one side up"
    )
    return (
        f"{where} {travel}{steer}. More gap is upward; above the scale the line leaves "
        "the row. Crossed ground: overlap; upright hatching: less than the wanted gap; chain "
        "line: standing, straight ahead. The least gap may lie "
        f"{beyond}; computed from the sheet alone, none is called clear."
    )
