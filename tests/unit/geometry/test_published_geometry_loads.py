"""Hold loads, wheel tests and speedometer against tests/published/geometry_loads.yaml."""

from pathlib import Path

import pytest
import yaml

from generator.geometry import loads
from generator.geometry.bound import Outcome, at_least
from generator.geometry.gearing import speedometer_checks
from generator.published.tables import top_speed
from generator.quantities.estimate import Basis, Estimate

TABLE = Path(__file__).parents[2] / "published" / "geometry_loads.yaml"
GROUPS = yaml.safe_load(TABLE.read_text(encoding="utf-8"))
SPEED_TABLES = {
    tyre: tuple(loads.SpeedPoint(*point) for point in points)
    for tyre, points in GROUPS["speed_table"]["tables"].items()
}
CAMBER_TABLE = tuple(loads.CamberPoint(*point) for point in GROUPS["camber_pressure"]["table"])


def holds(check):
    return check.outcome is Outcome.HOLDS


def p_metric_axle(row):
    each = loads.p_metric_load(row["rated"])
    check = loads.axle_load_check(each, each, axle_load=row["axle_load"])
    return {"sum": check.value, "holds": holds(check)}


def j328(row):
    wheel = loads.WheelLoad(row["load"], row["radius"], row["inset"])
    return {"moment": loads.j328_moment(wheel, factor=row["factor"])}


def r124(row):
    moments = loads.r124_moments(loads.WheelLoad(row["load"], row["radius"], row["inset"]))
    return {"greatest": moments.greatest, "high": moments.high, "low": moments.low}


def track(row):
    change = loads.track_change(1450.0, row["before"], offset=row["after"])
    within = {limit: holds(loads.track_check(change, limit)) for limit in row["limits"]}
    return {"gain": change.absolute, "limits": within}


def bearing(row):
    corner = loads.CornerLoad(row["load"], row["radius"])
    change = loads.bearing_moment_change(corner, 0.0, arm=row["shift"])
    return {"added": change.straight.absolute, "corner": change.inner_wheel.before}


def scrub(row):
    change = loads.scrub_radius_change(
        row["before"], row["shift"], radius_gain=row["radius_gain"], inclination=row["inclination"]
    )
    return {"after": change.after}


def speedometer(row):
    exact = Estimate(float(row["true_speed"]), 0.0, Basis.MEASURED)
    return {"greatest": speedometer_checks(exact, row["true_speed"])[1].bound}


COMPUTED = {
    "speed_table": lambda row: {
        "percent": loads.load_at_speed(100.0, row["speed"], table=SPEED_TABLES[row["tyre"]])
    },
    "camber_pressure": lambda row: {
        "percent": loads.pressure_for_camber(row["camber"], table=CAMBER_TABLE)
    },
    "p_metric": lambda row: {"load": loads.p_metric_load(row["rated"])},
    "p_metric_axle": p_metric_axle,
    "j328": j328,
    "r124": r124,
    "impact": lambda row: {"mass": loads.impact_mass(row["load"])},
    "track": track,
    "bearing": bearing,
    "scrub": scrub,
    "speedometer": speedometer,
    "speed_symbol": lambda row: {
        "holds": holds(loads.speed_symbol_check(top_speed(row["symbol"]), row["least"]))
    },
    "least_space": lambda row: {
        "holds": holds(at_least(row["space"], row["least"], source="text"))
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
