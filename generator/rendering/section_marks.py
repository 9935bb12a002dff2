"""Sites in the section: their shapes, their names in the margins, and gaps seen standing."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from math import fsum

from generator.frozen import dataclass
from generator.quantities.units import Mm, Ratio
from generator.records.words import Attachment
from generator.rendering.layout import (
    EDGE,
    WIDEST,
    Beside,
    Column,
    Half,
    Label,
    Scale,
    Units,
    beside,
    broken,
    column,
    judgement,
    stacked,
)
from generator.rendering.section_shapes import Shape, SiteShape
from generator.site.drawings import SectionSubject, SiteFound
from generator.site.facts import Shown, said
from generator.site.readings import UNKNOWN

Numbered = tuple[int, SiteShape]
"""A site's place in the sheet's list, and its shape."""
_TOP: Units = 30.0
_APART: Ratio = 0.6
_LEFT_ENDS_ABOVE: Mm = 205.0
"""Left of the wheel, names end above this height; below it stands the dimension to the skin."""


@dataclass(frozen=True)
class SiteMark:
    """A site with its name, and the gap that the record gives with the car standing."""

    path: str
    style: str
    words: Beside
    gap: Shown | None
    word: str


@dataclass(frozen=True)
class _Named:
    """One thing to be named: its points, its style, its words, and its gap if it has one."""

    points: Shape
    is_line: bool
    style: str
    words: str
    found: SiteFound | None = None
    up: Ratio = 0.0

    @property
    def middle(self) -> Half:
        """Give the point its leader leads to: `up` of half its height above the middle."""
        count = len(self.points)
        u, z = (fsum(point[axis] for point in self.points) / count for axis in (0, 1))
        return (u, z + self.up * (max(each for _, each in self.points) - z))

    def covers(self, other: "_Named") -> bool:
        """Tell whether the two lie over each other, by the boxes around them."""
        return all(
            min(point[axis] for point in one.points) < max(point[axis] for point in two.points)
            for axis in (0, 1)
            for one, two in ((self, other), (other, self))
        )

    @property
    def is_left(self) -> bool:
        """Tell whether it stands outboard, and so at the left."""
        return self.middle[0] > 0.0


def marks(
    subject: SectionSubject, sites: tuple[Numbered, ...], *, scale: Scale
) -> tuple[SiteMark, ...]:
    """Name all sites beside the drawing: outboard ones left, inboard ones right."""
    named = _apart([_site(subject, at, shape) for at, shape in sites])
    left = [each for each in named if each.is_left]
    right = [each for each in named if not each.is_left]
    middle = scale.y_axis - scale.per_mm * _LEFT_ENDS_ABOVE
    return (
        *_placed(left, middle, scale, is_left=True),
        *_placed(right, scale.y_axis + 14.0, scale, is_left=False),
    )


def overlapping(sites: tuple[Numbered, ...]) -> bool:
    """Tell whether parts are drawn over each other, since one stands ahead of the other."""
    named = [_Named(shape.points, shape.is_line, "", "") for _, shape in sites]
    return any(one.covers(other) for one, other in combinations(named, 2))


def _apart(named: list[_Named]) -> list[_Named]:
    """Lead the lines of parts that lie over each other to different heights of them."""
    found = list(named)
    for at, other in combinations(range(len(named)), 2):
        if named[at].covers(named[other]):
            upper, lower = sorted((at, other), key=lambda each: -named[each].middle[1])
            found[upper] = replace(found[upper], up=_APART)
            found[lower] = replace(found[lower], up=-_APART)
    return found


def margins(subject: SectionSubject, sites: tuple[Numbered, ...]) -> tuple[Units, Units]:
    """Give how far the words reach in from the left and the right edge of the sheet."""
    named = [_site(subject, at, shape) for at, shape in sites]
    left = [_label(each, 0.0) for each in named if each.is_left]
    right = [_label(each, 0.0) for each in named if not each.is_left]
    return (
        EDGE + column(left, is_left=True).width,
        EDGE + column(right, is_left=False).width,
    )


def _label(named: _Named, y: Units) -> Label:
    return Label(y, broken(named.words) + _gap(named))


def _placed(
    named: list[_Named], bottom: Units, scale: Scale, *, is_left: bool
) -> Iterator[SiteMark]:
    labels = [_label(each, scale.y(each.middle[1])) for each in named]
    within = column(labels, is_left=is_left)
    for each, label, y in zip(named, labels, stacked(labels, _TOP, bottom), strict=True):
        yield _mark(each, label, y, scale=scale, within=within)


def _site(subject: SectionSubject, at: int, shape: SiteShape) -> _Named:
    site = subject.sites[at]
    is_body = site.moves_with is Attachment.BODY
    style = "dw-edge" if shape.is_line else f"{'dw-body' if is_body else 'dw-solid'} dw-edge"
    return _Named(shape.points, shape.is_line, style, site.label, found_at(subject, at))


def _mark(named: _Named, label: Label, y: Units, *, scale: Scale, within: Column) -> SiteMark:
    found = named.found
    to = (scale.x(named.middle[0]), scale.y(named.middle[1]))
    return SiteMark(
        path=scale.path(named.points, closed=not named.is_line) if named.style else "",
        style=named.style,
        words=beside(label, y, to, within, len(_gap(named))),
        gap=said(found.gap) if found and found.gap else None,
        word=found.word if found else "",
    )


def _gap(named: _Named) -> tuple[str, ...]:
    """Give the lines of the gap; a number is as broad as it is written in either unit."""
    found = named.found
    if found is None:
        return ()
    of_site = ("not known",) if found.of_site == UNKNOWN else judgement(found.of_site)
    if found.gap is None:
        return of_site
    told = said(found.gap).text
    number = broken(told) if told else (WIDEST,)
    return (*number, *(each for each in of_site if each not in number))


def found_at(subject: SectionSubject, at: int) -> SiteFound | None:
    """Give what the record says of a site."""
    name = subject.sites[at].name
    return next((each for each in subject.found if each.site == name), None)
