"""Rules R01 to R09: what a wheel's own measurements say of each other, against hand reckoning.

The sample's front wheel is 7 x 15 (177.8 mm between the flanges), offset 22, backspacing 123.5,
overall 203, lips 12.6; the stock wheel 6 x 14 (152.4 mm), offset 24, section 201. The relations
B = W/2 + t + ET and overall = W + t + t are those of the trade, computed; tolerances and the
half-inch lip are common practice. Numbers are worked in the comments.
"""

import pytest

from generator.reading.fault import Fault, Severity
from generator.records.examples import example_faults

EIGHT = "size: 8 x 15, flange_inboard: left out, flange_outboard: left out"
BARE = "flange_inboard: left out, flange_outboard: left out, overall_width: left out"


def of_front_wheel(fields: str, rest: str = "") -> tuple[Fault, ...]:
    found = example_faults(f"setup: {{front: {{wheel: {{{fields}}}{rest}}}}}")
    return tuple(fault for fault in found if "R01" <= fault.code <= "R09")


def only(faults: tuple[Fault, ...], code: str) -> Fault:
    assert [fault.code for fault in faults] == [code], [fault.headline for fault in faults]
    return faults[0]


# R01: with t = 12.6 measured, B = 88.9 + 12.6 + 22 = 123.5; 3 mm are allowed, above 10 is grave.
@pytest.mark.parametrize(
    ("backspacing", "severity", "said"),
    [
        ("126.4 mm", None, ""),  # 2.9 off
        ("126.6 mm", Severity.WARNING, "disagree by 3.1 mm"),
        ("133.4 mm", Severity.WARNING, "disagree by 9.9 mm"),
        ("138.6 mm", Severity.ERROR, "disagree by 15.1 mm"),
        ("120.4 mm", Severity.WARNING, "disagree by 3.1 mm"),
        ("4.862 in", None, ""),  # 4.862 · 25.4 = 123.49
    ],
)
def test_offset_and_backspacing_are_held_together(
    backspacing: str, severity: Severity | None, said: str
) -> None:
    faults = of_front_wheel(f"backspacing: {backspacing}")
    if severity is None:
        assert faults == ()
        return
    fault = only(faults, "R01")
    assert fault.severity is severity
    assert said in fault.headline
    assert "123.5 mm" in fault.expected
    assert "backspacing:" in fault.place.excerpt
    assert "offset:" in fault.also[0].place.excerpt


# R01, lips not measured: t = 12.7, so B = 88.9 + 12.7 + 22 = 123.6, and 6 mm are allowed.
@pytest.mark.parametrize(("backspacing", "speaks"), [("129.5 mm", False), ("129.7 mm", True)])
def test_lips_that_nobody_measured_leave_more_room(backspacing: str, *, speaks: bool) -> None:
    faults = of_front_wheel(f"{BARE}, backspacing: {backspacing}")
    assert bool(faults) is speaks


def test_unequal_lips_count_only_on_the_inboard_side() -> None:
    # t_i 8, t_o 17: overall 177.8 + 25 = 202.8; B = 88.9 + 8 + 22 = 118.9.
    fields = "flange_inboard: 8 mm, flange_outboard: 17 mm, overall_width: 202.8 mm"
    assert of_front_wheel(f"{fields}, backspacing: 118.9 mm") == ()
    assert only(of_front_wheel(f"{fields}, backspacing: 123.5 mm"), "R01")


def test_the_same_number_in_both_fields_is_named() -> None:
    fault = only(of_front_wheel("offset: 60 mm, backspacing: 60 mm"), "R01")
    assert "same number" in fault.fix


def test_a_stock_wheel_is_held_together_too() -> None:
    # 6 x 14: 76.2 + 12.7 + 24 = 112.9; 125 is 12.1 more, beyond 6 and beyond 10.
    found = example_faults("chassis: {rear: {stock_wheel: {backspacing: 125 mm}}}")
    (fault,) = (fault for fault in found if fault.code == "R01")
    assert fault.severity is Severity.ERROR
    assert "disagree by 12.1 mm" in fault.headline
    assert fault.place.path == "chassis/ostvane-meridel.yaml"


# R02, from the trade's own example: 8 in is 203.2 mm between the flanges and 228.6 over the lips.
# B 138.3: true offset 138.3 − 114.3 = 24.0; from the nominal width 138.3 − 101.6 = 36.7.
def test_nominal_width_for_overall_width_gives_an_offset_half_an_inch_too_high() -> None:
    wheel = f"{EIGHT}, overall_width: 228.6 mm, backspacing: 138.3 mm"
    assert of_front_wheel(f"{wheel}, offset: 24.0 mm") == ()
    fault = only(of_front_wheel(f"{wheel}, offset: 36.7 mm"), "R02")
    assert "12.7 mm too high" in fault.headline
    assert "write `offset: 24 mm`" in fault.fix
    assert fault.severity is Severity.WARNING


