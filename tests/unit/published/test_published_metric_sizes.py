"""From designation to dimensions: reader, tables and geometry, 56 sizes worked by hand."""

from pathlib import Path
from typing import Any

import pytest
import yaml

from generator.geometry import tyre
from generator.published import tables
from generator.quantities.tyre_size import read_tyre_size

DOCUMENT: dict[str, Any] = yaml.safe_load(
    (Path(__file__).parents[2] / "published" / "metric_sizes.yaml").read_text("utf-8")
)
MM_PER_INCH = 25.4


@pytest.mark.parametrize("row", DOCUMENT["rows"], ids=lambda row: row[0])
def test_designation_gives_the_worked_dimensions(row: list[Any]) -> None:
    worked = dict(zip(DOCUMENT["columns"], row, strict=True))
    size = read_tyre_size(worked["size"])
    assert size.nominal_section_width is not None
    assert size.aspect_ratio is not None
    rim = tables.measuring_rim(size.nominal_section_width, size.aspect_ratio)
    share = tables.theoretical_rim_factor(size.aspect_ratio)
    theoretical = tyre.theoretical_rim_width(size.nominal_section_width, share)
    section = tyre.section_width_on_rim(
        size.nominal_section_width, theoretical, rim_width=rim * MM_PER_INCH
    )
    height = tyre.section_height(size.nominal_section_width, size.aspect_ratio)
    seat = tables.rim_diameter(size.rim_number)
    tolerance = tables.size_tolerance(size.construction)
    limits = tyre.diameter_limits(
        seat,
        height,
        least_factor=tolerance.section_height_least,
        greatest_factor=tolerance.section_height_greatest,
    )
    widest = tyre.greatest_overall_width(section, factor=tolerance.width_greatest)
    found = (rim, theoretical, section, height, tyre.overall_diameter(seat, height))
    rounded = tuple(map(tyre.round_half_up, (widest, limits.least, limits.greatest)))
    assert found + rounded == pytest.approx(tuple(row[1:]), abs=1e-9)


def test_design_values_of_one_size_are_those_of_another_body() -> None:
    # TRA as stated by a tyre engineer, second hand: 8.23 in on a 6.0 rim, 24.69 in diameter
    (row,) = [row for row in DOCUMENT["rows"] if row[0] == "205/60 R 15"]
    worked = dict(zip(DOCUMENT["columns"], row, strict=True))
    assert worked["section_width"] == pytest.approx(8.23 * MM_PER_INCH, abs=0.5)
    assert worked["diameter"] == pytest.approx(24.69 * MM_PER_INCH, abs=0.5)
