"""The wheel bearing carries its load on a longer arm."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Finding, Follows, Gravity, Hazard
from generator.geometry.bound import PRACTICE, at_most
from generator.geometry.loads import STANDARD_GRAVITY, CornerLoad, bearing_moment_change
from generator.geometry.tyre import loaded_radius
from generator.quantities.units import Mm

WEARS: Mm = 20.0
"""Outboard shift from which bearings of older cars wear noticeably faster: common practice."""

HAZARD = Hazard(
    "H21",
    "load on the wheel bearing",
    "A tyre that stands further out loads the bearing on a longer arm: little in a corner, where "
    "the side force dominates, but all the time straight ahead.",
    "PRACTICE",
    Gravity.NOTE,
)


def findings(end: End) -> Iterator[Finding]:
    """Hold the tyre's outboard shift against what bearings feel, and state the moment it adds.

    Model: half the permitted axle load; arms counted from the stock wheel's centre plane, which a
    maker puts near the bearing's; corner with 1 g on the wheel.
    Source: own derivation: load times shift; [PRACTICE] bound.
    """
    moved, tyre = end.fit.change, end.fit.fitted.tyre
    if moved is None or tyre is None:
        yield HAZARD.not_known(
            end.where,
            "The load on the wheel bearings is not known, as the wheel's offset is not.",
            measure="Measure backspacing and overall width.",
        )
        return
    shift = moved.track.scaled(0.5)
    load = end.sheet.permitted_load.value / 2.0 * STANDARD_GRAVITY
    corner = CornerLoad(load, loaded_radius(tyre.diameter).value)
    inner = bearing_moment_change(corner, 0.0, arm=shift.value).inner_wheel
    way = "further out" if shift.value >= 0.0 else "further in"
    adds = "more" if shift.value >= 0.0 else "less"
    yield HAZARD.checked(
        end.where,
        at_most(shift, WEARS, source=PRACTICE),
        "mm",
        sentence=f"The tyre stands {abs(shift.value):.1f} mm {way} than stock: "
        f"{abs(inner.absolute):.0f} N·m {adds} on the bearing at the permitted load, "
        f"{abs(inner.percent or 0.0):.0f} % of a hard corner's.",
        follows=Follows(
            holds="Rock the wheel for play at each service.",
            fails="Bearings wear faster: rock and listen every few thousand kilometres.",
        ),
    )
