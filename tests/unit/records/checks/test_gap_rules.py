"""Rules R10 to R18: gaps, heights and threads of a record, against hand reckoning.

Tolerances and the spread of tools are common practice: feeler gauge ±0.5, clay ±1, steel rule and
no tool named ±2, by eye ±4, from memory ±6. What two gaps may differ by is the rule's own spread
and that of both tools. Numbers are worked in the comments.
"""

import pytest

from generator.reading.fault import Fault, Severity
from generator.records.examples import example_faults


def of(code: str, overlay: str) -> list[Fault]:
    found = example_faults(overlay)
    misread = [f.headline for f in found if f.code[0] in "FNQSY" and f.severity is Severity.ERROR]
    assert not misread
    return [fault for fault in found if fault.code == code]


def gaps(*rows: str) -> str:
    return "gaps: [" + ", ".join("{" + row + "}" for row in rows) + "]"


def strut(
    gap: str, tool: str = "feeler gauge", *, side: str = "both", state: str = "static"
) -> str:
    said = "" if tool == "none" else f", tool: {tool}"
    return f"site: strut-tube, side: {side}, state: {state}, gap: {gap}{said}"


def lip(gap: str, *, side: str = "both", state: str = "full bump", tool: str = "clay") -> str:
    return f"site: fender-lip, side: {side}, state: {state}, gap: {gap}, tool: {tool}"


def quarter(gap: str, side: str, state: str = "static") -> str:
    return f"site: quarter-lip, side: {side}, state: {state}, gap: {gap}, tool: feeler gauge"


def again(front: str, rows: str, more: str = "") -> str:
    """Lay a later record of the sample's car over the sample; its section is the sample's."""
    tyre = "" if "tyre:" in front else ", tyre: {section_width: 206 mm}"
    return (
        "other: {member: Copperbill, car: copperbill-coupe, date: 2025-08-02, title: A second "
        f"try, {more} front: {{{front}{tyre}}}, {rows}}}"
    )


# R10. The sample has 9 mm at offset 22. At offset 12 the tyre stands 10 mm further outboard
# (inner change 0/2 + (12 − 22) = −10), so 19 mm is expected; 3 + 0.5 + 0.5 = 4 mm are allowed,
# and 12 + 1 = 13 before it is an error.
@pytest.mark.parametrize(
    ("gap", "severity"),
    [
        ("19 mm", None),
        ("15.1 mm", None),
        ("14.9 mm", Severity.WARNING),
        ("23.1 mm", Severity.WARNING),
        ("31.9 mm", Severity.WARNING),
        ("32.1 mm", Severity.ERROR),
        ("clears", None),
        ("touches", Severity.ERROR),  # 0 or less, at least 19 from what is expected
        ("more than 22 mm", None),
        ("more than 24 mm", Severity.WARNING),
        ("10 to 14 mm", Severity.WARNING),
        ("10 to 16 mm", None),
    ],
)
def test_a_gap_beside_the_wheel_follows_the_offset(gap: str, severity: Severity | None) -> None:
    wheel = "wheel: {offset: 12 mm, backspacing: 113.5 mm}"
    found = of("R10", again(wheel, gaps(strut(gap))))
    assert [fault.severity for fault in found] == ([severity] if severity else [])


def test_a_gap_beside_the_wheel_follows_spacer_and_section() -> None:
    # A spacer of 8 takes the face 8 outboard; a section wider by 10 takes it 5 inboard: 9 + 3 = 12.
    front = "spacer: {thickness: 8 mm, kind: piloted}, tyre: {section_width: 216 mm}"
    assert of("R10", again(front, gaps(strut("12 mm")))) == []
    assert len(of("R10", again(front, gaps(strut("17 mm"))))) == 1


