"""Hold threads, engagement and preload against tests/published/geometry_fastening.yaml."""

from pathlib import Path

import pytest
import yaml

from generator.geometry import fastening, preload, threads
from generator.quantities.estimate import Basis, Estimate

TABLE = Path(__file__).parents[2] / "published" / "geometry_fastening.yaml"
GROUPS = yaml.safe_load(TABLE.read_text(encoding="utf-8"))
INCH = 25.4
KILO = 1000.0


def known(value):
    return Estimate(float(value), 0.0, Basis.MEASURED)


def metric(row):
    return threads.metric_thread(row["diameter"], row["pitch"])


def unified(row):
    return threads.unified_thread(INCH * row["inches"], INCH / row["per_inch"])


def metric_limits(row):
    return threads.ThreadLimits(
        row["pitch"], row["major"], row["stud_pitch"], row["nut_pitch"], row["nut_minor"]
    )


def inch_limits(limits, per_inch):
    named = (limits[key] for key in ("major", "pitch", "nut_pitch", "nut_minor"))
    return threads.ThreadLimits(INCH / per_inch, *(INCH * size for size in named))


def minor(row):
    root = threads.metric_root_diameter(row["diameter"], row["pitch"])
    return {"bore": metric(row).nut_bore, "root": root}


def proof_share(row):
    load = threads.load_at_stress(metric(row).stress_area, row["stress"]) / KILO
    return {"load": load, "at_75_percent": 0.75 * load}


def torque_at_preload(row):
    clamp = 0.75 * threads.load_at_stress(metric(row).stress_area, row["stress"])
    return {
        "torque": preload.torque_for_clamp(clamp, row["diameter"], nut_factor=row["nut_factor"])
    }


def clamp(row):
    load = preload.clamp_from_torque(row["torque"], row["diameter"], nut_factor=row["nut_factor"])
    proof = threads.load_at_stress(threads.metric_thread(row["diameter"], 1.5).stress_area, 830.0)
    check = preload.proof_check(load, proof, share=0.75)
    return {"clamp": load / KILO, "share_of_10_9": check.value}


def factor_by_friction(row, arm):
    friction = preload.Friction(row["friction"], row["friction"])
    thread = threads.metric_thread(12.0, 1.5)
    torque = preload.torque_by_friction(KILO, thread, friction=friction, seat_arm=arm)
    return {"nut_factor": preload.nut_factor(torque, KILO, diameter=12.0)}


def flat(row):
    # A ring 4 mm wide about the mean bearing diameter.
    mean = row["mean_diameter"]
    return factor_by_friction(row, preload.flat_seat_arm(mean - 4.0, mean + 4.0))


def cone(row):
    return factor_by_friction(row, preload.cone_seat_arm(row["mean_diameter"], 60.0))


def engagement(row):
    length = threads.engagement_from_turns(known(row["turns"]), row["pitch"])
    check = fastening.engagement_check(length, row["diameter"])
    return {"length": length.value, "ratio": check.value}


def strip_inches(row):
    limits = inch_limits(row["limits_inches"], row["per_inch"])
    areas = threads.strip_areas(limits, INCH * row["engagement_inches"])
    return {"stud": areas.stud / INCH**2, "nut": areas.nut / INCH**2}


def strip_metric(row):
    areas = threads.strip_areas(metric_limits(row), row["diameter"])
    return {"stud": areas.stud, "nut": areas.nut}


def least_inches(row):
    limits = inch_limits(row["limits"], row["per_inch"])
    return {"length": threads.least_engagement(limits, row["area"] * INCH**2) / INCH}


COMPUTED = {
    "metric_thread": lambda row: {
        "pitch_diameter": metric(row).pitch_diameter,
        "area": metric(row).stress_area,
    },
    "metric_minor": minor,
    "printed_metric_area": lambda row: {"area": metric(row).stress_area},
    "unified_area": lambda row: {"area": unified(row).stress_area / INCH**2},
    "printed_unified_area": lambda row: {"area": unified(row).stress_area / INCH**2},
    "unified_pitch_diameter": lambda row: {"diameter": unified(row).pitch_diameter / INCH},
    "proof_load": lambda row: {"load": threads.load_at_stress(row["area"], row["stress"]) / KILO},
    "proof_share": proof_share,
    "torque": lambda row: {
        "torque": preload.torque_for_clamp(
            KILO * row["clamp"], row["diameter"], nut_factor=row["nut_factor"]
        )
    },
    "torque_at_preload": torque_at_preload,
    "clamp": clamp,
    "implied_nut_factor": lambda row: {
        "nut_factor": preload.nut_factor(
            row["torque"], KILO * row["clamp"], diameter=row["diameter"]
        )
    },
    "flat_seat": flat,
    "flat_seat_rough": flat,
    "cone_seat": cone,
    "preload_ratio": lambda row: {"ratio": preload.preload_ratio(row["before"], row["after"])},
    "slip": lambda row: {
        "moment": preload.slip_moment(
            row["studs"], KILO * row["clamp"], friction=row["friction"], radius=row["radius"]
        )
    },
    "turns": lambda row: {"turns": threads.turns_for(row["diameter"], row["pitch"])},
    "engagement": engagement,
    "strip_areas": strip_inches,
    "strip_areas_metric": strip_metric,
    "least_engagement": least_inches,
    "least_engagement_metric": lambda row: {
        "length": threads.least_engagement(metric_limits(row), metric(row).stress_area)
    },
}
CASES = [(name, row) for name, group in GROUPS.items() for row in group["rows"]]


def test_every_group_is_computed_and_marked():
    assert set(COMPUTED) == set(GROUPS)
    assert all(group["source"] and group["mark"] for group in GROUPS.values())


@pytest.mark.parametrize(("name", "row"), CASES, ids=lambda part: str(part)[:60])
def test_the_published_value_is_met(name, row):
    for key, value in COMPUTED[name](row).items():
        assert row[key] == pytest.approx(value, abs=GROUPS[name]["tolerance"] + 1e-12, rel=0), key
