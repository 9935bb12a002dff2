"""Forecasts made without a member's own records: which count, and scores worked by hand."""

import pytest

from generator.assessment.assess import assess
from generator.evidence.club import learn_chassis
from generator.evidence.held_out import held_out
from generator.records.collect import collect
from generator.records.examples import example_files

TWO = """
setup: {gaps: [{site: strut-tube, side: left, state: static, gap: 9 mm, tool: feeler gauge}]}
other: {gaps: [{site: strut-tube, side: left, state: static, gap: 10 mm, tool: feeler gauge}]}
"""


def learned(overlay):
    library = collect(example_files(overlay)).library
    (chassis,) = library.chassis.values()
    setups = {case.setup.id: (case.setup, assess(case)) for case in library.cases()}
    return learn_chassis(chassis, setups)


def test_each_of_two_members_is_foretold_by_the_other():
    found = held_out([learned(TWO)])
    assert found.members == 2
    assert len(found.forecasts) == 2
    # both gaps are above the wanted 5 mm, so each misses by one less its chance
    assert all(each.came for each in found.forecasts)
    by_hand = sum((1.0 - each.chance) ** 2 for each in found.forecasts) / 2
    assert found.brier == pytest.approx(by_hand)
    assert found.coverage == found.within / 2
    assert sum(each.count for each in found.bins) == 2


def test_a_gap_that_is_not_there_counts_as_such():
    found = held_out([learned(TWO.replace("9 mm", "2 mm"))])
    assert [each.came for each in found.forecasts].count(False) == 1


def test_one_member_alone_foretells_nothing():
    same = TWO.replace("other: {", "other: {member: Copperbill, ")
    assert held_out([learned(same)]) is None


def test_a_bare_clears_is_not_scored():
    found = held_out([learned(TWO.replace("gap: 10 mm", "gap: clears"))])
    assert len(found.forecasts) == 1


def test_of_many_pairs_only_so_many_are_learned_anew():
    found = held_out([learned(TWO)], every=2)
    assert found.every == 2
    assert len(found.forecasts) == 1
