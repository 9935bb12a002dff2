"""From sheet and record to one corner of a car: how its wheel moves, and where it stops.

Camber is a difference against the sheet's own camber at the height the car stands at. Where a
record does not say where camber was set, it is taken as set at the top mount or an arm, and the
sites on a strut carry the other possibility in their uncertainty. Where a sheet has hard points the
wheel moves as they say; the sheet's gains are for those that have none.
"""

from dataclasses import field, replace
from functools import lru_cache
from math import radians, sqrt, tan

from generator.assessment.linked import (
    camber_over_travel,
    linkage,
    linked_corner,
    with_camber,
)
from generator.assessment.same import Same
from generator.frozen import dataclass
from generator.geometry.axle import (
    AxleCorner,
    HeldCentre,
    Location,
    PanhardRod,
    RigidAxle,
    TwistBeam,
    centring_adjustment,
    lowering_shift,
    rod_across,
)
from generator.geometry.axle import Side as GeometrySide
from generator.geometry.nearest import Moving
from generator.geometry.steering import lock_lost_at_rack, lock_lost_at_stop
from generator.geometry.steering_axis import SteeringAxis
from generator.geometry.suspension import Curves, IndependentCorner, Tilt, TravelCurve
from generator.geometry.travel import (
    Articulation,
    BumpStop,
    Locks,
    MotionRange,
    StopChange,
    TravelLimits,
    changed_limits,
)
from generator.quantities.quantity import Quantity
from generator.quantities.units import Deg, Mm
from generator.reading.fields import Figure
from generator.records.axle_sheet import AxleSheet, Suspension
from generator.records.chassis import Chassis, Steering
from generator.records.fitted import AxleSetup, SideValues
from generator.records.hard_points import HardPoints
from generator.records.words import (
    Axle,
    CamberBy,
    Side,
    StopKind,
    StopState,
    SuspensionKind,
)
from generator.records.words import Location as LocationWord

LOWER_JOINT_HEIGHT: Mm = -120.0
"""Height of the lower ball joint against the spin axis where a sheet has none: assumed, typical."""
_KEPT = 256
"""Corners kept: those that one record with its remedies asks for again and again."""
STOP_SQUEEZE = 0.4
"""Share of a rubber bump stop that a hard hit squeezes away: common practice, 0.3 to 0.5."""


@dataclass(frozen=True)
class Standing:
    """What a setup changed at one corner, apart from wheel, tyre and spacer.

    `travel_unknown` gives in words why the limits of travel are not known; empty if they are.
    """

    camber: Deg | None = None
    camber_by: CamberBy | None = None
    ride_height: Mm = 0.0
    stop: StopChange = field(default_factory=StopChange)
    travel_unknown: str = ""
    shim: Mm = 0.0
    toe_out_lock: Deg | None = None
    toe_in_lock: Deg | None = None
    rod_change: Mm = 0.0
    axle_error: Mm | None = None


@dataclass(frozen=True)
class CornerMotion:
    """One corner, ready to be swept. `camber_changed` is against the sheet, in degrees."""

    corner: Moving
    reach: MotionRange
    camber_changed: Deg
    camber_by: CamberBy | None
    travel_unknown: str


STOCK = Standing()
_SOLVED = (SuspensionKind.STRUT, SuspensionKind.DOUBLE_WISHBONE)


def at_side(setup: AxleSetup, side: Side) -> AxleSetup:
    """Give an axle's setup as it is on one side of the car."""
    values = {Side.LEFT: setup.left, Side.RIGHT: setup.right}.get(side)
    if values is None:
        return setup
    return setup.model_copy(update=_side_changes(setup, values))


def _side_changes(setup: AxleSetup, values: SideValues) -> dict[str, object]:
    changes: dict[str, object] = {}
    if values.spacer is not None and setup.spacer is not None:
        changes["spacer"] = setup.spacer.model_copy(update={"thickness": values.spacer})
    tyre = {
        name: getattr(values, name)
        for name in ("section_width", "diameter")
        if getattr(values, name) is not None
    }
    if tyre:
        changes["tyre"] = setup.tyre.model_copy(update=tyre)
    if values.camber is not None:
        changes["camber"] = values.camber
    if values.ride_height_change is not None and setup.ride_height is not None:
        height = setup.ride_height.model_copy(update={"change": values.ride_height_change})
        changes["ride_height"] = height
    body = {
        name: getattr(values, name)
        for name in ("lips", "lips_gained")
        if getattr(values, name) is not None
    }
    if body and setup.bodywork is not None:
        changes["bodywork"] = setup.bodywork.model_copy(update=body)
    return changes


