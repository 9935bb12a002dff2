"""Section through the left hub of one end of a car, standing, with the stock wheel ghosted behind.

Seen from behind the car, so that outboard is to the left. Drawn in the frame of the sheet: the hub
face and spin axis of the stock hub; a hub that moved its face takes wheel and tyre with it. Only
what stands above the axis is drawn. Every number in the drawing comes from the assessment or the
record, and stands in `numbers` too, for the table below it.
"""

from dataclasses import replace

from generator.assessment.fit import Fit
from generator.frozen import dataclass
from generator.quantities.units import Mm
from generator.records.names import named_list
from generator.records.words import Attachment
from generator.rendering import section_shapes as shapes
from generator.rendering.dimensions import Bar, Dimension, across, dimension, scale_bar
from generator.rendering.filters import mm
from generator.rendering.layout import SHEET_WIDTH, Half, Scale, Units, simplified
from generator.rendering.section_marks import (
    Numbered,
    SiteMark,
    found_at,
    margins,
    marks,
    overlapping,
)
from generator.site.drawings import SectionSubject, SiteFound
from generator.site.facts import Fact, Shown, estimated, said, words
from generator.site.readings import CLEARS, called

_MARGIN: Units = 148.0
_FREE: Units = 14.0
"""Between what is drawn and the words beside it."""
_TOP: Units = 56.0
_ROW: Units = 58.0
_CLEAR: Units = 14.0
"""From the foot of the words at the left to the arrows below them, so that no arrow is theirs."""
_LARGEST_SCALE = 1.15
_FURTHEST_IN: Mm = -235.0
_FURTHEST_OUT: Mm = 170.0
"""Sites beyond are too far from any tyre to be worth the room; the caption names them."""
_SMOOTH: Mm = 1.0
"""How far a drawn outline may be off the computed one: less than its own breadth."""


@dataclass(frozen=True)
class Scene:
    """All coordinates of the drawing, in sheet units, and its words."""

    id: str
    title: str
    desc: str
    caption: str
    height: Units
    tyre: str
    rim: str
    solids: tuple[str, ...]
    spacer: str
    brake: str
    brake_x: Units
    brake_y: Units
    stock: tuple[str, ...]
    axis: str
    face: str
    centre: str
    skin: str
    sites: tuple[SiteMark, ...]
    dimensions: tuple[Dimension, ...]
    outward: str
    outward_x: Units
    outward_y: Units
    foot_y: Units
    bar: Bar
    numbers: tuple[Fact, ...]


@dataclass(frozen=True)
class _Parts:
    """The shapes before they are laid out."""

    fit: Fit
    moved: Mm
    spacer: Mm
    tyre: shapes.TyreShape | None
    rim: shapes.Shape
    disc: shapes.Shape
    brake: shapes.Shape
    stock: tuple[shapes.Shape, ...]
    skin: Mm | None
    sites: tuple[Numbered, ...]


def scene(subject: SectionSubject) -> Scene:
    """Lay the drawing out."""
    parts = _parts(subject)
    left, right = (max(_MARGIN, each + _FREE) for each in margins(subject, parts.sites))
    scale, height = _scale(parts, left, right)
    named = marks(subject, parts.sites, scale=scale)
    lowest = max((mark.words.bottom for mark in named), default=0.0)
    deepest = scale.y(min((z for _, each in parts.sites for _, z in each.points), default=0.0))
    foot = max((mark.words.bottom for mark in named if mark.words.anchor == "end"), default=0.0)
    row = max(scale.y_axis + 16.0, lowest + 4.0, deepest + 8.0)
    height = max(height + row - scale.y_axis - 16.0, 56.0 + lowest)
    numbers = _numbers(subject, parts)
    axle = subject.fit.axle.value
    skin = estimated(parts.fit.skin)
    told = [f"{fact.label} {mm(fact.value.value)}" for fact in numbers[:3] if fact.value.value]
    return Scene(
        id=subject.id,
        title=f"Section through the left {axle} hub, standing. {_poke_words(skin)}",
        desc="; ".join(told) or "Neither offset nor backspacing is known.",
        caption=_caption(subject, parts),
        height=height,
        tyre=_tyre_path(parts, scale),
        rim=scale.path(parts.rim) if parts.rim else "",
        solids=(scale.path(parts.disc),) if parts.disc else (),
        spacer=_spacer_path(parts, scale),
        brake=scale.path(parts.brake, closed=False),
        brake_x=_inside(parts, scale),
        brake_y=round(scale.y(max(z for _, z in parts.brake)) + 26.0, 1),
        stock=tuple(scale.path(shape) for shape in parts.stock),
        axis=f"M{_MARGIN - 30:g} {scale.y_axis:g}H{_axis_end(parts, scale, right):g}",
        face=scale.path(((0.0, 0.0), (0.0, shapes.FACE_RADIUS)), closed=False),
        centre=_centre_path(parts, scale, row),
        skin=_skin_path(parts, scale),
        sites=named,
        dimensions=(*_dimensions(parts, scale, row), *_poke(parts, scale, foot)),
        outward=f"M{_MARGIN - 34:g} {scale.y_axis + 34:g}H24",
        outward_x=14.0,
        outward_y=scale.y_axis + 24.0,
        foot_y=height - 16.0,
        bar=scale_bar(scale.per_mm, height - 16.0),
        numbers=numbers,
    )


