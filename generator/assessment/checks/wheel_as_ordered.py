"""A wheel is not what was ordered."""

from collections.abc import Iterator
from math import hypot, sqrt

from generator.assessment.car import End
from generator.assessment.finding import Finding, Follows, Gravity, Hazard
from generator.geometry.bound import Outcome
from generator.geometry.inspection import deviation_from_order
from generator.geometry.wheel import WheelDimensions, wheel_position
from generator.quantities.estimate import Basis, Estimate
from generator.quantities.quantity import Quantity
from generator.quantities.units import Mm
from generator.records.dimensions import STAMPED_OFFSET_U, STAMPED_WIDTH_U, measured, rim_width

STRAIGHTEDGE_U: Mm = 1.0 / sqrt(3.0)
"""Straightedge and rule, right within ±1 mm, rectangular [GUM] 4.3.7: common practice."""
WIDTH_TOLERANCE: Mm = 1.0
OFFSET_TOLERANCE: Mm = 2.0
"""What a wheel on arrival may differ from its order: common practice."""
_NO_SPACER = Estimate(0.0, 0.0, Basis.MEASURED)

HAZARD = Hazard(
    "H29",
    "wheel as ordered",
    "Wheels come with other figures than their order, and a wheel that has carried a tyre does not "
    "go back. Width, offset and backspacing measured on arrival show it in time.",
    "PRACTICE",
    Gravity.NOTE,
)


def findings(end: End) -> Iterator[Finding]:
    """Hold measured width, offset and backspacing against what was stamped or ordered.

    Model: the ordered backspacing follows from stamped width and offset and the lip's thickness,
    measured or 12.7 ± 3 mm.
    Source: [PRACTICE] width ±1, offset and backspacing ±2; [UNR124] 2.6 for the sum.
    """
    wheel = end.fitted.wheel
    width, offset = rim_width(wheel.size), wheel.offset
    yield _one(end, "width", wheel.width_measured, width, tolerance=WIDTH_TOLERANCE)
    if wheel.offset_measured is not None or wheel.backspacing is None:
        ordered = None if offset is None else offset.value
        yield _one(end, "offset", wheel.offset_measured, ordered, tolerance=OFFSET_TOLERANCE)
    yield _backspacing(end)


def _one(
    end: End, name: str, given: Quantity | None, ordered: Mm | None, *, tolerance: Mm
) -> Finding:
    if given is None or ordered is None:
        what = "measured" if given is None else "ordered or stamped"
        return HAZARD.not_known(
            end.where,
            f"The {name} {what} is not given.",
            measure=f"Measure the {name} of each wheel on arrival, in two or three places.",
        )
    value = measured(given, STRAIGHTEDGE_U, f"{name} measured")
    return _told(end, name, value, ordered, tolerance=tolerance)


def _backspacing(end: End) -> Finding:
    wheel = end.fitted.wheel
    if wheel.backspacing is None or wheel.offset is None:
        return _one(end, "backspacing", wheel.backspacing, None, tolerance=OFFSET_TOLERANCE)
    stamped = WheelDimensions(
        Estimate(rim_width(wheel.size), STAMPED_WIDTH_U, Basis.STAMPED),
        Estimate(wheel.offset.value, STAMPED_OFFSET_U, Basis.STAMPED),
        overall_width=_measured(wheel.overall_width, "overall width measured"),
        flange_inboard=_measured(wheel.flange_inboard, "flange measured"),
    )
    implied = wheel_position(stamped, _NO_SPACER)
    # The order's own tolerance is the bound; only the lip's thickness adds to the reading's u.
    doubt = implied.flange_inboard.u
    if 2.0 * doubt > OFFSET_TOLERANCE:
        return HAZARD.not_known(
            end.where,
            f"The backspacing measured is {wheel.backspacing.value:.1f} mm; what was ordered is "
            "not known in that form, as the inboard lip was not measured.",
            measure="Measure the inboard lip's thickness; the two lips of a wheel may differ.",
        )
    value = measured(wheel.backspacing, hypot(STRAIGHTEDGE_U, doubt), "backspacing measured")
    ordered = implied.backspacing.value
    return _told(end, "backspacing", value, ordered, tolerance=OFFSET_TOLERANCE)


def _measured(length: Quantity | None, source: str) -> Estimate | None:
    return None if length is None else measured(length, STRAIGHTEDGE_U, source)


def _told(end: End, name: str, value: Estimate, ordered: Mm, *, tolerance: Mm) -> Finding:
    found = deviation_from_order(value, ordered, tolerance=tolerance)
    off = found.deviation.value
    differs = (
        f"{abs(off):.1f} mm {'more' if off > 0.0 else 'less'} than" if abs(off) >= 0.05 else "as"
    )
    is_close = found.check.outcome is Outcome.TOO_CLOSE_TO_SAY
    known = f", measured to ±{value.u:.1f} mm" if is_close else ""
    return HAZARD.checked(
        end.where,
        found.check,
        "mm",
        sentence=f"The {name} measured is {value.value:.1f} mm, {differs} ordered "
        f"({ordered:.1f} mm){known}; up to {tolerance:.3g} mm either way is accepted.",
        follows=Follows(
            holds="",
            fails="Measure again from lip to pad, not to the spoke; then ask the seller before a "
            "tyre goes on.",
        ),
    )
