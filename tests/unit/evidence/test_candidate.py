"""A candidate is a record like any other: the stock car, a record, or nothing, with changes."""

from dataclasses import replace
from datetime import date

import pytest

from generator.assessment.assess import stock_clearances
from generator.evidence.candidate import (
    AxleChange,
    assess_candidate,
    degrees,
    from_nothing,
    like_record,
    like_stock,
    millimetres,
    stock_axle,
)
from generator.evidence.club import learn_chassis
from generator.evidence.verdict import site_verdict, verdict
from generator.quantities.quantity import read_quantity
from generator.quantities.rim_size import read_rim_size
from generator.quantities.span import read_gap
from generator.quantities.tyre_size import read_tyre_size
from generator.quantities.units import Dimension
from generator.records.fitted import Hardware, SideValues
from generator.records.words import Axle, Lips, StopState

TODAY = date(2026, 1, 1)
SEVEN = read_rim_size("7x15")
LOW = read_tyre_size("195/60 R15 88V")


def length(text):
    return read_quantity(text, Dimension.LENGTH)


def test_the_stock_candidate_has_the_stock_gaps(meridel):
    assessment = assess_candidate(like_stock(meridel, day=TODAY))
    for axle in assessment.axles():
        by_sheet = stock_clearances(meridel.value, axle.axle)
        assert len(axle.clearances) == len(by_sheet)
        for ours, theirs in zip(axle.clearances, by_sheet, strict=True):
            assert (ours.site, ours.side) == (theirs.site, theirs.side)
            assert ours.least.gap.value == pytest.approx(theirs.least.gap.value, abs=1e-9)
            assert ours.least.u_setup == pytest.approx(theirs.least.u_setup, abs=1e-6)


def test_the_stock_candidate_has_the_stock_verdict(meridel, evidence):
    judged = verdict(assess_candidate(like_stock(meridel, day=TODAY)), evidence)
    by_sheet = {
        (each.site.axle, each.site.name, side.side): side
        for axle in Axle
        for each in stock_clearances(meridel.value, axle)
        for side in (
            site_verdict(each, other.side, evidence)
            for end in judged.axles()
            for other in end.sites
            if other.clearance.site is each.site and each.side.value in ("both", other.side.value)
        )
    }
    assert by_sheet
    for end in judged.axles():
        for site in end.sites:
            theirs = by_sheet[end.axle, site.clearance.site.name, site.side]
            assert site.chance == pytest.approx(theirs.chance, abs=1e-6)
            assert site.word == theirs.word


def test_a_copy_of_a_record_has_its_verdict_exactly(library, meridel, assessments, evidence):
    for record in list(library.of_chassis(meridel.id))[:4]:
        copy = assess_candidate(like_record(meridel, record))
        assert copy.front == assessments[record.id].front
        assert copy.rear == assessments[record.id].rear
        assert verdict(copy, evidence) == verdict(assessments[record.id], evidence)


def test_what_a_record_found_does_not_come_along(library, meridel):
    record = library.of_chassis(meridel.id)[0]
    assert record.value.gaps
    copy = like_record(meridel, record).setup.value
    assert (copy.gaps, copy.rubs, copy.road) == ((), (), None)


def test_nothing_changed_is_the_same_candidate(meridel):
    stock = like_stock(meridel, day=TODAY)
    assert stock.changed(Axle.FRONT, AxleChange()) is stock


def test_a_spacer_is_as_good_as_a_lower_offset(bench):
    stock = bench.candidate()
    spaced = stock.changed(Axle.FRONT, AxleChange(spacer=millimetres(5.0)))
    wheel = stock.axle(Axle.FRONT).wheel
    other = stock.changed(
        Axle.FRONT, AxleChange(size=wheel.size, offset=millimetres(wheel.offset.value - 5.0))
    )
    gaps = [assess_candidate(each).front.clearances[0].least.gap.value for each in (spaced, other)]
    assert gaps[0] == pytest.approx(gaps[1], abs=0.6)  # the stock wheel's backspacing is measured
    assert gaps[0] == pytest.approx(19.0, abs=0.02)  # 14 mm beside the stock tyre, and 5


