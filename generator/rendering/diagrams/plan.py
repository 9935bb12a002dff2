"""The left front corner from above: the tyre straight ahead and at both locks, standing.

Forward is up and outboard to the left, in the frame of the sheet. A tyre is shown by its outline
at hub height; sites stand where they are at that height. The pose in which the gap lacks most of
all is drawn behind. All places and gaps come from `assessment.plan_view`.
"""

from collections.abc import Callable, Iterable
from dataclasses import replace
from math import fsum

from generator.assessment.clearances import GapAt
from generator.assessment.plan_view import PlanPoint, PlanPose, PlanSite, PlanView, Worst
from generator.frozen import dataclass
from generator.geometry.travel import State
from generator.quantities.units import Mm
from generator.records.names import named_list
from generator.records.words import Attachment, Facing
from generator.rendering.dimensions import Bar, scale_bar
from generator.rendering.filters import mm
from generator.rendering.layout import (
    EDGE,
    LINE_HEIGHT,
    SHEET_WIDTH,
    WIDEST,
    Beside,
    Column,
    Label,
    Scale,
    Units,
    beside,
    broken,
    column,
    judgement,
    simplified,
    stacked,
)
from generator.rendering.room import free_place
from generator.site.drawings import PlanSubject
from generator.site.facts import Fact, Shown, below, estimated
from generator.site.readings import SHEET, TIGHT, TOUCHES

_MARGIN: Units = 152.0
_FREE: Units = 14.0
"""Between what is drawn and the words beside it."""
_TOP: Units = 46.0
_FOOT: Units = 86.0
_LARGEST_SCALE = 0.9
_SMOOTH: Mm = 1.6
"""How far a drawn outline may be off the computed one: less than its own breadth."""
_LIP = 2
"""Vertices of a lip at either end of a half."""
_THIN: Mm = 5.0
"""Breadth at which an edge is drawn, so that it can be seen."""
_FURTHEST: Mm = 520.0
_LOWEST: Mm = 400.0
"""How far behind the hub the names beside the drawing reach before they push each other up."""
_SPOT: Units = 6.0
_AWAY: Units = 8.0
_FORWARD: Units = 404.0
"""Where the arrow that points forward stands."""
_TRIED = tuple((off, right) for off in (0, 1, 2, 3, -1) for right in (*range(14), -1, -2))
"""Steps by which the name of a lock is moved until it lies on no line: away, and inboard."""
_Judge = Callable[[PlanSite], str]
_LOCKS = ((State.TOE_OUT_AT_STATIC, "toe-out"), (State.TOE_IN_AT_STATIC, "toe-in"))


@dataclass(frozen=True)
class Named:
    """A site with its name beside the drawing, and the lesser of its gaps at the two locks."""

    path: str
    style: str
    words: Beside
    gap: Shown
    word: str


@dataclass(frozen=True)
class Scene:
    """All coordinates of the drawing, in sheet units, and its words."""

    id: str
    title: str
    desc: str
    caption: str
    height: Units
    straight: str
    toe_out: str
    toe_in: str
    worst: str
    worst_x: Units
    worst_y: Units
    axis: str
    axis_x: Units
    axis_y: Units
    lines: tuple[tuple[Units, Units, str, str], ...]
    sites: tuple[Named, ...]
    foot_y: Units
    forward_x: Units
    bar: Bar
    numbers: tuple[Fact, ...] = ()


def scene(subject: PlanSubject) -> Scene:
    """Lay the drawing out."""
    view = subject.view
    scale, height = _scale(view)
    sites = _sites(view, scale, _word if subject.is_judged else _no_word)
    height = max([height, *(site.words.bottom + _FOOT for site in sites)])
    worst = view.worst
    return Scene(
        id=subject.id,
        title=f"The left {subject.axle} wheel at both locks from above. {_worst_words(worst)}",
        desc=_described(view),
        caption=_caption(view),
        height=height,
        straight=_outline(view.straight, scale),
        toe_out=_outline(view.toe_out, scale),
        toe_in=_outline(view.toe_in, scale),
        worst=_outline(worst.pose, scale) if worst else "",
        worst_x=scale.x(worst.nearest[1]) if worst else 0.0,
        worst_y=scale.y(worst.nearest[0]) if worst else 0.0,
        axis=_cross(view.axis, scale),
        axis_x=scale.x(view.axis[1]),
        axis_y=scale.y(view.axis[0]),
        lines=tuple(_lock_labels(view, scale, height - 14.0)),
        sites=sites,
        foot_y=height - 14.0,
        forward_x=_FORWARD,
        bar=scale_bar(scale.per_mm, height - 14.0),
    )


