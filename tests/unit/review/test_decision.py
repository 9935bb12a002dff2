"""A report begins with what to do. Expected calls follow from what was done to the records.

By hand: a wheel written with 12 mm more offset than it has stands, in truth, 12 mm further outboard
than written (offset is positive towards the outboard face: ISO 3911 and the trade's common use).
"""

import json
import re
from collections.abc import Callable
from typing import Any

import pytest

from generator.review.as_json import as_json
from generator.review.decision import Call, Decision, decision
from generator.review.markdown import as_markdown
from tests.unit.review.test_review import reviewed


@pytest.fixture
def agreeing(club: Any, other_record: Callable[..., str]) -> Any:
    """Give the club with five cars of one chassis whose records agree to the letter."""
    for number in range(4):
        text = other_record(("pressure: 2.0 bar", f"pressure: 2.{number} bar"))
        path = f"guide/setups/ostvane-meridel/car-{number}.yaml"
        club.write(path, text.replace("fernhollow-coupe", f"coupe-{number}"))
    club.commit()
    return club


def decided(club: Any) -> Decision:
    found = reviewed(club)
    text = as_markdown(found)
    call = decision(found).call.value
    assert text.split("\n")[2] == f"## {call}"
    assert json.loads(as_json(found))["decision"]["call"] == call
    return decision(found)


def test_a_change_of_words_may_be_merged(club: Any) -> None:
    club.edit(club.setup, ("Invented, for the examples.", "Invented, for the example."))
    found = decided(club)
    assert found.call is Call.MERGE
    assert "no published number changes" in found.reasons
    assert found.asks == ()


def test_a_record_that_agrees_is_told_to_be_borne_out(
    agreeing: Any, other_record: Callable[..., str]
) -> None:
    text = other_record(("tread_width: 170 mm", "tread_width: 171 mm"))
    for old, new in (("date: 2025-07-05", "date: 2025-07-19"), ("84 lb ft", "85 lb ft")):
        text = text.replace(old, new)
    agreeing.write(agreeing.other, text)
    found = reviewed(agreeing)
    (change,) = found.files
    assert change.compared
    assert all(each.is_expected for each in change.compared)
    count = len(change.compared)
    told = f"{count} of {count} gaps that others speak of too lie where those expect them"
    assert any(told in reason for reason in decision(found).reasons)
    assert not [each for each in found.doubts if each.is_new]


def test_an_offset_slip_is_asked_about_as_one(
    agreeing: Any, other_record: Callable[..., str]
) -> None:
    slip = (("offset: 22 mm", "offset: 34 mm"), ("backspacing: 123.5 mm", "backspacing: 135.5 mm"))
    text = other_record(*slip)
    agreeing.write(agreeing.other, text.replace("fernhollow-coupe", "odd-coupe"))
    found = decided(agreeing)
    assert found.call is Call.ASK
    assert "fernhollow-seven-inch disagrees with the other records" in found.reasons[0]
    told = re.search(r"about (\d+).mm \([\d.]+.in\) further outboard than written", found.asks[0])
    assert told, found.asks
    # The others' gaps are read with tools, so that the shift comes out within their spread.
    assert float(told[1]) == pytest.approx(12.0, abs=2.0)


def test_errors_come_before_everything(agreeing: Any) -> None:
    agreeing.edit(agreeing.setup, ("offset: 22 mm", "offset: 22"))
    found = decided(agreeing)
    assert found.call is Call.MEND
    assert found.reasons[0].startswith("2 errors")


def test_a_sheet_that_the_records_contradict_is_asked_about(agreeing: Any) -> None:
    # Five cars have less room there than the sheet says; now the sheet promises 6 mm more.
    sheet = "guide/chassis/ostvane-meridel.yaml"
    agreeing.edit(sheet, ("y: -139 -> -154 mm", "y: -145 -> -160 mm"))
    found = decided(agreeing)
    assert found.call is Call.ASK
    assert "records computed anew from a changed sheet" in found.reasons[0]
    assert "the records fit the changed sheet worse than before at strut tube" in found.reasons[1]


def test_a_new_record_sent_twice_is_asked_about_in_one_line(
    agreeing: Any, other_record: Callable[..., str]
) -> None:
    agreeing.write(agreeing.other, other_record(("pressure: 2.0 bar", "pressure: 2.2 bar")))
    found = decided(agreeing)
    assert found.call is Call.ASK
    copies = [reason for reason in found.reasons if "nearly the same" in reason]
    assert len(copies) == 1
    assert "4 more records: sent twice?" in copies[0]


def test_code_in_a_request_is_to_be_read(club: Any) -> None:
    club.branch("request")
    club.write("generator/evil.py", "import os\n")
    club.commit()
    found = decision(reviewed(club, "request"))
    assert found.call is Call.LOOK
    assert found.reasons[0].startswith("1 file outside of the records")