def test_from_nothing_needs_wheels_and_tyres_at_both_ends(meridel):
    whole = AxleChange(size=SEVEN, tyre=LOW, offset=length("20 mm"))
    for bare, missing in ((AxleChange(tyre=LOW), "wheel size"), (AxleChange(size=SEVEN), "tyre")):
        with pytest.raises(ValueError, match=f"the rear has no {missing}"):
            from_nothing(meridel, whole, bare, day=TODAY)
    made = from_nothing(meridel, whole, whole, day=TODAY)
    assert made.axle(Axle.FRONT).wheel.size == SEVEN
    assert made.start == "nothing"


def test_without_an_offset_nothing_is_known(meridel, evidence):
    bare = AxleChange(size=SEVEN, tyre=LOW)
    judged = verdict(assess_candidate(from_nothing(meridel, bare, bare, day=TODAY)), evidence)
    assert judged.chance is None
    assert {site.word for axle in judged.axles() for site in axle.sites} == {"not known"}
    assert any("offset" in words for words in judged.refused)


def test_other_wheels_need_an_offset_and_a_tyre_that_goes_on_them(meridel):
    stock = like_stock(meridel, day=TODAY)
    with pytest.raises(ValueError, match="needs its offset"):
        stock.changed(Axle.FRONT, AxleChange(size=read_rim_size("7x14")))
    with pytest.raises(ValueError, match="for a rim of 14"):
        stock.changed(Axle.FRONT, AxleChange(size=SEVEN, offset=length("20 mm")))
    with pytest.raises(ValueError, match="for a rim of 15"):
        stock.changed(Axle.FRONT, AxleChange(tyre=LOW))


def test_what_was_measured_on_the_old_wheel_goes_with_it(library, meridel):
    record = library.setups["ostvane-meridel/copperbill-first-try"]
    copy = like_record(meridel, record)
    assert copy.axle(Axle.FRONT).wheel.backspacing is not None
    other = copy.changed(Axle.FRONT, AxleChange(offset=length("22 mm"))).axle(Axle.FRONT)
    assert other.wheel.backspacing is None
    assert other.wheel.offset_measured is None
    assert other.wheel.size == record.value.front.wheel.size
    assert other.tyre == record.value.front.tyre


def test_a_tyre_on_another_rim_keeps_its_height_and_not_its_width(meridel):
    stock = like_stock(meridel, day=TODAY)
    wide = stock.changed(
        Axle.FRONT, AxleChange(size=read_rim_size("7x14"), offset=length("20 mm"))
    ).axle(Axle.FRONT)
    assert wide.tyre.section_width is None
    assert wide.tyre.diameter.value == 609.0  # the sheet's


def test_another_tyre_forgets_the_old_ones_dimensions(meridel):
    change = AxleChange(tyre=read_tyre_size("185/65 R14 86H"), section_width=length("190 mm"))
    other = like_stock(meridel, day=TODAY).changed(Axle.FRONT, change)
    tyre = other.axle(Axle.FRONT).tyre
    assert tyre.diameter is None
    assert tyre.section_width.value == 190.0


def test_another_spacer_leaves_engagement_to_be_counted_again(meridel):
    stock = like_stock(meridel, day=TODAY)
    hardware = Hardware.model_construct(turns=None, engagement=length("18 mm"))
    said = read_gap("4 mm")
    front = stock.axle(Axle.FRONT).model_copy(
        update={"hardware": hardware, "caliper_to_spoke": said}
    )
    spaced = stock.with_axle(Axle.FRONT, front).changed(
        Axle.FRONT, AxleChange(spacer=millimetres(3.0))
    )
    assert spaced.axle(Axle.FRONT).hardware.engagement is None
    assert spaced.axle(Axle.FRONT).caliper_to_spoke.low == 7.0  # 4 + 3


