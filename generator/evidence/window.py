"""The offset window: for each wheel width the effective offsets at which all sites clear.

For every site the gap is a function of the offset alone, once wheel width and tyre are chosen: the
section is shifted along the spin axis. Its trace in the wheel's half-plane (see
`assessment.reach`) serves all widths and offsets. The gap is found every 2.5 mm of offset and
again, ten times as densely, where it crosses what is needed; the boundary so found agrees with the
computation of the single setup within 0.3 mm.

What is needed is the gap at which the chance on the next car is 90 % that the wanted gap is there
(clears), and at which it is even that there is any (below it: touches).
"""

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

import numpy as np

from generator.assessment.assess import sides
from generator.assessment.clearances import (
    Clearance,
    Mounted,
    mounted_outline,
    sights,
)
from generator.assessment.fit import Fit, axle_fit, stock_fit
from generator.assessment.reach import Asked, reached
from generator.assessment.sites import Condition
from generator.evidence.candidate import AxleChange, changed, millimetres, stock_axle
from generator.evidence.club import ChassisEvidence
from generator.evidence.distribution import Blurred, Distribution
from generator.evidence.entries import SiteKey
from generator.evidence.proven import ProvenPoint
from generator.evidence.tyres import Choice
from generator.evidence.verdict import EXPECTED, FREE, sides_of
from generator.frozen import dataclass
from generator.geometry.clearance import Floats, SectionPoint
from generator.geometry.gradient import gap_gradient, gap_uncertainty
from generator.geometry.outline import Outline
from generator.geometry.trace import Trace, least_gaps
from generator.quantities.rim_size import RimSize
from generator.quantities.tyre_marks import TyreSize
from generator.quantities.units import Inch, Mm, Probability
from generator.records.axle_sheet import AxleSheet
from generator.records.chassis import Chassis
from generator.records.library import Filed
from generator.records.site_sheet import SiteSheet
from generator.records.words import Axle, Facing, Side

WIDTHS: tuple[Inch, ...] = tuple(5.0 + 0.5 * step for step in range(11))
AROUND_STOCK: Mm = 60.0
"""How far from the stock wheel's offset the window looks: beyond lie other hubs and axles."""
_STEP: Mm = 2.5
_FINER = 10
_BEYOND: Mm = 10.0
"""An overlap deeper by this than the one that is as likely free need not be known."""


@dataclass(frozen=True)
class Stretch:
    """Effective offsets from low to high with the word for them, and the sites that make it so."""

    low: Mm
    high: Mm
    word: str
    because: tuple[str, ...]


@dataclass(frozen=True)
class WidthRow:
    """One wheel width with its tyre. Without a tyre nothing is known, and `unknown` says why.

    at_stock: the sites that make the word at the stock wheel's effective offset.
    """

    width: Inch
    tyre: str
    stretches: tuple[Stretch, ...]
    unknown: str = ""
    at_stock: tuple[str, ...] = ()

    def word_at(self, offset: Mm) -> str:
        """Give the word at an effective offset; not known outside the window."""
        found = [each for each in self.stretches if each.low <= offset <= each.high]
        return found[0].word if found else "not known"


@dataclass(frozen=True)
class OffsetWindow:
    """All widths of one end of a chassis, from `low` to `high` of effective offset.

    Stock bodywork, ride height and camber. `unknown_sites` have no gap, with the reason; where one
    is, nothing is said to clear. Brakes inside the wheel are not looked at here.
    """

    chassis: str
    axle: Axle
    low: Mm
    high: Mm
    rows: tuple[WidthRow, ...]
    unknown_sites: tuple[str, ...]
    stock_width: Inch
    stock_offset: Mm
    points: tuple[ProvenPoint, ...] = ()


@dataclass(frozen=True)
class _Wheel:
    """One width on its tyre, at offset 0."""

    fit: Fit
    outline: Outline


