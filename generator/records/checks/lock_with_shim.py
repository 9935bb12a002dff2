"""The steering turns further than on the sheet although a shim shortens its way."""

from collections.abc import Iterator

from generator.quantities.units import Deg
from generator.reading.fault import Fault, Severity
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.words import Axle

SPREAD: Deg = 1.0
"""Lock of one car against another, and of its sides: common practice."""

RULE = Rule(
    code="R47",
    title="more lock with a shim than without",
    severity=Severity.WARNING,
    why="A shim at the stop takes lock away. More than the sheet's lock means that the two locks "
    "were swapped, or the stop was changed in another way.",
    mend="Measure both locks on turn plates with the shim in place. Work on stops is for those who "
    "know the steering; a stop that is missing is a do-not-drive.",
    source="common practice",
    bad="setup: {front: {stop_shim: 3 mm, toe_out_lock: 39 deg}}",
    good="setup: {front: {stop_shim: 3 mm, toe_out_lock: 35 deg}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Compare the front's locks with the sheet where a shim is fitted."""
    fitted = case.setup.value.front
    if case.chassis is None or fitted.stop_shim is None or not fitted.stop_shim.value > 0.0:
        return
    steering = case.chassis.value.steering
    pairs = (
        ("toe_out_lock", fitted.toe_out_lock, steering.toe_out_lock),
        ("toe_in_lock", fitted.toe_in_lock, steering.toe_in_lock),
    )
    for field, measured, sheet in pairs:
        if measured is None or measured.value <= sheet.value + SPREAD:
            continue
        yield RULE.fault(
            case.setup.place(Axle.FRONT.value, field),
            f"a lock of {measured.typed} with a shim of {fitted.stop_shim.typed} is "
            f"{measured.value - sheet.value:.1f} deg more than without",
            expected=f"less than {sheet.typed}",
            fix="measure the lock again with the shim in place",
            also=(marked(case.chassis, "without a shim", "steering", field),),
        )
