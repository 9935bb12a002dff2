"""Cases for both languages: inputs as the browser takes them, answers as Python computes them."""

import random
from collections.abc import Iterator
from dataclasses import replace
from math import isfinite
from typing import Any

import numpy as np

from generator.assessment.assess import axle_assessment
from generator.assessment.corner import Standing, corner_motion
from generator.assessment.fit import axle_fit
from generator.assessment.reach import seen_from
from generator.evidence.candidate import AxleChange, changed, degrees, millimetres, stock_axle
from generator.evidence.club import ChassisEvidence
from generator.evidence.distribution import Distribution, tabulated
from generator.evidence.joint import Demand, joint_clearance
from generator.evidence.normal import normal_cdf
from generator.evidence.verdict import AxleVerdict, axle_verdict
from generator.geometry.clearance import SectionPoint
from generator.geometry.distance import signed_distance
from generator.geometry.frames import positions
from generator.geometry.gradient import gap_gradient
from generator.geometry.outline import TyreSection, section_outline
from generator.geometry.sweep import Position, refined, swept
from generator.geometry.travel import Articulation, Locks, MotionRange, StopChange, TravelLimits
from generator.geometry.wheel import WheelDimensions, tyre_faces, wheel_position
from generator.quantities.estimate import Basis, Estimate
from generator.quantities.misread import Misread
from generator.quantities.rim_size import RimSize
from generator.quantities.tyre_size import read_tyre_size
from generator.records.chassis import Chassis
from generator.records.dimensions import nominal_tyre
from generator.records.fitted import AxleSetup
from generator.records.library import Filed
from generator.records.words import Axle, CamberBy, Lips, Side, StopState
from generator.site.guide import Guide
from generator.site.live.fitted import fitted_json
from generator.site.live.packing import packed
from tests.browser.cases import Case

SEED = 20260504
NOTATIONS = (
    "205/55 R 16 91V", "205/55R16", "P215/65r15 95H", "LT235/85 R 16 120/116 E",
    "225/40 ZR 18 (92Y)",
    "165 SR 13", "165 R 13", "175 R 14 C", "145-13", "190/65 R 390", "185-560 R 400A",
    "31x10.50R15LT 109Q", "33x12.50 R 15", "5.60-15", "7.00-16 LT", "6.50 R 16", "E70-14",
    "ER70-14", "31x10.50R15 LT",
    "205/55 RF 17 91W XL", "205/55 ZRF 17", "T125/70 D 15", "ST205/75 R 15", "HL 245/40 R 19 101Y",
    "195/50 B 15", "185/60 R 14 82H REINFORCED", "195/65 R 15 91T EXTRA LOAD", "225/45 R 17 SL",
    "215/75 R 17.5", "  185 / 65 R 15", "195/65r15LOAD RANGE D", "155/80 R 13 C",
)  # fmt: skip
MISREADS = (
    "", "hello", "205/R16", "205/57 R 16", "99/55 R 16", "205/55 R 31", "205/55 X 16", "205/55 R",
    "205 R 17", "205/55 R 16 300V", "205/55 R 16 (91V)", "205/55 R 16 91V 91V", "60/205 R 15",
    "205/55 R 16 91/95V", "9.5.5-15", "E71-14", "٢٠٥/55 R 16", "205/55 R 16 " + "x" * 60,
)  # fmt: skip


def kernel_cases() -> Iterator[Case]:
    """Give the cases of single formulas."""
    chance = random.Random(SEED)
    yield from _tyres(chance)
    yield from _wheels(chance)
    yield from _sections(chance)
    yield from _tables(chance)
    yield from _normals()
    yield from _ranges(chance)


def _tyres(chance: random.Random) -> Iterator[Case]:
    widths = [width for width in range(125, 345, 10) for _ in range(2)]
    sizes = [
        f"{width}/{chance.choice(range(25, 90, 5))} R{chance.choice((12, 13, 14, 15, 16, 17, 18))}"
        for width in widths
    ]
    for text in (*NOTATIONS, *MISREADS, *sizes):
        try:
            size = read_tyre_size(text)
        except Misread:
            yield Case("tyreSize", {"text": text}, [None])
            continue
        words: list[float | str | None] = [
            str(size), size.size, size.form.value, size.construction.value, size.rim_number,
            size.nominal_section_width, size.aspect_ratio, size.nominal_diameter,
        ]  # fmt: skip
        yield Case("tyreSize", {"text": text}, words)
        for rim in (114.3, 152.4, 177.8, 203.2, 254.0):
            known = nominal_tyre(size, rim)
            yield Case(
                "nominal",
                {"text": text, "rim": rim},
                [None] if known is None else [known.section_width, known.diameter],
            )