@dataclass(frozen=True)
class _Seen:
    """A site on the sides it stands for, and where it comes for the wheels of its end."""

    site: SiteSheet
    side: Side
    trace: Trace


@dataclass(frozen=True)
class Reach:
    """What of a window follows from the sheet alone, whatever the records say of its gaps.

    `chosen` are the tyres thought of by width, `unknown` the sites whose place is not known, with
    the reason.
    """

    axle: Axle
    chosen: Mapping[Inch, TyreSize | None]
    wheels: Mapping[Inch, _Wheel]
    sites: tuple[_Seen, ...]
    unknown: tuple[str, ...]


@dataclass(frozen=True)
class _Site:
    """A site, where it comes, and what the next car's correction is on the sides it stands for.

    `even` is the least of the gaps at which it is even that there is any on the next car.
    """

    name: str
    facing: Facing
    wanted: Mm
    trace: Trace
    next_cars: tuple[Distribution, ...]
    even: Mm


@dataclass(frozen=True)
class _Bad:
    """Offsets at which a site fails, by name, and whether it touches there."""

    site: str
    touches: bool
    low: Mm
    high: Mm


def offset_window(
    chassis: Filed[Chassis],
    axle: Axle,
    *,
    evidence: ChassisEvidence,
    tyres: Sequence[Choice],
    widths: Sequence[Inch] = WIDTHS,
) -> OffsetWindow:
    """Compute the window of one end of a chassis, without points; see `proven.proven_points`.

    tyres: most wanted first; each width takes the first that is approved on it. See
    `tyres.usual_tyres`. widths: those to look at; each takes its time.
    """
    return window_of(chassis, reach_of(chassis.value, axle, chosen(tyres, widths)), evidence)


def chosen(tyres: Sequence[Choice], widths: Sequence[Inch]) -> dict[Inch, TyreSize | None]:
    """Give the tyre of each width: the first that is approved on it, None where none is."""
    return {width: _first(tyres, width) for width in widths}


def window_of(chassis: Filed[Chassis], reach: Reach, evidence: ChassisEvidence) -> OffsetWindow:
    """Compute the window of one end where it is known already where its sites come."""
    axle = reach.axle
    sheet = chassis.value.front if axle is Axle.FRONT else chassis.value.rear
    offset = sheet.stock_wheel.offset.value
    low, high = offset - AROUND_STOCK, offset + AROUND_STOCK
    known = [_site(seen, evidence) for seen in reach.sites]
    rows = []
    for width, tyre in reach.chosen.items():
        if tyre is None or width not in reach.wheels:
            why = "no tyre of the sheet or of the records is approved on this width"
            rows.append(WidthRow(width, "", (), why))
            continue
        bad = [each for site in known for each in _bad(site, reach.wheels[width], (low, high))]
        stretches = _stretches(bad, reach.unknown, (low, high))
        _, at_stock = _word([each for each in bad if each.low < offset < each.high], reach.unknown)
        rows.append(WidthRow(width, str(tyre), stretches, at_stock=at_stock))
    return OffsetWindow(
        chassis.id, axle, low, high, tuple(rows), reach.unknown,
        sheet.stock_wheel.size.width_code, offset,
    )  # fmt: skip


def _first(tyres: Sequence[Choice], width: Inch) -> TyreSize | None:
    return next((each.size for each in tyres if each.least <= width <= each.most), None)


def _wheel(axle: Axle, width: Inch, tyre: TyreSize, sheet: AxleSheet) -> _Wheel | None:
    size = RimSize(width, tyre.rim_number)
    change = AxleChange(size=size, offset=millimetres(0.0), tyre=tyre)
    setup = changed(stock_axle(sheet), change)
    fit = axle_fit(axle, setup, sheet).fitted
    outline, _ = mounted_outline(Mounted(fit=fit, rim=size))
    return None if outline is None else _Wheel(fit, outline)


