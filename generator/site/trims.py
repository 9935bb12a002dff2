"""What counts as a trim, for the table of a chassis and for Find: one rule for both.

A trim is what was done to the car itself so that a wheel clears: stops, lips, liner, metal, parts
moved, the axle centred. Another wheel or tyre, a spacer, camber and ride height are no trims: they
are told as what they are.
"""

from collections.abc import Iterator
from typing import Final

from generator.frozen import dataclass
from generator.records.fitted import AxleSetup, Bodywork
from generator.records.setup import Setup
from generator.records.site_sheet import SiteSheet
from generator.records.words import Axle, Liner, Lips, RemedyKind, StopState

_GROUPS: Final = {
    RemedyKind.LIP_ROLLED: "lips rolled",
    RemedyKind.LIP_PULLED: "lips pulled",
    RemedyKind.LIP_CUT: "lips cut",
    RemedyKind.LINER_TRIMMED: "liner changed",
    RemedyKind.LINER_REMOVED: "liner changed",
    RemedyKind.STOP_TRIMMED: "bump stop changed",
    RemedyKind.STOP_SPACED: "bump stop changed",
    RemedyKind.STEERING_SHIM: "steering stop shim",
    RemedyKind.PINCH_WELD: "metal reshaped",
    RemedyKind.WHEELHOUSE: "metal reshaped",
    RemedyKind.EXHAUST: "part moved",
    RemedyKind.BRACKET: "part moved",
    RemedyKind.AXLE_CENTRED: "axle centred",
    RemedyKind.OTHER: "something else",
}
GROUPS: Final = tuple(dict.fromkeys(_GROUPS.values()))
_LINERS = (Liner.TRIMMED, Liner.FORMED, Liner.REMOVED)


@dataclass(frozen=True)
class Trim:
    """One thing done to the car: its group in Find, and what it is in the words of the record."""

    group: str
    words: str


def trims(setup: Setup, axle: Axle, sites: dict[tuple[Axle, str], SiteSheet]) -> tuple[Trim, ...]:
    """Give what was done at one end, each once. `sites`: those of the sheet, by end and name."""
    end = setup.front if axle is Axle.FRONT else setup.rear
    found = (*_remedies(setup, axle), *_fitted(end), *_body(end.bodywork, axle, sites))
    return tuple(dict.fromkeys(found))


def _remedies(setup: Setup, axle: Axle) -> Iterator[Trim]:
    """Give the remedies that are trims; one of no kind of its own is told as it was written."""
    for each in setup.remedies:
        if each.axle is axle and each.kind in _GROUPS:
            is_other = each.kind is RemedyKind.OTHER
            words = each.amount if is_other and each.amount else each.kind.value
            yield Trim(_GROUPS[each.kind], words)


def _fitted(end: AxleSetup) -> Iterator[Trim]:
    if end.bump_stop is not None and end.bump_stop.state is not StopState.ORIGINAL:
        yield Trim("bump stop changed", f"bump stop {end.bump_stop.state.value}")
    if end.stop_shim is not None and end.stop_shim.value > 0.0:
        yield Trim("steering stop shim", RemedyKind.STEERING_SHIM.value)


def _body(
    body: Bodywork | None, axle: Axle, sites: dict[tuple[Axle, str], SiteSheet]
) -> Iterator[Trim]:
    if body is None:
        return
    if body.lips is not None and body.lips is not Lips.STOCK:
        yield Trim(f"lips {body.lips.value}", f"lip {body.lips.value}")
    if body.liner in _LINERS:
        yield Trim("liner changed", f"liner {body.liner.value}")
    for name in body.changed:
        site = sites.get((axle, name))
        yield Trim("metal reshaped", f"{site.label if site else name} changed")
