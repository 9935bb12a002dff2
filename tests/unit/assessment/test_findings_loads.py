"""Findings of loads, speed, wheel tests, geometry of steering, brakes and parts."""

import pytest

from generator.assessment.brakes import Part, caliper_gap, with_other_spacers
from generator.assessment.car import car
from generator.assessment.finding import Outcome
from generator.assessment.fit import axle_fit
from generator.records.words import Axle, Side

CONVENTIONAL = 9.80665 / 9.81
"""The worked rows take g as 9.81; the findings take standard gravity."""


def front(text):
    return f"setup: {{front: {{{text}}}}}"


def end_of(case):
    setup, chassis = case.setup.value, case.chassis.value
    fits = (
        axle_fit(Axle.FRONT, setup.front, chassis.front),
        axle_fit(Axle.REAR, setup.rear, chassis.rear),
    )
    return car(setup, chassis, *fits).front


@pytest.mark.parametrize(
    ("index", "pressure", "kilograms"),
    # ETRTO law, exponent 0.8: LI 84 at 2.0 bar 418.3 kg, LI 79 at 1.5 bar 290.4 kg; the handbook's
    # table has 420 and 290, rounded to 5 kg.
    [(84, "2.0 bar", 418.3), (79, "1.5 bar", 290.4), (84, "2.5 bar", 500.0)],
)
def test_load_falls_with_pressure_as_published(found, index, pressure, kilograms):
    tyre = f"tyre: {{size: 195/60 R15 {index}H, pressure: {pressure}}}, camber: -1 deg"
    finding = found(front(tyre)).of("H14")[1]
    assert finding.value / 2.0 == pytest.approx(kilograms, abs=0.05)


def test_load_at_rated_pressure_is_the_load_index(found):
    # LI 91 is 615 kg by UN R30 annex 4.
    finding = found(front("tyre: {size: 195/60 R15 91V}")).one("H14")
    assert (finding.value, finding.bound) == (1230.0, 730.0)


def test_load_falls_with_speed_as_published(found):
    # V at 225 km/h: 95.5 % (handbook figure 10.1-14), of 2 · 615 kg at 2.5 bar.
    finding = found(
        "chassis: {top_speed: 225 km/h}\n"
        + front("tyre: {size: 195/60 R15 91V, pressure: 2.5 bar}")
    ).of("H14")[1]
    assert finding.value == pytest.approx(0.955 * 1230.0, abs=0.05)


def test_camber_takes_pressure_as_published(found):
    # 3 degrees ask for 6.6 % more pressure (handbook p. 297): 2.132 bar act as 2.0, 418.3 kg.
    tyre = "tyre: {size: 195/60 R15 84H, pressure: 2.132 bar}, camber: -3 deg"
    carried = found(front(tyre)).of("H14")[1].value
    assert carried / 2.0 == pytest.approx(418.3, abs=0.05)


def test_a_car_faster_than_its_tyres_has_no_known_load(found):
    slow = found("chassis: {top_speed: 220 km/h}\n" + front("tyre: {size: 195/60 R15 88H}"))
    assert slow.of("H14")[1].outcome is Outcome.NOT_KNOWN
    # UN R30: H is 210 km/h.
    assert (slow.one("H16").value, slow.one("H16").outcome) == (210.0, Outcome.FAILS)


def test_a_tyre_too_weak_fails(found):
    # LI 72 is 355 kg: twice that is less than 730 kg.
    assert found(front("tyre: {size: 195/60 R15 72V}")).one("H14").outcome is Outcome.FAILS


def test_a_wheel_rated_too_low_fails(found):
    finding = found(front("wheel: {load_rating: 360 kg}")).one("H15")
    assert (finding.bound, finding.outcome) == (365.0, Outcome.FAILS)


def test_a_faster_symbol_is_not_the_later_letter(found):
    # H (210 km/h) lies above U (200 km/h) in UN R30.
    car_of_205 = "chassis: {top_speed: 205 km/h}\n"
    assert found(car_of_205 + front("tyre: {size: 195/60 R15 88H}")).one("H16").outcome.value == (
        "holds"
    )
    assert found(car_of_205 + front("tyre: {size: 195/60 R15 88U}")).one("H16").outcome.value == (
        "fails"
    )


