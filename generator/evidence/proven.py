"""The setups of a club as points of a chassis' offset window."""

from collections.abc import Iterable, Mapping

from generator.assessment.assess import Assessment
from generator.evidence.confidence import RecordConfidence
from generator.frozen import dataclass
from generator.quantities.units import Inch, Mm
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.records.words import Axle


@dataclass(frozen=True)
class ProvenPoint:
    """A setup of the club: its wheel, its effective offset and its flag in one word."""

    setup: str
    width: Inch
    effective_offset: Mm
    flag: str


def proven_points(
    axle: Axle,
    setups: Iterable[Filed[Setup]],
    *,
    assessments: Mapping[str, Assessment],
    confidence: Mapping[str, RecordConfidence],
) -> tuple[ProvenPoint, ...]:
    """Give the setups of a chassis as points of its window; withdrawn ones are left out."""
    found = []
    for filed in setups:
        if filed.value.withdrawn is not None or filed.id not in assessments:
            continue
        end = assessments[filed.id].front if axle is Axle.FRONT else assessments[filed.id].rear
        wheel = end.fit.fitted.wheel
        if wheel is None:
            continue
        fitted = filed.value.front if axle is Axle.FRONT else filed.value.rear
        width, flag = fitted.wheel.size.width_code, confidence[filed.id].flag.value
        found.append(ProvenPoint(filed.id, width, wheel.effective_offset.value, flag))
    return tuple(found)
