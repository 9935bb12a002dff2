"""Where a site comes closer than where its gap was taken, with gaps set by hand."""

from dataclasses import replace

import pytest

from generator.evidence.elsewhere import closer_elsewhere
from generator.geometry.travel import State as Pose
from generator.quantities.estimate import Basis, Estimate
from generator.records.library import Case
from generator.records.words import State, Tool

AT_LOCK, WORST = 20.0, 15.0


@pytest.fixture
def told(bench):
    """A car whose post is computed 20 mm away at the lock and 15 mm with the wheel down."""
    stock = bench.setup()
    computed = bench.assessed(stock)
    (post,) = computed.front.clearances
    at = replace(post.standing, gap=Estimate(AT_LOCK, 3.0, Basis.INFERRED),
                 words=Pose.TOE_OUT_AT_STATIC.value)  # fmt: skip
    least = replace(at, gap=Estimate(WORST, 3.0, Basis.INFERRED), words="full droop")
    moving = replace(post, moves=True, states=(at,), least=least)
    return replace(computed, front=replace(computed.front, clearances=(moving,)))


def closer(bench, computed, *gaps):
    filed = bench.setup(*gaps)
    return closer_elsewhere(Case(filed, bench.chassis), computed)


def test_the_difference_is_that_of_the_two_computed_gaps(bench, make_gap, told):
    at_lock = make_gap("9 mm", state=State.TOE_OUT_LOCK, tool=Tool.STEEL_RULE)
    (found,) = closer(bench, told, at_lock)
    assert found.gap is at_lock
    assert (found.by, found.where) == (pytest.approx(AT_LOCK - WORST), "full droop")


def test_what_the_tool_cannot_tell_is_no_difference(bench, make_gap, told):
    # From memory one standard uncertainty is 6 mm, so 5 mm are none; the method page lists it.
    assert closer(bench, told, make_gap("9 mm", state=State.TOE_OUT_LOCK, tool=Tool.MEMORY)) == ()


def test_a_sweep_and_a_position_not_computed_leave_nothing_open(bench, make_gap, told):
    swept = make_gap("9 mm", state=State.SWEEP)
    not_computed = make_gap("9 mm", state=State.FULL_BUMP)
    no_site = make_gap("9 mm", state=State.TOE_OUT_LOCK, site="no-such-site")
    assert closer(bench, told, swept, not_computed, no_site) == ()