def gap_in(site: PlanSite, state: State) -> GapAt | None:
    """Give the computed gap of a site in a named state; None where it is not known."""
    return next((each for each in site.clearance.states if each.words == state.value), None)


def _scale(view: PlanView) -> tuple[Scale, Units]:
    points = [
        *view.straight.outline,
        *view.toe_out.outline,
        *view.toe_in.outline,
        *(view.worst.pose.outline if view.worst else ()),
    ]
    points += [point for site in view.sites for piece in site.pieces for point in piece]
    points = [point for point in points if max(abs(point[0]), abs(point[1])) < _FURTHEST]
    low, high = min(y for _, y in points), max(y for _, y in points)
    left, right = (
        max(_MARGIN, EDGE + column(_labels(each, _word), is_left=True).width + _FREE)
        for each in _left_and_right(view)
    )
    per_mm = min(_LARGEST_SCALE, (SHEET_WIDTH - left - right) / (high - low))
    front, back = max(x for x, _ in points), min(x for x, _ in points)
    y_axis = round(_TOP + per_mm * front, 1)
    middle = (left + SHEET_WIDTH - right) / 2.0
    x_face = round(middle + per_mm * (low + high) / 2.0, 1)
    return Scale(x_face, y_axis, per_mm), round(y_axis - per_mm * back + _FOOT, 1)


def _placed(points: Iterable[PlanPoint], scale: Scale) -> str:
    return scale.path((y, x) for x, y in points)


def _outline(pose: PlanPose, scale: Scale) -> str:
    """Draw a tyre by those of its vertices that make its shape."""
    half = len(pose.outline) // 2
    halves = (pose.outline[:half], pose.outline[half:])
    drawn = (
        point
        for each in halves
        for point in (*each[:_LIP], *simplified(each[_LIP:-_LIP], _SMOOTH), *each[-_LIP:])
    )
    return _placed(drawn, scale)


def _cross(at: PlanPoint, scale: Scale) -> str:
    x, y = scale.x(at[1]), scale.y(at[0])
    return f"M{x - 12:g} {y:g}h24M{x:g} {y - 12:g}v24"


def _lock_labels(
    view: PlanView, scale: Scale, foot: Units
) -> Iterable[tuple[Units, Units, str, str]]:
    """Name each lock at the end of its tyre that stands inboard, where there is most room."""
    drawn = [
        *(_drawn(piece) for site in view.sites for piece in site.pieces),
        *(pose.outline for pose in (view.straight, view.toe_out, view.toe_in)),
    ]
    lines = [[(scale.x(y), scale.y(x)) for x, y in (*each, each[0])] for each in drawn]
    lines.append([(_FORWARD, foot), (_FORWARD, foot - 46.0)])
    if view.worst is not None:
        x, y = scale.x(view.worst.nearest[1]), scale.y(view.worst.nearest[0])
        lines.append([(x - _SPOT, y - _SPOT), (x + _SPOT, y + _SPOT)])
    for pose, (x, y), down in (
        (view.toe_out, min(view.toe_out.outline), 30.0),
        (view.toe_in, max(view.toe_in.outline), -12.0),
    ):
        text = f"{round(abs(pose.position.steer), 1):g}° {pose.words.split()[0]}"
        level, begin = scale.y(x) + down, scale.x(y) + 6.0
        away = _AWAY if down > 0.0 else -_AWAY
        places = [(begin + _AWAY * right, level + away * off) for off, right in _TRIED]
        place = free_place(text, places, lines)
        yield (round(place[0], 1), round(place[1], 1), text, "start")


def _left_and_right(view: PlanView) -> tuple[list[PlanSite], list[PlanSite]]:
    right = [each for each in view.sites if each.clearance.site.facing is Facing.INBOARD]
    return [each for each in view.sites if each not in right], right


def _sites(view: PlanView, scale: Scale, judge: _Judge) -> tuple[Named, ...]:
    left, right = _left_and_right(view)
    return (
        *_beside(left, scale, judge, is_left=True),
        *_beside(right, scale, judge, is_left=False),
    )


