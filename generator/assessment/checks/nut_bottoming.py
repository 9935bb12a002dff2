"""A closed nut meets the stud's end before it clamps the wheel."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Caution, Finding, Follows, Gravity, Hazard
from generator.assessment.written import apart
from generator.geometry.fastening import bottoming_by_depth
from generator.records.dimensions import FINE_U, measured
from generator.records.joint import nut_of, thread_of
from generator.records.words import NutForm

HAZARD = Hazard(
    "H03",
    "nuts that bottom",
    "A closed nut on a stud that is too long stops on the stud's end: the wrench clicks and the "
    "wheel is loose. Two turns of thread in hand are wanted.",
    "PRACTICE",
    Gravity.DANGER,
    Caution.FASTENERS,
)


def findings(end: End) -> Iterator[Finding]:
    """Hold the depth left in a closed nut against two turns; open nuts and bolts cannot bottom.

    Source: [PRACTICE] two turns in hand.
    """
    if nut_of(end.fitted, end.sheet) is not NutForm.CLOSED:
        return
    hardware, stack = end.fitted.hardware, end.stack()
    thread = thread_of(end.fitted, end.sheet)
    if hardware is None or hardware.nut_depth is None or stack is None or thread is None:
        yield HAZARD.not_known(
            end.where,
            "Whether the closed nuts seat before they meet the studs is not known.",
            measure="Off the car, run a nut onto the bare stud by hand and count the turns to its "
            "bottom; on the wheel count the turns to the seat: at least two fewer are wanted.",
        )
        return
    depth = measured(hardware.nut_depth, FINE_U, "nut depth measured")
    check = bottoming_by_depth(stack, depth, pitch=thread.pitch)
    left, wanted = apart(check.value, check.bound)
    free = f"{left} mm stays free" if check.value > 0.0 else "nothing stays free"
    follows = Follows(
        holds="",
        fails="Do not drive before the nuts are tried off the car: open or deeper nuts, or shorter "
        "studs.",
    )
    yield HAZARD.checked(
        end.where,
        check,
        "mm",
        sentence=f"Past the end of the stud {free} in the closed nut; two turns, "
        f"{wanted} mm, are wanted.",
        follows=follows,
    )