# R02 asks for |B − W/2 − ET| < 2: 123.5 − 88.9 = 34.6, so 36.5 is within and 36.7 is not.
@pytest.mark.parametrize(("offset", "code"), [("36.5 mm", "R02"), ("36.7 mm", "R01")])
def test_nominal_width_is_named_only_where_it_explains(offset: str, code: str) -> None:
    assert only(of_front_wheel(f"offset: {offset}"), code)


# R03: 0.2 in = 5.08 mm; a shim of 0.1 in = 2.54 mm; offset 22 / 25.4 = 0.866.
@pytest.mark.parametrize(
    ("fields", "rest", "said"),
    [
        ("", ", spacer: {thickness: 0.2 mm, kind: slip-on}", "only as 5.1 mm"),
        ("", ", spacer: {thickness: 0.1 mm, kind: shim}", "only as 2.5 mm"),
        ("", ", spacer: {thickness: 1 mm, kind: bolt-on}", "only as 25.4 mm"),
        ("offset: 0.87 mm", "", "only as 22.1 mm"),
        # 374 − 25 = 349: the car stands 25 mm lower, an inch.
        ("", ", ride_height: {change: -1 mm, hub_to_lip: 349 mm}", "only as -25.4 mm"),
        # 62 − 52 = 10 mm cut off; 0.4 in = 10.16.
        ("", ", bump_stop: {state: trimmed, trimmed: 0.4 mm, free_height: 52 mm}", "10.2 mm"),
    ],
)
def test_a_length_that_fits_only_in_inches_is_named(fields: str, rest: str, said: str) -> None:
    faults = of_front_wheel(fields, rest)
    if "thickness: 1 mm" in rest:
        faults = tuple(fault for fault in faults if fault.code == "R03")
    fault = only(faults, "R03")
    assert said in fault.headline
    assert fault.severity is Severity.ERROR
    assert " in`" in fault.fix


def test_a_length_outside_its_own_range_is_left_to_the_reader() -> None:
    # 4.86 mm for 4.86 in: the field's own range, from 35 mm, has the word.
    found = example_faults("setup: {front: {wheel: {backspacing: 4.86 mm}}}")
    assert [fault.code for fault in found] == ["F10"]
    assert "`in`" in found[0].fix


def test_a_thin_shim_is_not_taken_for_inches() -> None:
    assert of_front_wheel("", ", spacer: {thickness: 1.5 mm, kind: shim}") == ()


# R04 without backspacing: stock 24 ± 25 runs from −1 to 49.
@pytest.mark.parametrize(
    ("offset", "speaks"),
    [("-0.5 mm", False), ("-2 mm", True), ("-49 mm", True), ("-50 mm", False), ("55 mm", False)],
)
def test_an_offset_that_fits_the_car_with_the_other_sign(offset: str, *, speaks: bool) -> None:
    faults = of_front_wheel(f"{BARE}, backspacing: left out, offset: {offset}")
    assert [fault.code for fault in faults if fault.code == "R04"] == ["R04"] * speaks


def test_a_backspacing_that_agrees_proves_the_sign() -> None:
    # B = 88.9 + 12.6 − 10 = 91.5 goes with −10, which stock ± 25 alone would doubt.
    assert of_front_wheel("offset: -10 mm, backspacing: 91.5 mm") == ()


def test_a_backspacing_that_agrees_with_the_other_sign_shows_the_slip() -> None:
    # B = 88.9 + 12.6 − 10 = 91.5 asks for −10; written is +10, within 25 of the stock offset.
    fault = only(of_front_wheel("offset: 10 mm, backspacing: 91.5 mm"), "R04")
    assert "write `offset: -10 mm`" in fault.fix


# R05: the overall width is 203; unmeasured it is 177.8 + 25.4 = 203.2, and 6 mm more are allowed.
@pytest.mark.parametrize(
    ("fields", "speaks"),
    [
        ("backspacing: 202 mm", False),
        ("backspacing: 204 mm", True),
        (f"{BARE}, backspacing: 208 mm", False),
        (f"{BARE}, backspacing: 210 mm", True),
    ],
)
def test_backspacing_stays_inside_the_wheel(fields: str, *, speaks: bool) -> None:
    codes = [fault.code for fault in of_front_wheel(fields) if fault.code in ("R01", "R05")]
    assert codes == (["R05"] if speaks else ["R01"])