def test_a_gap_over_the_crown_follows_the_diameter() -> None:
    # A tyre 20 mm larger stands 10 mm higher: 24 becomes 14; 3 + 0.5 + 0.5 are allowed.
    perch = (
        "chassis: {sites: [{name: spring-perch, label: spring perch, axle: front, facing: crown, "
        "moves_with: knuckle, block: {x: -70 to 70 mm, y: -190 -> -104 mm, z: 322 mm}, "
        "wanted: 8 mm}]}"
    )
    row = "site: spring-perch, side: both, state: static, tool: feeler gauge, gap:"
    first = f"setup: {{{gaps(f'{row} 24 mm')}}}"
    front = "tyre: {section_width: 206 mm, diameter: 632 mm}"
    for gap, count in (("14 mm", 0), ("18.1 mm", 1), ("24 mm", 1)):
        later = again(front, gaps(f"{row} {gap}"))
        assert len(of("R10", f"{{{perch}, {first}, {later}}}")) == count


def test_rough_tools_are_given_their_room() -> None:
    wheel = "wheel: {offset: 12 mm, backspacing: 113.5 mm}"
    # 9 of 19 expected is 10 off; by eye 3 + 0.5 + 4 = 7.5 are allowed, from memory 9.5.
    assert len(of("R10", again(wheel, gaps(strut("9 mm", "by eye"))))) == 1
    assert len(of("R10", again(wheel, gaps(strut("9.6 mm", "from memory"))))) == 0


def test_a_spacer_that_changed_no_gap_is_named() -> None:
    found = of("R10", again("spacer: {thickness: 8 mm, kind: piloted}", gaps(strut("9 mm"))))
    assert "counted twice" in found[0].fix
    assert found[0].place.path.endswith("fernhollow-seven-inch.yaml")
    assert found[0].also[0].place.path.endswith("copperbill-seven-inch.yaml")


@pytest.mark.parametrize(
    "more",
    [
        "car: another-car,",
        "variant: other hubs,",
        "withdrawn: {date: 2025-09-01, reason: the car had other hubs},",
        "supersedes: copperbill-seven-inch,",
    ],
)
def test_only_records_that_can_be_compared_are(more: str) -> None:
    overlay = again("spacer: {thickness: 8 mm, kind: piloted}", gaps(strut("9 mm")), more)
    if "car:" in more:
        overlay = overlay.replace("car: copperbill-coupe, ", "")
    assert of("R10", overlay) == []


def test_a_part_that_was_reshaped_is_not_compared() -> None:
    front = "spacer: {thickness: 8 mm, kind: piloted}, bodywork: {changed: [strut-tube]}"
    assert of("R10", again(front, gaps(strut("9 mm")))) == []


def test_the_left_gap_is_not_held_against_the_right_one() -> None:
    first = f"setup: {{{gaps(strut('9 mm', side='left'), strut('12 mm', side='right'))}}}"
    later = again("camber: -1 deg", gaps(strut("12 mm", side="right")))
    assert of("R10", f"{{{first}, {later}}}") == []


# R11. At rest 5 by clay; at bump at most 5, and 2 + 1 + 1 = 4 are allowed.
@pytest.mark.parametrize(
    ("gap", "speaks"),
    [("8.9 mm", False), ("9.1 mm", True), ("clears", False), ("more than 10 mm", True)],
)
def test_a_lip_comes_nearer_at_bump(gap: str, *, speaks: bool) -> None:
    rows = gaps(lip("5 mm", state="static"), lip(gap))
    assert bool(of("R11", f"setup: {{{rows}}}")) is speaks


def test_a_sill_below_the_hub_may_open_at_bump() -> None:
    sill = (
        "chassis: {sites: [{name: sill, label: sill, axle: front, facing: outboard, moves_with: "
        "body, block: {x: -330 mm, y: 80 mm, z: -90 to 20 mm}, wanted: 8 mm}]}"
    )
    rows = gaps(
        "site: sill, side: left, state: static, gap: 5 mm",
        "site: sill, side: left, state: full bump, gap: 40 mm",
    )
    assert of("R11", f"{{{sill}, setup: {{{rows}}}}}") == []


