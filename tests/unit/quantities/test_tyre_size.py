"""Readings of tyre designations; the forms and their examples are those of ISO 4000-1, UN R30,
UN R54 and owners' manuals; those marked so are from memory of the trade."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.quantities.misread import Misread
from generator.quantities.tyre_size import (
    Construction,
    LoadVersion,
    Prefix,
    Service,
    Suffix,
    TyreForm,
    read_tyre_size,
)


def test_metric_size_gives_every_part() -> None:
    size = read_tyre_size("205/55 R 16 91V")
    assert (size.form, size.construction, size.service) == (
        TyreForm.METRIC,
        Construction.RADIAL,
        Service.PASSENGER,
    )
    assert (
        size.nominal_section_width,
        size.aspect_ratio,
        size.rim_code,
        size.rim_number,
    ) == (205.0, 55.0, "16", 16.0)
    assert (size.load_indices, size.speed_symbol, size.speed_above_300) == ((91,), "V", False)


def test_what_is_not_written_is_unknown() -> None:
    size = read_tyre_size("205/55 R 16")
    assert (
        size.load_indices,
        size.speed_symbol,
        size.is_extra_load,
        size.load_range,
    ) == ((), None, None, None)


@pytest.mark.parametrize(
    ("text", "prefix", "suffix", "service"),
    [
        ("P215/65R15 95H", Prefix.P, None, Service.PASSENGER),
        ("LT235/85R16 120/116Q E", Prefix.LT, None, Service.LIGHT_TRUCK),
        ("195 R 14 C 106/104Q", None, Suffix.C, Service.COMMERCIAL),
        ("215/65R16C 109/107T", None, Suffix.C, Service.COMMERCIAL),
        ("T125/70D15 95M", Prefix.T, None, Service.TEMPORARY),
        ("S125/70 R 15", Prefix.S, None, Service.TEMPORARY),
        ("ST205/75R15", Prefix.ST, None, Service.TRAILER),
        ("HL 245/40 R 19 101Y", Prefix.HL, None, Service.PASSENGER),
        ("31x10.50R15LT", None, Suffix.LT, Service.LIGHT_TRUCK),
        ("7.00-16 LT", None, Suffix.LT, Service.LIGHT_TRUCK),  # from memory
    ],
)
def test_letters_round_the_size_say_the_service(
    text: str, prefix: Prefix | None, suffix: Suffix | None, service: Service
) -> None:
    size = read_tyre_size(text)
    assert (prefix, suffix, service) == (size.prefix, size.suffix, size.service)
    assert size.service.is_for_road_fitment is (service not in (Service.TEMPORARY, Service.TRAILER))


def test_two_load_indices_are_kept_in_order() -> None:
    assert read_tyre_size("215/65R16C 109/107T").load_indices == (109, 107)


def test_brackets_mean_above_300() -> None:
    size = read_tyre_size("225/40 ZR 18 (92Y)")
    assert (size.speed_above_300, size.speed_symbol, size.size_letters) == (True, "Y", "Z")


@pytest.mark.parametrize("words", ["XL", "EXTRA LOAD", "extra load", "REINFORCED", "RF"])
def test_words_for_extra_load_are_one(words: str) -> None:
    size = read_tyre_size(f"205/55 R 16 94V {words}")
    assert size.load_version is LoadVersion.EXTRA
    assert str(size) == "205/55 R 16 94V XL"


def test_rf_is_run_flat_in_the_size_and_reinforced_behind_it() -> None:
    inside, behind = read_tyre_size("225/45 RF 17"), read_tyre_size("225/45 R 17 RF")
    assert (inside.run_flat, inside.load_version) == (True, None)
    assert (behind.run_flat, behind.load_version) == (False, LoadVersion.EXTRA)
    assert read_tyre_size("225/45 ZRF 17").run_flat


def test_speed_letter_in_the_size_gives_way_to_the_service_description() -> None:
    assert read_tyre_size("185/70 HR 13").speed_symbol == "H"
    assert read_tyre_size("165 SR 14").speed_symbol == "S"
    assert read_tyre_size("185/70 HR 13 86T").speed_symbol == "T"


@pytest.mark.parametrize(
    ("text", "form", "width", "aspect", "construction"),
    [
        # inches x 25.4: 10.50 -> 266.7, 5.60 -> 142.24
        ("31x10.50R15LT", TyreForm.FLOTATION, 266.7, None, Construction.RADIAL),
        ("5.60-15", TyreForm.NUMERIC, 142.24, None, Construction.DIAGONAL),  # from memory
        ("6.40-13", TyreForm.NUMERIC, 162.56, None, Construction.DIAGONAL),  # from memory
        ("E70-14", TyreForm.ALPHA_NUMERIC, None, 70.0, Construction.DIAGONAL),  # from memory
        ("FR78-15", TyreForm.ALPHA_NUMERIC, None, 78.0, Construction.RADIAL),  # from memory
        ("165 R 13", TyreForm.FULL_PROFILE, 165.0, None, Construction.RADIAL),
        ("190/65 R 390", TyreForm.METRIC_RIM, 190.0, 65.0, Construction.RADIAL),  # from memory
        ("185-560 R 400A", TyreForm.CONFIGURATION_A, 185.0, None, Construction.RADIAL),
        ("T145/80D18 103M", TyreForm.METRIC, 145.0, 80.0, Construction.DIAGONAL),
        ("205/55-16", TyreForm.METRIC, 205.0, 55.0, Construction.DIAGONAL),
        ("205/70 B 14", TyreForm.METRIC, 205.0, 70.0, Construction.BIAS_BELTED),
    ],
)
def test_each_form_gives_its_dimensions(
    text: str, form: TyreForm, width: float | None, aspect: float | None, construction: Construction
) -> None:
    size = read_tyre_size(text)
    assert (form, width, aspect, construction) == (
        size.form,
        size.nominal_section_width,
        size.aspect_ratio,
        size.construction,
    )


def test_diameters_in_the_designation_are_kept() -> None:
    assert read_tyre_size("31x10.50R15LT").nominal_diameter == pytest.approx(31 * 25.4)
    assert read_tyre_size("185-560 R 400A").nominal_diameter == 560.0


def test_c_behind_a_light_truck_size_is_the_load_range() -> None:
    assert read_tyre_size("LT235/75R15 104/101Q C").load_range == "C"
    assert read_tyre_size("31x10.50R15LT C").load_range == "C"


@pytest.mark.parametrize(
    ("text", "characters"),
    [
        ("205/55 Q16", "Q16"),
        ("205/55 R 16 91X", "X"),
        ("225 R 17", "225"),
        ("205/57 R 16", "57"),
        ("205/55 R 16 91V summer", "summer"),
        ("205/55 R 99", "99"),
        ("215/65 R 16 C 107/109T", "107/109"),
        ("٢٠٥/55 R 16", "٢٠٥/55"),
    ],
)
def test_the_caret_falls_on_the_wrong_characters(text: str, characters: str) -> None:
    with pytest.raises(Misread) as caught:
        read_tyre_size(text)
    assert text[caught.value.start : caught.value.end] == characters


@pytest.mark.parametrize(
    ("text", "fix"),
    [
        ("55/205 R 16 91V", "205/55 R 16 91V"),
        ("205-55 R 16", "205/55 R 16"),
        ("205 55 16", "205/55 R 16"),
        ("205/55R1691V", "205/55R16 91V"),
        ("215/65 R 16 C 107/109T", "215/65 R 16 C 109/107T"),
    ],
)
def test_the_fix_is_read(text: str, fix: str) -> None:
    with pytest.raises(Misread) as caught:
        read_tyre_size(text)
    assert caught.value.fix == fix
    read_tyre_size(fix)


_SIZES = st.builds(
    "{}{}/{}{}{}{}".format,
    st.sampled_from(["", "P", "LT", "HL ", "T"]),
    st.integers(11, 45).map(lambda tens: tens * 10 + 5),
    st.integers(4, 19).map(lambda fives: fives * 5),
    st.sampled_from([" R ", "R", " ZR ", " HR ", " RF ", "D", "-"]),
    st.integers(10, 30),
    st.sampled_from(["", " 91V", " 109/107T", " (92Y)", " 94W XL", " 91 E"]),
)


@given(_SIZES)
def test_canonical_text_reads_as_the_same_tyre(text: str) -> None:
    size = read_tyre_size(text)
    assert read_tyre_size(str(size)) == size
    assert str(read_tyre_size(str(size))) == str(size)