# R06: 177.8 + 10 = 187.8 and 177.8 + 36 = 213.8.
@pytest.mark.parametrize(
    ("overall", "speaks"),
    [("187.7 mm", True), ("187.9 mm", False), ("213.7 mm", False), ("213.9 mm", True)],
)
def test_lips_add_ten_to_thirty_six_millimetres(overall: str, *, speaks: bool) -> None:
    lips = "flange_inboard: left out, flange_outboard: left out, backspacing: left out"
    codes = [fault.code for fault in of_front_wheel(f"{lips}, overall_width: {overall}")]
    assert codes == ["R06"] * speaks


def test_overall_and_inner_width_in_each_others_place_are_named() -> None:
    fault = only(of_front_wheel("overall_width: 178 mm, width_measured: 203 mm"), "R06")
    assert "25 mm less" in fault.headline
    assert "changed places" in fault.fix


# R07: 177.8 + 12.6 + t = 203 gives t = 12.6; 3 mm are allowed. A single lip of 18 leaves 7.2,
# one of 24 leaves 1.2, too thin for a lip.
@pytest.mark.parametrize(
    ("fields", "speaks"),
    [
        ("flange_outboard: 15.5 mm", False),
        ("flange_outboard: 15.7 mm", True),
        ("flange_outboard: 9.5 mm", True),
        ("flange_inboard: left out, flange_outboard: 18 mm, backspacing: left out", False),
        ("flange_inboard: left out, flange_outboard: 24 mm, backspacing: left out", True),
    ],
)
def test_width_and_lips_make_the_overall_width(fields: str, *, speaks: bool) -> None:
    assert [fault.code for fault in of_front_wheel(fields)] == ["R07"] * speaks


# R08: spacer 8. An offset of 22 − 8 = 14 has it in; so has a backspacing of 123.5 − 8 = 115.5.
@pytest.mark.parametrize(
    ("fields", "field", "bare"),
    [
        ("offset: 14 mm", "offset", "22 mm"),
        ("backspacing: 115.5 mm", "backspacing", "123.5 mm"),
        ("backspacing: left out, offset_measured: 14 mm", "offset_measured", "22 mm"),
    ],
)
def test_a_spacer_in_two_places_is_named(fields: str, field: str, bare: str) -> None:
    fault = only(of_front_wheel(fields, ", spacer: {thickness: 8 mm, kind: piloted}"), "R08")
    assert f"write `{field}: {bare}`" in fault.fix
    assert f"{field}:" in fault.place.excerpt
    assert "thickness" in fault.also[0].place.excerpt


def test_a_disagreement_of_another_size_is_not_the_spacer() -> None:
    faults = of_front_wheel("offset: 8 mm", ", spacer: {thickness: 8 mm, kind: piloted}")
    assert only(faults, "R01")  # 14 mm are not 8


# R09, rear: section 206 against 201 is half 2.5 wider. Offset ET against 24 moves the outer face
# by 24 − ET + 2.5: −53 gives 79.5, −54 gives 80.5. A spacer of 55 and −50 give 131.5.
@pytest.mark.parametrize(
    ("fields", "severity"),
    [
        ("wheel: {backspacing: left out, offset: -53 mm}", None),
        ("wheel: {backspacing: left out, offset: -54 mm}", Severity.WARNING),
        (
            "wheel: {backspacing: left out, offset: -50 mm}, hardware: left out, "
            "spacer: {thickness: 55 mm, kind: bolt-on}",
            Severity.ERROR,
        ),
    ],
)
def test_a_tyre_far_from_the_stock_one_is_asked_about(
    fields: str, severity: Severity | None
) -> None:
    found = [f for f in example_faults(f"setup: {{rear: {{{fields}}}}}") if f.code == "R09"]
    assert [fault.severity for fault in found] == ([severity] if severity else [])


def test_a_moved_hub_face_counts_as_the_wheel_does() -> None:
    # 24 − (−20) + 2.5 = 46.5; the face 40 mm outboard makes it 86.5.
    fields = "wheel: {backspacing: left out, offset: -20 mm}, face_moved: 40 mm"
    (fault,) = (f for f in example_faults(f"setup: {{rear: {{{fields}}}}}") if f.code == "R09")
    assert "86.5 mm further outboard" in fault.headline


def test_an_offset_that_no_wheel_has_is_asked_to_be_a_backspacing() -> None:
    # 8 in: 101.6 + 12.7 + 24 = 138.3 mm of backspacing at offset 24.
    fields = "wheel: {size: 8 x 15, backspacing: left out, offset: 138 mm}"
    (fault,) = (f for f in example_faults(f"setup: {{rear: {{{fields}}}}}") if f.code == "R09")
    assert fault.fix == "write `backspacing: 138 mm` if it was measured to the inboard lip"
