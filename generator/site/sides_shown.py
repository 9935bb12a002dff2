"""Where left and right of one end of a car differ: in a word for lists, in numbers for its page."""

from collections.abc import Iterator

from generator.assessment.corner import at_side
from generator.assessment.fit import AxleFit, axle_fit
from generator.records.axle_sheet import AxleSheet
from generator.records.fitted import AxleSetup, SideValues
from generator.records.words import Axle, Side
from generator.site.facts import Fact, estimated
from generator.site.field_facts import group

_OF = {
    "spacer": "spacer",
    "section_width": "tyre",
    "diameter": "tyre",
    "camber": "camber",
    "ride_height_change": "ride height",
    "lips": "lips",
    "lips_gained": "lips",
}
"""What each field of one side is about."""


def sides_differ(fitted: AxleSetup) -> str:
    """Say what differs from left to right, so that no list gives one side's numbers for both."""
    given = [values for values in (fitted.left, fitted.right) if values is not None]
    about = (
        _OF[name]
        for name in SideValues.model_fields
        if any(getattr(values, name) is not None for values in given)
    )
    told = ", ".join(dict.fromkeys(about))
    return f"left and right differ: {told}" if told else ""


def sides_listed(axle: Axle, fitted: AxleSetup, sheet: AxleSheet | None) -> str:
    """Say it in a list, with the effective offset of either side where the spacers differ."""
    told = sides_differ(fitted)
    given = [values for values in (fitted.left, fitted.right) if values is not None]
    if sheet is None or all(values.spacer is None for values in given):
        return told
    offsets = []
    for side in (Side.LEFT, Side.RIGHT):
        wheel = axle_fit(axle, at_side(fitted, side), sheet).fitted.wheel
        if wheel is None:
            return told
        offsets.append(
            f"{side.value} {wheel.effective_offset.value:+.1f} mm".replace("-", "\u2212")
        )
    return f"{told}; effective offset {', '.join(offsets)}"


def left_fit(axle: Axle, fitted: AxleSetup, sheet: AxleSheet, fit: AxleFit) -> AxleFit:
    """Give where the left wheel stands, of which the drawings are."""
    here = at_side(fitted, Side.LEFT)
    return fit if here is fitted else axle_fit(axle, here, sheet)


def side_facts(axle: Axle, fitted: AxleSetup, sheet: AxleSheet | None) -> Iterator[Fact]:
    """Give what was written of one side alone, and where another spacer puts its wheel."""
    for side, values in ((Side.LEFT, fitted.left), (Side.RIGHT, fitted.right)):
        if values is None:
            continue
        for fact in group("", values).facts:
            yield Fact(f"{fact.label}, {side.value}", fact.value)
        if values.spacer is not None and sheet is not None:
            wheel = axle_fit(axle, at_side(fitted, side), sheet).fitted.wheel
            offset = estimated(wheel.effective_offset if wheel else None, is_signed=True)
            yield Fact(f"effective offset, {side.value}", offset)