def test_a_rim_is_held_against_the_makers_range_then_against_the_tables(found):
    assert found(front("tyre: {approved_rims: 5.5 to 6.5 in}")).one("H17").outcome is Outcome.FAILS
    # 195/60 R 15: 5.5 to 7.0 in, from memory of the rim tables.
    by_table = found(front("tyre: {approved_rims: left out}")).one("H17")
    assert (by_table.bound, by_table.source, by_table.outcome) == (7.0, "ETRTO", Outcome.HOLDS)


def bending(permitted, inset, diameter, *, rear=False, material="aluminium"):
    axle = "rear" if rear else "front"
    return (
        f"chassis: {{{axle}: {{permitted_load: {permitted} kg, kerb_load: 500 kg}}}}\n"
        f"setup: {{{axle}: {{wheel: {{material: {material}, offset: {inset} mm, backspacing: left"
        f" out, overall_width: left out}}, tyre: {{diameter: {diameter} mm}}}}}}"
    )


@pytest.mark.parametrize(
    ("case", "axle", "moment"),
    [
        # SAE J328 (2021) equation 1, second hand. Load 5886 N is half of 1200 kg; radius 300 mm is
        # 0.965 of half of 621.762 mm. Rows: 3001.9 (S 2.0), 2401.5 (S 1.6), and 2068.7 with
        # 4905 N, 290 mm, 38 mm, S 1.75.
        (bending(1200, 45, 621.762), Axle.FRONT, 3001.9),
        (bending(1200, 45, 621.762, material="steel"), Axle.FRONT, 2401.5),
        (bending(1000, 38, 601.036, rear=True), Axle.REAR, 2068.7),
    ],
)
def test_bending_moment_by_j328_is_the_worked_one(found, case, axle, moment):
    finding = found(case).one("H18", axle)
    assert finding.outcome is Outcome.STATED
    assert finding.value / CONVENTIONAL == pytest.approx(moment, abs=0.1)


def test_bending_moment_by_r124_is_the_worked_one(found):
    # UN R124 annex 6, from memory: 3708.2 N·m at 5886 N, 300 mm, 45 mm. The dynamic radius is
    # 3.05 D / 2 pi: 300 mm at D = 618.022 mm.
    finding = found(bending(1200, 45, 618.022)).of("H18")[1]
    assert finding.value / CONVENTIONAL == pytest.approx(3708.2, abs=0.1)


def wheel(inset, extra=""):
    return front(
        f"wheel: {{offset: {inset} mm, backspacing: left out, overall_width: left out}}{extra}"
    )


def test_track_grows_by_twice_the_offset_and_the_spacer(found):
    # Stock 24 mm; 14 with 5 mm of spacer is 9: 2 · 15 = 30 mm wider [geometry].
    finding = found(wheel(14, ", spacer: {thickness: 5 mm, kind: slip-on}")).one("H19")
    assert finding.value == pytest.approx(30.0, abs=0.1)
    assert (finding.outcome, finding.bound) == (Outcome.STATED, None)


def test_scrub_radius_grows_with_the_offset_lost(found):
    # u_c + q - R tan 11.8: stock -24 + 96.4 - 293.84 tan = 11.0; 24 mm of offset less adds 24,
    # and 3 mm of diameter take 1.4475 tan 11.8 = 0.30 mm off: 23.7.
    finding = found(wheel(0)).one("H20")
    assert finding.value == pytest.approx(23.7, abs=0.15)
    assert finding.outcome is Outcome.FAILS


def test_a_scrub_radius_through_zero_is_told(found):
    # 24 mm more offset than 11.0 mm of scrub radius: it turns negative.
    turned = found(wheel(48)).of("H20")
    assert len(turned) == 2
    assert "changes its sign" in turned[1].sentence
    # 0.30 mm of it goes with the diameter, as above.
    assert "from 11.0 mm outboard to 13.3 mm inboard of the steering axis" in turned[1].sentence
    assert turned[1].outcome is Outcome.FAILS


def test_the_rear_has_no_scrub_radius(found):
    assert found("setup: {}").of("H20", Axle.REAR) == ()


def test_the_bearing_carries_load_times_shift(found):
    # 365 kg · 9.80665 · 20 mm = 71.6 N·m; in a corner 3579 N · 294 mm, of which it is 7 %.
    finding = found(wheel(4)).one("H21")
    assert finding.value == pytest.approx(20.0, abs=0.05)
    assert "72 N·m more" in finding.sentence
    assert "7 % of a hard corner" in finding.sentence


