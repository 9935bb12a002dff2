"""The constants and published tables of the computation, read from where they are, for the browser.

Nothing is typed here a second time: each value is taken from the module that uses it.
"""

from math import sqrt
from typing import Any

from generator.assessment import clearances, corner, linked, poses
from generator.evidence import distribution, joint, levers, remedies, tyres, verdict
from generator.geometry import (
    gradient,
    linkage_table,
    nearest,
    outline,
    sampling,
    sweep,
    travel,
    tyre,
    wheel,
)
from generator.published import fastening, tables
from generator.quantities import cursor, tyre_size
from generator.records import dimensions
from generator.records.words import RemedyKind
from generator.site import mock_up
from generator.site.live.check_facts import checks_json, load_tables, words_json
from generator.site.live.fields import fields_json
from generator.site.live.fitted import Json


def facts_json() -> Json:
    """Give all that does not belong to one chassis; see templates/scripts/fit/facts.js."""
    return {
        "root12": sqrt(12.0),
        "words": words_json(),
        "wheel": {"flange": wheel.FLANGE_THICKNESS, "flangeU": wheel.FLANGE_THICKNESS_U},
        "dimensions": _dimensions(),
        "tyre": _tyre(),
        "tyreSize": _tyre_size(),
        "tables": _tables(),
        "outline": _outline(),
        "sampling": {"leastRounding": sampling.LEAST_ROUNDING},
        "nearest": _nearest(),
        "sweep": _sweep(),
        "travel": _travel(),
        "poses": {"nearly": poses.NEARLY},
        "corner": {"lowerJoint": corner.LOWER_JOINT_HEIGHT},
        "linkage": _linkage(),
        "distribution": {"range": distribution.RANGE},
        "joint": {"reach": joint._REACH, "step": joint._STEP},
        "verdict": {"expected": verdict.EXPECTED, "free": verdict.FREE, "words": verdict.WORDS},
        "levers": _levers(),
        "checks": checks_json(),
        "mockUp": {"near": mock_up.NEAR},
        "fields": fields_json(),
    }


def _dimensions() -> Json:
    return {
        "ruleU": dimensions.RULE_U,
        "fineU": dimensions.FINE_U,
        "spacerU": dimensions.SPACER_U,
        "stampedWidthU": dimensions.STAMPED_WIDTH_U,
        "stampedOffsetU": dimensions.STAMPED_OFFSET_U,
    }


def _tyre() -> Json:
    return {
        "inch": dimensions.MM_PER_INCH,
        "widthFactor": tyre.WIDTH_FACTOR,
        "sectionU": tyre.SECTION_WIDTH_U,
        "diameterU": tyre.DIAMETER_U,
        "treadShare": tyre.TREAD_SHARE,
        "treadShareU": tyre.TREAD_SHARE_U,
        "loadedShare": tyre.LOADED_SHARE,
        "decimalSlack": tyre._DECIMAL_SLACK,
        "millimetreRims": tables._MM_RIM,
    }


def _tyre_size() -> Json:
    return {
        "longest": cursor.LONGEST_NOTATION,
        "speedSymbols": tyre_size.SPEED_SYMBOLS,
        "greatestLoadIndex": tyre_size.GREATEST_LOAD_INDEX,
        "widths": (tyre_size.NARROWEST, tyre_size.WIDEST),
        "rims": (tyre_size.INCH_RIMS, tyre_size.METRIC_RIMS),
        "largestFullProfileRim": tyre_size.LARGEST_FULL_PROFILE_RIM,
    }


def _tables() -> Json:
    return {
        "rimDiameter": _by_text("unr30", "rim_diameter") | _by_text("unr54", "half_rim_diameter"),
        "theoreticalRim": _by_text("etrto", "theoretical_rim_factor"),
        "measuringRim": _by_text("etrto", "measuring_rim_factor"),
        "approvedRims": {
            name: (row[0], row[-1]) for name, row in _by_text("etrto", "approved_rims").items()
        },
        "beadSeat": _by_text("iso4000-2", "bead_seat_diameter"),
        "fullProfile": _by_text("unr30", "full_profile_size"),
        "flotation": _by_text("unr54", "flotation_size"),
        "loadIndex": _by_text("unr30", "load_index"),
        **load_tables(),
    }