def _inside(parts: _Parts, scale: Scale) -> Units:
    """Give where words inside the wheel begin: inboard of hub face and centre plane."""
    wheel = parts.fit.wheel
    planes = [0.0, *([wheel.centre_plane.value + parts.moved] if wheel else [])]
    return max(scale.x(u) for u in planes) + 7.0


def _axis_end(parts: _Parts, scale: Scale, right: Units) -> Units:
    """End the axis a little inboard of wheel and brake, before the words."""
    inmost = min(u for u, _ in (*parts.rim, *parts.brake))
    return min(scale.x(inmost) + 30.0, SHEET_WIDTH - right + 4.0)


def _parts(subject: SectionSubject) -> _Parts:
    sheet, setup = subject.sheet, subject.setup
    fit = subject.fit.fitted if setup else subject.fit.stock
    moved = setup.face_moved.value if setup and setup.face_moved else 0.0
    spacer = setup.spacer.thickness.value if setup and setup.spacer else 0.0
    bead = shapes.bead_seat(setup.wheel.size if setup else sheet.stock_wheel.size)
    rim: shapes.Shape = ()
    disc: shapes.Shape = ()
    if fit.wheel is not None and bead is not None:
        rim = shapes.rim_shape(fit.wheel, bead, moved)
        back = _spoke_back(subject, spacer + moved)
        disc = shapes.disc_shape(fit.wheel, bead, spacer + moved, back)
    lowered = -_ride_height(subject)
    sites = []
    for at, site in enumerate(subject.sites):
        down = lowered if site.moves_with is Attachment.BODY else 0.0
        shape = shapes.site_shape(site, down)
        if shape is not None and _is_near(shape):
            sites.append((at, shape))
    skin = None
    if sheet.body_width is not None:
        skin = (sheet.body_width.value - sheet.face_distance.value) / 2.0
    return _Parts(
        fit, moved, spacer, shapes.tyre_shape(fit, bead, moved), rim, disc,
        shapes.brake_shape(sheet.brake), _stock(subject), skin, tuple(sites),
    )  # fmt: skip


def _is_near(shape: shapes.SiteShape) -> bool:
    return all(_FURTHEST_IN < u < _FURTHEST_OUT for u, _ in shape.points)


def _stock(subject: SectionSubject) -> tuple[shapes.Shape, ...]:
    if subject.setup is None:
        return ()
    stock = subject.fit.stock
    bead = shapes.bead_seat(subject.sheet.stock_wheel.size)
    found = []
    tyre = shapes.tyre_shape(stock, bead, 0.0)
    if tyre is not None:
        found.append(simplified(tyre.outside, _SMOOTH))
    if stock.wheel is not None and bead is not None:
        found.append(shapes.rim_shape(stock.wheel, bead, 0.0))
    return tuple(found)


