"""Rules L01 to L25: names, sites, dates, replacements and chassis sheets held against each other.

The sample's sheet: front hub faces 1443 apart, stock offset 24, track 1395; kerb 605 + 510 = 1115
kg. Numbers are worked in the comments; tolerances are common practice.
"""

from datetime import date

import pytest

from generator.reading.fault import Fault, Severity
from generator.reading.folder import Found
from generator.records.checking import check
from generator.records.collect import collect
from generator.records.examples import example_faults, example_files
from generator.records.names import expecting, folded, nearest


def coded(overlay: str, code: str) -> tuple[Fault, ...]:
    return tuple(fault for fault in example_faults(overlay) if fault.code == code)


def test_a_sheet_with_a_fault_is_not_called_unknown() -> None:
    overlay = "chassis: {wheelbase: long}"
    files = collect(example_files(overlay))
    assert {fault.code for fault in files.faults} == {"Q02"}
    assert check(files.library, today=date(2026, 1, 15)) == ()


def test_a_club_file_with_a_fault_is_not_called_missing() -> None:
    files = collect(example_files("club: {units: cubits}"))
    assert {fault.code for fault in files.faults} == {"F04"}
    assert check(files.library, today=date(2026, 1, 15)) == ()


def test_a_missing_club_file_is_one_fault_on_its_first_line() -> None:
    (fault,) = example_faults("club: left out")
    assert (fault.code, fault.place.path, fault.place.line) == ("L21", "club.yaml", 1)


def test_an_unknown_chassis_names_the_nearest() -> None:
    (fault,) = coded("setup: {chassis: ostvane-meridell}", "L01")
    assert fault.fix == "write `chassis: ostvane-meridel`"
    (far,) = coded("setup: {chassis: xyz}", "L01")
    assert far.expected == "one of `ostvane-meridel`"


@pytest.mark.parametrize(
    ("overlay", "line"),
    [
        ("setup: {gaps: [{site: strut-tub, side: both, state: static, gap: 9 mm}]}", "strut-tub"),
        ("setup: {rubs: [{site: lip, side: left, grade: 1, when: kerb}]}", "lip"),
        ("setup: {remedies: [{kind: camber, axle: front, cured: [fender]}]}", "fender"),
        ("setup: {front: {bodywork: {changed: [pinch-weld]}}}", "pinch-weld"),
        ("setup: {disputes: [{date: 2025-08-01, member: Fernhollow, site: hose, claim: touches}]}",
         "hose"),
    ],
)  # fmt: skip
def test_every_place_that_names_a_site_is_looked_up(overlay: str, line: str) -> None:
    (fault,) = coded(overlay, "L03")
    assert line in fault.place.excerpt


def test_a_site_of_the_other_end_is_told_so() -> None:
    (fault,) = coded("setup: {remedies: [{kind: camber, axle: rear, cured: [fender-lip]}]}", "L03")
    assert "at the front, not at the rear" in fault.headline


def test_a_replacement_may_not_lead_back() -> None:
    overlay = (
        "setup: {supersedes: fernhollow-seven-inch}\n"
        "other: {car: copperbill-coupe, supersedes: copperbill-seven-inch}"
    )
    assert len(coded(overlay, "L06")) == 2
    assert coded("setup: {supersedes: copperbill-seven-inch}", "L06")
    (unknown,) = coded("setup: {supersedes: fernhollow-seven}\nother: {}", "L06")
    assert unknown.fix == "write `supersedes: fernhollow-seven-inch`"


def test_names_are_compared_as_readers_see_them() -> None:
    assert folded("ＯＳＴＶＡＮＥ Meridel") == "ostvanemeridel"  # full width, NFKC
    assert folded("Straße") == folded("STRASSE")  # case folding, Unicode 3.13
    assert folded("Nordlicht") != folded("Nordlich")
    assert folded("!!!") == "!!!"
    assert nearest("qqq", ("strut-tube",)) is None
    assert expecting("qqq", ()) == ("", None)


def test_a_name_of_two_scripts_shows_the_code_point() -> None:
    (fault,) = coded('setup: {member: "Copperb\\u0456ll"}', "L10")
    assert fault.severity is Severity.WARNING
    assert "U+0456" in fault.fix
    assert coded('setup: {member: "\\u041c\\u0435\\u0434\\u044c"}', "L10") == ()
    assert coded('setup: {member: "\\u9285\\u306e\\u304f\\u3061"}', "L10") == ()


# L11: 1443 - 2 · 24 = 1395; six millimetres are allowed.
@pytest.mark.parametrize(
    ("track", "speaks"),
    [("1401 mm", False), ("1402 mm", True), ("1389 mm", False), ("1388 mm", True)],
)
def test_track_follows_from_hub_faces(track: str, *, speaks: bool) -> None:
    faults = coded(f"chassis: {{front: {{track: {track}}}}}", "L11")
    assert bool(faults) is speaks
    assert all("1395 mm" in fault.expected for fault in faults)


