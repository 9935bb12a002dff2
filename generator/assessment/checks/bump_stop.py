"""Too little bump travel, or damper, is left."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.corner import corner_motion, standing
from generator.assessment.finding import Caution, Finding, Follows, Gravity, Hazard
from generator.geometry.bound import PRACTICE, at_least
from generator.geometry.travel import remaining
from generator.quantities.units import Mm
from generator.records.words import Axle, StopState

LEAST_BUMP: dict[Axle, Mm] = {Axle.FRONT: 30.0, Axle.REAR: 40.0}
"""Bump travel to be kept from where the car stands: common practice."""
LEAST_RESERVE: Mm = 8.0
"""Damper travel to be left with the stop fully squeezed: common practice."""

HAZARD = Hazard(
    "H30",
    "bump travel",
    "A car that rides on its stops loses grip of a sudden, and a trimmed stop may let the damper "
    "bottom or the tyre reach further. A stop is never taken out altogether.",
    "PRACTICE",
    Gravity.CARE,
    Caution.SPRINGS,
)


def findings(end: End) -> Iterator[Finding]:
    """Hold the bump travel from the standing height, and the damper's reserve of a trimmed stop.

    Source: [PRACTICE] 30 mm front, 40 mm rear; damper reserve 8 to 12 mm.
    """
    yield _travel(end)
    stop = end.fitted.bump_stop
    if stop is None or stop.state is StopState.ORIGINAL:
        return
    if stop.damper_reserve is None:
        yield HAZARD.not_known(
            end.where,
            f"The bump stop was {stop.state.value}; what travel the damper has left behind it is "
            "not known.",
            measure="With the spring out and the stop squeezed hard, measure how far the damper "
            "still goes in.",
        )
        return
    yield HAZARD.checked(
        end.where,
        at_least(stop.damper_reserve.value, LEAST_RESERVE, source=PRACTICE),
        "mm",
        sentence=f"{stop.damper_reserve.value:.3g} mm of damper is left behind the squeezed stop.",
        follows=Follows(
            holds="The stop, not the damper, ends the travel.",
            fails="The damper may bottom and break: less trimmed, or another damper.",
        ),
    )


def _travel(end: End) -> Finding:
    changed = standing(end.fitted, end.sheet)
    if changed.travel_unknown:
        return HAZARD.not_known(
            end.where,
            f"The bump travel is not known: {changed.travel_unknown}.",
            measure="With the spring out, measure hub to a fixed point standing and on the stop.",
        )
    follows = Follows(
        holds="",
        fails="The car rides on its stops: raise it, or shorten spring travel otherwise; do not "
        "take the stop out.",
    )
    try:
        reach = corner_motion(end.chassis, end.axle, end.side, changed).reach
    except ValueError as trouble:
        return HAZARD.judged(
            end.where, holds=False, sentence=f"No bump travel is left: {trouble}.", follows=follows
        )
    bump = remaining(reach.limits, reach.static).bump
    least = LEAST_BUMP[end.axle]
    return HAZARD.checked(
        end.where,
        at_least(bump, least, source=PRACTICE),
        "mm",
        sentence=f"From where the car stands {bump:.0f} mm of bump travel is left; {least:.3g} mm "
        "is wanted.",
        follows=follows,
    )