def test_diameters_apart_by_more_than_three_per_cent_fail(found):
    # (609/609) stock to (612/660): 612/660 - 1 = -7.273 %, and 3 mm of doubt in each stock tyre.
    finding = found("setup: {rear: {tyre: {diameter: 660 mm}}}").one("H22", None)
    assert finding.value == pytest.approx(7.273, abs=0.001)
    assert finding.outcome is Outcome.FAILS


def test_a_tall_tyre_makes_the_speedometer_read_low(found):
    # 103 · 609/640 = 98.0 km/h at a true 100; UN R39 5.3 asks for 100 at least.
    finding = found("setup: {rear: {tyre: {diameter: 640 mm}}}").one("H23", None)
    assert finding.value == pytest.approx(98.0, abs=0.05)
    assert (finding.bound, finding.outcome) == (100.0, Outcome.FAILS)


def test_the_law_of_speedometers_is_the_worked_one(found):
    # UN R39 5.3: at 100 km/h at most 100 + 10 + 4 = 114; 106 · 609/560 = 115.3.
    finding = found("setup: {rear: {tyre: {diameter: 560 mm}}}").one("H23", None)
    assert (finding.bound, round(finding.value, 1)) == (pytest.approx(114.0), 115.3)


@pytest.mark.parametrize(
    ("said", "outcome"),
    [
        ("6 mm", Outcome.HOLDS),
        ("2 mm", Outcome.TOO_CLOSE_TO_SAY),
        ("1 mm", Outcome.FAILS),
        ("touches", Outcome.FAILS),
        ("more than 5 mm", Outcome.HOLDS),
        ("clears", Outcome.NOT_KNOWN),
        ("not checked", Outcome.NOT_KNOWN),
    ],
)
@pytest.mark.parametrize(
    ("field", "code"), [("caliper_to_spoke", "H24"), ("caliper_to_barrel", "H25")]
)
def test_what_is_said_of_a_caliper_gap_decides(found, field, code, said, outcome):
    assert found(front(f"{field}: {said}")).one(code).outcome is outcome


@pytest.mark.parametrize(
    ("brake", "part"),
    [
        ("drum of 228 mm", "drum"),
        ("disc with the drum of the handbrake inside its hat", "caliper"),
        ("solid disc, single-piston sliding caliper", "caliper"),
    ],
)
def test_only_what_the_brake_of_an_end_has_is_asked_for(found, brake, part):
    # Drums have no caliper; their face, fins and clips are looked at (the trade's practice).
    report = found(f"chassis: {{front: {{brake: {{description: '{brake}'}}}}}}\n{front('')}")
    for code, beside in (("H24", "spokes"), ("H25", "barrel")):
        finding = report.one(code)
        assert finding.outcome is Outcome.NOT_KNOWN
        assert finding.hazard == f"{part} to {beside}"
        told = f"{finding.sentence} {finding.follows}".casefold()
        assert ("caliper" in told) is (part == "caliper")
        assert ("drum" in told) is (part == "drum")


def test_a_gap_nobody_measured_is_computed_from_the_sheets_brake(found):
    # Outline: least r beside the barrel is 151, furthest outboard is 4 mm: barrel 172 - 151 = 21,
    # spokes 24 + 5 - 4 = 25 with a spacer of 5 mm.
    inside = front(
        "wheel: {barrel_radius: 172 mm, spoke_back: 24 mm},"
        " spacer: {thickness: 5 mm, kind: slip-on}"
    )
    spokes, barrel = found(inside).one("H24"), found(inside).one("H25")
    assert spokes.value == pytest.approx(25.0)
    assert barrel.value == pytest.approx(21.0)
    assert "Computed" in spokes.sentence


def test_another_hub_makes_the_computed_gap_unknown(found):
    inside = front("wheel: {spoke_back: 24 mm}, face_moved: 4 mm")
    assert found(inside).one("H24").outcome is Outcome.NOT_KNOWN


def test_a_measured_gap_is_carried_to_other_spacers(case_of):
    # One to one with the spacer; 0.1 mm per mm of doubt: 2.0 at 0 is 7.0 ± 0.7 at 5 mm.
    end = end_of(case_of(front("caliper_to_spoke: 2 mm")))
    (five,) = with_other_spacers(end, Part.SPOKES, (5.0,))
    assert five.gap.value == 7.0
    assert five.gap.u == pytest.approx((0.5**2 + 0.5**2 + 1.0 / 12.0) ** 0.5)
    assert caliper_gap(end, Part.BARREL).gap is None


