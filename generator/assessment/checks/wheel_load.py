"""A wheel is rated for less than half of the axle load."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Caution, Finding, Follows, Gravity, Hazard
from generator.assessment.written import apart
from generator.geometry.loads import wheel_rating_check

HAZARD = Hazard(
    "H15",
    "load rating of the wheels",
    "A wheel rated for less than its share of the axle cracks from fatigue, long after the day it "
    "was fitted.",
    "SAEJ2530",
    Gravity.DANGER,
    Caution.LOADS,
)


def findings(end: End) -> Iterator[Finding]:
    """Hold the mark on the wheel against half the permitted axle load.

    Source: [SAEJ2530] section 4, second hand.
    """
    permitted = end.sheet.permitted_load.value
    rating = end.fitted.wheel.load_rating
    if rating is None:
        yield HAZARD.not_known(
            end.where,
            f"The wheel's load rating is not known; {permitted / 2.0:.0f} kg are needed.",
            measure="Read the mark on the back of a spoke, or ask the wheel's maker.",
        )
        return
    check = wheel_rating_check(rating.value, permitted)
    rated, needed = apart(check.value, check.bound, 0)
    yield HAZARD.checked(
        end.where,
        check,
        "kg",
        sentence=f"The wheel is rated {rated} kg; half the permitted axle load is {needed} kg.",
        follows=Follows(
            holds="See the bending moment, too.",
            fails="Do not drive on these wheels.",
        ),
    )
