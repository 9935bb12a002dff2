"""The tyre book: what members measured on mounted tyres, against what the label says."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby
from statistics import median

from generator.frozen import dataclass
from generator.quantities.tyre_marks import TyreSize
from generator.quantities.units import Inch, Mm, Ratio
from generator.records.dimensions import nominal_tyre, rim_width
from generator.records.fitted import AxleSetup
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.records.words import Axle
from generator.site import urls
from generator.site.drawings import TyreChart, TyrePoint
from generator.site.facts import UNKNOWN, Kind, Shown, exact_length, given
from generator.site.guide import Guide
from generator.site.lifecycle import replaced_by
from generator.site.page import Page
from generator.site.shell import Link, PageHead

BOTH = "both ends"


@dataclass(frozen=True)
class TyreLine:
    """One end of a car: a tyre on a rim, its label, and what was measured."""

    number: int
    size: str
    sort: tuple[Mm, Ratio, str]
    rim: str
    end: str
    setup: Link
    member: str
    section: Shown
    section_label: Shown
    wider: Shown
    diameter: Shown
    diameter_label: Shown
    taller: Shown
    tread: Shown
    tread_share: Shown
    pressure: Shown


@dataclass(frozen=True)
class Spread:
    """How far measured tyres are from their labels: how many, the middle, the least, the most.

    `ends` name the least and the most.
    """

    what: str
    ends: tuple[str, str]
    count: int
    middle: Shown
    least: Shown
    most: Shown


@dataclass(frozen=True)
class TyreBook:
    """All of the page; each size with its tyres."""

    sizes: tuple[tuple[str, tuple[TyreLine, ...]], ...]
    measured: int
    spreads: tuple[Spread, ...]
    chart: TyreChart | None
    unmeasured: int
    method_href: str


@dataclass(frozen=True)
class Measured:
    """A measured tyre: its place among all, its line without a number, its point in the chart."""

    order: tuple[float, float, str, float, str, str]
    line: TyreLine
    width: Inch


@dataclass(frozen=True)
class Share:
    """What one chassis gives to the book: measured tyres, and how many were not measured."""

    measured: tuple[Measured, ...]
    unmeasured: int


@dataclass(frozen=True)
class _Mounted:
    """A tyre of a record that still counts; one entry where both ends have the same."""

    filed: Filed[Setup]
    end: str
    fitted: AxleSetup


def share(guide: Guide) -> Share:
    """Give the share of a guide of one chassis."""
    tyres = tuple(_tyres(guide))
    measured = tuple(
        Measured(_order(each), _line(each), each.fitted.wheel.size.width_code)
        for each in tyres
        if _is_measured(each)
    )
    return Share(measured, len(tyres) - len(measured))


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page."""
    yield from joined(guide, [share(part) for part in guide.parts()])


def joined(guide: Guide, shares: Sequence[Share]) -> Iterator[Page]:
    """Give the page from what each chassis gives to it."""
    del guide
    measured = sorted(
        (each for share in shares for each in share.measured), key=lambda each: each.order
    )
    lines = tuple(replace(each.line, number=at) for at, each in enumerate(measured, 1))
    view = TyreBook(
        sizes=tuple((size, tuple(found)) for size, found in groupby(lines, _size)),
        measured=len(lines),
        spreads=tuple(_spreads(lines)),
        chart=_chart(lines, measured),
        unmeasured=sum(each.unmeasured for each in shares),
        method_href=f"{urls.METHOD}#tyre",
    )
    head = PageHead(
        "Tyre book",
        "What members measured on mounted tyres, against what the label says.",
        (Link("Home", urls.HOME),),
    )
    yield Page(urls.TYRE_BOOK, "tyre_book", head, view)


def _tyres(guide: Guide) -> Iterator[_Mounted]:
    """Give all tyres; a car that a newer record speaks of comes once."""
    replaced = replaced_by(guide.library)
    for filed in guide.setups():
        if filed.value.withdrawn is not None or filed.id in replaced:
            continue
        front, rear = filed.value.front, filed.value.rear
        if _told(front) == _told(rear):
            yield _Mounted(filed, BOTH, front)
        else:
            yield _Mounted(filed, Axle.FRONT.value, front)
            yield _Mounted(filed, Axle.REAR.value, rear)


def _told(fitted: AxleSetup) -> tuple[object, ...]:
    """Give all that a line tells of a tyre."""
    said = fitted.tyre
    told = (said.section_width, said.diameter, said.tread_width, said.pressure)
    return (str(said.size), str(fitted.wheel.size), *(each and each.value for each in told))


def _is_measured(tyre: _Mounted) -> bool:
    said = tyre.fitted.tyre
    return any(each is not None for each in (said.section_width, said.diameter, said.tread_width))


def _order(tyre: _Mounted) -> tuple[float, float, str, float, str, str]:
    size = tyre.fitted.tyre.size
    first, second, third = _sort(size)
    return (first, second, third, tyre.fitted.wheel.size.width_code, tyre.filed.id, tyre.end)


def _size(line: TyreLine) -> str:
    return line.size


def _sort(size: TyreSize) -> tuple[Mm, Ratio, str]:
    return (size.nominal_section_width or 0.0, size.aspect_ratio or 0.0, size.designation)


def _line(tyre: _Mounted) -> TyreLine:
    said, wheel = tyre.fitted.tyre, tyre.fitted.wheel
    label = nominal_tyre(said.size, rim_width(wheel.size))
    section, diameter, tread = said.section_width, said.diameter, said.tread_width
    share = tread.value / section.value if tread and section and section.value > 0.0 else None
    return TyreLine(
        number=0,
        size=said.size.size,
        sort=_sort(said.size),
        rim=str(wheel.size),
        end=tyre.end,
        setup=Link(tyre.filed.value.title, urls.setup(tyre.filed.id)),
        member=tyre.filed.value.member,
        section=given(section),
        section_label=exact_length(label.section_width, 0) if label else UNKNOWN,
        wider=_difference(section.value, label.section_width) if section and label else UNKNOWN,
        diameter=given(diameter),
        diameter_label=exact_length(label.diameter, 0) if label else UNKNOWN,
        taller=_difference(diameter.value, label.diameter) if diameter and label else UNKNOWN,
        tread=given(tread),
        tread_share=UNKNOWN if share is None else Shown(Kind.QUANTITY, 100.0 * share, None, 0,
                                                        unit="%"),
        pressure=given(said.pressure),
    )  # fmt: skip


def _difference(measured: Mm, label: Mm) -> Shown:
    return Shown(Kind.LENGTH, measured - label, None, 1, is_signed=True)


def _spreads(lines: tuple[TyreLine, ...]) -> Iterator[Spread]:
    for what, ends, values in (
        ("Section width", ("Narrowest", "Widest"), [each.wider.value for each in lines]),
        ("Diameter", ("Shortest", "Tallest"), [each.taller.value for each in lines]),
    ):
        known = [value for value in values if value is not None]
        if known:
            shown = (_difference(value, 0.0) for value in (median(known), min(known), max(known)))
            yield Spread(f"{what} against the label", ends, len(known), *shown)


def _chart(lines: tuple[TyreLine, ...], tyres: list[Measured]) -> TyreChart | None:
    points = tuple(
        TyrePoint(line.number, tyre.width, line.wider.value)
        for line, tyre in zip(lines, tyres, strict=True)
        if line.wider.value is not None
    )
    if not points:
        return None
    return TyreChart("chart-tyres", "Measured section width less that of the label", points)