def test_an_odd_wheel_is_named(found):
    # 7.90, 7.92, 7.88, 8.35: spread 0.47 on a mean of 8.0125, 5.87 %.
    finding = found(
        "setup: {front: {wheel: {masses: [7.90 kg, 7.92 kg]}},"
        " rear: {wheel: {masses: [7.88 kg, 8.35 kg]}}}"
    ).one("H26", None)
    assert finding.value == pytest.approx(5.87, abs=0.005)
    assert "The one of 8.35 kg stands out" in finding.sentence
    assert finding.outcome is Outcome.FAILS


def test_unlike_wheels_are_weighed_by_axle(found):
    apart = found("setup: {rear: {wheel: {size: 8 x 15}}}")
    assert apart.one("H26", Axle.REAR).outcome is Outcome.NOT_KNOWN


@pytest.mark.parametrize(
    ("reading", "band", "outcome"),
    # 0.5 good, 0.8 accepted, 1.0 ask: common practice.
    [
        ("0.3 mm", "good", Outcome.HOLDS),
        ("0.7 mm", "accepted", Outcome.HOLDS),
        ("0.8 mm", "accepted", Outcome.TOO_CLOSE_TO_SAY),
        ("1.2 mm", "ask the seller", Outcome.FAILS),
    ],
)
def test_run_out_falls_into_its_band(found, reading, band, outcome):
    finding = found(front(f"wheel: {{runout_radial: {reading}}}")).one("H27")
    assert band in finding.sentence
    assert finding.outcome is outcome


def test_age_counts_from_the_first_possible_day(found):
    # 0124 is 7 to 13 January 2024 (49 CFR 574.5, first full week, from memory); on 14 June 2025
    # it is 524 days or 1.43 years old.
    finding = found(front('tyre: {date_codes: ["0124", "0124"]}')).one("H28")
    assert finding.value == pytest.approx(524 / 365.2425)


def test_old_tyres_and_pairs_apart_fail(found):
    oldest, pair = found(front('tyre: {date_codes: ["0113", "2024"]}')).of("H28")
    assert {oldest.outcome, pair.outcome} == {Outcome.FAILS}
    assert oldest.follows == "Replace it."


def test_three_digits_do_not_say_how_far_apart(found):
    pair = found(front('tyre: {date_codes: ["317", "327"]}')).of("H28")[1]
    assert pair.outcome is Outcome.NOT_KNOWN


def test_a_wheel_unlike_its_order_fails(found):
    # 182 mm on 7 in (177.8): 4.2 too wide; backspacing 130 on 88.9 + 12.6 + 22 = 123.5: 6.5 more.
    width, back = found(
        front("wheel: {width_measured: 182 mm, backspacing: 130 mm, overall_width: left out}")
    ).of("H29")
    assert (round(width.value, 1), width.outcome) == (4.2, Outcome.FAILS)
    assert (round(back.value, 1), back.outcome) == (6.5, Outcome.FAILS)


def test_lowering_takes_bump_travel(found):
    # 84 mm from reference, lowered by 60: 24 left of the 30 wanted, common practice.
    finding = found(front("ride_height: {change: -60 mm}")).one("H30")
    assert (finding.value, finding.outcome) == (pytest.approx(24.0), Outcome.FAILS)


def test_a_car_lowered_beyond_its_stops_fails(found):
    assert found(front("ride_height: {change: -90 mm}")).one("H30").outcome is Outcome.FAILS


def test_a_removed_stop_is_not_known_and_its_damper_asked_for(found):
    travel, reserve = found(front("bump_stop: {state: removed}")).of("H30")
    assert {travel.outcome, reserve.outcome} == {Outcome.NOT_KNOWN}
    assert travel.side is Side.BOTH


def test_an_overall_width_alone_leaves_the_lips_apart(found):
    # Both lips together are 203 - 177.8; how they share it nobody measured.
    back = found(front("wheel: {flange_inboard: left out, flange_outboard: left out}")).of("H29")
    assert back[-1].outcome is Outcome.NOT_KNOWN
    assert "inboard lip" in back[-1].follows


def test_without_lip_or_overall_width_an_order_has_no_backspacing(found):
    bare = front(
        "wheel: {flange_inboard: left out, flange_outboard: left out, overall_width: left out}"
    )
    assert found(bare).of("H29")[-1].outcome is Outcome.NOT_KNOWN
