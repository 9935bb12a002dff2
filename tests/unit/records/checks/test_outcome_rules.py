"""Rules R36 to R40, R47 and R48: gaps, marks, remedies and what was left open.

Tolerances are common practice; positions are worked by hand in the comments.
"""

import pytest

from generator.reading.fault import Fault, Severity
from generator.records.examples import example_faults
from generator.records.hazard import must_not_touch
from generator.records.site_sheet import SiteSheet

OPEN = "not_checked: [fender lip, strut tube, brake hose, quarter lip, inner wheelhouse]"


def of_setup(fields: str, code: str, chassis: str = "") -> tuple[Fault, ...]:
    sheet = f"\nchassis: {chassis}" if chassis else ""
    faults = example_faults(f"setup: {{{fields}, {OPEN}}}{sheet}")
    return tuple(fault for fault in faults if fault.code == code)


def gap(site: str, state: str, said: str) -> str:
    return f"gaps: [{{site: {site}, side: both, state: {state}, gap: {said}}}], remedies: []"


@pytest.mark.parametrize(
    ("fields", "speaks"),
    [
        (gap("strut-tube", "static", "touches"), True),
        (gap("strut-tube", "static", "-1 mm"), True),
        (gap("strut-tube", "static", "clears"), False),
        (gap("strut-tube", "toe-in lock", "touches"), True),  # the sample was turned to full lock
        (gap("strut-tube", "toe-in lock", "touches") + ", road: {full_lock: no}", False),
        (gap("quarter-lip", "full bump", "touches"), False),  # not every drive reaches the stop
        (gap("strut-tube", "static", "touches") + ", road: {outcome: mark found}", False),
    ],
)
def test_contact_leaves_a_mark_where_every_drive_goes(fields: str, *, speaks: bool) -> None:
    assert bool(of_setup(fields, "R36")) is speaks


@pytest.mark.parametrize(
    ("said", "cured", "speaks"),
    [("4 mm", "no", True), ("3 mm", "no", False), ("4 mm", "yes", False), ("clears", "no", False)],
)
def test_a_rub_needs_a_gap_of_nothing(said: str, cured: str, *, speaks: bool) -> None:
    rub = f"rubs: [{{site: strut-tube, side: left, grade: 1, when: kerb, cured: {cured}}}]"
    assert bool(of_setup(f"{gap('strut-tube', 'static', said)}, {rub}", "R36")) is speaks


@pytest.mark.parametrize(
    ("rub", "road", "expected"),
    [
        ("site: fender-lip, grade: 2", "outcome: mark found", []),
        ("site: fender-lip, grade: 3", "outcome: mark found", [Severity.ERROR]),
        ("site: fender-lip, grade: 4, cured: yes", "outcome: mark found", []),
        ("site: fender-lip, grade: 4, cured: no", "outcome: not driven", [Severity.WARNING]),
        ("site: fender-lip, grade: 4, cured: no", "outcome: mark found", [Severity.ERROR]),
        ("site: brake-hose, grade: 1", "outcome: mark found", [Severity.ERROR]),
        ("site: brake-hose, grade: 0", "outcome: mark found", []),
    ],
)
def test_dangerous_contact_must_be_cured(rub: str, road: str, expected: list[Severity]) -> None:
    fields = f"rubs: [{{side: left, when: kerb, {rub}}}], road: {{{road}}}"
    assert [fault.severity for fault in of_setup(fields, "R37")] == expected


def test_a_hose_that_touches_is_refused_and_a_withdrawn_record_kept() -> None:
    touching = gap("brake-hose", "toe-in lock", "touches")
    assert [fault.severity for fault in of_setup(touching, "R37")] == [Severity.ERROR]
    withdrawn = "withdrawn: {date: 2025-08-01, reason: the hose touched}"
    assert of_setup(f"{touching}, {withdrawn}", "R37") == ()


@pytest.mark.parametrize(
    ("name", "label", "hazard"),
    [
        ("brake-hose", "brake hose", True),
        ("sensor-wire", "speed-sensor wire", True),
        ("tie-rod", "tie rod", True),
        ("filler-neck", "filler neck", True),
        ("bracket", "hard line at the axle", True),
        ("strut-tube", "strut tube", False),
        ("fender-liner-front", "fender liner, front", False),
        ("exhaust-tailpipe", "exhaust tailpipe", False),
        ("radius-rod", "radius rod", False),
        ("track-arm-bracket", "bracket of the lower arm", False),
    ],
)
def test_hoses_wires_steering_and_fuel_are_found_by_name(
    name: str, label: str, *, hazard: bool
) -> None:
    shape = {"x": "0 mm", "y": "0 mm", "z": "300 mm"}
    site = SiteSheet.model_validate(
        {"name": name, "label": label, "axle": "front", "facing": "inboard",
         "moves_with": "body", "block": shape, "wanted": "5 mm"}
    )  # fmt: skip
    assert must_not_touch(site) is hazard


# R38: offset 22, section 206: the inboard face is at 0 - 22 - 103 = -125. The strut tube's ramp is
# at y -139 where z is 200, which lies between the flange at 190.5 and the shoulder at 306 - 28 =
# 278: 14 mm of room. Allowed: 8, and twice the root of 3² + 1.5² + 0.5² (sheet, cars, feeler),
# 6.78.
@pytest.mark.parametrize(("said", "speaks"), [("28.7 mm", False), ("28.9 mm", True)])
def test_a_gap_cannot_be_larger_than_the_room(said: str, *, speaks: bool) -> None:
    line = f"{{site: strut-tube, side: both, state: static, tool: feeler gauge, gap: {said}}}"
    faults = of_setup(f"remedies: [], gaps: [{line}]", "R38")
    assert bool(faults) is speaks
    assert all("the 14 mm between" in fault.headline for fault in faults)


