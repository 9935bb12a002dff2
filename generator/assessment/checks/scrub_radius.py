"""The scrub radius changed, or changed its sign."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Finding, Follows, Gravity, Hazard
from generator.geometry.bound import PRACTICE, Change, at_most
from generator.geometry.loads import scrub_radius_change
from generator.geometry.steering import scrub_radius
from generator.geometry.steering_axis import SteeringAxis
from generator.geometry.tyre import loaded_radius
from generator.quantities.units import Mm
from generator.records.words import Axle

NOTICEABLE: Mm = 20.0
"""Change of scrub radius from which steering is noticeably different: common practice."""

HAZARD = Hazard(
    "H20",
    "scrub radius",
    "The lever between the tyre's road point and the steering axis passes kicks, torque and "
    "braking into the steering. A negative one turned positive loses its help when one brake "
    "circuit fails.",
    "PRACTICE",
    Gravity.CARE,
)


def findings(end: End) -> Iterator[Finding]:
    """Hold the change of scrub radius against what is noticed, and look at its sign; front only.

    Model: zero camber and steer; loaded radius 0.965 of the free one.
    Source: own derivation: shift less radius gain times tan of the inclination; [PRACTICE] bound.
    """
    if end.axle is not Axle.FRONT:
        return
    change = _change(end)
    if change is None:
        yield HAZARD.not_known(
            end.where,
            "The change of scrub radius is not known, as offset or tyre diameter is not.",
            measure="Measure backspacing and overall width, and the tyre's diameter.",
        )
        return
    grew = f"{_side(change.before)} to {_side(change.after)} of the steering axis"
    yield HAZARD.checked(
        end.where,
        at_most(abs(change.absolute), NOTICEABLE, source=PRACTICE),
        "mm",
        sentence=f"The scrub radius changes by {abs(change.absolute):.1f} mm; "
        f"from {NOTICEABLE:.3g} mm on it is noticed.",
        follows=Follows(
            holds="",
            fails="Expect kicks, heavier steering and wander on ruts; beyond 30 mm ask an "
            "engineer. Inspect joints and bearings more often.",
        ),
    )
    if change.turns_sign:
        yield HAZARD.judged(
            end.where,
            holds=False,
            sentence=f"The scrub radius changes its sign: the road point goes from {grew}.",
            follows=Follows(
                holds="",
                fails="Try one-sided grip and hard braking with care in a safe place. On a car "
                "with diagonal brake circuits ask an engineer first.",
            ),
        )


def _side(radius: Mm) -> str:
    """Say on which side of the steering axis the tyre meets the road."""
    return f"{abs(radius):.1f} mm {'inboard' if radius < 0.0 else 'outboard'}"


def _change(end: End) -> Change | None:
    stock, fitted, moved = end.fit.stock, end.fit.fitted, end.fit.change
    if stock.wheel is None or stock.tyre is None or fitted.tyre is None or moved is None:
        return None
    steering = end.chassis.steering
    inclination = steering.inclination.value
    axis = SteeringAxis(inclination, steering.caster.value, steering.axis_inset.value)
    radius = loaded_radius(stock.tyre.diameter).value
    before = scrub_radius(axis, stock.wheel.centre_plane.value, radius)
    return scrub_radius_change(
        before,
        moved.track.value / 2.0,
        radius_gain=loaded_radius(fitted.tyre.diameter).value - radius,
        inclination=inclination,
    )
