"""The offset is the wheel's own; a spacer is counted in its own field and nowhere else."""

from collections.abc import Iterator

from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.fitted import AxleSetup
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import apart, as_typed, mm
from generator.records.wheel_sum import (
    THINNEST_COUNTED,
    Slip,
    WheelSum,
    explained,
    wheel_sum,
)
from generator.records.words import Axle

OFFSETS_WITHIN: Mm = 2.0
"""Two offsets of one wheel, stamped and measured, that differ by the spacer: common practice."""

RULE = Rule(
    "R08",
    "spacer counted twice",
    Severity.WARNING,
    "Offset and backspacing are the bare wheel's, and the spacer has its own field. A value that "
    "already has the spacer in it is counted twice, and the wheel is placed wrong by the spacer.",
    "Write offset and backspacing as they are without the spacer.",
    "common practice",
    "setup: {front: {wheel: {offset: 16 mm}, spacer: {thickness: 6 mm, kind: slip-on}}}",
    "setup: {front: {spacer: {thickness: 6 mm, kind: slip-on}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Check one setup."""
    for axle, fitted, _ in case.axles():
        total = wheel_sum(fitted.wheel)
        if total is not None and explained(total, fitted) is Slip.SPACER:
            yield _by_backspacing(case, axle, fitted, total)
        else:
            yield from _by_both_offsets(case, axle, fitted)


def _by_backspacing(case: Case, axle: Axle, fitted: AxleSetup, total: WheelSum) -> Fault:
    spacer = as_typed(fitted.spacer.thickness) if fitted.spacer else ""
    in_offset = total.closure > 0.0
    field = total.offset_field if in_offset else "backspacing"
    other = "backspacing" if in_offset else total.offset_field
    said, bare, rest = (
        (total.offset_typed, total.offset_by_sum, total.backspacing_typed)
        if in_offset
        else (total.backspacing_typed, total.backspacing_by_sum, total.offset_typed)
    )
    route = (axle.value, "wheel")
    return RULE.fault(
        case.setup.place(*route, field),
        f"{field.replace('_', ' ')} {as_typed(said)} is {apart(total.closure)} less than "
        f"{other.replace('_', ' ')} {as_typed(rest)} asks for, and the spacer is {spacer}",
        expected=f"{mm(bare)}, the bare wheel's",
        fix=f"write `{field}: {mm(bare)}` if the spacer was taken off it already",
        also=(
            marked(case.setup, "counted here", axle.value, "spacer", "thickness"),
            marked(case.setup, f"asks for {mm(bare)}", *route, other),
        ),
    )


def _by_both_offsets(case: Case, axle: Axle, fitted: AxleSetup) -> Iterator[Fault]:
    wheel, spacer = fitted.wheel, fitted.spacer
    if wheel.offset is None or wheel.offset_measured is None or spacer is None:
        return
    less = wheel.offset.value - wheel.offset_measured.value
    thick = spacer.thickness.value
    if thick < THINNEST_COUNTED or abs(abs(less) - thick) > OFFSETS_WITHIN:
        return
    low, high = ("offset_measured", "offset") if less > 0.0 else ("offset", "offset_measured")
    bare = max(wheel.offset.value, wheel.offset_measured.value)
    yield RULE.fault(
        case.setup.place(axle.value, "wheel", low),
        f"the two offsets differ by {apart(less)}, and the spacer is {as_typed(spacer.thickness)}",
        expected=f"about {mm(bare)} in both, the bare wheel's",
        fix=f"write `{low}: {mm(bare)}` if the spacer was taken off it already",
        also=(
            marked(case.setup, "counted here", axle.value, "spacer", "thickness"),
            marked(case.setup, "the other offset", axle.value, "wheel", high),
        ),
    )
