"""Published numbers of wheel fastening and of wheel tests, as typed functions.

The bands of torque and engagement are common practice: the vehicle maker's own figure, and whoever
is licensed to judge the joint, come first.
"""

from generator.published import values
from generator.published.tables import row, rows
from generator.quantities.thread import MM_PER_INCH, Thread, ThreadSystem
from generator.quantities.units import Mm2, Ratio

_NEWTON_PER_KILONEWTON = 1000.0


def property_class(name: str) -> values.PropertyClass:
    """Strength of a bolt or stud, such as `10.9`. Source: [ISO898-1] tables; yield from memory."""
    return values.PropertyClass(*map(float, row("iso898-1", "property_class", name)))


def stress_area(thread: Thread) -> Mm2:
    """Give the printed stress area of a thread. Source: [ISO898-1], [ASMEB1.1] for inch threads."""
    if thread.system is ThreadSystem.METRIC:
        return float(row("iso898-1", "metric_stress_area", thread.name))
    return float(row("asmeb1.1", "unified_stress_area", thread.name)) * MM_PER_INCH**2


def stripping_limits(thread: Thread) -> values.StrippingLimits:
    """Limits of size that govern stripping. Source: [ISO965-2] and [ASMEB1.1], from memory."""
    if thread.system is ThreadSystem.METRIC:
        return values.StrippingLimits(*row("iso965-2", "metric_limits", thread.name))
    inches = row("asmeb1.1", "unified_limits", thread.name)
    return values.StrippingLimits(*(inch * MM_PER_INCH for inch in inches))


def torque_factor(condition: str) -> values.TorqueFactor:
    """K for `dry`, `zinc plated` or `lubricated`. Source: [FASTENERDATA] values of K."""
    return values.TorqueFactor(*row("fastenerdata", "torque_factor", condition))


def preload_share() -> Ratio:
    """Preload of a joint to be undone again over the proof load. Source: [SHIGLEY] preload."""
    return float(row("shigley", "preload_share", "reusable"))


def torque_band(thread: Thread) -> values.TorqueBand:
    """Usual torque of a wheel nut; the vehicle maker's figure wins. Source: [PRACTICE]."""
    return values.TorqueBand(*map(float, row("practice", "torque_band", thread.name)))


def bolt_torque_band(thread: Thread) -> values.TorqueBand:
    """Usual torque of a wheel bolt, by diameter; the maker's figure wins. Source: [PRACTICE]."""
    return values.TorqueBand(*map(float, row("practice", "bolt_torque_band", thread.diameter)))


def engagement() -> values.Engagement:
    """Wanted and least length of engagement over diameter. Source: [PRACTICE]."""
    return values.Engagement(**rows("practice", "engagement"))


def seat_strength(thread: Thread) -> values.SeatStrength:
    """Give the loads of the seat strength test. Source: [SAEJ2315], second hand."""
    set_load, final_load, torque = row("saej2315", "seat_strength", thread.name)
    return values.SeatStrength(
        set_load * _NEWTON_PER_KILONEWTON, final_load * _NEWTON_PER_KILONEWTON, float(torque)
    )


def rotary_fatigue(material: str) -> values.RotaryFatigue:
    """Factors of the rotary fatigue moment by material. Source: [SAEJ328] equation 1, table 1."""
    friction = row("saej328", "rotary_fatigue", "friction")
    return values.RotaryFatigue(friction, *row("saej328", "rotary_fatigue_factor", material))


def bending_test() -> values.BendingTest:
    """Factors of the rotating bending test. Source: [UNR124] annex 6, from memory."""
    return values.BendingTest(**rows("unr124", "bending_test"))