def _maybe(chance: random.Random, low: float, high: float) -> Estimate | None:
    if chance.random() < 0.5:
        return None
    return Estimate(chance.uniform(low, high), chance.choice((0.0, 0.3, 1.0, 2.5)), Basis.MEASURED)


def _wheels(chance: random.Random) -> Iterator[Case]:
    for _ in range(1400):
        width = chance.uniform(110.0, 310.0)
        offset = _maybe(chance, -60.0, 60.0)
        back = _maybe(chance, 60.0, 210.0)
        if offset is None and back is None:
            offset = Estimate(chance.uniform(-60.0, 60.0), 1.0, Basis.STAMPED)
        wheel = WheelDimensions(
            Estimate(width, chance.choice((0.0, 0.6)), Basis.STAMPED), offset, back,
            _maybe(chance, width + 15.0, width + 35.0), _maybe(chance, 5.0, 16.0),
            _maybe(chance, 5.0, 16.0),
        )  # fmt: skip
        spacer = Estimate(chance.choice((0.0, 5.0, 25.0)), 0.1, Basis.MEASURED)
        section = Estimate(chance.uniform(120.0, 330.0), 6.0, Basis.INFERRED)
        found = wheel_position(wheel, spacer)
        faces = tyre_faces(found, section)
        told = (
            found.width, found.flange_inboard, found.flange_outboard, found.offset,
            found.backspacing, found.front_spacing, found.effective_offset, found.centre_plane,
            found.inboard_lip, found.outboard_lip, faces.inboard, faces.outboard,
        )  # fmt: skip
        given = {
            "width": _plain(wheel.width), "offset": _plain(wheel.offset),
            "backspacing": _plain(wheel.backspacing), "overallWidth": _plain(wheel.overall_width),
            "flangeInboard": _plain(wheel.flange_inboard),
            "flangeOutboard": _plain(wheel.flange_outboard),
        }  # fmt: skip
        answer: list[float | str | None] = [part for each in told for part in (each.value, each.u)]
        answer += [cell for row in found.covariance for cell in row]
        yield Case(
            "wheel", {"wheel": given, "spacer": _plain(spacer), "section": _plain(section)}, answer
        )


def _plain(estimate: Estimate | None) -> dict[str, float] | None:
    return None if estimate is None else {"value": estimate.value, "u": estimate.u}


def _sections(chance: random.Random) -> Iterator[Case]:
    while True:
        seat = chance.choice((329.4, 354.8, 380.2, 405.6, 436.6))
        width = chance.uniform(145.0, 300.0)
        section = {
            "centre": chance.uniform(-70.0, 60.0), "section_width": width,
            "tread_width": width * chance.uniform(0.7, 1.0),
            "diameter": seat + chance.uniform(150.0, 290.0),
            "rim_width": width * chance.uniform(0.6, 1.05), "bead_seat_diameter": seat,
            "flange_inboard": chance.choice((0.0, 8.0, 12.7)), "flange_outboard": 12.7,
        }  # fmt: skip
        try:
            made = section_outline(TyreSection(**section))
        except ValueError:
            continue
        points = np.array(
            [
                (section["centre"] + chance.uniform(-240.0, 240.0), chance.uniform(90.0, 460.0))
                for _ in range(20)
            ]
        )
        gaps = signed_distance(points, made)
        for (u, r), gap in zip(points.tolist(), gaps.tolist(), strict=True):
            near = gap_gradient(SectionPoint(u, r), made)
            if abs(gap) < 0.01:
                continue
            rates = (
                near.centre, near.section_width, near.tread_width, near.diameter, near.rim_width,
                near.flange_inboard, near.flange_outboard,
            )  # fmt: skip
            yield Case("section", {"section": section, "u": u, "r": r}, [gap, *rates])
        if chance.random() < 1.0 / 80.0:
            return


