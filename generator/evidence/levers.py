"""What can be changed so that a site clears: each kind with its steps, smallest first.

Limits and costs are common practice of the trade; the vehicle maker's data, local codes and
licensed practice go before them. A kind that a car cannot have has no lever: camber on a rigid
axle, a shim where nobody described the stop.
"""

from collections.abc import Callable, Iterator

import numpy as np

from generator.assessment.fit import axle_fit
from generator.evidence.candidate import AxleChange, degrees, millimetres
from generator.evidence.tyres import smaller_sizes
from generator.frozen import dataclass
from generator.published import fastening
from generator.quantities.units import Deg, Mm, Ratio
from generator.records.axle_sheet import AxleSheet
from generator.records.chassis import Chassis
from generator.records.fitted import AxleSetup
from generator.records.joint import has_bolt_on_spacer, is_bolted, spacer_of, thread_of
from generator.records.site_sheet import SiteSheet
from generator.records.words import (
    Axle,
    CamberBy,
    Facing,
    Lips,
    Part,
    RemedyKind,
    StopState,
    SuspensionKind,
)

PAD: Mm = 12.0
"""Thickness of the pad under the nut where nobody measured it: assumed, typical."""
LONGEST_ON_BOLTS: Mm = 20.0
"""Spacer for which longer bolts are usual: common practice."""
OFFSETS: Mm = 30.0
"""How far another wheel's offset is tried: beyond it lie other bodies."""
STEEPEST: dict[Axle, Deg] = {Axle.FRONT: -3.0, Axle.REAR: -2.0}
"""Camber on the road: common practice."""
HIGHEST: Mm = 20.0
"""Ride height above the sheet's reference: common practice."""
THICKEST_SHIM: Mm = 8.0
"""Steering-stop shims of 2 to 8 mm are usual: common practice."""
TALLEST_SPACED: Mm = 20.0
LEAST_BUMP: dict[Axle, Mm] = {Axle.FRONT: 35.0, Axle.REAR: 45.0}
"""Bump travel to be kept where a stop is spaced, middle of 30–40 and 40–50: common practice."""
MOST_ROLLED: Mm = 12.0
"""Rolling a lip gains 5 to 12 mm: common practice."""

COSTS: dict[RemedyKind, str] = {
    RemedyKind.SPACER: (
        "Each millimetre more takes one of thread and of pilot and adds two of track, with "
        "more scrub radius and load on the bearing; less gives that back. Look at caliper, "
        "cap and local rules."
    ),
    RemedyKind.OFFSET: (
        "Other wheels: order them with backspacing written beside the offset, and look at the "
        "caliper and at track and scrub radius."
    ),
    RemedyKind.CAMBER: (
        "Toe has to be set again, the tyre wears on one edge, and the wheel stands differently to "
        "hose and strut; the setting belongs to a workshop with the maker's data."
    ),
    RemedyKind.RIDE_HEIGHT: (
        "Springs or seats are changed; alignment and headlamps are set again. The stop still lets "
        "the wheel up as far as before."
    ),
    RemedyKind.STEERING_SHIM: (
        "The turning circle grows by some tenths of a metre for each degree of lock. The stop has "
        "to end the lock, never the tyre and never the rack alone."
    ),
    RemedyKind.STOP_TRIMMED: ("A new stop, and the travel that the trim had given is gone."),
    RemedyKind.STOP_SPACED: (
        "Less travel, so a harsher ride and an earlier stop in a bend. The spacer has to be held "
        "as the maker held the stop."
    ),
    RemedyKind.TYRE: (
        "Load index and speed symbol have to suffice for the axle; gearing and speedometer change "
        "with the diameter. Measure the section as mounted."
    ),
    RemedyKind.LIP_ROLLED: (
        "Paint cracks and the bare seam rusts: warm the paint, work in small steps, seal the seam. "
        "It cannot be undone."
    ),
}
"""What each kind costs, in words."""

Amount = float
"""In the unit of the lever: mm or deg; for tyres the place in the row of sizes."""


@dataclass(frozen=True)
class Lever:
    """One kind of change, and its amounts from the least to the most.

    `rises` is False where a larger amount need not help more, as with another tyre: then all are
    tried in turn.
    """

    kind: RemedyKind
    amounts: tuple[Amount, ...]
    change: Callable[[Amount], AxleChange]
    words: Callable[[Amount], str]
    rises: bool = True

    @property
    def costs(self) -> str:
        """Say what it costs."""
        return COSTS[self.kind]


