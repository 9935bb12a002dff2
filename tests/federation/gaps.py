"""True gaps by a sheet's shapes: every site, state and side of all cars of a chassis at once."""

from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np

from tests.federation.motion import Kind, Motion, Stance, combined
from tests.federation.section import Floats, Sections, Wheels
from tests.truth.swept import number

SPACING = 15.0
"""Between points of a site, mm; on a crown of 300 mm it hides 0.09 mm."""
LIPS = frozenset({"fender-lip", "quarter-lip"})
FIXED = "static"
"""The one state of a part that moves with the wheel."""

Place = tuple[str, str, str, str]
"""Axle, site, state, side."""


@dataclass(frozen=True)
class Fitted:
    """One end of all cars of a chassis: what turns, how it stands, and how far lips were moved."""

    wheels: Wheels
    stance: Stance
    lips_gained: Floats


def shape(site: dict[str, Any], stock: dict[str, Any]) -> tuple[Floats, float]:
    """Points (n, 3) of a site and its thickness."""
    if "arc" in site:
        arc = {key: number(value) for key, value in site["arc"].items()}
        count = 2 + int((arc["end"] - arc["begin"]) * arc["radius"] / 57.3 / SPACING)
        turn = np.radians(np.linspace(arc["begin"], arc["end"], count))
        x, z = (arc["radius"] * each(turn) for each in (np.cos, np.sin))
        return np.column_stack((arc["x"] + x, np.full_like(turn, arc["y"]), arc["z"] + z)), 0.0
    if "line" in site:
        corners = np.array([[number(corner[k]) for k in "xyz"] for corner in site["line"]])
        steps = np.linspace(0.0, 1.0, 40)[:, None]
        pieces = [a + steps * (b - a) for a, b in pairwise(corners)]
        return np.vstack(pieces), number(site.get("thickness", "0 mm"))
    if "reach" in site:
        face = -number(stock["stock_wheel"]["offset"])
        face -= number(stock["stock_tyre"]["section_width"]) / 2.0
        gap, radius = (number(site["reach"][key]) for key in ("stock_gap", "radius"))
        return np.array([[0.0, face - gap, radius]]), 0.0
    return _block(site["block"]), 0.0


def _block(block: dict[str, str]) -> Floats:
    runs = [_run(block[key]) for key in "xyz"]
    shares = [np.linspace(0.0, 1.0, 2 + int(abs(b - a) / SPACING)) for a, b, _ in runs]
    shares = [share[:1] if a == b else share for share, (a, b, _) in zip(shares, runs, strict=True)]
    ramps = [i for i, (_, _, is_ramp) in enumerate(runs) if is_ramp]
    if len(ramps) == 2:
        shares[ramps[0]] = np.zeros(1)
    grid = list(np.meshgrid(*shares, indexing="ij"))
    if len(ramps) == 2:
        grid[ramps[0]] = grid[ramps[1]]
    both = zip(runs, grid, strict=True)
    return np.column_stack([(a + share * (b - a)).ravel() for (a, b, _), share in both])


def _run(text: str) -> tuple[float, float, bool]:
    body = text.rsplit(" ", 1)[0]
    for mark in (" to ", " -> "):
        if mark in body:
            low, high = body.split(mark)
            return float(low), float(high), mark == " -> "
    return float(body), float(body), False


def gaps(sheet: dict[str, Any], axle: str, fitted: Fitted) -> dict[Place, Floats]:
    """Give the gaps (cars,) of an end at every place, by the sheet alone."""
    kind, sections = Kind(sheet, axle), Sections.of(fitted.wheels)
    states = kind.states(fitted.stance)
    turns = {side: _moves(kind, fitted.stance, side) for side in ("left", "right")}
    steers = _stacked([kind.steered(fitted.stance, steer) for _, _, steer in states.values()])
    found: dict[Place, Floats] = {}
    for site in (each for each in sheet["sites"] if each["axle"] == axle):
        points, thickness = shape(site, sheet[axle])
        rows = np.broadcast_to(points, (len(fitted.lips_gained), *points.shape))
        if site["name"] in LIPS:
            rows = rows + fitted.lips_gained[:, None, None] * np.array([0.0, 1.0, 0.0])
        sides = [side for side in ("left", "right") if site.get("only", side) == side]
        for side in sides:
            key, first = (axle, site["name"]), sides[0]
            if site["moves_with"] not in ("body", "arm"):
                found[*key, FIXED, side] = sections.gaps(rows) - thickness
                continue
            if side != first and (kind.is_symmetric or site["moves_with"] == "arm"):
                found |= {(*key, state, side): found[*key, state, first] for state in states}
                continue
            motion = turns[side] if site["moves_with"] == "body" else steers
            many = _seen(rows, motion, len(states))
            least = sections.gaps(many, len(states)).reshape(-1, len(states)) - thickness
            found |= {(*key, state, side): least[:, i] for i, state in enumerate(states)}
    return found


def _moves(kind: Kind, stance: Stance, side: str) -> Motion:
    """Motion of the wheel against the body in all states: rows are cars, in each all states."""
    return _stacked([
        combined(kind.carried(stance, pose, side), kind.steered(stance, pose[2]))
        for pose in kind.states(stance).values()
    ])  # fmt: skip


def _stacked(motions: list[Motion]) -> Motion:
    turns = np.stack([turn for turn, _ in motions], axis=1)
    shifts = np.stack([shift for _, shift in motions], axis=1)
    return turns.reshape(-1, 3, 3), shifts.reshape(-1, 3)


def _seen(points: Floats, motion: Motion, times: int) -> Floats:
    """Points of each car (cars, n, 3) as its wheel sees them in each state."""
    turn, shift = motion
    found: Floats = (np.repeat(points, times, axis=0) - shift[:, None, :]) @ turn
    return found