def _tables(chance: random.Random) -> Iterator[Case]:
    points = np.arange(-60.0, 60.0, 0.05)
    tables: list[Distribution] = []
    for _ in range(16):
        share, first, second = chance.random(), chance.uniform(1.0, 5.0), chance.uniform(2.0, 9.0)
        below = share * normal_cdf((points - chance.uniform(-9.0, 9.0)) / first)
        below = below + (1.0 - share) * normal_cdf((points - chance.uniform(-4.0, 4.0)) / second)
        tables.append(tabulated(points, below))
    for table in tables:
        cells = packed(table).as_json()
        for u in (0.0, 0.02, 0.2, 0.4, 1.1, 3.5, 9.0):
            span = table.range(u)
            yield Case("range", {"table": cells, "u": u}, [span.low, span.median, span.high])
            for _ in range(10):
                x = chance.uniform(-25.0, 25.0)
                found = table.probability_above(x, u)
                yield Case("above", {"table": cells, "x": x, "u": u}, [found])
    for _ in range(120):
        picked = chance.sample(tables, chance.randint(1, 6))
        shared = chance.choice((0.0, 1.0, 6.0))
        demands = [
            Demand(
                table,
                Estimate(chance.uniform(-4.0, 30.0), chance.uniform(0.2, 4.0), Basis.INFERRED),
                chance.choice((0.0, 5.0, 12.0)), chance.uniform(-1.0, 1.0),
            )
            for table in picked
        ]  # fmt: skip
        found_joint = joint_clearance(demands, shared)
        asked = [
            {
                "table": packed(each.next_car).as_json(), "gap": each.computed.value,
                "own": each.computed.u, "wanted": each.wanted, "sensitivity": each.sensitivity,
            }
            for each in demands
        ]  # fmt: skip
        yield Case(
            "joint",
            {"demands": asked, "shared": shared},
            [found_joint.probability, found_joint.least, found_joint.most],
        )


def _normals() -> Iterator[Case]:
    for z in np.linspace(-9.5, 9.5, 191).tolist():
        yield Case("normal", {"z": z}, [float(normal_cdf(np.array([z]))[0])])


def _ranges(chance: random.Random) -> Iterator[Case]:
    """Positions that are looked at: with lock, with articulation, with neither."""
    for turn in range(60):
        limits = TravelLimits(chance.uniform(20.0, 110.0), chance.uniform(20.0, 120.0))
        rest = chance.uniform(-limits.droop, limits.bump)
        kinds = (
            MotionRange(
                limits, Locks(chance.uniform(10.0, 44.0), chance.uniform(10.0, 40.0)), rest
            ),
            MotionRange(limits, Locks(), rest, Articulation(chance.uniform(0.0, 90.0), 70.0)),
            MotionRange(limits, static=rest),
        )
        reach = kinds[turn % 3]
        at = swept(reach)
        place = chance.randrange(len(at))
        near = Position(*(float(row[place]) for row in (at.travel, at.steer, at.other_travel)))
        around = refined(reach, near, chance.choice((0.08, 0.02, 0.005)))
        width = 0.08 if turn % 2 else 0.02
        around = refined(reach, near, width)
        answer: list[float | str | None] = []
        for seen in (at, around):
            for row in zip(seen.travel, seen.steer, seen.other_travel, strict=True):
                answer += [float(part) for part in row]
        given = {
            "reach": _reach(reach), "width": width,
            "near": [near.travel, near.steer, near.other_travel],
        }  # fmt: skip
        yield Case("positions", given, answer)


def _reach(reach: MotionRange) -> dict[str, Any]:
    tilt = reach.articulation
    return {
        "limits": {"bump": reach.limits.bump, "droop": reach.limits.droop},
        "locks": {"toeOut": reach.locks.toe_out, "toeIn": reach.locks.toe_in},
        "static": reach.static,
        "articulation": None if tilt is None else {"up": tilt.up, "down": tilt.down},
    }


def motion_cases(guide: Guide) -> Iterator[Case]:
    """Give poses of every chassis of the demo, with every change that moves them."""
    chance = random.Random(SEED + 1)
    for filed in guide.chassis():
        for axle in Axle:
            for _ in range(14):
                yield _motion(filed, axle, chance)