def standing(setup: AxleSetup, sheet: AxleSheet) -> Standing:
    """Give what a setup changed at one corner."""
    stop, unknown = _stop_change(setup, sheet.suspension)
    height = setup.ride_height.change if setup.ride_height else None
    return Standing(
        camber=_value(setup.camber),
        camber_by=setup.camber_by,
        ride_height=height.value if height else 0.0,
        stop=stop,
        travel_unknown=unknown,
        shim=_value(setup.stop_shim) or 0.0,
        toe_out_lock=_value(setup.toe_out_lock),
        toe_in_lock=_value(setup.toe_in_lock),
        rod_change=_value(setup.rod_change) or 0.0,
        axle_error=_value(setup.axle_error),
    )


def _value(quantity: Quantity | None) -> float | None:
    return None if quantity is None else quantity.value


def _stop_change(setup: AxleSetup, suspension: Suspension) -> tuple[StopChange, str]:
    fitted = setup.bump_stop
    if fitted is None or fitted.state is StopState.ORIGINAL:
        return StopChange(), ""
    if fitted.state is StopState.REMOVED:
        return StopChange(), "the bump stop was removed, so the travel is not known"
    if suspension.stop is None:
        return StopChange(), "the sheet does not describe the bump stop that was changed"
    free = suspension.stop.free_height.value
    trimmed = _value(fitted.trimmed)
    spaced = _value(fitted.spaced) or 0.0
    if trimmed is None and fitted.free_height is not None:
        trimmed = free - fitted.free_height.value
    if trimmed is None and not spaced:
        return StopChange(), f"how much of the {fitted.state.value} bump stop is left is not known"
    cut = max(trimmed or 0.0, 0.0)
    if cut >= free:
        return StopChange(), "more was cut off the bump stop than the sheet says it has"
    return StopChange(trimmed=cut, packed=spaced + max(-(trimmed or 0.0), 0.0)), ""


def corner_motion(
    chassis: Chassis, axle: Axle, side: Side, changed: Standing = STOCK
) -> CornerMotion:
    """Build one corner of a chassis with what a setup changed there.

    Raises ValueError for a change that the geometry has no place for, such as a car lowered beyond
    its stops; the message says which. What was built before is given again.
    """
    sheet = chassis.front if axle is Axle.FRONT else chassis.rear
    if sheet.suspension.kind is not SuspensionKind.LIVE_AXLE:
        side = Side.LEFT  # as the right one, mirrored
    return _built(Same(chassis), axle, side, changed)


@lru_cache(maxsize=_KEPT)
def _built(kept: Same[Chassis], axle: Axle, side: Side, changed: Standing) -> CornerMotion:
    chassis = kept.it
    sheet = chassis.front if axle is Axle.FRONT else chassis.rear
    suspension = sheet.suspension
    steering = chassis.steering if axle is Axle.FRONT else None
    static = -changed.ride_height
    limits = TravelLimits(suspension.bump.value, suspension.droop.value)
    if suspension.stop is not None:
        stop = BumpStop(
            suspension.stop.free_height.value, suspension.stop.motion_ratio.value, STOP_SQUEEZE
        )
        limits = changed_limits(limits, stop, changed.stop)
    locks = _locks(steering, changed) if steering else Locks()
    reach = MotionRange(limits, locks, static, _articulation(suspension))
    camber = _camber_change(sheet, changed, static)
    corner = _corner(sheet, reach, steering, side=side, changed=replace(changed, camber=camber))
    return CornerMotion(corner, reach, camber, changed.camber_by, changed.travel_unknown)


def _camber_change(sheet: AxleSheet, changed: Standing, static: Mm) -> Deg:
    suspension = sheet.suspension
    if changed.camber is None or _is_rigid(suspension):
        return 0.0
    reference = _value(suspension.static_camber) or 0.0
    points = _hard_points(sheet)
    if points is not None:
        by_height = camber_over_travel(linkage(points), static)
    else:
        by_height = (suspension.camber_gain.value if suspension.camber_gain else 0.0) * static
    return changed.camber - reference - by_height


def _is_rigid(suspension: Suspension) -> bool:
    return suspension.kind in (SuspensionKind.LIVE_AXLE, SuspensionKind.TWIST_BEAM)


def _articulation(suspension: Suspension) -> Articulation | None:
    if not _is_rigid(suspension):
        return None
    up = suspension.articulation_up or suspension.bump
    down = suspension.articulation_down or suspension.droop
    return Articulation(abs(up.value), abs(down.value))


def _locks(steering: Steering, changed: Standing) -> Locks:
    out, into = steering.toe_out_lock.value, steering.toe_in_lock.value
    if changed.shim:
        lost = _lock_lost(steering, changed.shim, out)
        # Both wheels steer together: the other wheel loses lock in the ratio of the locks.
        out, into = out - lost, into - lost * into / out
    return Locks(
        changed.toe_out_lock if changed.toe_out_lock is not None else out,
        changed.toe_in_lock if changed.toe_in_lock is not None else into,
    )


