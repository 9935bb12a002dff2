"""A sheet's track does not follow from its hub faces and its stock wheels."""

from collections.abc import Iterator

from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.library import Library
from generator.records.rule import Rule, marked
from generator.records.told import apart, mm
from generator.records.words import Axle

TOLERANCE: Mm = 6.0
"""Between a track as published and hub faces as measured: common practice."""
_DIGITS = 6
"""A millionth of a millimetre: takes off the rounding of a difference, no more."""

RULE = Rule(
    code="L11",
    title="a track that does not follow from the hub faces",
    severity=Severity.WARNING,
    why="Track is the distance between the hub faces less twice the offset of the stock wheel. "
    "Where it is not, one of the three belongs to another car or has the wrong sign.",
    mend="Measure from hub face to hub face, and read the stock wheel's stamp again.",
    source="common practice",
    bad="chassis: {front: {track: 1443 mm}}",
    good="chassis: {front: {track: 1398 mm}}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Compute the track of both ends of each sheet."""
    for sheet in library.chassis.values():
        for axle in Axle:
            end = getattr(sheet.value, axle.value)
            face, offset = end.face_distance.value, end.stock_wheel.offset.value
            track = face - 2.0 * offset
            off = round(end.track.value - track, _DIGITS)
            if abs(off) <= TOLERANCE:
                continue
            yield RULE.fault(
                sheet.place(axle.value, "track"),
                f"the track of {end.track.typed} is {apart(off)} off the hub faces less twice the "
                "offset",
                expected=f"{mm(track)} ± {mm(TOLERANCE)}, from {mm(face)} less twice {mm(offset)}",
                fix=f"write `track: {mm(track)}` if the other two were measured",
                also=(
                    marked(sheet, "between the hub faces", axle.value, "face_distance"),
                    marked(sheet, "offset of the stock wheel", axle.value, "stock_wheel", "offset"),
                ),
            )
