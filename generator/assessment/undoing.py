"""The trims and changes of a setup, each with the setup as it would be without it.

What a change brought is told by undoing it alone. Undoing a change of ride height leaves camber
plates and the lateral rod as they are set, so that only the height itself is undone.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace

from generator.assessment.corner import panhard_rod
from generator.frozen import dataclass
from generator.geometry.axle import centring_adjustment
from generator.quantities.quantity import Quantity
from generator.quantities.units import Deg, Mm
from generator.records.axle_sheet import AxleSheet, Suspension
from generator.records.fitted import AxleSetup, BumpStopFitted
from generator.records.site_sheet import SiteSheet
from generator.records.words import Attachment, Liner, Lips, Part, StopState

_FIXED = (Attachment.KNUCKLE, Attachment.UPRIGHT, Attachment.AXLE)
_CHANGED_LIPS = (Lips.ROLLED, Lips.PULLED, Lips.CUT)
_CHANGED_LINER = (Liner.TRIMMED, Liner.FORMED, Liner.REMOVED)


@dataclass(frozen=True)
class Undoing:
    """One change of a setup: its words and amount, the setup without it, the sites it concerns.

    `amount` is in `unit`; None where the record does not say how much.
    """

    words: str
    amount: Mm | Deg | None
    unit: str
    without: AxleSetup
    concerns: Callable[[SiteSheet], bool]


def undoings(setup: AxleSetup, sheet: AxleSheet) -> tuple[Undoing, ...]:
    """Give all changes at one end of a car that can be undone one by one."""
    return (
        *_bump_stop(setup),
        *_stop_shim(setup),
        *_lips(setup),
        *_liner(setup),
        *_camber(setup),
        *_ride_height(setup, sheet),
        *_rod(setup),
        *_spacer(setup),
    )


def _on_body(site: SiteSheet) -> bool:
    return site.moves_with is Attachment.BODY


def _moving(site: SiteSheet) -> bool:
    return site.moves_with not in _FIXED


def _any(site: SiteSheet) -> bool:
    return True


def _value(quantity: Quantity | None) -> float | None:
    return None if quantity is None else quantity.value


def _without(setup: AxleSetup, changes: dict[str, object], sides: tuple[str, ...]) -> AxleSetup:
    """Give the setup with fields changed, and fields of both sides left as on the axle."""
    cleared: dict[str, object] = dict.fromkeys(sides)
    for side in ("left", "right"):
        values = getattr(setup, side)
        if values is not None:
            changes = {**changes, side: values.model_copy(update=cleared)}
    return setup.model_copy(update=changes)


def _bump_stop(setup: AxleSetup) -> Iterator[Undoing]:
    stop = setup.bump_stop
    if stop is None or stop.state is StopState.ORIGINAL:
        return
    amount = _value(stop.trimmed) or _value(stop.spaced)
    words = f"bump stop {stop.state.value}{_by(amount)}{_also_spaced(stop)}"
    yield Undoing(words, amount, "mm", _without(setup, {"bump_stop": None}, ()), _on_body)


def _also_spaced(stop: BumpStopFitted) -> str:
    both = stop.trimmed is not None and stop.spaced is not None
    return f", {_tenths(stop.spaced.value)} mm put under it" if both and stop.spaced else ""


def _tenths(amount: Mm | Deg) -> str:
    return f"{round(amount, 1):g}"


def _by(amount: float | None, unit: str = "mm") -> str:
    return "" if amount is None else f" by {_tenths(abs(amount))} {unit}"


def _stop_shim(setup: AxleSetup) -> Iterator[Undoing]:
    shim = _value(setup.stop_shim)
    if not shim:
        return
    # Measured locks are those with the shim in place.
    changes: dict[str, object] = {"stop_shim": None, "toe_out_lock": None, "toe_in_lock": None}
    words = f"steering stop shimmed by {_tenths(shim)} mm"
    yield Undoing(words, shim, "mm", _without(setup, changes, ()), _moving)


def _lips(setup: AxleSetup) -> Iterator[Undoing]:
    body = setup.bodywork
    sides = [values.lips for values in (setup.left, setup.right) if values is not None]
    lips = next((each for each in (body and body.lips, *sides) if each in _CHANGED_LIPS), None)
    if body is None or lips is None:
        return
    stock = body.model_copy(update={"lips": None, "lips_gained": None})
    gained = _value(body.lips_gained)
    yield Undoing(
        f"lips {lips.value}{_by(gained)}",
        gained,
        "mm",
        _without(setup, {"bodywork": stock}, ("lips", "lips_gained")),
        lambda site: site.part is Part.LIP,
    )


def _liner(setup: AxleSetup) -> Iterator[Undoing]:
    body = setup.bodywork
    if body is None or body.liner not in _CHANGED_LINER:
        return
    stock = body.model_copy(update={"liner": None})
    yield Undoing(
        f"liner {body.liner.value}",
        None,
        "mm",
        _without(setup, {"bodywork": stock}, ()),
        lambda site: site.part is Part.LINER,
    )


def _camber(setup: AxleSetup) -> Iterator[Undoing]:
    camber = _value(setup.camber)
    if camber is None:
        return
    where = f" at the {setup.camber_by.value}" if setup.camber_by else ""
    without = _without(setup, {"camber": None, "camber_by": None}, ("camber",))
    yield Undoing(f"camber of {camber:.3g}°{where}", camber, "deg", without, _moving)


def _ride_height(setup: AxleSetup, sheet: AxleSheet) -> Iterator[Undoing]:
    height = setup.ride_height
    change = _value(height.change) if height else None
    if height is None or not change:
        return
    changes: dict[str, object] = {
        "ride_height": height.model_copy(update={"change": None}),
        **_camber_at_reference(setup, sheet.suspension, change),
        **_rod_as_set(setup, sheet.suspension, change),
    }
    words = f"{'lowered' if change < 0.0 else 'raised'} by {_tenths(abs(change))} mm"
    yield Undoing(words, change, "mm", _without(setup, changes, ("ride_height_change",)), _on_body)


def _camber_at_reference(setup: AxleSetup, suspension: Suspension, change: Mm) -> dict[str, object]:
    """Give the camber that the same setting shows at the sheet's height."""
    if setup.camber is None or suspension.camber_gain is None:
        return {}
    at_reference = setup.camber.value + suspension.camber_gain.value * change
    return {"camber": replace(setup.camber, value=at_reference)}


