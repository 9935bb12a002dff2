"""A chassis sheet as the browser's copy of the computation takes it: numbers, shapes, places."""

from generator.assessment import clearances
from generator.assessment.checks.thread_stripping import least_length
from generator.assessment.corner import STOP_SQUEEZE, panhard_rod
from generator.assessment.fit import stock_fit
from generator.assessment.sites import PlacedSite, placed
from generator.evidence.candidate import stock_axle
from generator.geometry.shapes import Arc, AtRadius, Block, Extent, Polyline, Ramp, Shape
from generator.records.axle_sheet import AxleSheet, Cap, Suspension
from generator.records.chassis import Chassis, Steering
from generator.records.hard_points import ArmPoints, HardPoint, HardPoints
from generator.records.words import Axle, Fixing, Location, StopKind, SuspensionKind
from generator.site.live.fitted import Json, bare, fitted_json, number, typed, word

_KINDS = {SuspensionKind.LIVE_AXLE: "axle", SuspensionKind.TWIST_BEAM: "beam"}
_SOLVED = (SuspensionKind.STRUT, SuspensionKind.DOUBLE_WISHBONE)
_VIEWS = {"body": "body", "strut": "strut", "arm": "arm"}


def end_json(sheet: AxleSheet, steering: Steering | None) -> Json:
    """Give one end of a car; `steering` where its wheels steer."""
    return {
        "faceDistance": sheet.face_distance.value,
        "track": sheet.track.value,
        "bodyWidth": number(sheet.body_width),
        "permittedLoad": sheet.permitted_load.value,
        "pilot": typed(sheet.pilot_diameter),
        "pilotHeight": sheet.pilot_height.value,
        "cap": _cap(sheet.cap),
        "fastening": _fastening(sheet),
        "brake": [(point.y.value, point.r.value) for point in sheet.brake.outline],
        "drum": sheet.brake.part == "drum",
        "stock": fitted_json(stock_axle(sheet)),
        "suspension": _suspension(sheet),
        "steering": None if steering is None else _steering(steering),
    }


def sites_json(chassis: Chassis) -> list[Json]:
    """Give all sites of a chassis, as they are on the stock car."""
    found = []
    for site in chassis.sites:
        sheet = chassis.front if site.axle is Axle.FRONT else chassis.rear
        found.append(_site(placed(site, None, stock_fit(sheet).faces)))
    return found


def _site(place: PlacedSite) -> Json:
    site = place.site
    return bare(
        {
            "name": site.name,
            "label": site.label,
            "axle": word(site.axle),
            "facing": word(site.facing),
            "part": word(site.part),
            "only": word(site.only),
            "view": _VIEWS.get(place.attachment.value, "hub"),
            "moves": place.attachment not in clearances._FIXED,
            "shape": None if place.shape is None else _shape(place.shape),
            "thickness": place.thickness,
            "wanted": site.wanted.value,
            "unknown": place.unknown or None,
            "caution": site.caution,
        }
    )


def _shape(shape: Shape) -> Json:
    if isinstance(shape, Block):
        return {"kind": "block", **{axis: _coordinate(getattr(shape, axis)) for axis in "xyz"}}
    if isinstance(shape, Arc):
        return {
            "kind": "arc",
            "x": shape.x,
            "z": shape.z,
            "radius": shape.radius,
            "begin": shape.start,
            "end": shape.end,
            "y": _coordinate(shape.y),
        }
    if isinstance(shape, Polyline):
        return {"kind": "line", "points": shape.points}
    if isinstance(shape, AtRadius):
        import numpy as np

        return {"kind": "point", "at": shape.at(np.zeros((1, 3)))[0].tolist()}
    raise TypeError(f"{type(shape).__name__} has no form for the browser")


def _coordinate(said: float | Extent | Ramp) -> object:
    if isinstance(said, Extent):
        return {"from": said.start, "to": said.end}
    if isinstance(said, Ramp):
        return {"ramp": (said.start, said.end)}
    return said


def _fastening(sheet: AxleSheet) -> Json:
    held = sheet.fastening
    return {
        "bolts": held.fixing is Fixing.BOLTS,
        "diameter": held.thread.diameter,
        "pitch": held.thread.pitch,
        "thread": str(held.thread),
        "length": held.length.value,
        "nut": word(held.nut),
        "freeDepth": number(held.free_depth),
        "strips": least_length(held.thread),
    }


def _cap(cap: Cap | None) -> Json | None:
    if cap is None:
        return None
    return {"projection": cap.projection.value, "diameter": typed(cap.diameter)}


def _suspension(sheet: AxleSheet) -> Json:
    given = sheet.suspension
    stop = given.stop
    points = sheet.hard_points if given.kind in _SOLVED else None
    return {
        "kind": _KINDS.get(given.kind, "independent"),
        "bump": given.bump.value,
        "droop": given.droop.value,
        "stop": None
        if stop is None
        else {
            "free": stop.free_height.value,
            "ratio": stop.motion_ratio.value,
            "squeeze": STOP_SQUEEZE,
        },
        "camberGain": number(given.camber_gain) or 0.0,
        "lateralGain": number(given.lateral_gain) or 0.0,
        "foreAftGain": number(given.fore_aft_gain) or 0.0,
        "toeGain": number(given.toe_gain) or 0.0,
        "staticCamber": number(given.static_camber) or 0.0,
        "singleCamber": number(given.single_camber_gain) or 0.0,
        "singleToe": number(given.single_toe_gain) or 0.0,
        "articulation": _articulation(given),
        "rod": _rod(given),
        "heldHeight": _held_height(given),
        "points": None if points is None else _points(points),
    }


def _articulation(given: Suspension) -> Json | None:
    if given.kind not in _KINDS:
        return None
    up, down = given.articulation_up or given.bump, given.articulation_down or given.droop
    return {"up": abs(up.value), "down": abs(down.value)}


def _rod(given: Suspension) -> Json | None:
    rod = panhard_rod(given) if given.kind is SuspensionKind.LIVE_AXLE else None
    if rod is None or given.location is not Location.PANHARD:
        return None
    return {"body": rod.body_end, "axle": rod.axle_end}


def _held_height(given: Suspension) -> float:
    if given.watt is not None and given.watt.centre_height is not None:
        return given.watt.centre_height.value
    return number(given.roll_centre_height) or 0.0


def _points(points: HardPoints) -> Json:
    on = points.on_strut or points.lower_arm.ball_joint
    return {
        "lower": _arm(points.lower_arm),
        "upper": None if points.upper_arm is None else _arm(points.upper_arm),
        "top": None if points.top_mount is None else _point(points.top_mount),
        "on": _point(on),
        "rod": {"inner": _point(points.tie_rod.inner), "outer": _point(points.tie_rod.outer)},
    }


def _arm(arm: ArmPoints) -> Json:
    return {
        "front": _point(arm.front_pivot),
        "rear": _point(arm.rear_pivot),
        "joint": _point(arm.ball_joint),
    }


def _point(point: HardPoint) -> tuple[float, float, float]:
    return (point.x.value, point.y.value, point.z.value)


def _steering(steering: Steering) -> Json:
    return {
        "inclination": steering.inclination.value,
        "caster": steering.caster.value,
        "axisInset": steering.axis_inset.value,
        "toeOut": steering.toe_out_lock.value,
        "toeIn": steering.toe_in_lock.value,
        "byRack": steering.stop is StopKind.RACK or steering.stop_arm is None,
        "arm": number(steering.arm),
        "stopArm": number(steering.stop_arm),
    }
