"""Properties of the published tables that slips of copying would break."""

import subprocess
import sys
from pathlib import Path

import pytest

from generator.published import fastening, tables
from generator.published.values import Mark
from generator.quantities.rim_size import read_rim_size
from generator.quantities.thread import read_thread
from generator.quantities.tyre_size import (
    SPEED_SYMBOLS,
    Construction,
    TyreForm,
    read_tyre_size,
)

FOLDER = Path(tables.__file__).parent


def test_rim_diameter_is_25_4_times_the_code_rounded_half_up() -> None:
    # UN R30: every value of the table equals it, which is how a copying slip would show
    for code in range(8, 31):
        assert tables.rim_diameter(code) == int(25.4 * code + 0.5)
    for code in (14.5, 16.5, 17.5, 19.5, 20.5, 22.5, 24.5, 26.5, 28.5, 30.5):
        assert tables.rim_diameter(code) == int(25.4 * code + 0.5)


def test_load_index_follows_the_preferred_number_series() -> None:
    # step 10^(1/80) from 450 kg at 80, within 1.8 % (property of the published table)
    for index in range(60, 126):
        assert tables.load_capacity(index) == pytest.approx(
            450.0 * 10.0 ** ((index - 80) / 80.0), rel=0.018
        )
    loads = [tables.load_capacity(index) for index in range(60, 126)]
    assert loads == sorted(set(loads))


def test_bead_seat_follows_the_pattern_of_the_contour_tables() -> None:
    # ISO 4000-2, from memory: 25.4 code - 0.8 up to 16, + 4.8 from 17
    for code in (10, 12, 13, 14, 15, 16):
        assert tables.bead_seat_diameter(code) == pytest.approx(25.4 * code - 0.8)
    for code in range(17, 25):
        assert tables.bead_seat_diameter(code) == pytest.approx(25.4 * code + 4.8)


def test_flotation_sizes_lie_half_an_inch_under_their_nominal_diameter() -> None:
    # UN R54, from memory: round(25.4 (N - 0.5)) within 2 mm, width within 3 mm
    for name in _keys("unr54", "flotation_size"):
        read, table = read_tyre_size(name), tables.flotation_size(name)
        assert read.form is TyreForm.FLOTATION
        assert read.nominal_diameter is not None
        assert read.nominal_section_width is not None
        assert table.diameter == pytest.approx(read.nominal_diameter - 12.7, abs=2.0)
        assert table.section_width == pytest.approx(read.nominal_section_width, abs=3.0)


def test_full_profile_sizes_are_under_82_percent_by_at_most_11_mm() -> None:
    # the published comparison column: 0 to 11 mm, one size 1 mm over
    for name in _keys("unr30", "full_profile_size"):
        read, table = read_tyre_size(name), tables.full_profile_size(name)
        assert read.nominal_section_width is not None
        height = int(0.82 * read.nominal_section_width + 0.5)
        assumed = tables.rim_diameter(read.rim_number) + 2 * height
        assert 0 <= assumed - table.diameter <= 11
        assert table.section_width == pytest.approx(read.nominal_section_width, abs=3.0)


def test_every_key_of_a_table_is_what_its_reader_writes() -> None:
    for name in _keys("etrto", "approved_rims"):
        size = read_tyre_size(name)
        assert size.size == name
        rims = tables.approved_rims(size)
        assert rims is not None
        assert rims.least < rims.measuring < rims.most
        assert size.nominal_section_width is not None
        assert size.aspect_ratio is not None
        # the two lists are from memory, so they must agree
        assert rims.measuring == tables.measuring_rim(size.nominal_section_width, size.aspect_ratio)
    for source, table in (
        ("unr30", "full_profile_size"),
        ("unr54", "flotation_size"),
    ):
        for name in _keys(source, table):
            assert read_tyre_size(name).designation == name
    for source, table in (
        ("iso898-1", "metric_stress_area"),
        ("asmeb1.1", "unified_stress_area"),
        ("iso965-2", "metric_limits"),
        ("practice", "torque_band"),
        ("saej2315", "seat_strength"),
    ):
        for name in _keys(source, table):
            assert read_thread(name).name == name
    for letter in _keys("iso4000-2", "flange_height"):
        assert read_rim_size(f"7 {letter} x 16").flange == letter


def test_speed_symbols_are_those_of_the_reader() -> None:
    assert tables.speed_symbols() == SPEED_SYMBOLS


