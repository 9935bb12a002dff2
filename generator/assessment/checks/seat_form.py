"""The seat of nut or bolt is not that of the wheel."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Caution, Finding, Follows, Gravity, Hazard

HAZARD = Hazard(
    "H04",
    "seats of nut and wheel",
    "Cone, ball, flat and shank seats carry only against their own kind, angle and radius. Another "
    "touches along a line, works loose, and can crack the wheel.",
    "PRACTICE",
    Gravity.DANGER,
    Caution.FASTENERS,
)


def findings(end: End) -> Iterator[Finding]:
    """Compare form, angle and radius of both seats.

    Source: [PRACTICE] seats are not mixed.
    """
    wheel = end.fitted.wheel.seat
    nut = end.fitted.hardware.seat if end.fitted.hardware else None
    if wheel is None or nut is None:
        missing = [word for word, seat in (("wheel", wheel), ("nut or bolt", nut)) if seat is None]
        yield HAZARD.not_known(
            end.where,
            f"The form of seat is not known for {' and '.join(missing)}.",
            measure="Blue the seat, tighten, take apart: the contact must be a full ring. The "
            "wheel's maker names form, angle or radius.",
        )
        return
    yield HAZARD.judged(
        end.where,
        holds=wheel == nut,
        sentence=f"The wheel's seat is {wheel}, the nut's {nut}.",
        follows=Follows(
            holds="Check with marking blue that the contact is a full ring at every hole.",
            fails=f"Do not drive on these: nuts or bolts with {wheel} are needed.",
        ),
    )