# The usual ranges are those of the fields: offset -75 to 60 mm, backspacing 70 to 230 mm. An offset
# of 55 mm puts the inboard face at 0 - 55 - 103 = -158, so that 9 mm by feeler are told of.
@pytest.mark.parametrize(
    ("wheel", "speaks"),
    [
        ("offset: 55 mm, backspacing: left out", True),
        ("offset: 61 mm, backspacing: left out", False),
        ("offset: 220 mm, backspacing: left out", False),
        ("offset: left out, backspacing: 240 mm", False),
    ],
)
def test_a_gap_says_nothing_beside_a_wheel_that_is_out_of_range(
    wheel: str, *, speaks: bool
) -> None:
    line = "{site: strut-tube, side: both, state: static, tool: feeler gauge, gap: 9 mm}"
    fields = f"remedies: [], gaps: [{line}], front: {{wheel: {{{wheel}}}}}"
    assert bool(of_setup(fields, "R38")) is speaks


def test_what_was_moved_explains_a_large_gap() -> None:
    fields = gap("strut-tube", "static", "40 mm")
    assert of_setup(fields, "R38")
    changed = "front: {bodywork: {changed: [strut-tube]}}"
    assert of_setup(f"{fields}, {changed}", "R38") == ()


# R39: the front is 54 mm outboard of stock, the rear 2 mm: only one end is far out.
def test_one_end_that_is_far_out_is_not_a_swap() -> None:
    bad = (
        "front: {wheel: {offset: -30 mm, backspacing: 71.5 mm}}, "
        "rear: {wheel: {offset: 22 mm, backspacing: 123.5 mm}}"
    )
    assert of_setup(bad, "R39") == ()


def only_gap(rest: str) -> tuple[Fault, ...]:
    line = "{site: strut-tube, side: both, state: static, gap: 9 mm}"
    faults = example_faults(f"setup: {{remedies: [], gaps: [{line}], {rest}}}")
    return tuple(fault for fault in faults if fault.code == "R40")


def test_sites_without_a_word_are_listed_in_one_fault() -> None:
    (silent,) = only_gap("not_checked: left out")
    assert silent.severity is Severity.WARNING
    assert "`fender-lip`, `brake-hose`, `quarter-lip`, `inner-wheelhouse`" in silent.headline
    (partly,) = only_gap("not_checked: [the brake hose, Quarter panel LIP]")
    assert partly.severity is Severity.NOTE
    assert "`brake-hose`" not in partly.headline
    assert "`quarter-lip`" not in partly.headline
    assert "`fender-lip`, `inner-wheelhouse`" in partly.headline


def test_a_body_site_at_rest_only_is_named() -> None:
    (fault,) = of_setup_gaps("fender-lip", "static")
    assert "only at rest: `fender-lip`" in fault.headline
    assert of_setup_gaps("fender-lip", "full bump") == ()


def of_setup_gaps(site: str, state: str) -> tuple[Fault, ...]:
    told = "not_checked: [strut tube, brake hose, quarter lip, inner wheelhouse]"
    fields = f"{gap(site, state, '9 mm')}, {told}"
    faults = example_faults(f"setup: {{{fields}}}")
    return tuple(fault for fault in faults if fault.code == "R40")


def one_side(gaps: str) -> tuple[Fault, ...]:
    told = "not_checked: [fender lip, brake hose, quarter lip, inner wheelhouse]"
    faults = example_faults(f"setup: {{gaps: [{gaps}], {told}}}")
    return tuple(fault for fault in faults if fault.code == "R40")


def test_a_site_told_on_one_side_only_is_named() -> None:
    left = "{site: strut-tube, side: left, state: static, gap: 9 mm}"
    (fault,) = one_side(left)
    assert "one side only: `strut-tube`" in fault.headline
    assert one_side(f"{left}, {left.replace('left', 'right')}") == ()
    assert one_side(left.replace("left", "both")) == ()


# R47: the sheet's toe-in lock is 32 deg; one degree is the spread between sides.
@pytest.mark.parametrize(
    ("fields", "speaks"),
    [
        ("stop_shim: 3 mm, toe_in_lock: 33 deg", False),
        ("stop_shim: 3 mm, toe_in_lock: 33.1 deg", True),
        ("stop_shim: 0 mm, toe_in_lock: 34 deg", False),
        ("toe_in_lock: 34 deg", False),
    ],
)
def test_a_shim_takes_lock_away(fields: str, *, speaks: bool) -> None:
    assert bool(of_setup(f"front: {{{fields}}}", "R47")) is speaks


@pytest.mark.parametrize(
    ("camber", "site", "speaks"),
    [("1 deg", "fender-lip", True), ("0 deg", "fender-lip", False), ("1 deg", "strut-tube", False)],
)
def test_camber_makes_room_on_one_side_only(camber: str, site: str, *, speaks: bool) -> None:
    remedy = f"remedies: [{{kind: camber, axle: front, cured: [{site}]}}]"
    assert bool(of_setup(f"front: {{camber: {camber}}}, {remedy}", "R48")) is speaks
