"""A wheel bolt reaches what turns behind the hub."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Caution, Finding, Follows, Gravity, Hazard
from generator.assessment.written import apart
from generator.geometry.fastening import bolt_depth_check, bolt_reach
from generator.records.joint import is_bolted

HAZARD = Hazard(
    "H05",
    "wheel bolts behind the hub",
    "A bolt that is too long reaches the sensor ring, the brake shoes, the handbrake or the "
    "knuckle and turns against them.",
    "PRACTICE",
    Gravity.DANGER,
    Caution.FASTENERS,
)


def findings(end: End) -> Iterator[Finding]:
    """Hold the depth of the bolts against the free depth on the sheet; studs have none.

    Source: [PRACTICE] a bolt must not reach ring, shoe or knuckle.
    """
    if not is_bolted(end.fitted, end.sheet):
        return
    stack, free = end.stack(), end.sheet.fastening.free_depth
    if stack is None or free is None:
        yield HAZARD.not_known(
            end.where,
            "Whether the wheel bolts reach something behind the hub is not known.",
            measure="With the bolts in, turn the hub by hand and look behind it all round; measure "
            "bolt length, pad and the free depth behind the hub face.",
        )
        return
    reach = bolt_reach(stack.protrusion, spacer=stack.spacer, pad=stack.pad)
    check = bolt_depth_check(reach, free.value)
    reached, room = apart(check.value, check.bound)
    yield HAZARD.checked(
        end.where,
        check,
        "mm",
        sentence=f"The bolts reach {reached} mm past the hub face, and {room} mm is free there.",
        follows=Follows(
            holds="Turn the hub by hand with all bolts in and listen, before the first drive.",
            fails="Do not turn the wheel under power: shorter bolts, or the spacer they were made "
            "for.",
        ),
    )