def _lock_lost(steering: Steering, shim: Mm, lock: Deg) -> Deg:
    if steering.stop is StopKind.RACK or steering.stop_arm is None:
        if steering.arm is None:
            raise ValueError("the sheet has neither a stop arm nor a steering arm for the shim")
        return lock_lost_at_rack(shim, steering.arm.value, lock)
    return lock_lost_at_stop(shim, steering.stop_arm.value)


def _corner(
    sheet: AxleSheet,
    reach: MotionRange,
    steering: Steering | None,
    *,
    side: Side,
    changed: Standing,
) -> Moving:
    suspension = sheet.suspension
    tilt = Tilt(changed.camber or 0.0, 0.0, LOWER_JOINT_HEIGHT)
    at_knuckle = changed.camber_by is CamberBy.KNUCKLE
    points = _hard_points(sheet)
    if points is not None:
        joint = points.lower_arm.ball_joint.z.value
        on = linkage(points)
        on = on if at_knuckle else with_camber(on, tilt.angle)
        tilt = replace(tilt, z=joint) if at_knuckle else Tilt()
        return linked_corner(on, tilt, reach.limits, reach.locks)
    if suspension.kind is SuspensionKind.LIVE_AXLE:
        location = _location(suspension, changed)
        facing = GeometrySide.RIGHT if side is Side.RIGHT else GeometrySide.LEFT
        curve = _curve(suspension.fore_aft_gain)
        return AxleCorner(RigidAxle(sheet.face_distance.value, location, curve), facing)
    curves = Curves(
        camber=_curve(suspension.camber_gain),
        lateral=_curve(suspension.lateral_gain),
        fore_aft=_curve(suspension.fore_aft_gain),
        toe_out=_curve(suspension.toe_gain),
    )
    if suspension.kind is SuspensionKind.TWIST_BEAM:
        return TwistBeam(
            curves,
            _value(suspension.single_camber_gain) or 0.0,
            _value(suspension.single_toe_gain) or 0.0,
        )
    return IndependentCorner(
        curves,
        _axis(steering),
        knuckle_tilt=tilt if at_knuckle else Tilt(),
        mount_tilt=Tilt() if at_knuckle else tilt,
    )


def _hard_points(sheet: AxleSheet) -> HardPoints | None:
    """Give the hard points where the suspension is of a kind that can be solved from them."""
    return sheet.hard_points if sheet.suspension.kind in _SOLVED else None


def _axis(steering: Steering | None) -> SteeringAxis:
    if steering is None:
        return SteeringAxis()
    return SteeringAxis(
        inclination=steering.inclination.value,
        caster=steering.caster.value,
        distance=steering.axis_inset.value,
    )


def _curve(gain: Quantity | Figure | None) -> TravelCurve:
    return TravelCurve(() if gain is None else (gain.value,))


def panhard_rod(suspension: Suspension) -> PanhardRod | None:
    """Give the sheet's Panhard rod, its ends lying evenly across the car."""
    if suspension.rod is None:
        return None
    middle = _value(suspension.rod.centre_height) or 0.0
    on_right = suspension.rod.body_side is Side.RIGHT
    rise = suspension.rod.height_difference.value
    return rod_across(
        suspension.rod.length.value,
        body_height=middle + rise / 2.0,
        axle_height=middle - rise / 2.0,
        body_side=GeometrySide.RIGHT if on_right else GeometrySide.LEFT,
    )


def _location(suspension: Suspension, changed: Standing) -> Location:
    rod = panhard_rod(suspension)
    if rod is not None and suspension.location is LocationWord.PANHARD:
        lowered = -changed.ride_height
        if changed.axle_error is not None:
            adjusted = centring_adjustment(rod, lowered, shift=changed.axle_error)
            return replace(rod, adjustment=adjusted)
        return replace(rod, adjustment=changed.rod_change)
    aside = changed.axle_error or 0.0
    if suspension.watt is not None and suspension.watt.centre_height is not None:
        return HeldCentre(suspension.watt.centre_height.value, aside)
    return HeldCentre(_value(suspension.roll_centre_height) or 0.0, aside)


def lateral_shift(suspension: Suspension, changed: Standing) -> Mm | None:
    """Give how far to the left the axle stands off the middle, by lowering and rod.

    None if the axle is not on a Panhard rod.
    """
    rod = panhard_rod(suspension)
    if rod is None:
        return None
    return lowering_shift(replace(rod, adjustment=changed.rod_change), -changed.ride_height)


def strut_doubt(motion: CornerMotion, height: Mm) -> Mm:
    """Give the uncertainty of a gap on a strut where nobody said where camber was set.

    Either none of the change or all of it tilts the wheel against the strut: rectangular over the
    whole way [GUM] 4.3.7. height: of the site above the spin axis.
    """
    if motion.camber_by is not None or not motion.camber_changed:
        return 0.0
    return abs(height * tan(radians(motion.camber_changed))) / sqrt(3.0)
