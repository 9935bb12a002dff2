"""Sites in the section: their shapes, their names in the margins, and gaps seen standing."""

from dataclasses import dataclass

from generator.records.setup import Gap
from generator.records.words import Attachment, Side
from generator.rendering.layout import (
    LINE_HEIGHT,
    SHEET_WIDTH,
    Label,
    Scale,
    Units,
    broken,
    stacked,
)
from generator.rendering.section_shapes import SiteShape
from generator.site.drawings import SectionSubject
from generator.site.facts import Shown, said
from generator.site.readings import judged

Numbered = tuple[int, SiteShape]
"""A site's place in the sheet's list, and its shape."""
_EDGE: Units = 10.0
_TOP: Units = 30.0


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


def marks(
    subject: SectionSubject, sites: tuple[Numbered, ...], scale: Scale
) -> tuple[SiteMark, ...]:
    """Give all sites with their names beside them, outboard ones left and inboard ones right."""
    found: list[SiteMark] = []
    for is_left in (True, False):
        side = [
            (at, shape) for at, shape in sites if (sum(u for u, _ in shape.points) > 0.0) is is_left
        ]
        labels = []
        for at, shape in side:
            gap = standing_gap(subject, at)
            lines = broken(subject.sites[at].label) + (("gap",) if gap else ())
            wanted = scale.y(sum(z for _, z in shape.points) / len(shape.points))
            labels.append(Label(wanted, lines))
        places = stacked(labels, _TOP, scale.y_axis - 40.0)
        for (at, shape), label, y in zip(side, labels, places, strict=True):
            found.append(_mark(subject, (at, shape), (label, y), scale))
    return tuple(found)


def _mark(
    subject: SectionSubject,
    numbered: Numbered,
    placed: tuple[Label, Units],
    scale: Scale,
) -> SiteMark:
    at, shape = numbered
    label, y = placed
    site = subject.sites[at]
    gap = standing_gap(subject, at)
    is_left = sum(u for u, _ in shape.points) > 0.0
    names = label.lines[:-1] if gap else label.lines
    x = _EDGE if is_left else SHEET_WIDTH - _EDGE
    centre_u = sum(u for u, _ in shape.points) / len(shape.points)
    centre_z = sum(z for _, z in shape.points) / len(shape.points)
    inner = _EDGE + 4.0 + label.width if is_left else SHEET_WIDTH - 14.0 - label.width
    is_body = site.moves_with is Attachment.BODY
    style = "dw-edge" if shape.is_line else f"{'dw-body' if is_body else 'dw-solid'} dw-edge"
    return SiteMark(
        path=scale.path(shape.points, closed=not shape.is_line),
        style=style,
        lines=tuple((round(y + LINE_HEIGHT * row, 1), line) for row, line in enumerate(names)),
        x=x,
        anchor="start" if is_left else "end",
        leader=f"M{inner:g} {_level(y, len(names)):g} {scale.x(centre_u):g} {scale.y(centre_z):g}",
        gap=said(gap.gap) if gap else None,
        gap_y=round(y + LINE_HEIGHT * len(names), 1),
        word=judged(gap.gap, site.wanted.value) if gap else "",
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