def _motion(filed: Filed[Chassis], axle: Axle, chance: random.Random) -> Case:
    changed_to = Standing(
        camber=chance.choice((None, 0.0, -1.0, -2.6, 0.4)),
        camber_by=chance.choice((None, *CamberBy)),
        ride_height=chance.choice((0.0, -20.0, -38.0, 12.0)),
        stop=StopChange(trimmed=chance.choice((0.0, 6.0, 12.0)), packed=chance.choice((0.0, 7.0))),
        shim=chance.choice((0.0, 0.0, 2.0, 5.0)) if axle is Axle.FRONT else 0.0,
        rod_change=chance.choice((0.0, 3.0, -2.0)),
        axle_error=chance.choice((None, None, 3.0)),
    )
    side = chance.choice((Side.LEFT, Side.RIGHT))
    given = {
        "chassis": filed.id, "axle": axle.value, "side": side.value,
        "fitted": {
            "camber": changed_to.camber,
            "camberBy": changed_to.camber_by.value if changed_to.camber_by else None,
            "rideHeight": changed_to.ride_height,
            "stop": {
                "state": "trimmed", "trimmed": changed_to.stop.trimmed,
                "spaced": changed_to.stop.packed,
            },
            "shim": changed_to.shim, "rodChange": changed_to.rod_change,
            "axleError": changed_to.axle_error,
        },
    }  # fmt: skip
    try:
        motion = corner_motion(filed.value, axle, side, changed_to)
        at = swept(motion.reach)
        picked = [chance.randrange(len(at)) for _ in range(3)]
        asked = positions(at.travel[picked], at.steer[picked], other_travel=at.other_travel[picked])
        seen = motion.corner.poses(asked)
    except ValueError:
        return Case("motion", {**given, "positions": [[0.0, 0.0, 0.0]]}, [None])
    answer: list[float | str | None] = []
    for poses in (seen.body, seen.arm, seen.strut, seen.hub):
        for at_one in range(3):
            answer += poses.rotation[at_one].ravel().tolist()
            answer += poses.translation[at_one].tolist()
    rows = [
        [float(asked.travel[row]), float(asked.steer[row]), float(asked.other_travel[row])]
        for row in range(3)
    ]
    return Case("motion", {**given, "positions": rows}, answer)


def record_cases(guide: Guide) -> Iterator[Case]:
    """Give both ends of every setup of the demo, judged."""
    for setup in guide.setups():
        if setup.id not in guide.assessments:
            continue
        chassis = setup.value.chassis
        for axle, found in zip(Axle, guide.assessments[setup.id].axles(), strict=True):
            fitted = setup.value.front if axle is Axle.FRONT else setup.value.rear
            judged = axle_verdict(found, guide.evidence[chassis])
            yield from _judged(chassis, axle, {"fitted": fitted_json(fitted)}, judged)