# L14: bump 85, droop 90; two millimetres are allowed.
@pytest.mark.parametrize(
    ("fields", "speaks"),
    [
        ("articulation_up: 87 mm", False),
        ("articulation_up: 87.5 mm", True),
        ("articulation_down: -92 mm", False),
        ("articulation_down: -93 mm", True),
    ],
)
def test_articulation_stays_within_travel(fields: str, *, speaks: bool) -> None:
    assert bool(coded(f"chassis: {{rear: {{suspension: {{{fields}}}}}}}", "L14")) is speaks


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ("location: panhard rod", ""),
        ("rod: left out", "no lengths"),
        ("location: left out", "nothing that is named"),
        ("location: watt linkage, rod: left out", "no lengths"),
        ("location: watt linkage, rod: left out, watt: {link: 430 mm, arm: 118 mm}", ""),
    ],
)
def test_a_rod_is_described_where_it_is_named(fields: str, said: str) -> None:
    faults = coded(f"chassis: {{rear: {{suspension: {{{fields}}}}}}}", "L16")
    assert len(faults) == bool(said)
    assert all(said in fault.headline for fault in faults)


ARC = (
    "chassis: {{sites: [{{name: lip, label: lip, axle: front, facing: outboard, moves_with: body, "
    "wanted: 5 mm, arc: {{x: 0 mm, z: 0 mm, radius: 350 mm, begin: {}, end: {}, y: 90 mm}}}}]}}"
)


@pytest.mark.parametrize(
    ("begin", "end", "speaks"),
    [
        ("-30 deg", "30 deg", False),
        ("30 deg", "-30 deg", True),
        ("20 deg", "20 deg", True),
        ("0 deg", "360 deg", False),
        ("0 deg", "361 deg", True),
    ],
)
def test_an_arc_runs_forward_within_one_turn(begin: str, end: str, *, speaks: bool) -> None:
    assert bool(coded(ARC.format(begin, end), "L17")) is speaks


# L18: disc 252, so 126 from the axis, 3 mm allowed; the stock barrel leaves 160.
@pytest.mark.parametrize(
    ("outline", "expected"),
    [
        ("[{r: 66 mm, y: 2 mm}, {r: 123 mm, y: 0 mm}]", []),
        ("[{r: 66 mm, y: 2 mm}, {r: 122 mm, y: 0 mm}]", [Severity.WARNING]),
        ("[{r: 66 mm, y: 2 mm}, {r: 159 mm, y: 0 mm}]", []),
        ("[{r: 66 mm, y: 2 mm}, {r: 160 mm, y: 0 mm}]", [Severity.ERROR]),
        ("[{r: 130 mm, y: 2 mm}]", [Severity.ERROR]),
    ],
)
def test_a_brake_lies_between_its_disc_and_the_wheel(
    outline: str, expected: list[Severity]
) -> None:
    faults = coded(f"chassis: {{front: {{brake: {{outline: {outline}}}}}}}", "L18")
    assert [fault.severity for fault in faults] == expected


def test_one_s_own_confirmation_is_found_whatever_its_spelling() -> None:
    how = "date: 2025-07-02, how: reviewed the photographs"
    assert coded(f"setup: {{confirmations: [{{member: COPPERBILL, {how}}}]}}", "L19")
    assert coded(f"setup: {{confirmations: [{{member: Copperbell, {how}}}]}}", "L19") == ()


# The examples are judged on 2026-01-15; one day ahead may be today elsewhere.
@pytest.mark.parametrize(("day", "speaks"), [("2026-01-16", False), ("2026-01-17", True)])
@pytest.mark.parametrize(
    "overlay",
    [
        "setup: {{date: {}}}",
        "setup: {{confirmations: [{{member: Fernhollow, date: {}, how: measured the same car}}]}}",
        "setup: {{corrections: [{{date: {}, what: offset}}]}}",
        "setup: {{disputes: [{{date: {}, member: Fernhollow, claim: touches}}]}}",
        "setup: {{withdrawn: {{date: {}, reason: other hubs}}}}",
    ],
)
def test_no_date_lies_in_the_future(overlay: str, day: str, *, speaks: bool) -> None:
    assert bool(coded(overlay.format(day), "L22")) is speaks


def test_a_replaced_record_is_the_older_one() -> None:
    newer = (
        "setup: {supersedes: fernhollow-seven-inch}\n"
        "other: {car: copperbill-coupe, date: 2025-06-15}"
    )
    (fault,) = coded(newer, "L23")
    assert "1 days newer" in fault.headline
    assert coded(newer.replace("06-15", "06-14"), "L23") == ()


# L25: 605 + 510 = 1115; three per cent of 1150 are 34.5 and of 1149 34.47, so 1149 is within (34
# off) and 1150 is not (35 off).
@pytest.mark.parametrize(
    ("fields", "expected"),
    [
        ("kerb_mass: 1149 kg", []),
        ("kerb_mass: 1150 kg", [Severity.WARNING]),
        ("front: {permitted_load: 604 kg}", [Severity.ERROR]),
    ],
)
def test_axle_loads_add_up(fields: str, expected: list[Severity]) -> None:
    faults = coded(f"chassis: {{{fields}}}", "L25")
    assert [fault.severity for fault in faults] == expected


def test_a_copy_by_another_member_is_noted_and_one_s_own_is_not() -> None:
    same = "other: {front: {tyre: {section_width: 206 mm}}"
    assert [fault.severity for fault in coded(f"{same}}}", "L07")] == [Severity.NOTE]
    assert coded(f"{same}, member: Copperbill}}", "L07") == ()


def test_single_files_do_not_miss_what_was_not_loaded() -> None:
    (setup,) = (file for file in example_files("setup: {}") if file.path.startswith("setups/"))
    lone = collect((Found(setup.path, setup.content),))
    codes = {fault.code for fault in check(lone.library, today=date(2026, 1, 15))}
    assert codes == {"L01", "L21"}