def test_printed_stress_areas_agree_with_the_formula() -> None:
    # ISO 898-1: pi/4 (d - 0.9382 P)^2, printed to three figures; ASME B1.1: 0.7854 (D - 0.9743 P)^2
    for name in _keys("iso898-1", "metric_stress_area"):
        thread = read_thread(name)
        formula = 0.785398 * (thread.diameter - 0.9382 * thread.pitch) ** 2
        assert fastening.stress_area(thread) == pytest.approx(formula, rel=0.005)
    for name in _keys("asmeb1.1", "unified_stress_area"):
        thread = read_thread(name)
        formula = 0.785398 * (thread.diameter - 0.9743 * thread.pitch) ** 2
        assert fastening.stress_area(thread) == pytest.approx(formula, rel=0.001)


def test_bands_enclose_their_typical_value() -> None:
    for name in _keys("practice", "torque_band"):
        band = fastening.torque_band(read_thread(name))
        assert band.least < band.typical < band.greatest
    for condition in _keys("fastenerdata", "torque_factor"):
        factor = fastening.torque_factor(condition)
        assert factor.least <= factor.value <= factor.greatest


def test_stripping_limits_lie_inside_the_basic_thread() -> None:
    for name in (*_keys("iso965-2", "metric_limits"), *_keys("asmeb1.1", "unified_limits")):
        thread, limits = read_thread(name), fastening.stripping_limits(read_thread(name))
        assert thread.diameter > limits.stud_major_least > limits.nut_pitch_greatest
        assert limits.nut_pitch_greatest > limits.stud_pitch_least > limits.nut_minor_greatest


def test_diagonal_tyres_may_stand_higher_than_radial_ones() -> None:
    for tolerance in (tables.size_tolerance, tables.commercial_size_tolerance):
        radial, diagonal = tolerance(Construction.RADIAL), tolerance(Construction.DIAGONAL)
        assert radial.section_height_greatest < diagonal.section_height_greatest
        assert radial.section_height_least == diagonal.section_height_least


@pytest.mark.parametrize(
    "call",
    [
        lambda: tables.load_capacity(59),
        lambda: tables.load_capacity(126),
        lambda: tables.top_speed("Z"),
        lambda: tables.rim_diameter(31),
        lambda: tables.rim_diameter(15.5),
        lambda: tables.rim_diameter(float("nan")),
        lambda: tables.measuring_rim(205.0, 57),
        lambda: tables.full_profile_size("225 R 17"),
        lambda: tables.load_share_at_speed("V", 241.0),
        lambda: tables.load_share_at_speed("V", float("nan")),
        lambda: tables.pressure_rise_for_camber(4.1),
        lambda: tables.pressure_rise_for_camber(float("nan")),
        lambda: tables.largest_brake(18),
        lambda: tables.source("NOSUCH"),
        lambda: tables.published_table("no_such"),
        lambda: fastening.torque_band(read_thread("M12x1.75")),
    ],
)
def test_nothing_is_made_up_outside_a_table(call) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(LookupError, match=r"."):
        call()


def test_size_without_a_known_rim_range_has_none() -> None:
    assert tables.approved_rims(read_tyre_size("135/80 R 13")) is None


def test_every_table_names_a_source_a_unit_and_a_mark() -> None:
    listed = tables.published_tables()
    files = {path.stem for path in FOLDER.glob("*.yaml")} - {"sources"}
    assert {table.source.lower() for table in listed} == files
    assert len({table.name for table in listed}) == len(listed)
    for table in listed:
        assert table.title
        assert table.clause
        assert table.units
        assert isinstance(table.mark, Mark)
        assert tables.source(table.source).key == table.source


def test_case_and_punctuation_of_a_source_key_do_not_matter() -> None:
    assert tables.source("iso 4000-1") is tables.source("ISO4000-1")


def test_all_tables_load_in_thirty_milliseconds() -> None:
    code = (
        "import yaml, time; from generator.published import tables;"
        "start = time.process_time(); tables.published_tables();"
        "print(time.process_time() - start)"
    )
    runs = [
        float(subprocess.run([sys.executable, "-c", code], capture_output=True, check=True).stdout)
        for _ in range(3)
    ]
    assert min(runs) < 0.03


def _keys(source: str, table: str) -> tuple[str, ...]:
    return tuple(tables.rows(source, table))