def _by_text(source: str, table: str) -> dict[str, Any]:
    """Give the rows of a table; whole numbers as keys lose nothing as text in either language."""
    return {
        f"{key:g}" if isinstance(key, int | float) else str(key): value
        for key, value in tables.rows(source, table).items()
    }


def _outline() -> Json:
    return {
        "flangeHeight": outline.FLANGE_HEIGHT,
        "barrelDepth": outline.DROP_CENTRE_DEPTH,
        "treadEdgeDrop": outline.TREAD_EDGE_DROP,
        "crownSteps": outline.CROWN_STEPS,
        "shoulderSteps": outline.SHOULDER_STEPS,
        "sidewallSteps": outline.SIDEWALL_STEPS,
        "supports": outline.SUPPORTS,
        "vertexStep": gradient._STEP,
    }


def _nearest() -> Json:
    return {
        "chordError": clearances.COARSE,
        "firstStep": nearest.FIRST_STEP,
        "lastStep": nearest.LAST_STEP,
        "nearStep": nearest.NEAR_STEP,
        "widths": nearest._POSE_WIDTHS,
    }


def _sweep() -> Json:
    return {
        "levels": sweep._LEVELS,
        "levelsAbove": sweep._LEVELS_ABOVE,
        "steers": sweep._STEERS,
        "tilts": sweep._TILTS,
        "alone": sweep._ALONE,
        "near": sweep._NEAR,
    }


def _travel() -> Json:
    state = travel.State
    return {
        "lockBumpShare": travel.LOCK_BUMP_SHARE,
        "fullBumpLockShare": travel.FULL_BUMP_LOCK_SHARE,
        "states": {
            "static": state.STATIC.value,
            "droop": state.FULL_DROOP.value,
            "bump": state.FULL_BUMP.value,
            "outAtStatic": state.TOE_OUT_AT_STATIC.value,
            "inAtStatic": state.TOE_IN_AT_STATIC.value,
            "outAtBump": state.TOE_OUT_AT_BUMP.value,
            "inAtBump": state.TOE_IN_AT_BUMP.value,
            "outAtDroop": state.TOE_OUT_AT_DROOP.value,
            "inAtDroop": state.TOE_IN_AT_DROOP.value,
            "thisUp": state.THIS_SIDE_UP.value,
            "thisDown": state.THIS_SIDE_DOWN.value,
        },
    }


def _linkage() -> Json:
    return {
        "travelNodes": linkage_table.TRAVEL_NODES,
        "steerNodes": linkage_table.STEER_NODES,
        "leastSteer": linkage_table.LEAST_STEER,
        "slack": linkage_table.SLACK,
        "trials": linked._TRIALS,
        "camberHeld": linked._CAMBER_HELD,
    }


def _levers() -> Json:
    return {
        "pad": levers.PAD,
        "longestOnBolts": levers.LONGEST_ON_BOLTS,
        "offsets": levers.OFFSETS,
        "steepest": {axle.value: angle for axle, angle in levers.STEEPEST.items()},
        "highest": levers.HIGHEST,
        "thickestShim": levers.THICKEST_SHIM,
        "tallestSpaced": levers.TALLEST_SPACED,
        "leastBump": {axle.value: bump for axle, bump in levers.LEAST_BUMP.items()},
        "mostRolled": levers.MOST_ROLLED,
        "engagement": fastening.engagement().wanted,
        "belowMeasuring": tyres.BELOW_MEASURING,
        "aboveMeasuring": tyres.ABOVE_MEASURING,
        "tyreSteps": tyres._STEPS,
        "mostRemedies": remedies.MOST_REMEDIES,
        "costs": {kind.value: words for kind, words in levers.COSTS.items()},
        "kinds": [kind.value for kind in RemedyKind],
        "pairs": remedies.PAIRS,
        "helps": remedies.HELPS,
    }