def reach_of(chassis: Chassis, axle: Axle, tyres: Mapping[Inch, TyreSize | None]) -> Reach:
    """Trace every site of one end, on both sides of the car where they differ.

    tyres: one for each width that is looked at, as `chosen` gives them.
    """
    sheet = chassis.front if axle is Axle.FRONT else chassis.rear
    wheels = {
        width: wheel
        for width, tyre in tyres.items()
        if tyre is not None and (wheel := _wheel(axle, width, tyre, sheet)) is not None
    }
    if not wheels:
        return Reach(axle, tyres, wheels, (), ())
    fit = stock_fit(sheet)
    mounted = Mounted(fit=fit, rim=sheet.stock_wheel.size)
    offset = sheet.stock_wheel.offset.value
    shifts = -offset + np.linspace(-AROUND_STOCK, AROUND_STOCK, 25)
    asked = Asked(tuple(wheel.outline for wheel in wheels.values()), shifts)
    known: list[_Seen] = []
    unknown: list[str] = []
    for side in sides(None, sheet):
        for sight in sights(chassis, axle, side, mounted=mounted, stock=fit):
            if isinstance(sight, Clearance):
                unknown.append(f"{sight.site.label}: {sight.unknown}")
            elif sight.moves:
                known.append(_Seen(sight.place.site, side, reached(sight, asked)))
            elif side is not Side.RIGHT or sight.place.site.only is Side.RIGHT:
                # One that goes with the wheel is the same on both sides of the car.
                known.append(_Seen(sight.place.site, Side.BOTH, reached(sight, asked)))
    return Reach(axle, tyres, wheels, tuple(known), tuple(dict.fromkeys(unknown)))


def _site(seen: _Seen, evidence: ChassisEvidence) -> _Site:
    site = seen.site
    next_cars = dict.fromkeys(
        evidence.posterior(SiteKey(site.axle, site.name, each, Condition.STOCK)).next_car
        for each in sides_of(site, seen.side)
    )
    even = min(needed_gap(each, FREE, wanted=0.0, u=0.0) for each in next_cars)
    wanted = site.wanted.value
    return _Site(site.name, site.facing, wanted, seen.trace, tuple(next_cars), even)


def _bad(site: _Site, wheel: _Wheel, span: tuple[Mm, Mm]) -> Iterable[_Bad]:
    """Give the offsets at which a site does not clear, and those at which it touches."""
    curve = _Curve(site.trace, wheel, span, deepest=site.even - _BEYOND)
    for next_car in site.next_cars:
        for touches, share, wanted in ((False, EXPECTED, site.wanted), (True, FREE, 0.0)):
            for low, high in curve.below(next_car, share, wanted):
                if site.facing is Facing.INBOARD:
                    # Once it does not clear, an offset further inboard does not help.
                    yield _Bad(site.name, touches, low, span[1])
                    break
                first = span[0] if site.facing is Facing.OUTBOARD else low
                yield _Bad(site.name, touches, first, high)


