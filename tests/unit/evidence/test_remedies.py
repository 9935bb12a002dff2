"""Remedies really mend, say truly what they spoil, and are no larger than they must be."""

import time
from dataclasses import replace
from datetime import date

import pytest

from generator.assessment.assess import axle_assessment
from generator.evidence.candidate import (
    AxleChange,
    assess_candidate,
    degrees,
    like_record,
    like_stock,
    millimetres,
)
from generator.evidence.levers import Corner, levers, most_spacer
from generator.evidence.remedies import remedies
from generator.evidence.tried import Tried
from generator.evidence.verdict import WORDS, axle_verdict, verdict
from generator.evidence.window import needed_gap
from generator.quantities.quantity import read_quantity
from generator.quantities.rim_size import RimSize
from generator.quantities.units import Dimension
from generator.records.fitted import Hardware
from generator.records.words import Axle, Facing, Part, RemedyKind, StopState

TODAY = date(2026, 1, 1)
FAILING = ("touches", "tight")


def length(text):
    return read_quantity(text, Dimension.LENGTH)


@pytest.fixture(scope="module")
def tried(library, meridel, evidence):
    """A record that touched, with its verdict and remedies."""
    candidate = like_record(meridel, library.setups["ostvane-meridel/copperbill-first-try"])
    judged = verdict(assess_candidate(candidate), evidence).front
    start = time.process_time()
    found = remedies(candidate, judged, evidence)
    return candidate, judged, found, time.process_time() - start


def test_every_failing_site_is_sought_for_in_bounded_time(tried):
    _, judged, found, taken = tried
    assert taken < 12.0
    failing = {site.clearance.site.name for site in judged.sites if site.word in FAILING}
    assert len(failing) > 4
    assert {each.site.name for each in found} == failing


def again(candidate, evidence, remedy):
    whole = axle_assessment(Axle.FRONT, remedy.fitted, candidate.chassis.value)
    return axle_verdict(whole, evidence)


def worst_word(judged, name):
    words = [site.word for site in judged.sites if site.clearance.site.name == name]
    return min(words, key=WORDS.index)


def test_every_remedy_mends_when_all_is_computed_again(tried, evidence):
    candidate, before, found, _ = tried
    told = [(each.site.name, remedy) for each in found for remedy in each.remedies]
    assert told
    for name, remedy in told:
        after = again(candidate, evidence, remedy)
        assert worst_word(after, name) == remedy.word == "clears"
        assert worst_word(before, name) in FAILING
        # The fit model, section 8: expected to clear from 90 % on.
        assert remedy.chance >= 0.9
        chances = [s.chance for s in after.sites if s.clearance.site.name == name]
        assert remedy.chance == pytest.approx(min(chances), abs=1e-9)


def test_all_that_gets_worse_is_told_and_nothing_else(tried, evidence):
    candidate, before, found, _ = tried
    then = {(s.clearance.site.name, s.side): s.word for s in before.sites}
    for each in found:
        for remedy in each.remedies[:2]:
            worse = {
                (s.clearance.site.label, s.side)
                for s in again(candidate, evidence, remedy).sites
                if WORDS.index(s.word) < WORDS.index(then[s.clearance.site.name, s.side])
            }
            assert {(spoiled.label, spoiled.side) for spoiled in remedy.spoils} == worse


def test_what_spoils_least_stands_first(tried):
    for each in tried[2]:
        spoiling = [remedy.spoiling for remedy in each.remedies]
        assert spoiling == sorted(spoiling)


def test_where_nothing_makes_it_likely_no_remedy_is_offered_and_that_is_said(meridel, evidence):
    """An 8 in wheel 39 mm further out than stock: 30 mm of offset cannot bring it back."""
    wide = AxleChange(size=RimSize(8.0, 14.0), offset=millimetres(-15.0))
    candidate = like_stock(meridel, day=TODAY).changed(Axle.FRONT, wide)
    judged = verdict(assess_candidate(candidate), evidence).front
    found = remedies(candidate, judged, evidence)
    without = [each for each in found if not each.remedies]
    assert without
    for each in found:
        assert all(remedy.chance >= 0.9 for remedy in each.remedies)
        assert bool(each.told) is not bool(each.remedies)
    assert all("90 % likely" in each.told for each in without)


def test_two_changes_together_only_where_no_single_one_is_enough(tried):
    for each in tried[2]:
        clearing = [len(remedy.steps) for remedy in each.remedies]
        assert set(clearing) in (set(), {1}, {2})