def _spoke_back(subject: SectionSubject, face: Mm) -> Half | None:
    wheel = subject.setup.wheel if subject.setup else subject.sheet.stock_wheel
    if wheel.spoke_back is None or wheel.spoke_back_radius is None:
        return None
    return (face + wheel.spoke_back.value, wheel.spoke_back_radius.value)


def _ride_height(subject: SectionSubject) -> Mm:
    height = subject.setup.ride_height if subject.setup else None
    if height is None:
        return 0.0
    if height.change is not None:
        return height.change.value
    if height.hub_to_lip is not None:
        return height.hub_to_lip.value - subject.sheet.ride_height.hub_to_lip.value
    return 0.0


def _scale(parts: _Parts, left: Units, right: Units) -> tuple[Scale, Units]:
    drawn = [*parts.rim, *parts.disc, *parts.brake, *(p for s in parts.stock for p in s)]
    drawn += parts.tyre.outside if parts.tyre else ()
    drawn += [point for _, shape in parts.sites for point in shape.points]
    drawn += [(parts.skin, 0.0)] if parts.skin is not None else []
    low, high = min(u for u, _ in drawn), max(u for u, _ in drawn)
    per_mm = min(_LARGEST_SCALE, (SHEET_WIDTH - left - right) / (high - low))
    middle = (left + SHEET_WIDTH - right) / 2.0
    top = max(r for _, r in drawn)
    y_axis = round(_TOP + per_mm * top, 1)
    scale = Scale(round(middle + per_mm * (low + high) / 2.0, 1), y_axis, per_mm)
    return scale, y_axis + 2.0 * _ROW + 44.0


def _tyre_path(parts: _Parts, scale: Scale) -> str:
    """Give the tyre's wall as one band, from bead to bead and back."""
    if parts.tyre is None:
        return ""
    outside, inside = (
        simplified(each, _SMOOTH) for each in (parts.tyre.outside, parts.tyre.inside)
    )
    return scale.path((*outside, *reversed(inside)))


def _spacer_path(parts: _Parts, scale: Scale) -> str:
    if not parts.spacer > 0.0:
        return ""
    low, high = parts.moved, parts.moved + parts.spacer
    inner, outer = shapes.SPACER_RADII
    return scale.path(((low, inner), (low, outer), (high, outer), (high, inner)))


def _centre_path(parts: _Parts, scale: Scale, row: Units) -> str:
    if parts.fit.wheel is None:
        return ""
    x = scale.x(parts.fit.wheel.centre_plane.value + parts.moved)
    top = parts.tyre.outside if parts.tyre else parts.rim
    highest = scale.y(max((r for _, r in top), default=0.0))
    return f"M{x:g} {highest - 12:g}V{row + 1.72 * _ROW:g}"


def _skin_path(parts: _Parts, scale: Scale) -> str:
    if parts.skin is None:
        return ""
    x = scale.x(parts.skin)
    return f"M{x:g} {_TOP:g}V{scale.y(0.0) - 30:g}"


def _dimensions(parts: _Parts, scale: Scale, row: Units) -> list[Dimension]:
    """Give the dimensions; those of the wheel stand below the axis, from the level `row` on."""
    wheel, faces = parts.fit.wheel, parts.fit.faces
    found = []
    if wheel is not None:
        face = parts.spacer + parts.moved
        inner = wheel.inboard_lip.value + parts.moved
        lip = scale.y(min(r for _, r in parts.rim)) if parts.rim else scale.y_axis
        line = across(scale, (inner, face), row, lip)
        drawn = dimension("backspacing", estimated(wheel.backspacing), line)
        beside = scale.x(wheel.centre_plane.value + parts.moved) + 6.0
        found.append(replace(drawn, x=beside, anchor="start"))
        line = across(scale, (wheel.centre_plane.value + parts.moved, parts.moved),
                       row + _ROW, scale.y_axis)  # fmt: skip
        offset = estimated(wheel.effective_offset, is_signed=True)
        drawn = dimension("effective offset", offset, line)
        if not drawn.is_outside:
            drawn = replace(drawn, x=line.right + 6.0, y=line.y + 8.0, anchor="start")
        found.append(drawn)
    if faces is not None and parts.tyre is not None:
        widest = max(parts.tyre.outside, key=lambda point: point[0])[1]
        ends = (faces.inboard.value + parts.moved, faces.outboard.value + parts.moved)
        crown = scale.y(_highest(parts, ends)) - 14.0
        line = across(scale, ends, crown, scale.y(widest))
        found.append(dimension("tyre width", estimated(faces.section_width), line, -8.0))
    return found


