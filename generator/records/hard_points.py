"""Hard points of a suspension: its joints and pivots at reference height, straight ahead.

Coordinates are in the corner frame: x forward, y outboard, z up, from the point where the spin axis
meets the hub's mounting face.
"""

from generator.reading.fields import Length, Model, described


class HardPoint(Model):
    """A joint or pivot."""

    x: Length = described("forward of the hub", example="11 mm", usual=(-600, 600), required=True)
    y: Length = described(
        "outboard of the hub face", example="-76 mm", usual=(-800, 60), required=True
    )
    z: Length = described("above the hub", example="-120 mm", usual=(-300, 900), required=True)


class ArmPoints(Model):
    """An A-arm, or an arm with a radius rod: two pivots on the body, one ball joint."""

    front_pivot: HardPoint = described("pivot on the body ahead", required=True)
    rear_pivot: HardPoint = described("pivot on the body behind", required=True)
    ball_joint: HardPoint = described("ball joint at the knuckle", required=True)


class TieRodPoints(Model):
    """The rod that steers the knuckle."""

    inner: HardPoint = described("end at the rack or drag link", required=True)
    outer: HardPoint = described("end at the knuckle", required=True)


class HardPoints(Model):
    """A strut by its lower arm, line and top mount, or a double wishbone by its two arms."""

    lower_arm: ArmPoints = described("lower arm", required=True)
    upper_arm: ArmPoints | None = described("double wishbone: upper arm")
    top_mount: HardPoint | None = described("strut: middle of the top mount")
    on_strut: HardPoint | None = described(
        "strut: another point of its line; the lower ball joint where none is given"
    )
    tie_rod: TieRodPoints = described("tie rod", required=True)