# R12. 9 at rest; 3 + 0.5 + 0.5 = 4 are allowed in any other state.
@pytest.mark.parametrize(
    ("gap", "speaks"),
    [("12.9 mm", False), ("13.1 mm", True), ("4.9 mm", True), ("touches", True), ("clears", False)],
)
def test_a_strut_keeps_its_gap_at_lock(gap: str, *, speaks: bool) -> None:
    rows = gaps(strut("9 mm"), strut(gap, state="toe-out lock at bump"))
    assert bool(of("R12", f"setup: {{{rows}}}")) is speaks


def test_a_lip_may_change_its_gap_at_lock() -> None:
    rows = gaps(lip("20 mm", state="static"), lip("3 mm", state="toe-out lock"))
    assert of("R12", f"setup: {{{rows}}}") == []


# R13. Before 9 left and 11 right by clay; 2 + 1 + 1 = 4 are allowed. Sheet: ratio 0.96,
# 12 / 0.96 = 12.5 mm of travel at the wheel.
@pytest.mark.parametrize(("gap", "count"), [("12.9 mm", 0), ("13.1 mm", 1), ("15.1 mm", 2)])
def test_no_gap_at_bump_grows_with_a_trimmed_stop(gap: str, count: int) -> None:
    front = "bump_stop: {state: trimmed, trimmed: 12 mm}"
    found = of("R13", again(front, gaps(lip(gap))))
    assert len(found) == count
    assert all("12.5 mm further up" in fault.expected for fault in found)


@pytest.mark.parametrize(
    "front",
    [
        "bump_stop: {state: original}",
        "bump_stop: {state: trimmed, trimmed: 12 mm}, bodywork: {lips: pulled, lips_gained: 15 mm}",
        "bump_stop: {state: trimmed, trimmed: 12 mm}, camber: -2 deg",
        "bump_stop: {state: trimmed, trimmed: 12 mm}, wheel: {offset: 32 mm, backspacing: 134 mm}",
    ],
)
def test_a_gap_may_grow_for_another_reason(front: str) -> None:
    assert of("R13", again(front, gaps(lip("25 mm")))) == []


# R14. Sheet 374 to the lip, 389 to the rail; the sample's lips gained 8 mm, which a lip may sit
# higher. At −50 the lip is expected at 324, so 314 to 342; the rail at 339, so 329 to 349.
@pytest.mark.parametrize(
    ("heights", "speaks"),
    [
        ("change: -50 mm, hub_to_lip: 341 mm", False),
        ("change: -50 mm, hub_to_lip: 343 mm", True),
        ("change: -50 mm, hub_to_lip: 315 mm", False),
        ("change: -50 mm, hub_to_lip: 313 mm", True),
        ("change: -50 mm, hub_to_rail: 348 mm", False),
        ("change: -50 mm, hub_to_rail: 350 mm", True),
        ("hub_to_lip: 344 mm, hub_to_rail: 359 mm", False),
        ("hub_to_lip: 324 mm, hub_to_rail: 359 mm", True),  # −50 and −30
    ],
)
def test_heights_fall_by_the_lowering(heights: str, *, speaks: bool) -> None:
    found = of("R14", f"setup: {{front: {{ride_height: {{{heights}}}}}}}")
    assert bool(found) is speaks


def test_a_lowering_with_the_sign_turned_round_is_named() -> None:
    (found,) = of("R14", "setup: {front: {ride_height: {change: 30 mm, hub_to_lip: 344 mm}}}")
    assert "write `change: -30 mm`" in found.fix