@dataclass(frozen=True)
class Corner:
    """What the levers look at: one end of a car with what is fitted there."""

    axle: Axle
    fitted: AxleSetup
    chassis: Chassis

    @property
    def sheet(self) -> AxleSheet:
        """Give the end's sheet."""
        return self.chassis.front if self.axle is Axle.FRONT else self.chassis.rear


def levers(corner: Corner, site: SiteSheet) -> tuple[Lever, ...]:
    """Give all that may be tried for a site, the kinds in order of how little they usually cost."""
    found: list[Lever | None] = [
        _less_trim(corner),
        _shim(corner),
        _height(corner),
        *_spacers(corner, site.facing),
        *_offsets(corner, site.facing),
        _camber(corner, site.facing),
        _tyre(corner),
        _spaced(corner),
        _rolled(corner, site),
    ]
    return tuple(each for each in found if each is not None and each.amounts)


def _signed(amount: Amount) -> str:
    """Write an amount with its sign; nought has none.

    >>> _signed(-1.25), _signed(2.0), _signed(0.0)
    ('-1.25', '+2', '0')
    """
    return f"{amount:+g}" if amount else "0"


def _steps(start: Amount, end: Amount, step: Amount) -> tuple[Amount, ...]:
    """Give the amounts from one step beyond the start to the end, towards it."""
    count = int(np.floor(abs(end - start) / step + 1e-9))
    way = step if end > start else -step
    return tuple(round(start + way * place, 6) for place in range(1, count + 1))


def most_spacer(corner: Corner) -> Mm:
    """Give the thickest spacer that leaves the stock studs the wanted engagement.

    Source: [PRACTICE] one nominal diameter of the thread; own derivation: stud − pad − spacer.
    """
    fitted, sheet = corner.fitted, corner.sheet
    if has_bolt_on_spacer(fitted):
        return spacer_of(fitted)
    if is_bolted(fitted, sheet):
        return LONGEST_ON_BOLTS
    thread = thread_of(fitted, sheet) or sheet.fastening.thread
    length = fitted.hardware.length if fitted.hardware else None
    stud = (length or sheet.fastening.length).value
    pad = fitted.wheel.pad_thickness.value if fitted.wheel.pad_thickness else PAD
    return max(stud - pad - fastening.engagement().wanted * thread.diameter, 0.0)


def _spacers(corner: Corner, facing: Facing) -> Iterator[Lever]:
    now = spacer_of(corner.fitted)
    if has_bolt_on_spacer(corner.fitted):
        return
    most = float(np.floor(most_spacer(corner)))
    thicker = _steps(now, most, 1.0) if facing is not Facing.OUTBOARD and most > now else ()
    thinner = _steps(now, 0.0, 1.0) if facing is not Facing.INBOARD else ()
    for amounts in (thicker, thinner):
        yield Lever(
            RemedyKind.SPACER,
            amounts,
            lambda mm: AxleChange(spacer=millimetres(mm)),
            lambda mm: _spacer_words(mm, now),
        )


def _spacer_words(mm: Mm, now: Mm) -> str:
    if not mm:
        return f"no spacer instead of {now:g} mm"
    return f"spacer of {mm:g} mm" + (f" instead of {now:g} mm" if now else "")


def _offsets(corner: Corner, facing: Facing) -> Iterator[Lever]:
    wheel = axle_fit(corner.axle, corner.fitted, corner.sheet).fitted.wheel
    if wheel is None:
        return
    now = round(wheel.offset.value, 1) + 0.0  # never a negative zero
    ends = []
    if facing is not Facing.OUTBOARD:
        ends.append(now - OFFSETS)
    if facing is not Facing.INBOARD:
        ends.append(now + OFFSETS)
    for end in ends:
        yield Lever(
            RemedyKind.OFFSET,
            _steps(now, end, 1.0),
            lambda mm: AxleChange(offset=millimetres(mm)),
            lambda mm: f"wheels of offset {mm:g} mm instead of {now:g} mm",
        )