def _rod_as_set(setup: AxleSetup, suspension: Suspension, change: Mm) -> dict[str, object]:
    """Give the rod's length that a measured error of the axle says it has."""
    rod = panhard_rod(suspension)
    if rod is None or setup.axle_error is None:
        return {}
    longer = centring_adjustment(rod, -change, shift=setup.axle_error.value)
    return {"axle_error": None, "rod_change": replace(setup.axle_error, value=longer)}


def _rod(setup: AxleSetup) -> Iterator[Undoing]:
    longer = _value(setup.rod_change)
    if not longer:
        return
    words = f"lateral rod {_tenths(abs(longer))} mm {'longer' if longer > 0.0 else 'shorter'}"
    without = _without(setup, {"rod_change": None, "axle_error": None}, ())
    yield Undoing(words, longer, "mm", without, _on_body)


def _spacer(setup: AxleSetup) -> Iterator[Undoing]:
    spacer = setup.spacer
    if spacer is None or not spacer.thickness.value > 0.0:
        return
    thickness = spacer.thickness.value
    none = spacer.model_copy(update={"thickness": replace(spacer.thickness, value=0.0)})
    without = _without(setup, {"spacer": none}, ("spacer",))
    yield Undoing(f"spacer of {_tenths(thickness)} mm", thickness, "mm", without, _any)