def _middle(site: PlanSite) -> PlanPoint:
    points = [point for piece in site.pieces for point in piece]
    return (fsum(x for x, _ in points) / len(points), fsum(y for _, y in points) / len(points))


def _labels(sites: list[PlanSite], judge: _Judge) -> list[Label]:
    return [
        Label(0.0, (*broken(_short(each)), _lock(each), WIDEST, *judgement(judge(each))))
        for each in sites
    ]


def _beside(
    sites: list[PlanSite], scale: Scale, judge: _Judge, *, is_left: bool
) -> tuple[Named, ...]:
    labels = [
        replace(label, y=scale.y(_middle(each)[0]))
        for each, label in zip(sites, _labels(sites, judge), strict=True)
    ]
    within = column(labels, is_left=is_left)
    places = stacked(labels, _TOP - LINE_HEIGHT, scale.y(-_LOWEST))
    return tuple(
        _named(each, judge(each), label, y, scale=scale, within=within)
        for each, label, y in zip(sites, labels, places, strict=True)
    )


def _short(site: PlanSite) -> str:
    return site.clearance.site.label.split(",")[0]


def _named(
    site: PlanSite, word: str, label: Label, y: Units, *, scale: Scale, within: Column
) -> Named:
    gap = _at_lock(site)[0]
    x, across = _middle(site)
    on_body = site.clearance.site.moves_with is Attachment.BODY
    return Named(
        path="".join(_placed(_drawn(piece), scale) for piece in site.pieces),
        style=f"{'dw-body' if on_body else 'dw-solid'} dw-edge",
        words=beside(label, y, (scale.x(across), scale.y(x)), within, 1 + len(judgement(word))),
        gap=below(estimated(gap.gap if gap else None), site.clearance.wanted),
        word=word,
    )


def _lock(site: PlanSite) -> str:
    return f"at {_at_lock(site)[1] or 'a lock'}"


def _drawn(piece: tuple[PlanPoint, ...]) -> tuple[PlanPoint, ...]:
    """Give an edge or a point a breadth, so that it can be seen."""
    if len(piece) > 2:
        return piece
    (x1, y1), (x2, y2) = piece[0], piece[-1]
    low, high = min(x1, x2) - _THIN / 2.0, max(x1, x2) + _THIN / 2.0
    return ((low, y1 - _THIN / 2.0), (high, y2 - _THIN / 2.0),
            (high, y2 + _THIN / 2.0), (low, y1 + _THIN / 2.0))  # fmt: skip


def _at_lock(site: PlanSite) -> tuple[GapAt | None, str]:
    known = [(gap, words) for state, words in _LOCKS if (gap := gap_in(site, state)) is not None]
    return min(known, key=lambda each: each[0].gap.value, default=(None, ""))


def _word(site: PlanSite) -> str:
    gap = _at_lock(site)[0]
    if gap is None:
        return "unknown"
    if not gap.gap.value > 0.0:
        return TOUCHES
    return SHEET if gap.gap.value >= site.clearance.wanted else TIGHT


def _no_word(_: PlanSite) -> str:
    return ""


def _worst_words(worst: Worst | None) -> str:
    if worst is None or worst.clearance.least is None:
        return "Where the gap is least is not known."
    least = worst.clearance.least
    label = worst.clearance.site.label
    return f"Tightest of all positions: {label}, {mm(least.gap.value)}, {least.words}."


def _described(view: PlanView) -> str:
    locks = f"Toe-out lock {view.toe_out.position.steer:.1f}°"
    return f"{locks}, toe-in lock {-view.toe_in.position.steer:.1f}°; {len(view.sites)} sites."


def _caption(view: PlanView) -> str:
    told = [
        "Left wheel from above, forward up, outboard to the left; to scale, standing, cut at hub "
        "height. Hatched: straight ahead. Full lines: both locks. The cross is the steering axis."
    ]
    if view.worst is not None:
        told.append(
            f"Dashed: where it is tightest of all, {view.worst.pose.words}; "
            f"dot: {view.worst.clearance.site.label}."
        )
    if view.elsewhere:
        told.append(f"Higher or lower, so no line: {named_list(view.elsewhere)}.")
    return " ".join(told)
