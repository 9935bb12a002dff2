"""How a review writes numbers: metric and inch together, with a sign where the sign is the news."""

from generator.evidence.distribution import Range
from generator.quantities.estimate import Estimate
from generator.quantities.units import Mm
from generator.rendering.filters import NO_BREAK, NOT_KNOWN, figure, inch, inches, mm, signed


def both(length: Mm, *, is_signed: bool = False) -> str:
    """Write a length in both units.

    >>> both(25.4).replace(NO_BREAK, " ")
    '25.4 mm (1.00 in)'
    """
    if is_signed:
        return f"{signed(length)}{NO_BREAK}mm ({inches(length, is_signed=True)}{NO_BREAK}in)"
    return f"{mm(length)} ({inch(length)})"


def limits(found: Range | None) -> str:
    """Write a limit: its middle and its range, in both units."""
    if found is None:
        return NOT_KNOWN
    low, middle, high = (signed(each) for each in (found.low, found.median, found.high))
    in_low, in_middle, in_high = (
        inches(each, is_signed=True) for each in (found.low, found.median, found.high)
    )
    return (
        f"{middle}{NO_BREAK}mm ({low} to {high}); {in_middle}{NO_BREAK}in ({in_low} to {in_high})"
    )


def number(estimate: Estimate | None, unit: str) -> str:
    """Write a computed number with its standard uncertainty; lengths in both units."""
    if estimate is None:
        return NOT_KNOWN
    u = f" ± {figure(estimate.u)}"
    if unit == "mm":
        return f"{figure(estimate.value)}{u}{NO_BREAK}mm ({inch(estimate.value)})"
    return f"{figure(estimate.value)}{u}{NO_BREAK}{unit}"


def place_name(axle: str, label: str, side: str) -> str:
    """Name a site of a car.

    >>> place_name("front", "strut tube", "left"), place_name("rear", "damper", "both")
    ('the front strut tube, left', 'the rear damper')
    """
    return f"the {axle} {label}" + ("" if side == "both" else f", {side}")