def test_every_step_says_what_it_costs(tried):
    for each in tried[2]:
        for remedy in each.remedies:
            assert all(step.words and step.costs for step in remedy.steps)


@pytest.fixture(scope="module")
def near_post(bench, make_site):
    """A post 14 mm inboard of the stock tyre where 18 mm are wanted."""
    return bench.with_sites(make_site().model_copy(update={"wanted": length("18 mm")}))


def for_post(near_post):
    known = near_post.learn()
    candidate = near_post.candidate()
    judged = verdict(near_post.assessed(candidate.setup), known).front
    (found,) = remedies(candidate, judged, known)
    return found, judged.sites[0]


def test_the_smallest_offset_by_hand(near_post):
    """Each millimetre of offset less gives one: as many as are needed, in whole millimetres."""
    found, site = for_post(near_post)
    offset = next(r for r in found.remedies if r.steps[0].kind is RemedyKind.OFFSET)
    u = site.clearance.least.u_setup
    needed = needed_gap(site.posterior.next_car, 0.9, wanted=18.0, u=u)
    assert needed > 14.0
    taken = 24.0 - offset.fitted.wheel.offset.value
    assert needed - 14.0 - 0.1 <= taken < needed - 14.0 + 1.1
    assert offset.chance >= 0.9


def test_a_spacer_beyond_the_studs_is_no_remedy(near_post):
    """Studs of 36 mm, a pad of 12 and one diameter of M12: 12 mm are left, and 10 do not do."""
    front = near_post.candidate().axle(Axle.FRONT)
    corner = Corner(Axle.FRONT, front, near_post.chassis.value)
    assert most_spacer(corner) == pytest.approx(36.0 - 12.0 - 12.0)
    found, _ = for_post(near_post)
    for remedy in found.remedies:
        for step in remedy.steps:
            if step.kind is RemedyKind.SPACER:
                assert remedy.fitted.spacer.thickness.value <= 12.0


def test_a_longer_stud_allows_a_thicker_spacer(near_post):
    stock = near_post.candidate().axle(Axle.FRONT)
    hardware = Hardware.model_construct(
        thread=near_post.chassis.value.front.fastening.thread, length=length("48 mm")
    )
    longer = stock.model_copy(update={"hardware": hardware})
    corner = Corner(Axle.FRONT, longer, near_post.chassis.value)
    assert most_spacer(corner) == pytest.approx(48.0 - 12.0 - 12.0)


def kinds(bench, site, axle=Axle.FRONT, change=None):
    candidate = bench.candidate()
    if change is not None:
        candidate = candidate.changed(axle, change)
    corner = Corner(axle, candidate.axle(axle), candidate.chassis.value)
    return {lever.kind: lever for lever in levers(corner, site)}


def test_a_rigid_axle_has_no_camber_and_a_rear_no_steering_stop(bench, make_site):
    rear = kinds(bench, make_site(axle=Axle.REAR), Axle.REAR)
    assert RemedyKind.CAMBER not in rear
    assert RemedyKind.STEERING_SHIM not in rear
    front = kinds(bench, make_site(facing=Facing.OUTBOARD))
    assert RemedyKind.CAMBER in front
    assert RemedyKind.STEERING_SHIM in front


def test_only_a_lip_is_rolled_and_only_once(bench, make_site):
    from generator.records.words import Lips

    assert RemedyKind.LIP_ROLLED not in kinds(bench, make_site())
    lip = make_site(part=Part.LIP, facing=Facing.OUTBOARD)
    assert kinds(bench, lip)[RemedyKind.LIP_ROLLED].amounts[-1] == 12.0  # common practice
    rolled = AxleChange(lips=Lips.ROLLED, lips_gained=millimetres(8.0))
    assert RemedyKind.LIP_ROLLED not in kinds(bench, lip, change=rolled)


def test_offsets_go_the_way_that_helps(bench, make_site):
    inboard = kinds(bench, make_site())[RemedyKind.OFFSET].amounts
    outboard = kinds(bench, make_site(facing=Facing.OUTBOARD))[RemedyKind.OFFSET].amounts
    assert max(inboard) < 24.0 < min(outboard)


