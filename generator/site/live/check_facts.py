"""What the checks of hardware, loads and brakes go by, for the browser's copy of them.

Nothing is typed here a second time: each value is taken from the check that uses it.
"""

from generator.assessment import engagement
from generator.assessment.brakes import FEELER_U, LEAST_GAP
from generator.assessment.checks import (
    bearing_moment,
    bore_fit,
    bump_stop,
    scrub_radius,
    spacer_kind,
    speedometer,
    tyre_load,
    wheel_bending,
)
from generator.geometry import bound, fastening, loads, tyre
from generator.published import tables
from generator.quantities.tyre_marks import Prefix, Service, service_of
from generator.records.checks import bore_on_pilot, diameters_front_to_rear, pilot_lost
from generator.records.words import Axle, CamberBy, Material, NutForm, SpacerKind
from generator.site.live.fitted import Json


def words_json() -> Json:
    """Give the words of records that the computation asks for."""
    return {
        "knuckle": CamberBy.KNUCKLE.value,
        "mount": CamberBy.MOUNT.value,
        "slipOn": SpacerKind.SLIP_ON.value,
        "boltOn": SpacerKind.BOLT_ON.value,
        "bolt": NutForm.BOLT.value,
        "closed": NutForm.CLOSED.value,
    }


def checks_json() -> Json:
    """Give bounds and spreads, each by the name that `templates/scripts/fit/` uses."""
    return {
        "leastCaliperGap": LEAST_GAP,
        "feelerU": FEELER_U,
        "turnsU": engagement.TURNS_U,
        "turnsInHand": fastening.SEAT_TO_BOTTOM_TURNS,
        "coverage": bound.COVERAGE,
        "dust": bound.DUST,
        "noticeableScrub": scrub_radius.NOTICEABLE,
        "bearingShift": bearing_moment.WEARS,
        "mostRatio": diameters_front_to_rear.MOST,
        "boreU": bore_fit.BORE_U,
        "mostPlay": bore_fit.MOST_PLAY,
        "leastPilot": pilot_lost.LEAST_PILOT,
        "centring": sorted(form.value for form in pilot_lost.CENTRING),
        "ownPilot": sorted(kind.value for kind in bore_on_pilot.OWN_PILOT),
        "spacerBands": {
            kind.value: (band.least, band.greatest) for kind, band in spacer_kind.BANDS.items()
        },
        "leastBump": {axle.value: bump for axle, bump in bump_stop.LEAST_BUMP.items()},
        "leastReserve": bump_stop.LEAST_RESERVE,
        "passengerPrefixes": [
            each.value for each in Prefix if service_of(each) is Service.PASSENGER
        ],
        "fullLoadSymbol": tables.FULL_LOAD_SYMBOL,
        "loadPressure": _load_pressure(),
        "speedometer": {
            "at": speedometer.AT,
            "stockErrors": speedometer.STOCK_ERROR,
            "greatest": tyre.greatest_indicated_speed(speedometer.AT),
        },
        "bending": _bending(),
    }


def _load_pressure() -> Json:
    law = tables.load_pressure_law()
    return {
        "standard": law.reference_standard,
        "extra": law.reference_extra,
        "exponent": law.exponent,
        "gaugeU": tyre_load.GAUGE_U,
    }


def _bending() -> Json:
    materials: tuple[Material | None, ...] = (None, *Material)
    return {
        "gravity": loads.STANDARD_GRAVITY,
        "j328": {
            "grip": loads.J328_GRIP,
            "factors": {
                each.value if each else "": {
                    axle.value: wheel_bending.factor_of(each, axle)[0] for axle in Axle
                }
                for each in materials
            },
        },
        "r124": {"grip": loads.R124_GRIP, "factor": loads.R124_FACTOR},
        "rollingFactor": {
            each.value: tables.rolling_factor(each) for each in tables.constructions()
        },
    }


def load_tables() -> Json:
    """Give what tyres carry at which speed and camber."""
    return {
        "speedSymbol": {each: tables.top_speed(each) for each in tables.speed_symbols()},
        "loadAtSpeed": {
            symbol: tuple((float(at), float(share)) for at, share in shares.items())
            for symbol, shares in tables.rows("handbook", "load_at_speed").items()
        },
        "camberPressure": tables.rows("handbook", "camber_pressure"),
    }