# R15. Beside the wheel 4 + 0.5 + 0.5 = 5 are allowed, at the body by clay 12 + 1 + 1 = 14.
@pytest.mark.parametrize(
    ("rows", "speaks"),
    [
        ((strut("9 mm", side="left"), strut("13.9 mm", side="right")), False),
        ((strut("9 mm", side="left"), strut("14.1 mm", side="right")), True),
        ((lip("20 mm", side="left"), lip("6.1 mm", side="right")), False),
        ((lip("20 mm", side="left"), lip("5.9 mm", side="right")), True),
        ((lip("20 mm", side="left"), lip("5.9 mm", side="right", state="static")), False),
        ((lip("20 mm", side="left"), lip("touches", side="right")), True),
    ],
)
def test_both_sides_of_a_car_are_nearly_alike(rows: tuple[str, ...], *, speaks: bool) -> None:
    found = of("R15", f"setup: {{{gaps(*rows)}}}")
    assert bool(found) is speaks


def test_a_spacer_on_one_side_accounts_for_its_thickness() -> None:
    # 8 mm more on the right: the tyre stands 8 further outboard there, the strut's gap is 8 wider.
    rows = gaps(strut("9 mm", side="left"), strut("17 mm", side="right"))
    front = "front: {right: {spacer: 8 mm}}"
    assert of("R15", f"setup: {{{front}, {rows}}}") == []
    assert len(of("R15", f"setup: {{{rows}}}")) == 1


def test_a_spacer_on_one_side_takes_from_the_outer_gap() -> None:
    # 8 mm more on the right bring its tyre 8 nearer the lip: 20 left makes 12 right, ±14.
    rows = gaps(lip("20 mm", side="left"), lip("-1 mm", side="right"))
    assert of("R15", f"setup: {{front: {{right: {{spacer: 8 mm}}}}, {rows}}}") == []
    assert len(of("R15", f"setup: {{{rows}}}")) == 1
    rows = gaps(lip("20 mm", side="left"), lip("30 mm", side="right"))
    assert len(of("R15", f"setup: {{front: {{right: {{spacer: 8 mm}}}}, {rows}}}")) == 1


def test_a_stated_axle_error_is_left_to_its_own_rule() -> None:
    rows = gaps(quarter("6 mm", "left"), quarter("34 mm", "right"))
    assert len(of("R15", f"setup: {{{rows}}}")) == 1
    told = f"setup: {{rear: {{axle_error: 14 mm}}, {rows}}}"
    assert of("R15", told) == []
    assert of("R16", told) == []  # (34 − 6) / 2 = 14


# R16. Half of right less left is the error to the left; 4 + (0.5 + 0.5) / 2 = 4.5 are allowed.
@pytest.mark.parametrize(
    ("left", "right", "speaks"),
    [
        ("14 mm", "26 mm", False),  # 6
        ("14 mm", "34.9 mm", False),  # 10.45, 4.45 off
        ("14 mm", "35.1 mm", True),  # 10.55, 4.55 off
        ("20 mm", "22.9 mm", True),  # 1.45, 4.55 off
        ("20 mm", "23.1 mm", False),  # 1.55, 4.45 off
    ],
)
def test_half_the_difference_is_the_axle_error(left: str, right: str, *, speaks: bool) -> None:
    rows = gaps(quarter(left, "left"), quarter(right, "right"))
    assert bool(of("R16", f"setup: {{rear: {{axle_error: 6 mm}}, {rows}}}")) is speaks


def test_an_axle_error_to_the_wrong_side_is_named() -> None:
    rows = gaps(quarter("26 mm", "left"), quarter("14 mm", "right"))
    (found,) = of("R16", f"setup: {{rear: {{axle_error: 6 mm}}, {rows}}}")
    assert "disagree by 12 mm" in found.headline
    assert "write `axle_error: -6 mm`" in found.fix


def test_a_rod_moves_the_axle_on_the_way_to_bump() -> None:
    # L 600, body end 120 above the axle end and on the left: √(600² − 35²) − √(600² − 120²) =
    # 598.98 − 587.88 = 11.1 to the right over 85 mm of bump. An error of 8 left becomes 3.1 right:
    # left gains 3.1, right loses it.
    rod = (
        "chassis: {rear: {suspension: {rod: {length: 600 mm, height_difference: 120 mm, "
        "body_side: left}}}}"
    )
    rows = gaps(quarter("23.1 mm", "left", "full bump"), quarter("16.9 mm", "right", "full bump"))
    told = f"setup: {{rear: {{axle_error: 8 mm}}, {rows}}}"
    assert of("R16", f"{{{rod}, {told}}}") == []
    assert len(of("R16", told)) == 1  # the sample's rod is nearly level over its travel


