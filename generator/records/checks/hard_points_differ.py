"""A sheet's hard points do not suit its suspension, or put the steering axis elsewhere."""

from collections.abc import Iterator

from generator.quantities.units import Deg, Mm
from generator.reading.fault import Fault, Severity
from generator.records.axle_sheet import AxleSheet
from generator.records.chassis import Chassis
from generator.records.hard_points import HardPoint, HardPoints
from generator.records.library import Filed, Library
from generator.records.rule import Rule, marked
from generator.records.told import mm
from generator.records.words import Axle, SuspensionKind

LEAN_WITHIN: Deg = 0.5
INSET_WITHIN: Mm = 3.0
"""Joints found with rule and plumb line give the axis to about this: common practice."""

RULE = Rule(
    code="L26",
    title="hard points that do not agree with the sheet",
    severity=Severity.ERROR,
    why="Where a sheet has hard points the wheel's motion is solved from them, and scrub radius "
    "from the angles beside them. Both must tell of one car.",
    mend="Give `upper_arm` for a double wishbone and `top_mount` for a strut, not both, and "
    "measure the joints again at the reference ride height, straight ahead.",
    source="own rule of the guide",
    bad="chassis: {front: {hard_points: {"
    "lower_arm: {front_pivot: {x: 150 mm, y: -400 mm, z: -110 mm},"
    " rear_pivot: {x: -150 mm, y: -400 mm, z: -110 mm},"
    " ball_joint: {x: 8 mm, y: -40 mm, z: -120 mm}},"
    " top_mount: {x: -35 mm, y: -204 mm, z: 516 mm},"
    " tie_rod: {inner: {x: 130 mm, y: -345 mm, z: -70 mm},"
    " outer: {x: 130 mm, y: -80 mm, z: -80 mm}}}}}",
    good="chassis: {front: {hard_points: {"
    "lower_arm: {front_pivot: {x: 150 mm, y: -400 mm, z: -110 mm},"
    " rear_pivot: {x: -150 mm, y: -400 mm, z: -110 mm},"
    " ball_joint: {x: 8 mm, y: -71 mm, z: -120 mm}},"
    " top_mount: {x: -35 mm, y: -204 mm, z: 516 mm},"
    " tie_rod: {inner: {x: 130 mm, y: -345 mm, z: -70 mm},"
    " outer: {x: 130 mm, y: -80 mm, z: -80 mm}}}}}",
    is_live=False,
)
_UPPER = {
    SuspensionKind.STRUT: "top_mount",
    SuspensionKind.DOUBLE_WISHBONE: "upper_arm",
}


def check_library(library: Library) -> Iterator[Fault]:
    """Compare the hard points of both ends of every sheet with what stands beside them."""
    for sheet in library.chassis.values():
        for axle in Axle:
            end: AxleSheet = getattr(sheet.value, axle.value)
            if end.hard_points is None:
                continue
            upper = _upper(end.hard_points, end.suspension.kind)
            if upper is None:
                yield _unsuited(sheet, axle, end)
            elif axle is Axle.FRONT:
                yield from _axis(sheet, end.hard_points, upper)


def _upper(points: HardPoints, kind: SuspensionKind) -> HardPoint | None:
    """Give the upper end of the steering axis; None where the points do not suit the kind."""
    if kind is SuspensionKind.STRUT and points.upper_arm is None:
        return points.top_mount
    if kind is SuspensionKind.DOUBLE_WISHBONE and points.upper_arm and points.top_mount is None:
        return points.upper_arm.ball_joint
    return None


def _unsuited(sheet: Filed[Chassis], axle: Axle, end: AxleSheet) -> Fault:
    kind = end.suspension.kind
    wanted = _UPPER.get(kind)
    return RULE.fault(
        sheet.key_place(axle.value, "hard_points"),
        f"these hard points do not describe a {kind.value}",
        expected=f"`{wanted}` and no other upper end" if wanted else "no hard points",
        fix=f"give `{wanted}`" if wanted else "leave `hard_points` out",
        also=(marked(sheet, "the kind", axle.value, "suspension", "kind"),),
    )


def _axis(sheet: Filed[Chassis], points: HardPoints, upper: HardPoint) -> Iterator[Fault]:
    from generator.geometry.steering_axis import axis_through

    joint = points.lower_arm.ball_joint
    place = sheet.key_place(Axle.FRONT.value, "hard_points")
    try:
        axis = axis_through(_xyz(joint), _xyz(upper))
    except ValueError:
        yield RULE.fault(
            place,
            "the upper end of the steering axis does not lie above the lower ball joint",
            expected="a greater `z` above",
            fix="measure both joints again",
        )
        return
    steering = sheet.value.steering
    for name, said, by_points, within in (
        ("inclination", steering.inclination, axis.inclination, LEAN_WITHIN),
        ("caster", steering.caster, axis.caster, LEAN_WITHIN),
        ("axis_inset", steering.axis_inset, axis.distance, INSET_WITHIN),
    ):
        if abs(by_points - said.value) > within:
            value = mm(by_points) if name == "axis_inset" else f"{by_points:.1f} deg"
            yield RULE.fault(
                place,
                f"the joints give `{name}` {value}, the sheet says {said.typed}",
                expected=f"within {within:g} of each other",
                fix="measure the joints again, or the angles",
                also=(marked(sheet, "the sheet's own", "steering", name),),
            )


def _xyz(point: HardPoint) -> tuple[Mm, Mm, Mm]:
    return point.x.value, point.y.value, point.z.value
