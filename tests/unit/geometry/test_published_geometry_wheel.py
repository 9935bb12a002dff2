"""Hold wheel and tyre geometry against tests/published/geometry_wheel.yaml, row by row."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest
import yaml

from generator.geometry import bolt_pattern, tyre
from generator.geometry.clearance import cover_sector
from generator.geometry.gearing import rolling_radius
from generator.geometry.wheel import WheelDimensions, position_change, tyre_faces, wheel_position
from generator.quantities.estimate import Basis, Estimate

TABLE = Path(__file__).parents[2] / "published" / "geometry_wheel.yaml"
GROUPS = yaml.safe_load(TABLE.read_text(encoding="utf-8"))


def known(value):
    return Estimate(float(value), 0.0, Basis.MEASURED)


def diameter(row):
    return tyre.overall_diameter(row["rim"], tyre.section_height(row["width"], row["aspect"]))


def section(row):
    rim = tyre.theoretical_rim_width(row["width"], row["share"])
    return row["width"], rim


def wheel(inches, offset):
    return WheelDimensions(known(25.4 * inches), offset=known(offset))


def limits(row):
    found = tyre.diameter_limits(row["rim"], row["height"], greatest_factor=row["greatest_factor"])
    return {"least": found.least, "greatest": found.greatest}


def bead_seats(row):
    position = wheel_position(wheel(row["inches"], row["offset"]), known(0))
    return {
        "outer": position.outboard_lip.value - position.flange_outboard.value,
        "inner": -(position.inboard_lip.value + position.flange_inboard.value),
    }


def backspacing(row):
    return wheel_position(wheel(row["inches"], row["offset"]), known(0)).backspacing.value


def load(row):
    return tyre.load_at_pressure(row["rated"], row["pressure"], rated_pressure=2.5)


def faces(inches, offset, width, spacer=0.0):
    return tyre_faces(wheel_position(wheel(inches, offset), known(spacer)), known(width))


def change(row):
    found = position_change(faces(*row["new"]), faces(*row["old"]))
    return {"inner": found.inner.value, "outer": found.outer.value}


def track(row):
    old = faces(7.0, row["old_offset"], 200.0)
    new = faces(7.0, row["new_offset"], 200.0, row["new_spacer"])
    return position_change(new, old).track.value


def slip(row):
    flange = known(row["flange"])
    given = WheelDimensions(
        known(25.4 * row["inches"]), backspacing=known(row["backspacing"]), flange_inboard=flange
    )
    return wheel_position(given, known(0)).offset.value


def cover(row):
    ahead, behind = cover_sector(row["radius"], ahead=30.0, behind=50.0)
    return {"ahead": list(ahead), "behind": list(behind)}


def section_step(row):
    width, rim = section(row)
    at = [
        tyre.section_width_exact(width, rim, rim_width=25.4 * row[end])
        for end in ("from_inches", "to_inches")
    ]
    return at[1] - at[0]


COMPUTED: Mapping[str, Callable] = {
    "section_height": lambda r: tyre.section_height(r["width"], r["aspect"]),
    "overall_diameter": diameter,
    "design_diameter": diameter,
    "design_section": lambda r: tyre.section_width_on_rim(
        *section(r), rim_width=25.4 * r["inches"]
    ),
    "section_width": lambda r: tyre.section_width_on_rim(*section(r), rim_width=25.4 * r["inches"]),
    "section_width_exact": lambda r: tyre.section_width_exact(
        *section(r), rim_width=25.4 * r["inches"]
    ),
    "section_width_configuration_a": lambda r: tyre.section_width_exact(
        *section(r), rim_width=r["rim"], width_factor=tyre.WIDTH_FACTOR_CONFIGURATION_A
    ),
    "section_step": section_step,
    "measuring_rim": lambda r: tyre.measuring_rim_code(r["width"], r["share"]),
    "overall_width": lambda r: tyre.greatest_overall_width(
        r["section"], rim_protector=r["rim_protector"]
    ),
    "diameter_limits": limits,
    "rolling_circumference": lambda r: tyre.rolling_circumference(known(r["diameter"])).value,
    "rolling_radius": lambda r: rolling_radius(r["circumference"]),
    "rolling_radius_by_deflection": lambda r: rolling_radius(
        tyre.rolling_circumference(known(r["diameter"])).value
    ),
    "static_radius_at_rated_load": lambda r: (
        tyre.loaded_radius_under(known(r["diameter"]), r["height"], load_share=1.0).value
    ),
    "loaded_radius_rule": lambda r: tyre.loaded_radius(known(r["diameter"])).value,
    "true_speed_change": lambda r: tyre.true_speed_change(known(r["new"]), known(r["old"])).value,
    "greatest_indicated_speed": lambda r: tyre.greatest_indicated_speed(r["true_speed"]),
    "load_at_pressure": load,
    "load_law": load,
    "bead_seats_from_face": bead_seats,
    "backspacing": backspacing,
    "backspacing_inches": lambda r: backspacing(r) / 25.4,
    "track_change": track,
    "tyre_face_change": change,
    "position_change": change,
    "nominal_width_slip": slip,
    "bolt_chord": lambda r: bolt_pattern.chord(r["pcd"], bolts=r["bolts"], apart=r["apart"]),
    "bolt_mismatch": lambda r: bolt_pattern.radial_mismatch(r["wheel"], r["hub"]),
    "cover_sector": cover,
}


def rows():
    for name, group in GROUPS.items():
        for number, row in enumerate(group["rows"]):
            yield pytest.param(name, group["tolerance"], row, id=f"{name}-{number}")


def test_every_group_names_its_source_and_mark_and_is_computed():
    assert set(GROUPS) == set(COMPUTED)
    assert all(group["source"] and group["mark"] for group in GROUPS.values())


@pytest.mark.parametrize(("name", "tolerance", "row"), tuple(rows()))
def test_published_value_comes_out(name, tolerance, row):
    found = COMPUTED[name](row)
    found = found if isinstance(found, dict) else {"expected": found}
    for key, value in found.items():
        assert row[key] == pytest.approx(value, abs=tolerance + 1e-9, rel=0), (key, value)