def _camber(corner: Corner, facing: Facing) -> Lever | None:
    suspension, fitted = corner.sheet.suspension, corner.fitted
    if suspension.kind in (SuspensionKind.LIVE_AXLE, SuspensionKind.TWIST_BEAM):
        return None
    reference = suspension.static_camber.value if suspension.static_camber else 0.0
    now = fitted.camber.value if fitted.camber else reference
    end = max(reference, 0.0) if facing is Facing.INBOARD else STEEPEST[corner.axle]
    if (end > now) != (facing is Facing.INBOARD):
        return None
    by = fitted.camber_by or CamberBy.MOUNT
    return Lever(
        RemedyKind.CAMBER,
        _steps(now, end, 0.25),
        lambda deg: AxleChange(camber=degrees(deg), camber_by=by),
        lambda deg: f"camber of {_signed(deg)}° instead of {_signed(now)}°, set at {by.value}",
    )


def _height(corner: Corner) -> Lever | None:
    height = corner.fitted.ride_height
    now = height.change.value if height and height.change else 0.0
    return Lever(
        RemedyKind.RIDE_HEIGHT,
        _steps(now, HIGHEST, 5.0) if now < HIGHEST else (),
        lambda mm: AxleChange(ride_height=millimetres(mm)),
        lambda mm: f"ride height {_signed(mm)} mm against the sheet instead of {_signed(now)} mm",
    )


def _shim(corner: Corner) -> Lever | None:
    steering = corner.chassis.steering
    if corner.axle is not Axle.FRONT or (steering.stop_arm is None and steering.arm is None):
        return None
    now = corner.fitted.stop_shim.value if corner.fitted.stop_shim else 0.0
    return Lever(
        RemedyKind.STEERING_SHIM,
        _steps(now, THICKEST_SHIM, 1.0) if now < THICKEST_SHIM else (),
        lambda mm: AxleChange(shim=millimetres(mm)),
        lambda mm: f"shim of {mm:g} mm at the steering stops, both sides alike",
    )


def _less_trim(corner: Corner) -> Lever | None:
    stop = corner.fitted.bump_stop
    if stop is None or stop.state is StopState.REMOVED or stop.trimmed is None:
        return None
    now = stop.trimmed.value
    return Lever(
        RemedyKind.STOP_TRIMMED,
        (*_steps(now, 0.0, 2.0), 0.0) if now % 2.0 else _steps(now, 0.0, 2.0),
        lambda mm: AxleChange(trimmed=millimetres(mm)),
        lambda mm: (
            f"bump stop trimmed by {mm:g} mm instead of {now:g} mm"
            if mm
            else f"a whole bump stop instead of one trimmed by {now:g} mm"
        ),
    )


def _spaced(corner: Corner) -> Lever | None:
    fitted, suspension = corner.fitted.bump_stop, corner.sheet.suspension
    if suspension.stop is None or (fitted is not None and fitted.state is StopState.REMOVED):
        return None
    now = fitted.spaced.value if fitted and fitted.spaced else 0.0
    trimmed = fitted.trimmed.value if fitted and fitted.trimmed else 0.0
    ratio: Ratio = suspension.stop.motion_ratio.value
    height = corner.fitted.ride_height
    lowered = -(height.change.value if height and height.change else 0.0)
    # Travel left from where the car stands; what was trimmed gave at most its own length.
    room = (suspension.bump.value - lowered - LEAST_BUMP[corner.axle]) * ratio + trimmed
    end = min(TALLEST_SPACED, room)
    return Lever(
        RemedyKind.STOP_SPACED,
        _steps(now, end, 2.0) if end > now else (),
        lambda mm: AxleChange(spaced=millimetres(mm)),
        lambda mm: f"bump stop spaced by {mm:g} mm",
    )


def _tyre(corner: Corner) -> Lever | None:
    now = corner.fitted.tyre.size
    sizes = smaller_sizes(now, corner.fitted.wheel.size.width_code)
    return Lever(
        RemedyKind.TYRE,
        tuple(float(place) for place in range(len(sizes))),
        lambda place: AxleChange(tyre=sizes[int(place)]),
        lambda place: f"tyre {sizes[int(place)].designation} instead of {now.designation}",
        rises=False,
    )


def _rolled(corner: Corner, site: SiteSheet) -> Lever | None:
    body = corner.fitted.bodywork
    if site.part is not Part.LIP or (body is not None and body.lips not in (None, Lips.STOCK)):
        return None
    return Lever(
        RemedyKind.LIP_ROLLED,
        _steps(0.0, MOST_ROLLED, 2.0),
        lambda mm: AxleChange(lips=Lips.ROLLED, lips_gained=millimetres(mm)),
        lambda mm: f"lip rolled by {mm:g} mm",
    )