# R17. 36 − 12 = 24 past the seat; with a spacer of 8 it is 16, and 1.5 mm are allowed.
@pytest.mark.parametrize(
    ("engagement", "speaks"), [("17.4 mm", False), ("17.6 mm", True), ("14 mm", False)]
)
def test_a_stud_gives_no_more_than_it_has(engagement: str, *, speaks: bool) -> None:
    front = (
        "spacer: {thickness: 8 mm, kind: piloted}, "
        f"hardware: {{turns: left out, engagement: {engagement}}}"
    )
    found = of("R17", f"setup: {{front: {{{front}}}}}")
    assert bool(found) is speaks
    assert not found or "at most 16 mm" in found[0].expected


# R17 between two records with nothing known of stud and pad: 18 without a spacer, 10 with 8.
@pytest.mark.parametrize(
    ("engagement", "speaks"),
    [("10 mm", False), ("11.4 mm", False), ("11.6 mm", True), ("8.4 mm", True), ("18 mm", True)],
)
def test_a_spacer_costs_its_thickness_of_thread(engagement: str, *, speaks: bool) -> None:
    bare = "wheel: {pad_thickness: left out}, hardware: {length: left out, turns: left out}"
    front = bare.replace("turns: left out", f"turns: left out, engagement: {engagement}")
    later = again(f"{front}, spacer: {{thickness: 8 mm, kind: piloted}}", gaps(strut("17 mm")))
    found = of("R17", f"{{setup: {{front: {{{bare}}}}}, {later}}}")
    assert bool(found) is speaks
    assert not found or "about 10 mm" in found[0].expected


def test_a_long_stud_may_give_a_spacer_without_losing_thread() -> None:
    # 60 − 12 = 48 past the seat: the nut's own 18 govern with and without 8 mm of spacer.
    long = "hardware: {length: 60 mm, nut: open}"
    later = again(f"{long}, spacer: {{thickness: 8 mm, kind: piloted}}", gaps(strut("17 mm")))
    assert of("R17", f"{{setup: {{front: {{{long}}}}}, {later}}}") == []


def test_a_bolt_on_spacer_has_studs_of_its_own() -> None:
    assert of("R17", "setup: {front: {spacer: {thickness: 25 mm, kind: bolt-on}}}") == []


# R18. Engagement 18: M12x1.5 asks for 12 turns within one; 1/2-20 has 25.4/20 = 1.27 a turn, so
# 14 turns are 17.78 and 12.5 turns 15.875, 2.1 off.
@pytest.mark.parametrize(
    ("fields", "speaks"),
    [
        ('turns: "11.1"', False),
        ('turns: "10.9"', True),
        ('turns: "12.9"', False),
        ('turns: "13.1"', True),
        ('turns: "14", thread: 1/2-20', False),
        ('turns: "12.5", thread: 1/2-20', True),
    ],
)
def test_turns_times_pitch_is_the_engagement(fields: str, *, speaks: bool) -> None:
    assert bool(of("R18", f"setup: {{front: {{hardware: {{{fields}}}}}}}")) is speaks


def test_turns_written_as_millimetres_are_named() -> None:
    # 10 turns of 1.5 are 15 mm.
    fields = 'turns: "10", engagement: 10 mm'
    (found,) = of("R18", f"setup: {{front: {{hardware: {{{fields}}}}}}}")
    assert "write `engagement: 15 mm`" in found.fix


def test_turns_counted_inside_the_pad_are_named() -> None:
    # 13.5 turns are 20.25 mm, 1.5 turns more than 18 mm.
    (found,) = of("R18", 'setup: {front: {hardware: {turns: "13.5"}}}')
    assert "inside the pad" in found.fix
