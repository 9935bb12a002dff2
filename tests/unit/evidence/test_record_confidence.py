"""Flags of records: what speaks against one, and whether it is the sheet or the other records."""

from dataclasses import replace

import pytest

from generator.assessment.finding import Outcome
from generator.assessment.sites import Condition
from generator.evidence.confidence import (
    LimitFlag,
    RecordFlag,
    limit_confidence,
    record_confidence,
)
from generator.evidence.entries import SiteKey
from generator.reading.fault import Fault, Place, Severity
from generator.records.words import Axle, InOut, Side, State, Tool

LEFT = SiteKey(Axle.FRONT, "post", Side.LEFT, Condition.STOCK)


@pytest.fixture
def told(bench, make_gap):
    """Records of cars by what they say of a gap that is 14 mm by the sheet."""

    def records(*said):
        return [
            bench.setup(
                make_gap(text, tool=Tool.FEELER), name=f"r-{n}", car=f"car-{n}", member=f"M{n}"
            )
            for n, text in enumerate(said)
        ]

    return records


def test_a_record_against_all_others_is_in_question(bench, told):
    *honest, wrong = told("14 mm", "15 mm", "13 mm", "14.5 mm", "13.5 mm", "44 mm")
    evidence = bench.learn(*honest, wrong)
    found = record_confidence(wrong, evidence, ())
    assert found.flag is RecordFlag.IN_QUESTION
    # 44 − 14 = 30, by hand
    assert [r.words for r in found.reasons] == [
        "the other records contradict its gap at the post (front, left) by 30 mm"
    ]
    assert found.raise_by == ("a second measurement at the post",)
    assert all(
        record_confidence(each, evidence, ()).flag is not RecordFlag.IN_QUESTION for each in honest
    )


def test_a_record_alone_far_from_the_sheet_is_told_that_it_is_the_sheet(bench, told):
    (alone,) = told("84 mm")
    evidence = bench.learn(alone)
    found = record_confidence(alone, evidence, ())
    assert found.flag is RecordFlag.IN_QUESTION
    # 84 − 14 = 70, by hand
    told = "the sheet contradicts its gap at the post (front, left) by 70 mm"
    assert found.reasons[0].words == told
    assert limit_confidence(evidence.posterior(LEFT)).flag is LimitFlag.UNKNOWN


def test_six_cars_that_agree_are_not_in_question_where_the_sheet_is_wrong(bench, told):
    records = told("52 mm", "51 mm", "53 mm", "52.5 mm", "51.5 mm", "52 mm")
    evidence = bench.learn(*records)
    for each in records:
        assert record_confidence(each, evidence, ()).flag is RecordFlag.REPORTED
    posterior = evidence.posterior(LEFT)
    assert posterior.limits.median == pytest.approx(38.0, abs=1.0)  # 52 − 14, by hand
    known = limit_confidence(posterior)
    assert known.flag is LimitFlag.WELL_KNOWN
    assert "the records agree with each other and not with the sheet" in known.words
    assert "about 38 mm more room" in known.raise_by


def test_a_warning_of_its_own_file_puts_it_in_question(bench, told):
    (record,) = told("14 mm")
    evidence = bench.learn(record)

    def warned(path):
        fault = Fault("R99", Severity.WARNING, "a reason", Place(path, 3, 1))
        return record_confidence(record, evidence, (fault,))

    assert warned(record.source.path).flag is RecordFlag.IN_QUESTION
    assert "R99" in warned(record.source.path).reasons[0].words
    assert warned("setups/another.yaml").flag is RecordFlag.REPORTED


def test_a_rule_that_asks_for_more_contradicts_nothing(bench, told):
    (record,) = told("14 mm")
    fault = Fault("R99", Severity.WARNING, "no word", Place(record.source.path, 3, 1), asks=True)
    found = record_confidence(record, bench.learn(record), (fault,))
    assert found.flag is RecordFlag.REPORTED


def test_a_record_of_which_a_rule_asks_for_more_is_not_proven(library, evidence):
    record = library.setups["ostvane-meridel/copperbill-lips-rolled"]
    fault = Fault("R99", Severity.WARNING, "no word", Place(record.source.path, 3, 1), asks=True)
    found = record_confidence(record, evidence, (fault,))
    assert found.flag is RecordFlag.CHECKED
    assert found.raise_by == ("an answer to that rule",)


def test_checked_through_travel_with_moving_gaps_is_checked(bench, make_gap):
    moving = (
        make_gap("14 mm", tool=Tool.FEELER),
        make_gap("14 mm", tool=Tool.CLAY, state=State.FULL_BUMP),
        make_gap("14 mm", tool=Tool.CLAY, state=State.TOE_OUT_LOCK),
    )
    record = bench.setup(*moving)
    assert record_confidence(record, bench.learn(record), ()).flag is RecordFlag.CHECKED
    hurried = bench.setup(*moving[:1])
    found = record_confidence(hurried, bench.learn(hurried), ())
    assert found.flag is RecordFlag.REPORTED
    assert "gaps at full bump and at both locks" in found.raise_by
    assert hurried.value.method.springs is not InOut.OUT


def test_a_record_whose_checks_say_not_to_drive_is_not_proven(library, evidence, assessments):
    record = library.setups["ostvane-meridel/copperbill-lips-rolled"]
    found = assessments[record.id].findings
    assert record_confidence(record, evidence, (), found).flag is RecordFlag.PROVEN
    bottoming = tuple(
        replace(each, outcome=Outcome.TOO_CLOSE_TO_SAY) if each.code == "H03" else each
        for each in found
    )
    told = record_confidence(record, evidence, (), bottoming)
    assert told.flag is RecordFlag.CHECKED
    assert told.raise_by == ("that put right: nuts that bottom",)
    # What is to be put right only, as nuts to be tightened again (H13), takes no proof away.
    loose = tuple(
        replace(each, outcome=Outcome.FAILS) if each.code == "H13" else each for each in found
    )
    assert loose != found
    assert record_confidence(record, evidence, (), loose).flag is RecordFlag.PROVEN