def _highest(parts: _Parts, ends: tuple[Mm, Mm]) -> Mm:
    """Give the height of the tyre, or of a site over it, between its two faces."""
    tyre = parts.tyre.outside if parts.tyre else ()
    points = [*tyre, *(point for _, shape in parts.sites for point in shape.points)]
    return max(r for u, r in points if ends[0] - 4.0 <= u <= ends[1] + 4.0)


def _poke(parts: _Parts, scale: Scale, foot: Units) -> list[Dimension]:
    """Give the dimension between the tyre's outboard face and the skin, below the labels' foot."""
    skin, faces = parts.fit.skin, parts.fit.faces
    if skin is None or faces is None or parts.skin is None or parts.tyre is None:
        return []
    widest = max(parts.tyre.outside, key=lambda point: point[0])[1]
    y = max(scale.y(widest) + 40.0, foot + _CLEAR)
    ends = (faces.outboard.value + parts.moved, parts.skin)
    line = across(scale, ends, y, scale.y(widest))
    name = "poke" if skin.value > 0.0 else "inside skin"
    drawn = dimension(name, replace(estimated(skin), value=abs(skin.value)), line)
    return [replace(drawn, x=10.0, y=y + 32.0, anchor="start", is_in_two=True,
                    extensions=drawn.extensions[1:])]  # fmt: skip


def _numbers(subject: SectionSubject, parts: _Parts) -> tuple[Fact, ...]:
    wheel, faces, tyre = parts.fit.wheel, parts.fit.faces, parts.fit.tyre
    facts = [
        Fact("backspacing", estimated(wheel.backspacing if wheel else None)),
        Fact(
            "effective offset",
            estimated(wheel.effective_offset if wheel else None, is_signed=True),
        ),
        Fact("tyre width", estimated(faces.section_width if faces else None)),
        Fact("tyre diameter", estimated(tyre.diameter if tyre else None)),
        Fact(
            "poke",
            estimated(parts.fit.skin, is_signed=True),
            "beyond the body's widest skin; minus is inside it",
        ),
    ]
    for at, _ in parts.sites:
        found = found_at(subject, at)
        if found is not None:
            facts.append(_fact(subject.sites[at].label, found))
    return tuple(facts)


def _fact(label: str, found: SiteFound) -> Fact:
    """Give the gap as reported, standing, and the word for its site where it is not clear."""
    if found.gap is None:
        return Fact(label, words(found.of_site), "as reported")
    note = "as reported"
    if found.of_site not in (CLEARS, ""):
        note = f"standing; the site: {called(found.of_site)}"
    return Fact(f"gap, {label}", said(found.gap), note)


def _poke_words(skin: Shown) -> str:
    if skin.value is None:
        return "Poke not known."
    if skin.value > 0.0:
        return f"The tyre stands {mm(skin.value)} beyond the body skin."
    return f"The tyre stands {mm(-skin.value)} inside the body skin."


def _caption(subject: SectionSubject, parts: _Parts) -> str:
    drawn = {at for at, _ in parts.sites}
    left_out = [site.label for at, site in enumerate(subject.sites) if at not in drawn]
    told = [
        f"{subject.fit.axle.value.capitalize()} left wheel from behind, outboard to the left; "
        "to scale, standing."
    ]
    if subject.setup is not None:
        told.append("Dashed: stock.")
    if any(each.gap and each.word == CLEARS for each in subject.found):
        told.append("A gap with no word below it: the site clears in motion too.")
    if subject.differs:
        told.append(f"{subject.differs.capitalize()}.")
    if parts.tyre is None:
        told.append("The fitted tyre's place is not known and is not drawn.")
    if overlapping(parts.sites):
        told.append("Overlapping parts lie fore and aft.")
    if left_out:
        told.append(f"Not in this section: {named_list(left_out)}.")
    return " ".join(told)
