"""Hold steering, camber, lateral rod and locks against tests/published/geometry_pose.yaml."""

from collections.abc import Callable, Mapping
from pathlib import Path

import numpy as np
import pytest
import yaml

from generator.geometry import axle, lateral_rod, steering
from generator.geometry.frames import moved
from generator.geometry.steering_axis import SteeringAxis, axis_through
from generator.geometry.suspension import Tilt, tilted_at_mount

TABLE = Path(__file__).parents[2] / "published" / "geometry_pose.yaml"
GROUPS = yaml.safe_load(TABLE.read_text(encoding="utf-8"))


def axis(row):
    return axis_through(tuple(row["lower"]), tuple(row["upper"]))


def leans(row):
    return {"inclination": axis(row).inclination, "caster": axis(row).caster}


def road_point(row):
    return {
        "scrub": steering.scrub_radius(axis(row), row["spacer"], row["radius"]),
        "trail": steering.caster_trail(axis(row), row["radius"]),
    }


def wheel_centre(row):
    turned = steering.steered(axis(row), row["steer"])
    return (np.array(row["hub"]) + turned.translation[0]).tolist()


def corner(row):
    x, y = row["corner"]
    turned = steering.steered(SteeringAxis(), row["steer"])
    return moved(turned, np.array([[x, y, 0.0]]))[0, 0, :2].tolist()


def camber_top(row):
    return {
        "shift": steering.camber_shift(row["camber"], row["height"]),
        "drop": steering.camber_drop(row["camber"], row["height"]),
    }


def drawn_in(row):
    return -lateral_rod.rod_shift(row["length"], 0.0, row["travel"])


def tilt(row):
    return float(axle.axle_tilt(row["width"], row["travel"], row["other"])[0])


def at_mount(row):
    moved_by = tilted_at_mount(Tilt(row["camber"]), SteeringAxis())
    return moved(moved_by, np.array([[0.0, 0.0, row["height"]]]))[0, 0, 1]


COMPUTED: Mapping[str, Callable] = {
    "steering_axis": leans,
    "road_point": road_point,
    "taller_tyre_scrub": lambda r: steering.scrub_radius(axis(r), 0.0, r["radius"]),
    "steered_wheel_centre": wheel_centre,
    "camber_by_steer": lambda r: float(steering.camber_by_steer(axis(r), r["steer"])[0]),
    "ackermann": lambda r: steering.outer_steer(r["inner"], r["track"], r["wheelbase"]),
    "turn_radius": lambda r: steering.turn_radius(r["wheelbase"], r["steer"]),
    "upright_axis": corner,
    "camber_top": camber_top,
    "toe_length": lambda r: steering.toe_length(r["toe"], r["diameter"]),
    "level_rod": drawn_in,
    "level_rod_parabola": drawn_in,
    "rod_shift": lambda r: lateral_rod.rod_shift(r["length"], r["rise"], r["travel"]),
    "articulation_tilt": tilt,
    "articulation_inward": lambda r: axle.lean_at(tilt(r), r["height"]),
    "stop_shim": lambda r: steering.lock_lost_at_stop(1.0, r["arm"]),
    "rack_washer": lambda r: steering.lock_lost_at_rack(1.0, r["arm"], r["steer"]),
    "camber_at_mount": at_mount,
}


def rows():
    for name, group in GROUPS.items():
        for number, row in enumerate(group["rows"]):
            yield pytest.param(name, group["tolerance"], row, id=f"{name}-{number}")


def test_every_group_names_its_source_and_mark_and_is_computed():
    assert set(GROUPS) == set(COMPUTED)
    assert all(group["source"] and group["mark"] for group in GROUPS.values())


@pytest.mark.parametrize(("name", "tolerance", "row"), tuple(rows()))
def test_worked_value_comes_out(name, tolerance, row):
    found = COMPUTED[name](row)
    found = found if isinstance(found, dict) else {"expected": found}
    for key, value in found.items():
        assert row[key] == pytest.approx(value, abs=tolerance, rel=0), (key, value)
