import json
from math import isfinite

import pytest
from jsonschema import Draft202012Validator

from generator.assessment import report
from generator.assessment.assess import assess
from generator.assessment.effects import effects_of
from generator.assessment.numbers import numbers
from generator.records.collect import collect
from generator.records.examples import example_files

UNKNOWN_PLACE = """
setup:
  front: {wheel: {offset: left out, backspacing: left out}}
"""


@pytest.fixture(scope="module", params=["setup: {}", UNKNOWN_PLACE], ids=["sound", "unknown"])
def case(request):
    return next(collect(example_files(request.param)).library.cases())


@pytest.fixture(scope="module")
def document(case):
    return json.loads(report.as_json(assess(case), effects_of(case, assess(case))))


def test_schema_is_one_itself_and_the_export_keeps_it(document):
    # JSON Schema draft 2020-12, by the jsonschema library.
    Draft202012Validator.check_schema(report.SCHEMA)
    Draft202012Validator(report.SCHEMA).validate(document)


def test_the_schema_refuses_what_it_should(document):
    validator = Draft202012Validator(report.SCHEMA)
    for spoil in ({"value": "12"}, {"u": -1.0}, {"basis": "guessed"}, {"more": 1}):
        spoiled = json.loads(json.dumps(document))
        spoiled["numbers"][0].update(spoil)
        assert not validator.is_valid(spoiled)


def test_names_are_unique_and_every_unknown_number_has_neither_value_nor_uncertainty(document):
    names = [row["name"] for row in document["numbers"]]
    assert len(names) == len(set(names))
    for row in document["numbers"]:
        assert (row["value"] is None) == (row["u"] is None) == (row["basis"] is None)
        assert row["value"] is None or isfinite(row["value"])


def test_table_and_export_tell_the_same_numbers(case):
    assessment = assess(case)
    table = report.as_table(assessment, ())
    for named in numbers(assessment):
        words = f"{named.estimate.value:z9.1f} ±" if named.estimate else "not known"
        lines = [line for line in table.splitlines() if named.label in line]
        assert any(words in line for line in lines), named.name


def test_curves_end_at_the_named_states(case, document):
    assessment = assess(case)
    states = {
        ("travel", 0): "full-droop", ("travel", -1): "full-bump",
        ("steer", 0): "toe-in-lock-at-static", ("steer", -1): "toe-out-lock-at-static",
    }  # fmt: skip
    told = {row["name"]: row["value"] for row in document["numbers"]}
    ends = {row["axle"] for row in document["curves"]}
    moving = {axle for axle in assessment.axles() if any(each.states for each in axle.clearances)}
    assert ends == {axle.axle.value for axle in moving}
    for row in document["curves"]:
        assert row["at"] == sorted(row["at"])
        assert len(row["at"]) == len(row["gaps"])
        for end in (0, -1):
            name = f"{row['axle']}.{row['side']}.{row['site']}.{states[row['by'], end]}"
            assert row["gaps"][end] == pytest.approx(told[name], abs=1e-5), name
    table = report.as_table(assessment, ())
    assert ("Gap in mm through travel" in table) == bool(document["curves"])
