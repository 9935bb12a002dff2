"""A closed nut can meet the end of the stud before it clamps the wheel."""

from collections.abc import Iterator

from generator.geometry.fastening import bottoming_by_depth
from generator.reading.fault import Fault, Mark, Severity
from generator.records.fitted import AxleSetup
from generator.records.joint import exact, nut_of, stack_of
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import apart, mm
from generator.records.words import Axle, NutForm

RULE = Rule(
    code="R20",
    title="a closed nut that bottoms",
    severity=Severity.ERROR,
    why="A closed nut that meets the stud's end feels tight and lets the torque wrench click, "
    "while the wheel is loose. Two turns of thread in hand are wanted.",
    mend="Fit open nuts or deeper ones, or shorter studs. Test: count the turns to the bottom of "
    "the nut by hand, off the car, and the turns to the seat on the wheel.",
    source="common practice",
    bad="setup: {front: {hardware: {nut_depth: 22 mm}}}",
    good="setup: {front: {hardware: {nut_depth: 28 mm}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Hold the depth of closed nuts against the stud that stands past the seat."""
    for axle, fitted, sheet in case.axles():
        stack = stack_of(fitted, sheet)
        hardware = fitted.hardware
        if hardware is None or hardware.nut_depth is None or stack is None:
            continue
        if nut_of(fitted, sheet) is not NutForm.CLOSED:
            continue
        depth = exact(hardware.nut_depth, "nut depth")
        found = bottoming_by_depth(stack, depth, pitch=hardware.thread.pitch)
        if found.outcome.value == "holds":
            continue
        past = stack.past_seat().value
        ends = "before the bottom" if found.value > 0.0 else "beyond the bottom"
        yield RULE.fault(
            case.setup.place(axle.value, "hardware", "nut_depth"),
            f"the stud ends {apart(found.value)} {ends} of a closed nut {hardware.nut_depth.typed} "
            "deep",
            expected=f"{mm(past + found.bound)} or more: {mm(past)} of stud past the seat and two "
            "turns",
            fix="use open or deeper nuts, or shorter studs",
            also=_marks(case, axle, fitted),
        )


def _marks(case: Case, axle: Axle, fitted: AxleSetup) -> tuple[Mark, ...]:
    marks = [marked(case.setup, "thickness of the pad", axle.value, "wheel", "pad_thickness")]
    if fitted.hardware is not None and fitted.hardware.length is not None:
        marks.insert(0, marked(case.setup, "length of the stud", axle.value, "hardware", "length"))
    elif case.chassis is not None:
        route = (axle.value, "fastening", "length")
        marks.insert(0, marked(case.chassis, "length of the stud", *route))
    return tuple(marks)