@pytest.mark.parametrize(
    ("facing", "fitted", "amounts"),
    [
        # Studs of 36 mm leave 12 mm for a spacer: see above.
        (Facing.INBOARD, 10.0, [(11.0, 12.0)]),
        (Facing.OUTBOARD, 2.0, [(1.0, 0.0)]),
        (Facing.CROWN, 11.0, [(12.0,), tuple(float(n) for n in range(10, -1, -1))]),
        (Facing.INBOARD, 15.0, []),
        (Facing.OUTBOARD, 0.0, []),
    ],
)
def test_spacers_go_the_way_that_helps_within_the_studs(bench, make_site, facing, fitted, amounts):
    candidate = bench.candidate(fitted)
    corner = Corner(Axle.FRONT, candidate.axle(Axle.FRONT), candidate.chassis.value)
    found = levers(corner, make_site(facing=facing))
    assert [each.amounts for each in found if each.kind is RemedyKind.SPACER] == amounts


def test_a_trimmed_stop_can_be_trimmed_less_down_to_whole(bench, make_site):
    lip = make_site(facing=Facing.OUTBOARD)
    assert RemedyKind.STOP_TRIMMED not in kinds(bench, lip)
    less = kinds(bench, lip, change=AxleChange(trimmed=millimetres(10.0)))
    assert less[RemedyKind.STOP_TRIMMED].amounts == (8.0, 6.0, 4.0, 2.0, 0.0)


def test_a_removed_stop_is_neither_spaced_nor_trimmed_less(bench, make_site):
    found = kinds(bench, make_site(), change=AxleChange(stop=StopState.REMOVED))
    assert not {RemedyKind.STOP_SPACED, RemedyKind.STOP_TRIMMED} & set(found)


def test_camber_stays_within_what_is_driven_on_the_road(bench, make_site):
    lip = make_site(facing=Facing.OUTBOARD)
    amounts = kinds(bench, lip)[RemedyKind.CAMBER].amounts
    assert amounts[0] == -0.25
    assert amounts[-1] == -3.0  # common practice, front
    steep = kinds(bench, lip, change=AxleChange(camber=degrees(-3.0)))
    assert RemedyKind.CAMBER not in steep


def test_what_is_not_known_has_no_remedy(meridel, evidence):
    candidate = like_stock(meridel, day=TODAY).changed(
        Axle.FRONT, AxleChange(stop=StopState.REMOVED)
    )
    judged = verdict(assess_candidate(candidate), evidence).front
    unknown = {site.clearance.site.name for site in judged.sites if site.word == "not known"}
    assert "fender-lip" in unknown
    assert not {each.site.name for each in remedies(candidate, judged, evidence)} & unknown


def test_what_clears_needs_no_remedy(bench):
    roomy = bench.chassis.value.sites[0].model_copy(update={"wanted": length("2 mm")})
    one = bench.with_sites(roomy)
    candidate, known = one.candidate(10.0), one.learn()
    judged = verdict(one.assessed(candidate.setup), known).front
    assert [site.word for site in judged.sites] == ["clears", "clears"]
    assert remedies(candidate, judged, known) == ()


def test_one_site_alone_has_the_remedies_it_has_among_all(tried, evidence):
    candidate, judged, found, _ = tried
    last = found[-1]
    alone = remedies(candidate, judged, evidence, only=last.site.name)
    assert alone == (last,)
    assert remedies(candidate, judged, evidence, only="no-such-site") == ()


def test_a_candidate_of_another_name_has_the_same_remedies(near_post):
    found, _ = for_post(near_post)
    candidate = near_post.candidate()
    named = replace(candidate, start="a record")
    known = near_post.learn()
    judged = verdict(near_post.assessed(named.setup), known).front
    assert remedies(named, judged, known) == (found,)


def test_what_was_tried_before_is_compared_with_other_limits_and_not_computed(
    tried, evidence, monkeypatch
):
    candidate, judged, found, _ = tried
    name = found[0].site.name
    kept = Tried()
    one = remedies(candidate, judged, evidence, only=name, tried=kept)
    assert kept.has_grown
    assert one == (found[0],)
    # As if everything known of the chassis had been forgotten: other words, the same gaps.
    nothing = replace(evidence, limits={})
    first = remedies(candidate, judged, nothing, only=name, tried=Tried())
    again = Tried(kept.gaps, kept.failing)
    assert remedies(candidate, judged, nothing, only=name, tried=again) == first
    again = Tried(again.gaps, again.failing)
    monkeypatch.setattr("generator.evidence.tried.all_seen_from", _refused)
    assert remedies(candidate, judged, nothing, only=name, tried=again) == first
    assert not again.has_grown


def _refused(axle, asked, chassis):
    assert not asked
    return ()