def candidate_cases(guide: Guide, count: int) -> Iterator[Case]:
    """Give setups nobody has tried: stock or a record with random changes, judged."""
    chance = random.Random(SEED + 2)
    chassis = guide.chassis()
    made = 0
    while made < count:
        filed = chassis[made % len(chassis)]
        axle = list(Axle)[made // len(chassis) % 2]
        sheet = filed.value.front if axle is Axle.FRONT else filed.value.rear
        start = stock_axle(sheet)
        records = guide.setups_of(filed.id)
        if chance.random() < 0.4:
            record = chance.choice(records).value
            start = record.front if axle is Axle.FRONT else record.rear
        change, said = changes(chance, start, axle)
        try:
            fitted = changed(start, change)
        except ValueError:
            yield Case("changed", {"fitted": fitted_json(start), "change": said}, [None])
            continue
        made += 1
        given = {"fitted": fitted_json(start), "change": said}
        judged = judge(filed, axle, fitted, guide.evidence[filed.id])
        yield from _judged(filed.id, axle, given, judged)


def judge(
    filed: Filed[Chassis], axle: Axle, fitted: AxleSetup, evidence: ChassisEvidence
) -> AxleVerdict:
    """Judge an end by its sites alone."""
    sheet = filed.value.front if axle is Axle.FRONT else filed.value.rear
    found = tuple(seen_from(axle, fitted, filed.value))
    empty = filed.value.model_copy(update={"sites": ()})
    whole = axle_assessment(axle, fitted, empty)
    whole = replace(whole, fit=axle_fit(axle, fitted, sheet), clearances=found)
    return axle_verdict(whole, evidence)


_NUMBERS = (
    ("spacer", "spacer", (0.0, 3.0, 8.0, 20.0)),
    ("camber", "camber", (-3.0, -1.25, 0.0, 0.5)),
    ("ride_height", "rideHeight", (-40.0, -15.0, 0.0, 18.0)),
    ("trimmed", "trimmed", (0.0, 4.0, 15.0)),
    ("spaced", "spaced", (0.0, 6.0, 18.0)),
    ("section_width", "sectionWidth", (188.0, 215.5, 240.0)),
    ("tread_width", "treadWidth", (160.0, 195.0)),
    ("diameter", "tyreDiameter", (560.0, 601.5, 655.0)),
)


def changes(
    chance: random.Random, start: AxleSetup, axle: Axle
) -> tuple[AxleChange, dict[str, Any]]:
    """Give a change of an end at random, and the same as the browser takes it."""
    rim = start.wheel.size
    said: dict[str, Any] = {}
    told: dict[str, Any] = {}
    if chance.random() < 0.75:
        said["offset"] = chance.choice((-25.0, -3.0, 0.0, 12.5, 30.0, 45.0))
        told["offset"] = millimetres(said["offset"])
        if chance.random() < 0.7:
            width = chance.choice((5.0, 6.0, 7.0, 8.5, 10.0))
            told["size"] = RimSize(width, rim.diameter_code)
            said |= {"width": width, "diameter": rim.diameter_code}
    if chance.random() < 0.5:
        diameter = rim.diameter_code if chance.random() < 0.95 else 18
        text = f"{chance.randrange(155, 276, 10)}/{chance.choice((35, 45, 55, 65))} R {diameter:g}"
        told["tyre"], said["tyre"] = read_tyre_size(text), text
    for name, key, values in _NUMBERS:
        if chance.random() < 0.22:
            value = chance.choice(values)
            told[name] = (degrees if name == "camber" else millimetres)(value)
            said[key] = value
    if axle is Axle.FRONT and chance.random() < 0.3:
        said["shim"] = chance.choice((0.0, 3.0, 6.0))
        told["shim"] = millimetres(said["shim"])
    if "camber" in told:
        by = chance.choice((None, *CamberBy))
        told["camber_by"], said["camberBy"] = by, by.value if by else None
    if chance.random() < 0.1:
        told["stop"] = chance.choice((StopState.REMOVED, StopState.REPLACED, StopState.ORIGINAL))
        said["stop"] = told["stop"].value
    if chance.random() < 0.25:
        lips = chance.choice((*Lips, None))
        told["lips"], said["lips"] = lips, lips.value if lips else None
    if chance.random() < 0.2:
        said["lipsGained"] = chance.choice((0.0, 5.0, 11.0))
        told["lips_gained"] = millimetres(said["lipsGained"])
    return AxleChange(**told), said


def _judged(chassis: str, axle: Axle, given: dict[str, Any], judged: AxleVerdict) -> Iterator[Case]:
    answer: list[float | str | None] = [judged.word]
    if judged.joint is not None:
        answer += [judged.joint.probability, judged.joint.least, judged.joint.most]
    rows = sorted(judged.sites, key=lambda each: (each.clearance.site.name, each.side.value))
    for site in rows:
        answer += [site.clearance.site.name, site.side.value, site.clearance.condition.value]
        answer.append(site.word)
        least, gap = site.clearance.least, site.gap
        if least is None or gap is None or site.chance is None or site.free is None:
            answer.append(None)
            continue
        answer += [
            least.gap.value, least.u_setup, least.width_rate, site.chance, site.free,
            gap.low, gap.median, gap.high,
        ]  # fmt: skip
    assert all(isfinite(each) for each in answer if isinstance(each, float))
    yield Case("end", {"chassis": chassis, "axle": axle.value, **given}, answer)