def test_a_spacer_of_nothing_is_none(library, meridel):
    record = next(r for r in library.of_chassis(meridel.id) if r.value.front.spacer is not None)
    bare = like_record(meridel, record).changed(Axle.FRONT, AxleChange(spacer=millimetres(0.0)))
    assert bare.axle(Axle.FRONT).spacer is None


def test_what_is_changed_for_both_sides_overrules_one_side(meridel):
    stock = like_stock(meridel, day=TODAY)
    left = SideValues.model_construct(camber=degrees(-1.0), spacer=length("8 mm"))
    odd = stock.with_axle(Axle.FRONT, stock.axle(Axle.FRONT).model_copy(update={"left": left}))
    level = odd.changed(Axle.FRONT, AxleChange(camber=degrees(-2.0)))
    assert level.axle(Axle.FRONT).left.camber is None
    assert level.axle(Axle.FRONT).left.spacer is not None
    both = level.changed(Axle.FRONT, AxleChange(spacer=millimetres(3.0)))
    assert both.axle(Axle.FRONT).left is None


@pytest.mark.parametrize(
    ("change", "state"),
    [
        (AxleChange(trimmed=millimetres(8.0)), StopState.TRIMMED),
        (AxleChange(spaced=millimetres(8.0)), StopState.SPACED),
        (AxleChange(trimmed=millimetres(0.0)), StopState.ORIGINAL),
        (AxleChange(stop=StopState.REMOVED), StopState.REMOVED),
    ],
)
def test_the_state_of_a_stop_follows_what_was_done_to_it(meridel, change, state):
    made = like_stock(meridel, day=TODAY).changed(Axle.FRONT, change)
    assert made.axle(Axle.FRONT).bump_stop.state is state


def test_a_lip_that_gained_room_was_changed(meridel):
    stock = like_stock(meridel, day=TODAY)
    with pytest.raises(ValueError, match="rolled, pulled or cut"):
        stock.changed(Axle.FRONT, AxleChange(lips_gained=millimetres(8.0)))
    rolled = stock.changed(Axle.FRONT, AxleChange(lips=Lips.ROLLED, lips_gained=millimetres(8.0)))
    assert rolled.axle(Axle.FRONT).bodywork.lips is Lips.ROLLED


def test_a_sheets_tyre_keeps_the_sheets_spread(meridel):
    coarse = stock_axle(meridel.value.front).tyre.section_width
    assert coarse.value == 201.0  # the sheet's
    assert coarse.resolution > 5.0  # for another tyre of the same design: ±3 mm, not a rule's ±1


def test_a_chassis_without_records_says_what_the_sheet_alone_supports(meridel):
    alone = learn_chassis(meridel, {})
    judged = verdict(assess_candidate(like_stock(meridel, day=TODAY)), alone)
    assert judged.chance is not None
    assert all(site.posterior.prior_only for axle in judged.axles() for site in axle.sites)


def test_a_candidate_keeps_its_file(meridel):
    stock = like_stock(meridel, day=TODAY)
    assert replace(stock, start="x").case.chassis is meridel


def test_seat_bore_pad_and_thread_are_not_those_of_another_wheel(library, meridel):
    record = library.setups["ostvane-meridel/copperbill-first-try"]
    copy = like_record(meridel, record)
    before = copy.axle(Axle.FRONT)
    assert before.hardware.turns is not None
    assert before.wheel.seat is not None
    same = copy.changed(Axle.FRONT, AxleChange(offset=before.wheel.offset)).axle(Axle.FRONT)
    assert same.wheel.seat == before.wheel.seat
    assert same.hardware == before.hardware
    other = copy.changed(Axle.FRONT, AxleChange(offset=length("22 mm"))).axle(Axle.FRONT)
    assert {other.wheel.seat, other.wheel.bore, other.wheel.pad_thickness} == {None}
    assert {other.hardware.turns, other.hardware.engagement} == {None}
