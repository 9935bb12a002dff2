"""One fitment record of a federation as plain data: what its member would have written."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from random import Random
from typing import Any

from tests.federation.fitting import INCH, LOADS, RULE, End
from tests.federation.members import FINE, POOR, TOOL_SPREAD, Member
from tests.truth.swept import number

NOTED = 45.0
"""Gaps above it hardly anybody writes down, mm."""
ALIKE = 2.0
"""Sides that differ by less are written as one, by most members, mm."""
FIXED = frozenset({"strut", "knuckle", "upright", "axle"})
HOSES = ("hose", "wire", "boot", "filler", "tailpipe")
"""Nobody leaves these touching: they are moved before anything is written down."""
NEAR_HOSE = 4.0

Truly = Mapping[tuple[str, str], Mapping[tuple[str, str], float]]
"""Axle and site → state and side → true gap of this car, mm."""


@dataclass(frozen=True)
class Case:
    """A car with what is on it, before anybody measures."""

    slug: str
    car: str
    member: Member
    day: date
    front: End
    rear: End
    truly: Truly
    others: tuple[str, ...]
    """Names of other members with such a car."""
    may_slip: bool = True
    """Nobody slips over a car that was written up before: the first record is in hand."""
    earlier: str = ""
    """The record of the same car that this one replaces."""
    lips_rubbed: frozenset[str] = field(default_factory=frozenset)
    """Lips that touched before they were rolled."""


def record(case: Case, sheet: dict[str, Any], random: Random) -> dict[str, Any]:
    """Write the record of a case."""
    lines, named = _gaps(case, sheet, random)
    rubs = _rubs(case, sheet, random)
    silent = [site["label"] for site in sheet["sites"] if (site["axle"], site["name"]) not in named]
    who = case.member
    data: dict[str, Any] = {
        "title": _title(case, random),
        "chassis": "",
        "car": case.car,
        "member": who.name,
        "date": case.day.isoformat(),
        "odometer": who.distance(1000 * random.randint(40, 260)),
        "method": {
            "springs": "out" if who.springs_out else "in",
            "links": "off" if who.springs_out else "on",
            "tools": sorted({line["tool"] for line in lines if "tool" in line}),
            "load": who.mass(float(random.randint(60, 100))),
        },
        "front": _end(case, "front", sheet, random),
        "rear": _end(case, "rear", sheet, random),
        "gaps": lines,
    }
    data |= {"rubs": rubs} if rubs else {}
    remedies = _remedies(case)
    data |= {"remedies": remedies} if remedies else {}
    if random.random() < 0.85:
        marked = any(not rub["cured"] for rub in rubs)
        data["road"] = {
            "distance": who.distance(random.randint(200, 20000)),
            "outcome": "mark found" if marked else "no mark",
            "full_load": random.random() < 0.6,
            "full_lock": random.random() < 0.8,
        }
    if silent:
        data["not_checked"] = silent
    return data | _standing(case, sheet, random) | {"notes": _notes(case, random)}


def _gaps(
    case: Case, sheet: dict[str, Any], random: Random
) -> tuple[list[dict[str, Any]], set[tuple[str, str]]]:
    """Write the gaps of the sites this member looks at."""
    lines: list[dict[str, Any]] = []
    named = set()
    both = {site["name"] for site in sheet["sites"] if site["axle"] == "front"} & {
        site["name"] for site in sheet["sites"] if site["axle"] == "rear"
    }
    for site in sheet["sites"]:
        key = (site["axle"], site["name"])
        near = min(case.truly[key].values())
        if near < NEAR_HOSE and any(word in site["name"] for word in HOSES):
            continue
        if not random.random() < case.member.thorough * (1.0 if near < NOTED else 0.3):
            continue
        named.add(key)
        axle = {"axle": site["axle"]} if site["name"] in both else {}
        for side, said in _said(case, site, random):
            lines.append({"site": site["name"], **axle, "side": side, **said})
    return lines, named


def _said(case: Case, site: dict[str, Any], random: Random) -> list[tuple[str, dict[str, Any]]]:
    """Read one site on both sides in one state."""
    gaps = case.truly[site["axle"], site["name"]]
    states = list(dict.fromkeys(state for state, _ in gaps))
    state = min(states, key=lambda each: min(gap for (s, _), gap in gaps.items() if s == each))
    if random.random() < 0.15:
        state = random.choice(states)
    sides = [side for s, side in gaps if s == state]
    tool = _tool(case, site["moves_with"] in FIXED, random)
    true = [gaps[state, side] for side in sides]
    if len(sides) == 2 and not case.member.each_side and abs(true[0] - true[1]) < ALIKE:
        sides, true = ["both"], [sum(true) / 2.0]
    found = []
    for side, gap in zip(sides, true, strict=True):
        found.append((side, {"state": state, **_reading(case, gap, tool, random)}))
    return found


def _tool(case: Case, beside_wheel: bool, random: Random) -> str:
    who = case.member
    if case.may_slip and random.random() < who.poor_tools:
        return random.choice(POOR)
    return who.fine_tool if beside_wheel else who.plain_tool


def _reading(case: Case, gap: float, tool: str, random: Random) -> dict[str, Any]:
    who = case.member
    read = gap + random.gauss(0.0, who.care * TOOL_SPREAD[tool])
    if case.may_slip and random.random() < who.slips:
        read += random.choice((-1.0, 1.0)) * random.uniform(8.0, 20.0)
    if read <= 0.0:
        return {"gap": "touches"} if gap < 4.0 else {"gap": who.gap(1.0, tool), "tool": tool}
    if read > NOTED:
        return {"gap": f"more than {who.gap(NOTED - 5.0, tool)}", "tool": "by eye"}
    if read > 6.0 and tool not in FINE and random.random() < 0.06:
        return {"gap": "clears"}
    return {"gap": who.gap(read, tool), "tool": tool}


def _rubs(case: Case, sheet: dict[str, Any], random: Random) -> list[dict[str, Any]]:
    """Marks: of lips before they were rolled, and where something truly touches."""
    rubs = []
    for site in sheet["sites"]:
        axle, name = site["axle"], site["name"]
        if name in case.lips_rubbed:
            side = random.choice(("left", "right", "both"))
            rubs.append({
                "site": name, "side": side, "grade": random.randint(1, 2),
                "when": "with two aboard over a crest, before the lip was rolled",
                "cured": True, "remedy": "lip rolled",
            })  # fmt: skip
            continue
        if site["moves_with"] in FIXED:
            continue
        worst = {side for (_, side), gap in case.truly[axle, name].items() if gap <= 0.0}
        if worst and not any(word in name for word in HOSES):
            where = {"axle": axle} if _stands_twice(sheet, name) else {}
            side = "both" if len(worst) == 2 else worst.pop()
            rubs.append({
                "site": name, **where, "side": side, "grade": random.randint(1, 2),
                "when": random.choice(("full lock backing up a kerb", "over a crest, loaded")),
                "cured": False,
            })  # fmt: skip
    return rubs


def _stands_twice(sheet: dict[str, Any], name: str) -> bool:
    return len({site["axle"] for site in sheet["sites"] if site["name"] == name}) == 2


def _remedies(case: Case) -> list[dict[str, Any]]:
    found = []
    for axle, name in (("front", "fender-lip"), ("rear", "quarter-lip")):
        end: End = getattr(case, axle)
        if end.lips_gained:
            more = {"cured": [name]} if name in case.lips_rubbed else {}
            amount = case.member.length(end.lips_gained, 1.0)
            found.append({"kind": "lip rolled", "axle": axle, "amount": amount, **more})
    return found


def _end(case: Case, axle: str, sheet: dict[str, Any], random: Random) -> dict[str, Any]:
    """Write one end: wheel, tyre, hardware, height, stops and lips."""
    end: End = getattr(case, axle)
    who, data = case.member, sheet[axle]
    live = data["suspension"]["kind"] in ("live axle", "twist beam")
    found: dict[str, Any] = {"wheel": _wheel(end, who, data, random)}
    if end.spacer:
        found["spacer"] = {
            "thickness": f"{end.spacer:g} mm", "kind": "slip-on", "count": 1,
            "material": "aluminium",
        }  # fmt: skip
    found["tyre"] = _tyre(end, who, case.day, random)
    if random.random() < 0.8:
        found["hardware"] = _hardware(end, who, data["fastening"], random)
    if not live and (axle == "front" or end.camber_set):
        standing = end.camber_set + _own_camber(data, end.lowered) + random.gauss(0.0, 0.05)
        found["camber"] = f"{standing:.1f} deg"
        found["camber_by"] = "top mount or arm"
    if end.lowered:
        found["ride_height"] = {"change": who.length(-end.lowered, 1.0)}
    if end.trimmed:
        found["bump_stop"] = {"state": "trimmed", "trimmed": who.length(end.trimmed, 1.0)}
    elif random.random() < 0.8:
        found["bump_stop"] = {"state": "original"}
    if live and data["suspension"]["kind"] == "live axle" and random.random() < 0.8:
        found["axle_error"] = who.length(end.aside + random.gauss(0.0, 0.5))
    if end.lips_gained:
        found["bodywork"] = {"lips": "rolled", "lips_gained": who.length(end.lips_gained, 1.0)}
    else:
        found["bodywork"] = {"lips": "stock"}
    return found


def _own_camber(data: dict[str, Any], lowered: float) -> float:
    return number(data["suspension"].get("camber_gain", "0")) * lowered


def _wheel(end: End, who: Member, data: dict[str, Any], random: Random) -> dict[str, Any]:
    overall = end.true_width + INCH
    back = overall / 2.0 + end.true_offset
    found: dict[str, Any] = {"size": f"{end.size.width:g} x {end.size.code}"}
    if random.random() < 0.9:
        found["offset"] = f"{end.offset} mm"
    if "offset" not in found or random.random() < 0.7:
        found["backspacing"] = who.length(back + random.gauss(0.0, RULE))
        found["overall_width"] = who.length(overall + random.gauss(0.0, RULE / 2.0), 1.0)
    load = number(data["permitted_load"]) / 2.0
    mass = 1.2 * end.size.width - 0.4
    return found | {
        "material": "aluminium",
        "bolt_circle": data["bolt_circle"],
        "bore": f"{number(data['pilot_diameter']) + 0.1:g} mm",
        "seat": data["fastening"]["seat"],
        "pad_thickness": "12 mm",
        "load_rating": who.mass(5.0 * round(load / 5.0) + 5.0 * random.randint(2, 20)),
        "masses": [who.mass(mass + random.uniform(0.0, 0.2)) for _ in range(2)],
    }


def _tyre(end: End, who: Member, day: date, random: Random) -> dict[str, Any]:
    low, high = end.size.rims
    found: dict[str, Any] = {
        "size": end.size.tyre,
        "approved_rims": f"{low:g} to {high:g} in",
    }
    if who.measures_tyres:
        found["section_width"] = who.length(end.section + random.gauss(0.0, RULE), 1.0)
        found["diameter"] = who.length(end.diameter + random.gauss(0.0, RULE), 1.0)
    made = day - timedelta(days=random.randint(60, 1000))
    year, week, _ = made.isocalendar()
    return found | {
        "pressure": who.pressure(random.choice((2.0, 2.1, 2.2, 2.3, 2.4))),
        "date_codes": [f"{min(week, 52):02d}{year % 100:02d}"] * 2,
    }


def _hardware(end: End, who: Member, sheet: dict[str, Any], random: Random) -> dict[str, Any]:
    thread, length = sheet["thread"], number(sheet["length"])
    pitch = float(thread.split("x")[1]) if "x" in thread else INCH / float(thread.split("-")[1])
    bolts = sheet["fixing"] == "bolts"
    engaged = length if bolts else 18.0
    turns = round(2.0 * engaged / pitch) / 2.0
    found: dict[str, Any] = {"thread": thread}
    longer = end.spacer + 12.0 if bolts else end.spacer if end.spacer > 5.0 else 0.0
    found["length"] = f"{length + longer:g} mm"
    found |= {"nut": "bolt" if bolts else "open", "seat": sheet["seat"]}
    found |= {"turns": f"{turns:g}", "engagement": f"{engaged:g} mm"}
    found |= {"torque": who.torque(number(sheet["torque"])), "lubricated": False}
    if random.random() < 0.7:
        found["retorqued_after"] = who.distance(random.choice((50, 60, 80, 100)))
        found["nuts_moved"] = random.random() < 0.15
    if longer and not bolts:
        found["studs_changed"] = "longer studs pressed in"
    return found


def _standing(case: Case, sheet: dict[str, Any], random: Random) -> dict[str, Any]:
    """What others say of the record, and what became of it."""
    found: dict[str, Any] = {}

    def later(least: int, most: int) -> str:
        return (case.day + timedelta(days=random.randint(least, most))).isoformat()

    if case.others and random.random() < 0.3:
        how = random.choice(("measured the same car", "fitted to another car",
                             "reviewed the photographs"))  # fmt: skip
        found["confirmations"] = [
            {"member": random.choice(case.others), "date": later(5, 200), "how": how}
        ]
    if random.random() < 0.05:
        what = random.choice(("tyre pressure, was written for the other end",
                              "odometer, was read from the trip counter"))  # fmt: skip
        found["corrections"] = [{"date": later(3, 90), "what": what}]
    if case.others and random.random() < 0.03:
        site = random.choice(sheet["sites"])
        dispute = {"date": later(10, 300), "member": random.choice(case.others),
                   "site": site["name"], "claim": "mine has half of that"}  # fmt: skip
        settled = {"settled": "measured together; the record stands"}
        found["disputes"] = [dispute | (settled if random.random() < 0.5 else {})]
    if case.earlier:
        found["supersedes"] = case.earlier
    if not case.earlier and random.random() < 0.02:
        reason = random.choice(("the car had other hubs, as it turned out",
                                "the tyres were not those of the size written here"))  # fmt: skip
        found["withdrawn"] = {"date": later(20, 400), "reason": reason}
    return found


def _title(case: Case, random: Random) -> str:
    front, rear = case.front.size, case.rear.size
    sizes = f"{front.width:g} x {front.code}"
    if front.width != rear.width:
        sizes = f"{front.width:g} and {rear.width:g} x {front.code}"
    ends = {f"offset {case.front.offset}", f"offset {case.rear.offset}"}
    more = []
    if case.front.lowered:
        more.append(random.choice(("lowered", "a little lower", "on shorter springs")))
    if case.front.lips_gained or case.rear.lips_gained:
        more.append("lips rolled")
    if case.rear.spacer:
        more.append("with spacers behind")
    return ", ".join([f"{sizes} at {' and '.join(sorted(ends))}", *more])


_NOTES = (
    "Measured over two evenings, with the tank half full.",
    "The second reading was within a millimetre of the first one everywhere but at the lip.",
    "Looks near when the car stands, and there is more room than one thinks.",
    "Chalked the tyre and drove round the yard at full lock: *no mark*.",
    "I would not go wider than this without rolling the lips.",
    "The liner was **cold** when I measured; it may sag in summer.",
    "Counted the turns of every nut, then once more the next day.",
    "Nothing here was bought for show; it is driven to work all year.",
)


def _notes(case: Case, random: Random) -> str:
    chosen = random.sample(_NOTES, random.randint(1, 4))
    if len(chosen) > 2:
        listed = "\n".join(f"- {line}" for line in chosen[1:])
        return f"{chosen[0]}\n\n{listed}\n"
    loads = f"The index {case.front.size.load} carries {LOADS[case.front.size.load]} kg a tyre."
    return "\n\n".join([*chosen, loads]) + "\n"
