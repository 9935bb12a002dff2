"""What is fitted at one end of a car, as the browser's copy of the computation takes it.

The form is told at the head of `templates/scripts/fit/candidate.js`: wheel sizes in inches, other
lengths in mm, angles in degrees, a measured value with the step of its last digit.
"""

from collections.abc import Mapping
from enum import Enum

from generator.assessment.checks.thread_stripping import least_length
from generator.quantities.quantity import Quantity
from generator.quantities.span import GapReading
from generator.reading.fields import Figure
from generator.records.fitted import (
    AxleSetup,
    Bodywork,
    BumpStopFitted,
    Hardware,
    SideValues,
    Spacer,
    TyreFitted,
    WheelFitted,
)

Json = Mapping[str, object]


def fitted_json(fitted: AxleSetup) -> Json:
    """Give one end."""
    height = fitted.ride_height.change if fitted.ride_height else None
    return bare(
        {
            "wheel": _wheel(fitted.wheel),
            **_spacer(fitted.spacer),
            "faceMoved": typed(fitted.face_moved),
            "tyre": _tyre(fitted.tyre),
            "camber": number(fitted.camber),
            "camberBy": word(fitted.camber_by),
            "rideHeight": number(height),
            "hasRideHeight": fitted.ride_height is not None or None,
            "stop": _stop(fitted.bump_stop),
            "shim": number(fitted.stop_shim),
            "toeOutLock": number(fitted.toe_out_lock),
            "toeInLock": number(fitted.toe_in_lock),
            "rodChange": number(fitted.rod_change),
            "axleError": number(fitted.axle_error),
            "body": _body(fitted.bodywork),
            "hardware": _hardware(fitted.hardware),
            "spoke": _gap(fitted.caliper_to_spoke),
            "barrel": _gap(fitted.caliper_to_barrel),
            "left": _side(fitted.left),
            "right": _side(fitted.right),
        }
    )


def bare(values: Json) -> Json:
    """Leave out what is not known; the browser takes what is missing for not known."""
    return {name: value for name, value in values.items() if value is not None}


def typed(quantity: Quantity | None) -> tuple[float, float] | None:
    """Give a measured length with the step of its last digit."""
    return None if quantity is None else (quantity.value, quantity.resolution)


def number(quantity: Quantity | Figure | None) -> float | None:
    """Give a value in its base unit."""
    return None if quantity is None else quantity.value


def word(value: Enum | None) -> str | None:
    """Give the word of the records for something."""
    return None if value is None else str(value.value)


def _spacer(spacer: Spacer | None) -> Json:
    if spacer is None:
        return {}
    return {
        "spacer": typed(spacer.thickness),
        "spacerKind": word(spacer.kind),
        "spacerCount": spacer.count,
        "spacerNuts": number(spacer.nut_height),
        "spacerPockets": number(spacer.pockets),
    }


def _wheel(wheel: WheelFitted) -> Json:
    return bare(
        {
            "width": wheel.size.width_code,
            "diameter": wheel.size.diameter_code,
            "offset": typed(wheel.offset),
            "offsetMeasured": typed(wheel.offset_measured),
            "backspacing": typed(wheel.backspacing),
            "widthMeasured": typed(wheel.width_measured),
            "overallWidth": typed(wheel.overall_width),
            "flangeInboard": typed(wheel.flange_inboard),
            "flangeOutboard": typed(wheel.flange_outboard),
            "barrelRadius": number(wheel.barrel_radius),
            "spokeBack": number(wheel.spoke_back),
            "pad": typed(wheel.pad_thickness),
            "bore": typed(wheel.bore),
            "ring": typed(wheel.ring),
            "seat": word(wheel.seat.form) if wheel.seat else None,
            "seatWords": str(wheel.seat) if wheel.seat else None,
            "loadRating": number(wheel.load_rating),
            "material": word(wheel.material),
        }
    )


def _tyre(tyre: TyreFitted) -> Json:
    rims = tyre.approved_rims
    return bare(
        {
            "size": str(tyre.size),
            "sectionWidth": typed(tyre.section_width),
            "treadWidth": typed(tyre.tread_width),
            "diameter": typed(tyre.diameter),
            "approved": None if rims is None else (rims.low, rims.high),
            "pressure": number(tyre.pressure),
        }
    )


def _stop(stop: BumpStopFitted | None) -> Json | None:
    if stop is None:
        return None
    return bare(
        {
            "state": word(stop.state),
            "trimmed": number(stop.trimmed),
            "spaced": number(stop.spaced),
            "freeHeight": number(stop.free_height),
            "reserve": number(stop.damper_reserve),
        }
    )


def _body(body: Bodywork | None) -> Json | None:
    if body is None:
        return None
    return bare(
        {
            "lips": word(body.lips),
            "lipsGained": number(body.lips_gained),
            "liner": word(body.liner),
            "changed": tuple(body.changed) or None,
        }
    )


def _hardware(hardware: Hardware | None) -> Json | None:
    if hardware is None:
        return None
    return bare(
        {
            "diameter": hardware.thread.diameter,
            "pitch": hardware.thread.pitch,
            "length": number(hardware.length),
            "nut": word(hardware.nut),
            "seat": str(hardware.seat) if hardware.seat else None,
            "turns": number(hardware.turns),
            "engagement": typed(hardware.engagement),
            "nutDepth": typed(hardware.nut_depth),
            "strips": least_length(hardware.thread),
        }
    )


def _gap(said: GapReading | None) -> Json | None:
    if said is None:
        return None
    return {
        "said": word(said.said),
        "low": said.low,
        "high": said.high,
        "step": said.resolution,
    }


def _side(values: SideValues | None) -> Json | None:
    if values is None:
        return None
    return bare(
        {
            "spacer": typed(values.spacer),
            "sectionWidth": typed(values.section_width),
            "diameter": typed(values.diameter),
            "camber": number(values.camber),
            "rideHeight": number(values.ride_height_change),
            "lips": word(values.lips),
            "lipsGained": number(values.lips_gained),
        }
    )
