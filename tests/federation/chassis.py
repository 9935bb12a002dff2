"""Chassis sheets of a federation: the six kinds of the demo, each with other numbers.

A kind says how a car is built; what differs between chassis of a kind is where the parts lie, how
far wheels travel and steer, and how well the sheet is known. A stock car keeps its room: parts are
moved away from the wheel, or towards it by less than the demo leaves over.
"""

import copy
import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

import yaml

KINDS = Path(__file__).parents[2] / "content_demo" / "chassis"
_LENGTH = re.compile(r"-?\d+(?:\.\d+)?")
_FIRST = ("Quarr", "Velt", "Ostra", "Brem", "Dunno", "Kess", "Ilvar", "Marra", "Tolve", "Wexa")
_LAST = ("dale", "mere", "wick", "holt", "garth", "lund", "combe", "stead", "moor", "ley")
_NEARER, _FURTHER = -1.0, 6.0
"""How far a part is moved, away from the wheel positive, mm."""
TRACK = 20
LEFT_OUT = 3
"""At most so many sites of the kind are not on a sheet."""
NEEDED = frozenset({"fender-lip", "quarter-lip", "strut-tube", "inner-wheelhouse"})


@dataclass(frozen=True)
class Sheet:
    """One chassis: its short name, the kind it is of, and its sheet as plain data."""

    slug: str
    kind: str
    data: dict[str, Any]

    def sites(self, axle: str) -> list[dict[str, Any]]:
        """Give the sites of one end."""
        return [site for site in self.data["sites"] if site["axle"] == axle]


@cache
def kinds() -> tuple[tuple[str, dict[str, Any]], ...]:
    """Read the six kinds as plain data, by no part of the guide."""
    loader = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
    return tuple(
        (path.stem, yaml.load(path.read_text("utf-8"), loader))
        for path in sorted(KINDS.glob("*.yaml"))
    )


def sheet(number: int, random: Random) -> Sheet:
    """Make the sheet of a chassis; the number makes its name its own."""
    kind, pattern = kinds()[number % len(kinds())]
    data = copy.deepcopy(pattern)
    series, rest = divmod(number, len(_FIRST) * len(_LAST))
    word = _FIRST[rest % len(_FIRST)] + _LAST[rest // len(_FIRST)]
    name = f"{word} {100 + 10 * series + number % 7}"
    for field in ("variants", "notes", "build_changes"):
        data.pop(field, None)
    data["name"], data["also_called"] = name, [f"{word} type {number + 1}"]
    _vary(data, random)
    keep = set(range(len(data["sites"])))
    loose = [i for i in sorted(keep) if data["sites"][i]["name"] not in NEEDED]
    keep -= set(random.sample(loose, random.randint(0, LEFT_OUT)))
    data["sites"] = [_moved(data["sites"][i], random) for i in sorted(keep)]
    return Sheet(name.lower().replace(" ", "-"), kind, data)


def _vary(data: dict[str, Any], random: Random) -> None:
    data["wheelbase"] = _shift(data["wheelbase"], random.randint(-60, 60))
    wider = random.randint(-TRACK, TRACK)
    circle = random.randint(-6, 6)
    for end in (data["front"], data["rear"]):
        for field in ("track", "face_distance", "body_width"):
            end[field] = _shift(end[field], wider)
        bolts, across = end["bolt_circle"].split("x")
        end["bolt_circle"] = f"{bolts}x{int(across) + circle}"
        end["brake"]["description"] = end["brake"]["description"].split(",")[0]
        move = end["suspension"]
        move["bump"] = _shift(move["bump"], random.randint(0, 4))
        move["droop"] = _shift(move["droop"], random.randint(-4, 4))
        if "hard_points" not in end and "camber_gain" in move:
            share = round(random.uniform(0.9, 1.1), 2)
            size, unit = move["camber_gain"].split(" ")
            move["camber_gain"] = f"{float(size) * share:.4f} {unit}"
    for lock in ("toe_out_lock", "toe_in_lock"):
        degrees = random.randint(-2, 1) / 2.0
        data["steering"][lock] = _shift(data["steering"][lock], degrees)


def _shift(text: str, by: float) -> str:
    """Move all numbers of a length by so much."""
    return _LENGTH.sub(lambda found: f"{float(found[0]) + by:g}", text)


def _moved(site: dict[str, Any], random: Random) -> dict[str, Any]:
    """Move a part away from the wheel, or a little towards it."""
    by = round(random.uniform(_NEARER, _FURTHER), 1)
    if "arc" in site:
        site["arc"]["radius"] = _shift(site["arc"]["radius"], by)
    elif "block" in site and site["facing"] == "inboard":
        site["block"]["y"] = _shift(site["block"]["y"], -by)
    elif "block" in site:
        across = "z" if " to " in site["block"]["x"] else "x"
        ahead = not site["block"][across].startswith("-")
        site["block"][across] = _shift(site["block"][across], by if ahead else -by)
    share = random.uniform(0.8, 1.25)
    for field in ("spread", "between_cars"):
        size = float(site[field].split(" ")[0]) * share
        site[field] = f"{max(1.0, round(2.0 * size) / 2.0):g} mm"
    return site
