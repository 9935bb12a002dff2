"""Sites in the section: their shapes, their names in the margins, and gaps seen standing."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import fsum

from generator.quantities.units import Mm
from generator.records.setup import Gap
from generator.records.words import Attachment, Side
from generator.rendering.layout import (
    LINE_HEIGHT,
    SHEET_WIDTH,
    Half,
    Label,
    Scale,
    Units,
    broken,
    stacked,
)
from generator.rendering.section_shapes import Shape, SiteShape
from generator.site.drawings import SectionSubject
from generator.site.facts import Shown, said
from generator.site.readings import judged

Numbered = tuple[int, SiteShape]
"""A site's place in the sheet's list, and its shape."""
_EDGE: Units = 10.0
_TOP: Units = 30.0
_LEFT_ENDS_ABOVE: Mm = 205.0
"""Left of the wheel, names end above this height; below it stands the dimension to the skin."""


@dataclass(frozen=True)
class SiteMark:
    """A site with its name, and the gap that the record gives with the car standing."""

    path: str
    style: str
    lines: tuple[tuple[Units, str], ...]
    x: Units
    anchor: str
    leader: str
    gap: Shown | None
    gap_y: Units
    word: str


@dataclass(frozen=True)
class _Named:
    """One thing to be named: its points, its style, its words, and its gap if it has one."""

    points: Shape
    is_line: bool
    style: str
    words: str
    gap: Gap | None = None
    wanted: Mm | None = None

    @property
    def middle(self) -> Half:
        """Give the point its leader leads to."""
        count = len(self.points)
        return (fsum(u for u, _ in self.points) / count, fsum(z for _, z in self.points) / count)

    @property
    def is_left(self) -> bool:
        """Tell whether it stands outboard, and so at the left."""
        return self.middle[0] > 0.0


def marks(
    subject: SectionSubject, sites: tuple[Numbered, ...], *, brake: Half, scale: Scale
) -> tuple[SiteMark, ...]:
    """Name all sites and the brake beside the drawing: outboard ones left, inboard ones right."""
    named = [_site(subject, at, shape) for at, shape in sites]
    left = [each for each in named if each.is_left]
    right = [each for each in named if not each.is_left]
    right.append(_Named((brake,), False, "", "brake"))
    middle = scale.y_axis - scale.per_mm * _LEFT_ENDS_ABOVE
    return (*_placed(left, middle, scale), *_placed(right, scale.y_axis + 14.0, scale))


def _placed(named: list[_Named], bottom: Units, scale: Scale) -> Iterator[SiteMark]:
    labels = [
        Label(scale.y(each.middle[1]), broken(each.words) + (("gap",) if each.gap else ()))
        for each in named
    ]
    for each, label, y in zip(named, labels, stacked(labels, _TOP, bottom), strict=True):
        yield _mark(each, label, y, scale)


def _site(subject: SectionSubject, at: int, shape: SiteShape) -> _Named:
    site = subject.sites[at]
    is_body = site.moves_with is Attachment.BODY
    style = "dw-edge" if shape.is_line else f"{'dw-body' if is_body else 'dw-solid'} dw-edge"
    gap = standing_gap(subject, at)
    return _Named(shape.points, shape.is_line, style, site.label, gap, site.wanted.value)


def _mark(named: _Named, label: Label, y: Units, scale: Scale) -> SiteMark:
    gap = named.gap
    names = label.lines[:-1] if gap else label.lines
    inner = _EDGE + 4.0 + label.width if named.is_left else SHEET_WIDTH - 14.0 - label.width
    to = f"{scale.x(named.middle[0]):g} {scale.y(named.middle[1]):g}"
    return SiteMark(
        path=scale.path(named.points, closed=not named.is_line) if named.style else "",
        style=named.style,
        lines=tuple((round(y + LINE_HEIGHT * row, 1), line) for row, line in enumerate(names)),
        x=_EDGE if named.is_left else SHEET_WIDTH - _EDGE,
        anchor="start" if named.is_left else "end",
        leader=f"M{inner:g} {_level(y, len(names)):g} {to}",
        gap=said(gap.gap) if gap else None,
        gap_y=round(y + LINE_HEIGHT * len(names), 1),
        word=judged(gap.gap, named.wanted) if gap else "",
    )


def _level(y: Units, lines: int) -> Units:
    """Give the middle of a label's lines, where its leader begins."""
    return round(y - 8.0 + LINE_HEIGHT * (lines - 1) / 2.0, 1)


def standing_gap(subject: SectionSubject, at: int) -> Gap | None:
    """Give the record's gap at a site, left or on both sides, with the car standing."""
    site = subject.sites[at]
    for gap in subject.gaps:
        same_end = gap.axle is None or gap.axle is site.axle
        if gap.site == site.name and same_end and gap.side is not Side.RIGHT:
            return gap
    return None