class _Curve:
    """The gap of one site against the effective offset, with one wheel width."""

    def __init__(self, trace: Trace, wheel: _Wheel, span: tuple[Mm, Mm], *, deepest: Mm) -> None:
        self._trace, self._wheel, self._deepest = trace, wheel, deepest
        self._offsets = np.arange(span[0], span[1] + 0.5 * _STEP, _STEP)
        self._gaps, self._nearest = least_gaps(
            trace, wheel.outline, -self._offsets, deepest=deepest
        )
        self._finer: dict[int, tuple[Floats, Floats]] = {}

    def below(self, next_car: Distribution, share: Probability, wanted: Mm) -> list[tuple[Mm, Mm]]:
        """Give the stretches of offset where the chance of the wanted gap is below the share."""
        start = int(np.argmin(np.abs(self._gaps - wanted)))
        needed = needed_gap(next_car, share, wanted=wanted, u=self._u(start))
        cells = np.flatnonzero((self._gaps[:-1] < needed) != (self._gaps[1:] < needed))
        if len(cells):
            needed = needed_gap(next_car, share, wanted=wanted, u=self._u(int(cells[0])))
            cells = np.flatnonzero((self._gaps[:-1] < needed) != (self._gaps[1:] < needed))
        ends = [float(self._offsets[0])]
        ends += [self._crossing(int(cell), needed) for cell in cells]
        ends.append(float(self._offsets[-1]))
        first = bool(self._gaps[0] < needed)
        return [pair for index, pair in enumerate(pairwise(ends)) if (index % 2 == 0) == first]

    def _u(self, at: int) -> Mm:
        """Give the uncertainty of the gap by wheel and tyre."""
        wheel, tyre = self._wheel.fit.wheel, self._wheel.fit.tyre
        if wheel is None or tyre is None:
            raise ValueError("a gap needs a wheel and a tyre")
        u, r = self._trace.points[self._nearest[at], :2]
        seen = SectionPoint(float(u + self._offsets[at]), float(r))
        return gap_uncertainty(gap_gradient(seen, self._wheel.outline), wheel, tyre)

    def _crossing(self, cell: int, needed: Mm) -> Mm:
        if cell not in self._finer:
            offsets = np.linspace(self._offsets[cell], self._offsets[cell + 1], _FINER + 1)
            gaps, _ = least_gaps(self._trace, self._wheel.outline, -offsets, deepest=self._deepest)
            self._finer[cell] = (offsets, gaps)
        offsets, gaps = self._finer[cell]
        change = np.flatnonzero((gaps[:-1] < needed) != (gaps[1:] < needed))
        if not len(change):
            return float(offsets[0])
        at = int(change[0])
        return float(
            offsets[at]
            + (needed - gaps[at]) * (offsets[at + 1] - offsets[at]) / (gaps[at + 1] - gaps[at])
        )


def needed_gap(next_car: Distribution, share: Probability, *, wanted: Mm, u: Mm) -> Mm:
    """Give the computed gap at which the wanted one has a chance on the next car.

    share: the chance, 0 to 1. u: of the computed gap by wheel and tyre.

    Source: own derivation: P(gap + c + e > wanted) = share where wanted − gap is the 1 − share
    quantile of c + e.

    >>> even = Distribution((-10.0, 10.0), (0.0, 1.0), 0.0)
    >>> round(needed_gap(even, 0.9, wanted=5.0, u=0.0), 6)
    13.0
    """
    if not u > 0.0:
        return wanted - float(np.interp(1.0 - share, next_car.below, next_car.knots))
    return wanted - float(Blurred.of([(next_car, u)]).quantiles([1.0 - share])[0, 0])


def _stretches(
    bad: Sequence[_Bad], unknown: tuple[str, ...], span: tuple[Mm, Mm]
) -> tuple[Stretch, ...]:
    """Cut the span where a word changes, and say which sites make each word."""
    inner = {edge for each in bad for edge in (each.low, each.high) if span[0] < edge < span[1]}
    found: list[Stretch] = []
    for low, high in pairwise((span[0], *sorted(inner), span[1])):
        middle = 0.5 * (low + high)
        here = [each for each in bad if each.low < middle < each.high]
        word, because = _word(here, unknown)
        if found and found[-1].word == word:
            because = tuple(dict.fromkeys(found[-1].because + because))
            found[-1] = Stretch(found[-1].low, high, word, because)
        else:
            found.append(Stretch(low, high, word, because))
    return tuple(found)


def _word(here: Sequence[_Bad], unknown: tuple[str, ...]) -> tuple[str, tuple[str, ...]]:
    touching = tuple(sorted({each.site for each in here if each.touches}))
    if touching:
        return "touches", touching
    if unknown:
        return "not known", unknown
    if here:
        return "tight", tuple(sorted({each.site for each in here}))
    return "clears", ()
